"""Tall units up to the ceiling: boxes flush on them, and a filler that is scribed to a ceiling that falls."""

import pytest
from shapely import Polygon

from countersunk.model.checks.registry import MEASURES
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kitchen import build
from countersunk.takeoff.plans.boards import board_plans
from tests.model.test_checks import kitchen, run, unit
from tests.specimens import document, square

TALL = run(unit("tall-larder", 600), unit("base-doors", 600))
BOXES = {**run(unit("top-box", 600), level="upper"), "to_ceiling": True}
HIGHER = unit("top-box", 600, to_size=True, height=262.0)
FALLING = tuple({"wall": "A", "at": at, "height": high} for at, high in ((500.0, 2400.0), (1100.0, 2388.0)))


def boxed(boxes=BOXES, ceiling=FALLING, **more):
    return kitchen(TALL, boxes, room=square(3000.0, height=2400.0, ceiling=ceiling), **more)


def test_boxes_stand_as_far_off_the_wall_as_the_tall_units_beneath():
    """A top 600 deep over units 578 deep overhangs them by 20, so that all stand 2 off the wall."""
    tall, _, box = boxed().units
    assert (tall.frame.origin[1], box.frame.origin[1]) == (-2.0, -2.0)
    assert (tall.face, tall.family.top, box.face, box.family.base) == (578.0, 2128.0, 578.0, 2128.0)


def test_the_filler_is_as_high_as_the_gap_at_every_place_and_sawn_higher():
    """From 500 to 1100 along the wall the ceiling falls from 2400 to 2388 over boxes that end at 2368."""
    built = boxed()
    (filler,) = [p for p in built.parts if p.role is Role.CEILING_FILLER]
    assert filler.outline.equals(Polygon([(0, 0), (600, 0), (600, 20), (0, 32)]))
    (place,) = MEASURES["units.ceiling_falls"].take(built)
    (least,) = MEASURES["units.under_ceiling"].take(built)
    assert (place.value, least.value) == pytest.approx((12.0, 20.0))
    sheets = [sheet for plan in board_plans(built) for sheet in plan.sheets]
    (panel,) = [p for sheet in sheets for p in sheet.places if p.id == filler.id]
    assert (panel.length, panel.width) == (600.0, 32.0 + 15.0)


def test_its_face_is_flush_with_the_doors():
    built = boxed()
    (filler,) = [p for p in built.parts if p.role is Role.CEILING_FILLER]
    door = next(p for p in built.parts if p.role is Role.DOOR and p.owner == filler.owner)
    outs = [{round(-v[1], 6) for v in part.mesh().vertices} for part in (filler, door)]
    assert outs[0] == outs[1] == {562.0, 580.0}


@pytest.mark.parametrize(
    ("boxes", "ceiling", "field"),
    [
        ({**BOXES, "units": (HIGHER,)}, FALLING, "runs[1].to_ceiling"),
        ({**BOXES, "units": (HIGHER,), "to_ceiling": False}, FALLING, "runs[1].units[0]"),
        (BOXES, ({"wall": "A", "at": 0.0, "height": 2371.0},), "runs[1].to_ceiling"),
        (BOXES, ({"wall": "A", "at": 0.0, "height": 2500.0},), "room.ceiling[0].height"),
        (BOXES, ({"wall": "A", "at": 9000.0, "height": 2300.0},), "room.ceiling[0].at"),
    ],
)
def test_what_has_no_room_is_refused(boxes, ceiling, field):
    with pytest.raises(InputError) as caught:
        boxed(boxes, ceiling)
    assert field in caught.value.problems[0].field


def test_base_units_alone_have_nothing_to_close():
    row = {**run(unit("base-doors", 600)), "to_ceiling": True}
    with pytest.raises(InputError, match="tall units"):
        build(document(runs=(row,)))


def test_a_top_ends_at_the_wing_of_a_tall_corner_unit():
    """The larder's wing goes 900 along wall B, where base units begin: the top has no overhang into it."""
    larder = {"wall": "A", "units": (unit("tall-diagonal", 900, hand="right"),)}
    row = {"wall": "B", "units": (unit("base-doors", 600), unit("base-doors", 600))}
    built = kitchen(larder, row, room=square(3000.0))
    (length,) = built.lengths
    assert (length.x, length.left.kind, length.right.kind) == (900.0, "tall", "free")
    assert EdgeCondition.TALL in {edge.condition for edge in length.part.edges}
