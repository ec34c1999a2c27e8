"""Bowls of any shape: the corners of their line typed in order, rounded alike, those that point in as well."""

import math

import pytest

from countersunk.model.errors import InputError
from countersunk.model.facts.setting_out import holes_of
from countersunk.model.geometry.identity import Component
from countersunk.model.kitchen import build
from tests.specimens import document

FIVE = ((0.0, 0.0), (440.0, 0.0), (440.0, 260.0), (320.0, 380.0), (0.0, 380.0))
L_SHAPE = ((0.0, 0.0), (440.0, 0.0), (440.0, 200.0), (240.0, 200.0), (240.0, 380.0), (0.0, 380.0))


def bowl(outline=FIVE, **more):
    return {"kind": "sink", "outline": outline, "radius": 0.0, "over": "A2", **more}


def let_in(**more):
    return build(document(cutouts=(bowl(**more),)))


def test_what_is_cut_out_is_the_outline_with_its_front_to_the_front():
    """440 x 380 less a triangle of 120 at the right and the back; 60 from the front edge of a top 600 deep."""
    built = let_in()
    (cutout,), (length,) = built.cutouts, built.lengths
    assert cutout.line.area == pytest.approx(440 * 380 - 120 * 120 / 2)
    x0, y0, x1, y1 = cutout.line.bounds
    assert (x1 - x0, y0, y1) == pytest.approx((440, 160, 540))
    missing = sorted((round(x - x0), round(y)) for x, y in cutout.line.exterior.coords[:-1])
    assert missing == [(0, 160), (0, 540), (320, 160), (440, 280), (440, 540)]
    whole = length.part.length * length.part.depth
    assert length.part.area == pytest.approx(whole - cutout.line.area)


def test_every_corner_is_rounded_and_one_that_points_in_as_well():
    """Five corners that point out lose (1 - π/4) r² each, the one that points in gains as much."""
    sharp, round_ = let_in(outline=L_SHAPE), let_in(outline=L_SHAPE, radius=30.0)
    lost = (5 - 1) * (1 - math.pi / 4) * 30**2
    assert sharp.cutouts[0].line.area - round_.cutouts[0].line.area == pytest.approx(lost, rel=0.01)


def test_each_corner_has_a_starter_hole_wholly_inside():
    built = let_in(radius=40.0)
    holes = holes_of(built.cutouts[0], built.lengths[0])
    assert len(holes) == 5
    assert all(built.cutouts[0].line.contains(hole.outline) for hole in holes)


def test_its_bowl_hangs_inside_the_line_and_its_rim_lies_all_round():
    built = let_in(radius=40.0)
    line = built.cutouts[0].line_in_room
    plans = {p.which.component: p.pose.plan_to_room(p.outline) for p in built.parts_of[built.cutouts[0].key]}
    assert line.contains(plans[Component.BASE])
    assert plans[Component.RIM].convex_hull.contains(line)


@pytest.mark.parametrize(
    ("cut", "field"),
    [
        (bowl(outline=((0.0, 0.0), (400.0, 300.0), (400.0, 0.0), (0.0, 300.0))), "outline"),
        (bowl(radius=250.0), "radius"),
        (bowl(kind="hob"), "outline"),
        (bowl(line=(400.0, 400.0)), "line"),
        (bowl(outline=((0.0, 0.0), (900.0, 0.0), (0.0, 300.0))), "line"),
        ({"template": "sink.one-bowl", "outline": FIVE, "over": "A2"}, "outline"),
    ],
)
def test_what_is_no_outline_of_a_bowl_is_refused(cut, field):
    with pytest.raises(InputError) as caught:
        build(document(cutouts=(cut,)))
    assert caught.value.problems[0].field == f"cutouts[0].{field}"
