"""Lengths of worktop: rows longer than their stock, peninsulas, shaped corners, and tops between two walls.

Each figure is worked by hand beside it.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import unary_union

from countersunk.model.checks import check
from countersunk.model.errors import InputError
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kitchen import build
from countersunk.model.tops.joins import BOLT_CLEAR, BOLT_POCKET, stations_along
from countersunk.model.tops.stations import blocked_along
from countersunk.model.tops.worktops import lowering
from tests.specimens import document

pytestmark = pytest.mark.quick

LONG = (
    {"name": "A", "length": 6500.0, "corner": 90.0},
    {"name": "B", "length": 3000.0},
)
PLAIN = {"stock": "pf38.600", "decor": "pale-oak"}


def row(*widths, unit="base-doors", **run):
    return {"wall": "A", "start": 500.0, **run, "units": tuple({"unit": unit, "width": w} for w in widths)}


def long_row(*widths, worktop=PLAIN, cutouts=()):
    return build(document(room={"walls": LONG}, runs=(row(*widths),), worktop=worktop, cutouts=cutouts))


def total(part, condition):
    return sum(e.length for e in part.edges if e.condition is condition)


# Eight units of 600: 4800 wide with 10 past either end, 4820 of top. The longest stock is 4100.
# Two pieces from the least stock: the lengths sold are 2400, 3000, 3600, 4100; 2400 + 2400 is too short by 20,
# so 2400 + 3000 it is, with the join over a unit and 88 clear of its sides.
def test_a_row_longer_than_its_stock_is_joined_over_a_unit():
    kitchen = long_row(*[600.0] * 8)
    one, other = (length.part.length for length in kitchen.lengths)
    assert one + other == pytest.approx(4820.0)
    assert sorted(min(s for s in (2400, 3000, 3600, 4100) if s >= x) for x in (one, other)) == [2400, 3000]
    at = 490.0 + one
    unit = next(u for u in kitchen.units if u.x < at < u.right)
    assert min(at - unit.x, unit.right - at) >= 88.0 - 1e-9
    (join,) = kitchen.joins
    assert (join.kind, join.length, join.bolts, join.biscuits) == ("in line", 600.0, 3, 4)
    assert kitchen.lengths[0].part.edges[1].condition is EdgeCondition.JOINT_FEMALE
    assert total(kitchen.lengths[1].part, EdgeCondition.JOINT_MALE) == pytest.approx(600.0)


def test_a_join_in_line_stays_away_from_the_hob():
    # The hob's line over A4, 560 wide in the middle of a unit from 2300 to 2900: from 2320 to 2880.
    units = ({"unit": "base-hob", "width": 600.0},) * 8
    runs, cutouts = (
        ({"wall": "A", "start": 500.0, "units": units},),
        ({"template": "hob.electric-60", "over": "A4"},),
    )
    kitchen = build(document(room={"walls": LONG}, runs=runs, cutouts=cutouts))
    at = 490.0 + kitchen.lengths[0].part.length
    assert at <= 2320 - 300 or at >= 2880 + 300


# Eight units of 600 from 500: 4820 of top from 490 take a length of 2400 and one of 3000 at least. Evenly parted
# that is at 2812, the nearest place clear of a unit's side, 88 before it. A boxing above the units is cut round
# from 2847 to 2953: over the unit before, as far from that as its other side allows, at 2300 + 88.
@pytest.mark.parametrize(("boxed_in", "at"), [(False, 2812.0), (True, 2388.0)])
def test_a_join_parts_a_top_evenly_and_keeps_away_from_a_notch(boxed_in, at):
    boxing = {**BOXING, "at": 2850.0, "depth": 100.0, "bottom": 871.0}
    room = {"walls": LONG, "obstacles": (boxing,) if boxed_in else ()}
    units = ({"unit": "base-doors", "width": 600.0},) * 8
    left, _ = build(document(room=room, runs=({"wall": "A", "start": 500.0, "units": units},))).lengths
    assert left.x + left.part.length == pytest.approx(at)


def test_a_join_goes_where_it_is_wished():
    kitchen = long_row(600.0, 600.0, 600.0, worktop={**PLAIN, "in_line": ({"run": "A", "at": 1400.0},)})
    assert [length.part.length for length in kitchen.lengths] == pytest.approx([910.0, 910.0])
    assert kitchen.joins[0].place == "in line on A at 1400"


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (300.0, r"in_line\[0\]\.at: found 300 on 'A'; allowed: a place on a top: A from 500 to 5300"),
        (900.0, r"found a worktop 4410 long in one piece; allowed: at most 4100"),
        (600.0, r"no unit below its middle"),
    ],
)
def test_a_join_that_cannot_be_is_refused(at, words):
    with pytest.raises(InputError, match=words):
        long_row(*[600.0] * 8, worktop={**PLAIN, "in_line": ({"run": "A", "at": at},)})


def test_a_join_through_a_sink_is_refused():
    with pytest.raises(InputError, match=r"crosses an edge or a join"):
        long_row(
            600.0, 600.0, 600.0,
            worktop={**PLAIN, "in_line": ({"run": "A", "at": 1400.0},)},
            cutouts=({"template": "hob.electric-60", "over": "A2"},),
        )  # fmt: skip


# A peninsula of two units, 1200, 620 out from the wall. Its top ends 600 + 2 (the strip's web) from the wall and 10
# past its last unit, 620 + 1200 + 10 = 1830 from it: 1830 - 602 = 1228 long, and 670 deep.
def peninsula(**changes):
    wish = {
        "name": "P",
        "wall": "A",
        "along": 2400.0,
        "out": 620.0,
        "facing": "left",
        "stock": "pf38.670",
        **changes,
    }
    wish["units"] = ({"unit": "base-doors", "width": 600.0},) * 2
    walls = ({"name": "A", "length": 4000.0, "corner": 90.0}, {"name": "B", "length": 3000.0})
    return build(document(room={"walls": walls}, runs=(row(*[600.0] * 5),), peninsulas=(wish,)))


@pytest.mark.parametrize("facing", ["left", "right"])
def test_a_peninsula_ends_on_the_front_of_the_top_behind_it(facing):
    along = {"left": 2400.0, "right": 1800.0}[facing]
    kitchen = peninsula(facing=facing, along=along)
    wall, out = kitchen.lengths
    assert out.part.length == pytest.approx(1228.0)
    assert total(out.part, EdgeCondition.JOINT_MALE) == pytest.approx(670.0)
    assert total(wall.part, EdgeCondition.JOINT_FEMALE) == pytest.approx(670.0)
    assert total(wall.part, EdgeCondition.FACTORY) == pytest.approx(3020.0 - 670.0)
    (join,) = kitchen.joins
    assert (join.kind, join.female, join.male, join.bolts) == ("tee", "T1", "T2", 0)
    assert (out.right if facing == "right" else out.left).kind == "join"
    assert wall.part.pose.plan_to_room(wall.part.outline).distance(
        out.part.pose.plan_to_room(out.part.outline)
    ) == pytest.approx(2.0)


def test_a_peninsula_past_the_end_of_the_top_is_refused():
    with pytest.raises(InputError, match=r"peninsulas\[0\]\.along: .*no one length runs past on both sides"):
        peninsula(along=3700.0)


# A radius of 100 takes 100 off front and end and adds a quarter circle of pi/2 * 100 = 157.08.
def test_a_rounded_corner_is_exposed_with_its_end():
    kitchen = build(document(worktop={**PLAIN, "corners": ({"over": "A3", "end": "right", "radius": 100.0},)}))
    part = kitchen.lengths[0].part
    ends = [e for e in part.edges if e.condition is EdgeCondition.EXPOSED]
    assert [e.length for e in ends] == pytest.approx([500.0 + 157.08, 600.0], abs=0.05)
    assert total(part, EdgeCondition.FACTORY) == pytest.approx(1620.0 - 100.0)
    assert part.area == pytest.approx(1620.0 * 600.0 - (1 - math.pi / 4) * 100.0**2, rel=1e-5)


# A clip of 60 takes a triangle of 60 * 60 / 2 and leaves an edge of 60 * sqrt 2 = 84.853.
def test_a_clipped_corner_loses_a_triangle():
    kitchen = build(document(worktop={**PLAIN, "corners": ({"over": "A1", "end": "left", "clip": 60.0},)}))
    part = kitchen.lengths[0].part
    assert part.area == pytest.approx(1620.0 * 600.0 - 1800.0)
    assert total(part, EdgeCondition.EXPOSED) == pytest.approx(600.0 + 540.0 + 84.853, abs=1e-3)


@pytest.mark.parametrize(
    ("corner", "words"),
    [
        ({"over": "A2", "end": "left", "radius": 50.0}, "a free end: left of A1, right of A3"),
        ({"over": "A1", "end": "left"}, "none of radius, clip, bow and waterfall"),
        ({"over": "A1", "end": "left", "radius": 50.0, "clip": 50.0}, "radius and clip of radius, clip, bow"),
        ({"over": "A1", "end": "left", "radius": 600.0, "edge": "back"}, "which is on the wall"),
    ],
)
def test_corners_that_cannot_be_shaped_are_refused(corner, words):
    with pytest.raises(InputError, match=words):
        build(document(worktop={**PLAIN, "corners": (corner,)}))


# Walls 3000 apart, a top 38 thick: its diagonal is sqrt(3000² + 38²), 0.24 more than 3000; with 2 of play it is
# 2.24 shorter than the room is wide.
def test_a_top_between_two_walls_is_cut_short_to_be_lowered_in():
    widths = ({"unit": "base-doors", "width": 1000.0},) * 3
    kitchen = build(document(runs=({"wall": "A", "start": 0.0, "units": widths},)))
    part = kitchen.lengths[0].part
    assert 3000.0 - part.length == pytest.approx(2.2407, abs=1e-4)
    assert math.hypot(part.length, 38.0) < 3000.0
    assert {e.condition for e in part.edges} == {EdgeCondition.WALL, EdgeCondition.FACTORY}


@given(st.floats(300.0, 4100.0), st.floats(12.0, 60.0))
def test_what_is_lowered_in_passes_tilted(length, thickness):
    assert math.hypot(length - lowering(length, thickness, 2.0), thickness) < length


def boxed(*obstacles, **worktop):
    """Three doors of 600 with a filler of 150 between the second and the third: from 1700 to 1850 along wall A."""
    units = ({"unit": "base-doors", "width": 600.0},) * 2
    gap, last = {"unit": "filler", "width": 150.0}, {"unit": "base-doors", "width": 600.0}
    room = {"walls": document().room.model_dump(exclude_none=True)["walls"], "obstacles": obstacles}
    runs = ({"wall": "A", "start": 500.0, "units": (*units, gap, last)},)
    return build(document(room=room, runs=runs, worktop={**PLAIN, **worktop}))


BOXING = {"kind": "pipe-boxing", "wall": "A", "at": 1720.0, "width": 100.0, "depth": 150.0}


# A boxing 100 x 150 with 3 of gap: a notch 106 wide and 153 deep, its two inside corners rounded with 3.
def test_a_top_is_notched_round_a_boxing():
    part = boxed(BOXING).lengths[0].part
    lost = 106.0 * 153.0 - 2 * (1 - math.pi / 4) * 9.0
    assert 1970.0 * 600.0 - part.area == pytest.approx(lost, abs=0.5)
    # Wall: the back less the notch's mouth, and the notch: two sides of 150, a head of 100 and two quarters of 3.
    assert total(part, EdgeCondition.WALL) == pytest.approx(
        1970.0 - 106.0 + 2 * 150.0 + 100.0 + math.pi * 3.0, abs=0.05
    )


def test_a_column_within_a_top_is_refused_until_a_join_goes_through_it():
    column = {**BOXING, "kind": "column", "out": 100.0}
    with pytest.raises(InputError, match=r"top all round it; .*in_line: \[\{run: A, at: 1770\}\]"):
        boxed(column)
    one, other = boxed(column, in_line=({"run": "A", "at": 1770.0},)).lengths
    # The column from 100 to 250 out takes 97 to 253 of the joint; the front piece of it carries bolts.
    assert total(one.part, EdgeCondition.JOINT_FEMALE) == pytest.approx(600.0 - 156.0)
    assert total(other.part, EdgeCondition.JOINT_MALE) == pytest.approx(600.0 - 156.0)


def test_a_breast_deeper_than_the_top_is_refused():
    with pytest.raises(InputError, match=r"goes through the whole depth of the top"):
        boxed({**BOXING, "depth": 640.0, "bottom": 871.0})


def test_a_bolt_moves_off_the_side_of_a_unit():
    # Bolts at 131, 292, 454. A side 18 thick with its middle at 300 blocks 300 ± (9 + 20 + 5); the nearest clear
    # place to 292 is 266, which is 26 away and still clear of the biscuit at 212 (34 + 5).
    assert stations_along(585.0, [(266.0, 334.0)])[3] == 266.0
    assert stations_along(585.0, [(200.0, 400.0)])[3] == pytest.approx(292.5)


def test_sides_of_units_block_bolts_where_they_cross_the_joint():
    kitchen = long_row(600.0, 600.0, 600.0, worktop={**PLAIN, "in_line": ({"run": "A", "at": 1400.0},)})
    side = kitchen.joins[0].straight_side
    board = kitchen.parts_by_mark["A2.side.left"].standing_plan
    assert list(blocked_along(side, [board])) == []  # it stands 300 away
    along = side.interpolate(300.0).buffer(9.0, cap_style="square")
    ((low, high),) = blocked_along(side, [along])
    assert high - low == pytest.approx(18.0 + BOLT_POCKET[0] + 2 * BOLT_CLEAR)


@given(st.lists(st.sampled_from([300.0, 500.0, 600.0, 800.0, 1000.0]), min_size=6, max_size=9))
def test_pieces_in_line_cover_the_whole_row(widths):
    if sum(widths) > 5800.0:
        return
    kitchen = long_row(*widths)
    plans = [length.part.pose.plan_to_room(length.part.outline) for length in kitchen.lengths]
    whole = unary_union(plans)
    assert whole.area == pytest.approx(sum(p.area for p in plans))
    assert whole.area == pytest.approx((sum(widths) + 20.0) * 600.0)
    assert all(length.part.length <= 4100.0 for length in kitchen.lengths)


def test_bolts_that_no_spanner_reaches_are_told():
    # At 1100, where A1 and A2 meet, both sides run along the whole join: each of its three bolts is over a board.
    found = {}
    for at in (1100.0, 1400.0):
        kitchen = long_row(600.0, 600.0, 600.0, worktop={**PLAIN, "in_line": ({"run": "A", "at": at},)})
        found[at] = [(f.value, f.verdict.value) for f in check(kitchen) if f.rule == "join-bolts-within-reach"]
    assert found == {1100.0: [(3.0, "falls short")], 1400.0: [(0.0, "met")]}
