"""Carrying a piece in: against published lengths, against hand work, and what holds whatever the figures.

The longest ladder round a right-angled corner of two corridors, a and b wide, is (a^(2/3) + b^(2/3))^(3/2): a
problem of calculus textbooks. 3 ft and 4 ft → 9.87 ft was seen; the others follow from the formula.
"""

import math

import numpy as np
import pytest
from hypothesis import find, given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity
from shapely import box as rectangle

from countersunk.model.carry import each_way, longest, margins_by_stage, passes
from countersunk.model.document.allowances import Allowances
from countersunk.model.document.stages import Door, Stage
from tests.lanes import tries
from tests.strategies import ways_in

BARE = Allowances(hand_room=0.0)
"""Touched by nobody."""

THIN = 1e-6
FOOT = 304.8
LOW = 600.5
"""So high that 600 deep just fits on edge, level, mm."""

HALF = 0.1
"""A clearance between two headings that are looked at may be less by this, mm."""


def stages(*given):
    """Stages as a file has them: ``{"door": {"width": 800.0}}``."""
    return tuple(Stage.model_validate(stage) for stage in given)


def door(width, **more):
    return {"door": {"width": float(width), **{k: float(v) for k, v in more.items()}}}


def corridor(width, **more):
    return {"corridor": {"width": float(width), **{k: float(v) for k, v in more.items()}}}


def turn(to="left", angle=90):
    return {"turn": {"to": to, "angle": float(angle)}}


def corner(a, b, angle=90, height=2400):
    """Two long corridors."""
    return stages(corridor(a, height=height), turn("left", angle), corridor(b, height=height))


def piece(length, depth=600.0):
    return rectangle(0.0, 0.0, length, depth)


def on_edge(outline, thickness, way):
    """What is left when the piece is held on edge and touched by nobody."""
    return next(each_way(outline, thickness, way, BARE)).margin


def ladder(a, b):
    return (a ** (2 / 3) + b ** (2 / 3)) ** 1.5


def board(a, b, t):
    """The same with a thickness: the least of a / sin x + b / cos x − t / (sin x · cos x)."""
    x = np.linspace(1e-3, math.pi / 2 - 1e-3, 400_001)
    return float((a / np.sin(x) + b / np.cos(x) - t / (np.sin(x) * np.cos(x))).min())


PUBLISHED = [
    (3 * FOOT, 4 * FOOT, 9.87 * FOOT, 0.005 * FOOT),
    (675.0, 1600.0, 125 * 25.0, 0.5),
    (1000.0, 1000.0, 2828.427, 0.5),
    (900.0, 1200.0, 2959.7, 0.5),
]


@pytest.mark.parametrize(("a", "b", "length", "rounding"), PUBLISHED)
def test_the_longest_ladder_round_a_corner(a, b, length, rounding):
    assert ladder(a, b) == pytest.approx(length, abs=rounding)
    assert longest(600.0, THIN, corner(a, b, height=LOW), BARE) == pytest.approx(length, abs=rounding + 1.0)


@pytest.mark.parametrize(("a", "b"), [(900.0, 1200.0), (700.0, 2000.0), (1000.0, 1000.0)])
@pytest.mark.parametrize("thickness", [THIN, 20.0, 38.0, 100.0])
def test_the_longest_board_round_a_corner_has_no_margin_left(a, b, thickness):
    exact = board(a, b, thickness)
    assert on_edge(piece(exact), thickness, corner(a, b)) == pytest.approx(0.0, abs=HALF)
    assert (
        on_edge(piece(exact + 1), thickness, corner(a, b)) < 0 < on_edge(piece(exact - 1), thickness, corner(a, b))
    )


@pytest.mark.parametrize("thickness", [20.0, 38.0])
def test_between_equal_corridors_twice_the_thickness_is_lost(thickness):
    # Symmetry puts the worst at 45°: 2·√2·a − 2t.
    assert board(1000.0, 1000.0, thickness) == pytest.approx(2000 * math.sqrt(2) - 2 * thickness, abs=1e-3)


@pytest.mark.parametrize("angle", [30, 45, 60, 75, 100])
def test_the_longest_ladder_round_a_corner_of_another_angle(angle):
    # At the inner corner the ladder makes x and angle − x with the corridors: the least of
    # a / sin x + a / sin(angle − x), by symmetry at half the angle.
    a, half = 1000.0, math.radians(angle / 2)
    exact = 2 * a / math.sin(half)
    assert on_edge(piece(exact), THIN, corner(a, a, angle)) == pytest.approx(0.0, abs=HALF)


def test_round_a_hairpin_a_ladder_goes_ahead_into_the_corner_and_back_out():
    # By hand: turning by 150° leaves 2·a / sin 75°; turning by 30° the other way, the ladder lies across the one
    # corridor where sin x ≤ a / L and across the other where sin(30° − x) ≤ a / L: at 15°, L = a / sin 15°.
    a = 1000.0
    exact = a / math.sin(math.radians(15))
    assert exact > 2 * a / math.sin(math.radians(75))
    assert longest(600.0, THIN, corner(a, a, 150, LOW), BARE) == pytest.approx(exact, abs=1.1)


WIDE = st.floats(500.0, 2000.0)
ANGLE = st.floats(30.0, 150.0)
QUICK = settings(max_examples=tries(40), deadline=None)


@st.composite
def tops(draw):
    """A length of top with ends cut square or at an angle."""
    length, depth = draw(st.floats(400.0, 4100.0)), draw(st.floats(200.0, 950.0))
    left, right = (draw(st.floats(0.0, 0.45)) * min(length, depth) for _ in "ab")
    return Polygon([(0.0, 0.0), (length, 0.0), (length - right, depth), (left, depth)])


def mirrored(way):
    other = {"left": "right", "right": "left"}
    return [turn(other[s["turn"]["to"]], s["turn"]["angle"]) if "turn" in s else s for s in way]


def widened(way, more):
    return [s if "turn" in s else {k: {**v, "width": v["width"] + more} for k, v in s.items()} for s in way]


def margins(top, way):
    return margins_by_stage(top, 38.0, stages(*way))


@QUICK
@given(tops(), ways_in(), st.floats(0.0, 500.0))
def test_wider_doors_and_corridors_never_leave_less(top, way, more):
    narrow, wide = margins(top, way), margins(top, widened(way, more))
    assert all(wide[s][w] >= narrow[s][w] - HALF for s in narrow for w in narrow[s])
    assert passes(top, 38.0, stages(*widened(way, more + 1))).ok or not passes(top, 38.0, stages(*way)).ok


@QUICK
@given(tops(), ways_in(), st.floats(0.3, 1.0))
def test_a_shorter_piece_passes_where_a_longer_does(top, way, part):
    x0, _, x1, _ = top.bounds
    shorter = top.intersection(rectangle(x0, 0.0, x0 + part * (x1 - x0), 1000.0))
    longer, less = passes(top, 38.0, stages(*way)), passes(shorter, 38.0, stages(*way))
    assert less.ok or longer.margin < HALF


@QUICK
@given(tops(), ways_in())
def test_the_mirrored_piece_passes_the_mirrored_way_alike(top, way):
    there = passes(top, 38.0, stages(*way))
    back = passes(affinity.scale(top, -1.0, 1.0), 38.0, stages(*mirrored(way)))
    assert back.margin == pytest.approx(there.margin, abs=HALF) or min(abs(there.margin), abs(back.margin)) < HALF


@QUICK
@given(tops(), ways_in())
def test_what_comes_in_goes_out_again(top, way):
    out = [
        turn({"left": "right", "right": "left"}[s["turn"]["to"]], s["turn"]["angle"]) if "turn" in s else s
        for s in reversed(way)
    ]
    assert passes(top, 38.0, stages(*out)).margin == pytest.approx(passes(top, 38.0, stages(*way)).margin, abs=HALF)


@QUICK
@given(WIDE, WIDE, ANGLE, st.floats(1500.0, 3900.0), st.floats(1.0, 100.0))
def test_the_longest_piece_passes_and_a_longer_one_does_not(a, b, angle, height, thickness):
    way = stages(corridor(a, height=height), turn("right", angle), corridor(b))
    most = longest(300.0, thickness, way)
    assert most == 0.0 or passes(piece(most, 300.0), thickness, way).ok
    assert not passes(piece(most + 1.0, 300.0), thickness, way).ok


def test_a_piece_as_long_as_the_next_corridor_is_wide_is_carried_through_sideways_in():
    # It cannot turn by 90° in a corridor of 700, but need not: 1,400 lie across 1,500.
    outline = piece(1400, 690)
    way = corner(700, 1500, height=680)
    assert passes(outline, 38.0, way, BARE).way == "flat"
    longer = margins_by_stage(piece(1510, 690), 38.0, way, BARE)
    assert longer["the turn to the left (stage 2)"]["flat"] < 0


@pytest.mark.parametrize(
    ("height", "way", "margin"),
    [
        # 600 deep and 38 thick, 1,200 wide: on edge 600 + 60 high; flat 600 + 60 wide, 38 + 60 high.
        (700, "on edge", 40.0),
        (660, "on edge", 0.0),
        (600, "flat", 300.0 - 60.0 - 0.0),
    ],
)
def test_a_low_door_by_hand(height, way, margin):
    found = passes(piece(3000), 38.0, stages(door(900, height=height)))
    assert (found.way, found.margin) == (way, pytest.approx(margin, abs=1e-6))


def test_a_hatch_that_is_lower_and_narrower_than_the_piece_is_deep_takes_it_tilted():
    # Rolled by 30°: 600 · cos 30 + 38 · sin 30 = 538.62 wide and 600 · sin 30 + 38 · cos 30 = 332.909 high.
    hatch = stages(door(545, height=332.909))
    found = {passage.way: passage for passage in each_way(piece(2500), 38.0, hatch, BARE)}
    assert {way: passage.ok for way, passage in found.items()} == {"on edge": False, "flat": False, "tilted": True}
    assert found["tilted"].margin == pytest.approx(545 - 538.615, abs=0.01)
    assert passes(piece(2500), 38.0, hatch, BARE) == found["tilted"]


def test_one_end_goes_up_where_that_makes_the_plan_shorter():
    # Raised by 30°, 3,000 × 600 is 3000 · sin 30 + 600 · cos 30 = 2,019.615 high and 3000 · cos 30 + 600 · sin 30 =
    # 2,898.076 long.
    low, high = corridor(1100, height=2019.615), corridor(1000, height=2400)
    found = {passage.way: passage for passage in each_way(piece(3000), 38.0, stages(low, turn(), high), BARE)}
    level = on_edge(piece(2898.076), 38.0, stages(low, turn(), high))
    assert found["one end up"].margin == pytest.approx(level, abs=0.01)
    assert found["one end up"].margin > found["on edge"].margin


def test_one_end_up_is_not_tried_where_it_makes_the_plan_longer():
    # Twice the diagonal's angle, 2 · atan(600 / 3000) = 22.6°, is 1,707.7 high.
    assert "one end up" not in {p.way for p in each_way(piece(3000), 38.0, stages(door(900, height=1707)), BARE)}
    assert "one end up" in {p.way for p in each_way(piece(3000), 38.0, stages(door(900, height=1709)), BARE)}


def test_a_door_in_the_side_of_a_corridor_is_slipped_through_at_a_slant_where_there_is_floor_beyond():
    # By hand, without a thickness: at x from the corridor, 1000 / sin x long, the door 900 · sin x − 150 · cos x
    # wide, which is 0 at tan x = 1 / 6: 1000 · √37 = 6,083 long, and 6,000 beyond. It is looked at in sixteenths of
    # a degree.
    def most(beyond):
        side = {"door": {"width": 900.0, "wall": 150.0, "height": LOW, **beyond}}
        return longest(600.0, THIN, stages(corridor(1000, height=LOW), turn(), side), BARE)

    assert most({}) == pytest.approx(ladder(1000.0, 900.0), abs=1.1)
    assert 1000 * math.sqrt(37) - 30 < most({"beyond": 6010.0}) < 1000 * math.sqrt(37)
    # With less beyond it is steeper: 4,000 beside 1,000.
    assert 1000 * math.sqrt(17) - 30 < most({"beyond": 4000.0}) < 1000 * math.sqrt(17)


def test_on_end_through_a_door():
    # A slim piece on its end needs its length and hands: 1,900 + 60.
    found = {p.way: p.margin for p in each_way(piece(1900, 300), 38.0, stages(door(500, height=1970)))}
    assert found["on end"] == pytest.approx(10.0)
    assert "on end" not in {p.way for p in each_way(piece(1911, 300), 38.0, stages(door(500, height=1970)))}


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["a pass", "a miss"])
def test_random_ways_hold_passes_and_misses(kind):
    """The properties above would say nothing if every piece came in, or none."""
    found = find(
        st.tuples(tops(), ways_in()),
        lambda drawn: passes(drawn[0], 38.0, stages(*drawn[1])).ok == (kind == "a pass"),
    )
    assert found


def test_the_stage_named_is_the_tightest():
    way = stages(door(700), corridor(1200), turn(), corridor(1200), door(650), turn("right"), corridor(2000))
    by_stage = margins_by_stage(piece(1000), 38.0, way)
    found = passes(piece(1000), 38.0, way)
    assert found.stage == "the door (stage 5)"
    assert found.margin == pytest.approx(650 - 38 - 60)
    assert found.margin == pytest.approx(min(margins["on edge"] for margins in by_stage.values()))
    assert list(by_stage) == [
        "the door (stage 1)", "the corridor (stage 2)", "the turn to the left (stage 3)", "the corridor (stage 4)",
        "the door (stage 5)", "the turn to the right (stage 6)", "the corridor (stage 7)",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("width", "sentence"),
    [
        (98.0, "comes in on edge, 0 mm to spare at the door (stage 1)"),
        (108.7, "comes in on edge, 10 mm to spare at the door (stage 1)"),
        (97.5, "does not come in: held on edge it lacks 1 mm at the door (stage 1)"),
    ],
)
def test_sentences_round_to_the_side_of_caution(width, sentence):
    # Narrower than a file may say, to be worked by hand: 38 thick and 60 for hands.
    slit = Stage(door=Door.model_construct(width=width, height=2000.0, wall=100.0))
    assert passes(piece(3000), 38.0, (slit,)).sentence == sentence


def lift(width, depth, **more):
    return {"lift": {"width": float(width), "depth": float(depth), **{k: float(v) for k, v in more.items()}}}


class TestBoxes:
    """A lift car, and a piece 600 deep and 38 thick, 30 kept free all round. The car is too low for the piece to be
    raised at an end, so that it is carried on edge, 38 wide.
    """

    # Across the corners of the car with 3 to 4 to 5: 1500·0.8 + 38·0.6 + 60 deep, 1500·0.6 + 38·0.8 + 60 wide.
    CAR = lift(990.4, 1282.8, height=660)

    def test_a_piece_lies_across_the_corners_of_a_car(self):
        way = stages(door(1000, height=660), self.CAR)
        assert -1.0 < on_edge_in(piece(1500), way) <= 0.0 + HALF  # on the safe side, between headings
        assert on_edge_in(piece(1510), way) < -5.0

    def test_through_a_narrow_door_it_cannot_come_in_at_that_slant(self):
        way = stages(door(800, height=660), self.CAR)
        assert on_edge_in(piece(1500), way) < -5.0

    def test_a_long_piece_does_not_lie_in_a_car(self):
        found = passes(piece(2890), 38.0, stages(door(900, height=2100), lift(1100, 1400)))
        assert not found.ok
        assert "the lift (stage 2)" in found.sentence

    def test_a_corridor_with_a_length_that_comes_last_is_a_box(self):
        way = (door(900, height=700), corridor(1100, length=1400, height=700))
        assert not passes(piece(2890), 38.0, stages(*way)).ok
        assert passes(piece(2890), 38.0, stages(*way, door(900, height=700))).ok
        assert passes(piece(2890), 38.0, stages(way[0], corridor(1100, height=700))).ok

    def test_a_lift_in_the_middle_of_the_way_counts_as_well(self):
        way = (door(1000, height=660), self.CAR, door(1000, height=660), corridor(1200))
        assert passes(piece(1498), 38.0, stages(*way)).ok
        assert passes(piece(1600), 38.0, stages(*way)).stage == "the lift (stage 2)"


def on_edge_in(outline, way):
    """What is left on edge, hands kept free."""
    return next(each_way(outline, 38.0, way)).margin
