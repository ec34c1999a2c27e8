"""Joins against worked examples and trigonometry.

The geometry of a mitre at inside angle A over depth d is plane trigonometry: the back edge is longer than the
front by d / tan(A/2) (any geometry textbook). At 90° tan and 1/tan agree, so other angles are what tests it.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kitchen import build
from countersunk.model.tops.slots import slots_of
from tests.specimens import cornered, document

pytestmark = pytest.mark.quick


def lengths_of(angle, female="A", **changes):
    kitchen = build(cornered(angle, female, **changes))
    join = kitchen.joins[0]
    return kitchen, kitchen.length(join.female).part, kitchen.length(join.male).part


def edge_length(part, condition):
    return sum(e.length for e in part.edges if e.condition is condition)


# Worked by hand for d = 600, s = 15, female 3000 and male 2400 along their walls:
# back of the male  = 2400 - 585 / sin A   (its wall is met where the joint's long side, 585 out, reaches it)
# front of the male = 2400 - 600 / tan(A/2)
#   90°: 2400 - 585 = 1815.00           2400 - 600 = 1800.00
#   93°: 2400 - 585 / 0.99863 = 1814.20  2400 - 600 / 1.05378 = 1830.62
#   88°: 2400 - 585 / 0.99939 = 1814.64  2400 - 600 / 0.96569 = 1778.68
#  135°: 2400 - 585 / 0.70711 = 1572.69  2400 - 600 / 2.41421 = 2151.47
@pytest.mark.parametrize(
    ("angle", "back", "front"),
    [(90.0, 1815.00, 1800.00), (93.0, 1814.20, 1830.62), (88.0, 1814.64, 1778.68), (135.0, 1572.69, 2151.47)],
)
def test_male_of_a_masons_mitre_is_as_long_as_worked_by_hand(angle, back, front):
    kitchen, _, male = lengths_of(angle)
    free = 2400.0 - kitchen.length(male.mark).right.x  # the row stops short of the wall's end
    assert edge_length(male, EdgeCondition.WALL) == pytest.approx(back - free, abs=0.005)
    assert edge_length(male, EdgeCondition.FACTORY) == pytest.approx(front - free, abs=0.005)


@pytest.mark.parametrize("angle", [88.0, 90.0, 91.2, 92.0, 135.0])
def test_back_is_longer_than_front_by_depth_over_tan_of_half(angle):
    # 88°: 621.3, 92°: 579.4, 135°: 248.5 for 600; here the female, whose back reaches the corner itself.
    _, female, _ = lengths_of(angle)
    front = edge_length(female, EdgeCondition.FACTORY)
    back = max(e.length for e in female.edges if e.condition is EdgeCondition.WALL)
    assert back - front == pytest.approx(600.0 / math.tan(math.radians(angle / 2)), abs=1e-6)


@pytest.mark.parametrize("female", ["A", "B"])
@pytest.mark.parametrize("angle", [60.0, 75.5, 90.0, 91.2, 120.0, 150.0])
def test_both_hands_cover_the_corner_without_gap_or_overlap(angle, female):
    kitchen, one, other = lengths_of(angle, female)
    a, b = (p.pose.plan_to_room(p.outline) for p in (one, other))
    assert a.intersection(b).area < 1e-3
    corner = kitchen.survey.walls[0].end
    reach = 600.0 / math.tan(math.radians(angle / 2))
    walls = kitchen.survey.walls
    along_a = walls[0].frame.to_room((walls[0].length - reach, 0, 0))[:2]
    along_b = walls[1].frame.to_room((reach, 0, 0))[:2]
    front = walls[1].frame.to_room((reach, 600.0, 0))[:2]
    assert Polygon([corner, along_a, front, along_b]).difference(a.union(b).buffer(1e-6)).area < 1e-3


def test_joint_edges_of_both_pieces_are_equally_long():
    kitchen, female, male = lengths_of(93.0)
    # shoulder 15 / sin(46.5°) = 20.679; long side 585 / tan(46.5°) - 585 / tan(93°) = 585.803
    worked = 15.0 / math.sin(math.radians(46.5)) + 585.0 / math.sin(math.radians(93.0))
    assert edge_length(female, EdgeCondition.JOINT_FEMALE) == pytest.approx(worked, abs=1e-6)
    assert edge_length(male, EdgeCondition.JOINT_MALE) == pytest.approx(worked, abs=1e-6)
    assert kitchen.joins[0].shoulder_angle == 46.5
    assert kitchen.joins[0].off_square == 3.0


def test_butt_male_ends_a_web_before_the_female():
    kitchen, female, male = lengths_of(90.0, kind="butt", notch=None)
    # the row begins 620 from the corner and is 1200 long, with 10 overhang: 1830 - 600 deep - 2 web
    assert male.length == pytest.approx(1228.0)
    assert edge_length(female, EdgeCondition.JOINT_FEMALE) == pytest.approx(600.0)
    assert kitchen.joins[0].notch == 0.0


def test_bolts_and_biscuits_of_a_600_joint():
    # At least 3 bolts and 4 biscuits for a joint 600 deep (a trade guide, quoted; spacing from memory).
    kitchen, _, _ = lengths_of(90.0)
    assert (kitchen.joins[0].bolts, kitchen.joins[0].biscuits) == (3, 4)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"angle": 160.0}, "60° to 150°"),
        ({"angle": 90.0, "notch": 3.0}, "at least the nose's 6"),
        ({"angle": 90.0, "female": "C"}, "A or B"),
    ],
)
def test_impossible_joins_are_refused_with_what_is_allowed(changes, words):
    with pytest.raises(InputError, match=words):
        build(cornered(**changes))


@pytest.mark.parametrize("female", ["A", "B"])
@pytest.mark.parametrize("angle", [60.0, 90.0, 120.0, 150.0])
def test_a_joint_is_one_edge_wherever_the_ring_begins(angle, female):
    _, one, other = lengths_of(angle, female)
    assert [e.condition for e in one.edges].count(EdgeCondition.JOINT_FEMALE) == 1
    assert [e.condition for e in other.edges].count(EdgeCondition.JOINT_MALE) == 1


def strip(kitchen, length):
    """The whole top along a wall, from its free end to the other wall, by plain half-planes and no join."""
    run, wall = length.run, kitchen.survey.wall(length.run.wall)
    other = next(w for w in kitchen.survey.walls if w is not wall)
    free = length.left.x if length.left.kind == "free" else length.right.x
    far = free + (9000.0 if length.left.kind == "free" else -9000.0)
    along = run.frame.plan_to_room(box(min(free, far), 0.0, max(free, far), run.stock.depth))
    return along.intersection(other.frame.plan_to_room(box(-9000.0, 0.0, 12000.0, 12000.0)))


@given(angle=st.floats(60.0, 150.0), female=st.sampled_from(["A", "B"]), notch=st.floats(6.0, 60.0))
def test_pieces_laid_together_cover_the_top_exactly(angle, female, notch):
    kitchen = build(cornered(angle, female, notch=notch))
    pieces = [length.part.pose.plan_to_room(length.part.outline) for length in kitchen.lengths]
    whole = unary_union([strip(kitchen, length) for length in kitchen.lengths])
    assert unary_union(pieces).symmetric_difference(whole).area < 1.0
    assert pieces[0].intersection(pieces[1]).area < 1e-3
    # Female and male fit: every point of one joint lies within 0.1 mm of the other.
    join = kitchen.joins[0]
    assert join.line.hausdorff_distance(join.male_line) < 0.1


def two_rows_on_b(**worktop):
    """Near the corner of A and B, and again further along B."""
    near = cornered(90.0)
    far = {"wall": "B", "start": 2500.0, "units": ({"unit": "base-doors", "width": 400.0},)}
    walls = ({"name": "A", "length": 3000.0, "corner": 90.0}, {"name": "B", "length": 4000.0})
    data = near.model_dump(exclude_unset=True)
    data |= {"room": {"walls": walls}, "runs": (*data["runs"], far)}
    data["worktop"] = {"stock": "pf38.600", "decor": "pale-oak", **worktop}
    return Document.model_validate(data)


def test_only_the_row_that_reaches_the_corner_is_joined():
    kitchen = build(two_rows_on_b())
    assert [(length.left.kind, length.right.kind) for length in kitchen.lengths] == [
        ("free", "join"),
        ("join", "free"),
        ("free", "free"),
    ]
    assert kitchen.length("T3").part.length == 420.0


def test_a_corner_named_twice_is_refused():
    with pytest.raises(InputError, match=r"joins\[1\]\.corner: found 'A-B' twice; allowed: each corner once"):
        build(two_rows_on_b(joins=({"corner": "A-B"}, {"corner": "A-B", "female": "B"})))


@pytest.mark.parametrize(("stock", "front", "kind"), [("pf38.600", 20.0, "mitre"), ("sq40.650", 60.0, "butt")])
def test_the_kind_follows_the_edge_unless_it_is_given(stock, front, kind):
    overhang, joins = {"front": front}, ({"corner": "A-B", "female": "A"},)
    assert build(two_rows_on_b(stock=stock, overhang=overhang, joins=joins)).joins[0].kind == kind


# A U: walls A and C 2400 long, B 3000 between them, all at 90°, d = 600, s = 15; B runs through both corners.
# A's row is 1200 wide and ends 620 from the corner, so its top begins at 2400 - 620 - 1200 - 10 = 570: back
# 2400 - 585 - 570 = 1245, front 2400 - 600 - 570 = 1230. C mirrors it. B lies between two walls and is cut
# 2 + 3000 - √(3000² - 38²) = 2.2407 short: back 2997.7593, front 3000 - 2 * 600 = 1800 between the two P.
# Each joint is 15 √2 + 585 = 606.213 long, less 1.12 on the female where the gap at its wall is.
def test_a_u_by_hand():
    doors = ({"unit": "base-doors", "width": 600.0},) * 2
    walls = (
        {"name": "A", "length": 2400.0, "corner": 90.0},
        {"name": "B", "length": 3000.0, "corner": 90.0},
        {"name": "C", "length": 2400.0},
    )
    runs = (
        {"wall": "A", "start": 580.0, "units": doors},
        {"wall": "B", "start": 640.0, "units": (*doors, {"unit": "base-doors", "width": 500.0})},
        {"wall": "C", "start": 620.0, "units": doors},
    )
    joins = ({"corner": "A-B", "female": "B", "notch": 15.0}, {"corner": "B-C", "female": "B", "notch": 15.0})
    worktop = {"stock": "pf38.600", "decor": "pale-oak", "joins": joins}
    kitchen = build(document(room={"walls": walls}, runs=runs, worktop=worktop))
    a, b, c = (length.part for length in kitchen.lengths)
    for side in (a, c):
        assert edge_length(side, EdgeCondition.WALL) == pytest.approx(1245.0)
        assert edge_length(side, EdgeCondition.FACTORY) == pytest.approx(1230.0)
        assert edge_length(side, EdgeCondition.EXPOSED) == pytest.approx(600.0)
        assert edge_length(side, EdgeCondition.JOINT_MALE) == pytest.approx(606.213, abs=1e-3)
    assert edge_length(b, EdgeCondition.FACTORY) == pytest.approx(1800.0)
    assert edge_length(b, EdgeCondition.JOINT_FEMALE) == pytest.approx(2 * (606.213 - 1.1204), abs=2e-3)
    assert edge_length(b, EdgeCondition.WALL) == pytest.approx(2997.7593 + 2 * 585.0, abs=1e-3)
    assert [(j.female, j.male) for j in kitchen.joins] == [("T2", "T1"), ("T2", "T3")]


@pytest.mark.parametrize(
    ("angle", "back"), [(90.0, 2400.0 - 650.0), (93.0, 2400.0 - 650.0 / math.sin(math.radians(93.0)))]
)
def test_a_solid_top_is_bonded_edge_to_edge_without_strip_and_slots(angle, back):
    # No web stands between: at 90° the male is 2400 - 650 = 1750 long at its back.
    kitchen = build(cornered(angle, kind="butt", notch=None, stock="solid30.650", depth=650.0))
    (join,) = kitchen.joins
    male = kitchen.length(join.male)
    free = 2400.0 - male.right.x
    assert edge_length(male.part, EdgeCondition.WALL) == pytest.approx(back - free, abs=0.005)
    assert (join.has_strip, join.has_bolts, join.stations, join.hardware) == (
        False, False, (), "seam adhesive, clamped",
    )  # fmt: skip
    assert not [p for p in kitchen.parts if p.owner == join.key]
    assert all(not length.part.pockets for length in kitchen.lengths)


def test_a_peninsula_of_laminate_on_a_solid_top_still_has_its_strip():
    def join_of(stock):
        unit = {"unit": "base-doors", "width": 600.0}
        peninsula = {
            "name": "P", "wall": "A", "along": 1700.0, "out": 670.0, "facing": "left", "stock": stock,
            "units": (unit, unit),
        }  # fmt: skip
        top = {"stock": "solid30.650", "decor": "rain-slate"}
        (join,) = build(document(peninsulas=(peninsula,), worktop=top)).joins
        return join

    bonded = join_of("solid30.650")
    assert (bonded.making, bonded.female, bonded.male) == ("bonded", "T1", "T2")
    assert join_of("pf38.900").making == "tee"


class TestFullMitre:
    """Bisected from the front edges to the corner. By hand: both backs reach the corner, and the fronts end d /
    tan(A/2) before it; the joint is d / sin(A/2) long (any geometry textbook). For 600:
    60°: 1039.23 and 1200; 90°: 600 and 848.53; 92°: 579.41 and 834.10; 135°: 248.53 and 649.44; 150°: 160.77
    and 621.17.
    """

    @pytest.mark.parametrize("female", ["A", "B"])
    @pytest.mark.parametrize(
        ("angle", "short", "joint"),
        [(60.0, 1039.23, 1200.0), (90.0, 600.0, 848.53), (92.0, 579.41, 834.10), (135.0, 248.53, 649.44),
         (150.0, 160.77, 621.17)],
    )  # fmt: skip
    def test_lengths_by_hand(self, angle, short, joint, female):
        kitchen, *halves = lengths_of(angle, female, kind="full-mitre", notch=None)
        (join,) = kitchen.joins
        assert (join.kind, join.notch, join.shoulder_angle) == ("full mitre", 0.0, angle / 2)
        assert join.length == pytest.approx(joint, abs=0.005)
        for part, condition in zip(halves, (EdgeCondition.JOINT_FEMALE, EdgeCondition.JOINT_MALE), strict=True):
            front = edge_length(part, EdgeCondition.FACTORY)
            assert edge_length(part, condition) == pytest.approx(joint, abs=0.005)
            assert edge_length(part, EdgeCondition.WALL) - front == pytest.approx(short, abs=0.005)

    @given(st.floats(60.0, 150.0), st.sampled_from("AB"), st.sampled_from(["pf38.600", "sq40.650", "solid30.650"]))
    def test_both_halves_against_the_bands_of_the_two_walls(self, angle, female, stock):
        """Computed apart: each wall's band of the depth, from the corner on, split by the bisector."""
        depth = 650.0 if stock.endswith("650") else 600.0
        kitchen, one, other = lengths_of(angle, female, kind="full-mitre", notch=None, stock=stock, depth=depth)
        a, b = (p.pose.plan_to_room(p.outline) for p in (one, other))
        assert a.intersection(b).area < 1e-3
        (px, py), corner = kitchen.survey.walls[0].end[:2], np.radians(angle)
        # Wall A runs along x to the corner, the room below it; B goes off at the corner's angle to it.
        backs = {"A": np.array([-1.0, 0.0]), "B": np.array([-np.cos(corner), -np.sin(corner)])}
        bisector = np.array([-np.cos(corner / 2), -np.sin(corner / 2)]) * depth / np.sin(corner / 2)
        for part, wall in ((a, female), (b, "AB".replace(female, ""))):
            at, along = np.array([px, py]), backs[wall]
            foot = depth / np.tan(corner / 2) + 100.0  # 100 past the meeting of the front edges
            end = Polygon([at, at + bisector, at + bisector + along * 100.0, at + along * foot])
            assert end.difference(part.buffer(1e-6)).area < 1e-3

    def test_slots_lie_inside_both_halves(self):
        for angle in (60.0, 75.0, 90.0, 120.0, 150.0):
            kitchen, *halves = lengths_of(angle, kind="full-mitre", notch=None)
            (join,) = kitchen.joins
            assert join.has_bolts
            for part in halves:
                for mark in slots_of(join, kitchen.length(part.mark)):
                    assert mark.outline.difference(part.outline.buffer(1e-6)).area < 1e-6

    def test_a_notch_is_refused(self):
        with pytest.raises(InputError, match="no notch: it goes straight"):
            build(cornered(90.0, kind="full-mitre"))


# A sink, its line 840 wide, in the first unit beside a corner of 135°, on either wall. A mason's mitre would meet
# the male's wall 585 / sin 135° = 827.3 from the corner, so that its straight side ran through the sink; the
# bisector meets the front edges 248.5 from the corner and runs back to the corner itself, away from the sink.
@pytest.mark.parametrize("female", ["A", "B", None])
@pytest.mark.parametrize("over", ["A2", "B1"])
def test_a_sink_fits_the_unit_beside_a_corner_of_135(female, over):
    sink = {"unit": "base-sink", "width": 1000.0}
    doors, walls = ({"unit": "base-doors", "width": 600.0},), cornered(135.0).room.model_dump(exclude_unset=True)
    plain = {
        "stock": "pf38.600",
        "decor": "pale-oak",
        "joins": ({"corner": "A-B", "female": female},) if female else (),
    }

    def built(**top):
        return build(document(
            room=walls,
            runs=({"wall": "A", "start": 3000.0 - 260.0 - 1600.0, "units": (*doors, sink)},
                  {"wall": "B", "start": 260.0, "units": (sink, *doors)}),
            cutouts=({"template": "sink.bowl-drainer", "over": over},), worktop={**plain, **top},
        ))  # fmt: skip

    kitchen = built()
    (join,), (cutout,) = kitchen.joins, kitchen.cutouts
    assert join.kind == "full mitre"
    # By hand: the line begins 260 + 80 = 340 from the corner, its front 60 behind the front edge, so 540 out; its
    # corners have a radius of 20, about (360, 520). From there to the bisector, 67.5° off the wall, less that:
    # 360 x sin 67.5° - 520 x cos 67.5° - 20 = 332.6 - 199.0 - 20.
    assert cutout.line_in_room.distance(join.line) == pytest.approx(113.6, abs=0.05)
    through = {"A2": "B", "B1": "A"}[over]  # so that the sink is in the male
    with pytest.raises(InputError, match="crosses an edge or a join"):
        built(joins=({"corner": "A-B", "female": through, "kind": "mitre"},))
