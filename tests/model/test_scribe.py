"""Scribe lines against bowed walls, by hand."""

import math

import pytest

from countersunk.model.checks import check
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kitchen import build
from countersunk.model.tops.scribe import scribes
from tests.specimens import SQUARE_ROOM, document


def against(*offsets):
    """The plain row, whose top lies from 490 to 2110, before a wall of 3000 read every 750."""
    bowed = {**SQUARE_ROOM[0], "bow": {"every": 750.0, "offsets": (0.0, *offsets, 0.0)}}
    return build(document(room={"walls": (bowed, *SQUARE_ROOM[1:])}))


# Hollow by 6 in the middle (1500), by 3 at 750 and 2250. At the top's left end, 490: 3 * 490 / 750 = 1.96; at its
# right end, 2110: from 6 at 1500 to 3 at 2250, 6 - 3 * 610 / 750 = 3.56. In the top's frame 490 is 0.
def test_a_hollow_wall_leaves_a_gap_and_says_what_to_take_off():
    kitchen = against(3.0, 6.0, 3.0)
    (scribe,) = scribes(kitchen.survey, kitchen.lengths)
    assert [x for x, _ in scribe.face] == pytest.approx([0.0, 260.0, 1010.0, 1620.0])
    assert [y for _, y in scribe.face] == pytest.approx([-1.96, -3.0, -6.0, -3.56])
    assert (scribe.gap, scribe.bulge) == (6.0, 0.0)
    assert [off for _, off in scribe.take_off] == pytest.approx([4.04, 3.0, 0.0, 2.44])
    assert kitchen.lengths[0].part.area == pytest.approx(1620.0 * 600.0)
    (finding,) = [f for f in check(kitchen) if f.rule == "gap-behind-top"]
    assert (finding.value, finding.margin) == pytest.approx((6.0, -3.0))
    assert "push T1 back by 6 and scribe off 4 at 0, 3 at 260, 0 at 1010, 2 at 1620" in finding.advice


# Bulging by 8 in the middle, on the chord at 750 and 2250: a triangle over 1500 with 8 of height, of which the top
# has 750 to 2110: 8 * 750 / 2 + 610 * (8 + 8 * 140 / 750) / 2 = 3000 + 2895.5 = 5895.5 mm2.
def test_a_bulge_is_cut_out_of_the_back():
    kitchen = against(0.0, -8.0, 0.0)
    part = kitchen.lengths[0].part
    assert 1620.0 * 600.0 - part.area == pytest.approx(5895.47, abs=0.01)
    # Its back: 260 on the chord, up to the middle over 750 and 8, and down over 610 and 8 - 1.493 = 6.507.
    walls = [e.length for e in part.edges if e.condition is EdgeCondition.WALL]
    assert sum(walls) == pytest.approx(
        260.0 + math.hypot(750.0, 8.0) + math.hypot(610.0, 8.0 * 610 / 750), abs=1e-3
    )
    (scribe,) = scribes(kitchen.survey, kitchen.lengths)
    assert (scribe.gap, scribe.bulge) == (0.0, 8.0)


def test_a_straight_wall_needs_no_scribing():
    kitchen = build(document())
    assert list(scribes(kitchen.survey, kitchen.lengths)) == []


def test_a_wall_may_be_more_hollow_at_one_place_than_it_bulges_at_another():
    # Hollow by 9 at 750, on the chord at 1500, bulging by 3 at 2250: of that triangle the top has 1500 to 2110,
    # 3 * 610 / 750 = 2.44 high at its end.
    part = against(9.0, 0.0, -3.0).lengths[0].part
    assert 1620.0 * 600.0 - part.area == pytest.approx(610.0 * 2.44 / 2, abs=0.01)


def test_a_join_in_line_ends_on_the_bulge_behind_it():
    bowed = {**SQUARE_ROOM[0], "bow": {"every": 750.0, "offsets": (0.0, 0.0, -8.0, 0.0)}}
    worktop = {"stock": "pf38.600", "decor": "pale-oak", "in_line": ({"run": "A", "at": 1500.0},)}
    kitchen = build(document(room={"walls": (bowed, *SQUARE_ROOM[1:])}, worktop=worktop))
    assert [j.length for j in kitchen.joins] == pytest.approx([592.0])


def test_a_bulge_behind_the_whole_back_leaves_nothing_of_it_on_the_chord():
    # On a wall that is not square to the first, chord and bulge differ by rounding: the slivers between were a
    # second piece of top. Bulging by 8 all along the row, so that the top is 592 deep.
    walls = (
        {"name": "A", "length": 2000.0, "corner": 92.0},
        {"name": "B", "length": 3000.0, "bow": {"every": 750.0, "offsets": (0.0, -8.0, -8.0, -8.0, 0.0)}},
    )
    run = {"wall": "B", "start": 1000.0, "units": ({"unit": "base-doors", "width": 400.0},)}
    (length,) = build(document(room={"walls": walls}, runs=(run,))).lengths
    assert (length.part.area, len(length.part.edges)) == (pytest.approx(420.0 * 592.0), 4)


@pytest.mark.parametrize("angle", [60.37, 77.0, 90.0, 92.0, 101.3, 123.4, 131.9])
def test_a_notch_that_begins_just_where_a_top_ends_leaves_nothing_beside_it(angle):
    # The top ends 10 past its units, at 1190, and the notch begins 3 before the boxing, at 1190: of 600 deep and
    # 820 long, 23 by 26 are gone but for the notch's round corners. No hair of the top is left beside the notch, to
    # be counted as an edge: round it go 820, 600, 794, 20, a quarter round of 3, 20, another and 580.
    walls = ({"name": "A", "length": 2000.0, "corner": angle}, {"name": "B", "length": 3000.0})
    boxing = {"kind": "pipe-boxing", "wall": "B", "at": 1193.0, "width": 20.0, "depth": 20.0, "bottom": 870.0}
    run = {"wall": "B", "start": 1200.0, "units": ({"unit": "base-doors", "width": 800.0},)}
    (length,) = build(document(room={"walls": walls, "obstacles": (boxing,)}, runs=(run,))).lengths
    assert length.part.area == pytest.approx(600.0 * 820.0 - 26.0 * 23.0, abs=4.0)
    assert sum(edge.length for edge in length.part.edges) == pytest.approx(2834.0 + 3.0 * math.pi, abs=0.05)
