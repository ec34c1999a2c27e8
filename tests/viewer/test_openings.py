"""Openings: doors turn about their hinge edge, drawers slide, and what belongs together moves as one."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from scipy.spatial.transform import Rotation
from shapely import MultiPoint, union_all

from countersunk.model.geometry.part import Layer
from countersunk.viewer.scene.extras import GAP, LIFT, axes, part_extras
from countersunk.viewer.scene.joinery import joinery_items
from countersunk.viewer.scene.openings import RIGHT_ANGLE, openings
from tests.specimens import SOME_DEMOS, demo

NAMES = [path.stem for path in SOME_DEMOS]


def unit_of(kitchen, part):
    return next(unit for unit in kitchen.units if unit.key == part.owner)


def corners(part):
    x0, y0, x1, y1 = part.outline.bounds
    return np.array([part.pose.to_room(place) for place in product((x0, x1), (y0, y1), (0.0, part.thickness))])


def moved(opening, points):
    """Points (n, 3) of the room once the leaf is open; the turn is SciPy's."""
    if opening.hinge is None:
        return points + np.array(opening.axis) * opening.travel
    turn = Rotation.from_rotvec(np.array(opening.axis) * opening.travel, degrees=True)
    return turn.apply(points - opening.at) + opening.at


def extras_by_mark(name):
    return {more["mark"]: more for more in part_extras(demo(name)).values()}


def in_unit(kitchen, part, points):
    frame = unit_of(kitchen, part).frame
    return np.array([frame.from_room(point) for point in points])


@pytest.mark.parametrize("name", NAMES)
def test_every_front_but_a_fixed_one_opens_and_takes_its_handle_along(name):
    kitchen = demo(name)
    opens = openings(kitchen)
    fronts = [p for p in kitchen.parts if p.role in ("door", "drawer-front")]
    assert fronts
    shut = {u.key for u in kitchen.units if u.wing}  # doors that fold in a corner, or open across it
    assert {p.id for p in fronts if p.owner not in shut} <= set(opens)
    handles = [p for p in kitchen.parts if p.role == "handle"]
    assert {p.id for p in handles if p.owner not in shut} <= set(opens)
    still = [
        p for p in kitchen.parts if p.role in ("side", "back", "shelf", "panel", "plinth", "filler", "worktop")
    ]
    assert not {p.id for p in still} & set(opens)


@pytest.mark.parametrize("name", NAMES)
def test_whatever_opens_comes_out_into_the_room_and_stays_clear_of_its_unit(name):
    kitchen = demo(name)
    for id_, opening in openings(kitchen).items():
        part = kitchen.parts_by_id[id_]
        shut, wide = (in_unit(kitchen, part, points) for points in (corners(part), moved(opening, corners(part))))
        assert wide[:, 1].mean() > shut[:, 1].mean()
        if opening.hinge and part.layer is Layer.FRONTS:
            unit = unit_of(kitchen, part)
            assert wide[:, 1].min() > unit.family.depth + unit.boards.front.thickness - 1e-6


@pytest.mark.parametrize(
    ("name", "door", "hinge"),
    [
        ("corner", "A2.door", "left"),
        ("corner", "A6.door", "right"),
        ("corner", "A3.door", "bottom"),
        ("island", "B5.door", "right"),
        ("island", "C2.door.left", "left"),
        ("island", "C2.door.right", "right"),
        ("island", "C6.appliance.door.upper", "right"),
        ("straight", "A7.appliance.face", "bottom"),
    ],
)
def test_the_hinge_edge_stays_and_the_free_edge_comes_forward_by_the_width(name, door, hinge):
    """By hand: at a right angle the free edge lies the front's width, or height, before the face."""
    kitchen = demo(name)
    part = kitchen.parts_by_mark[door]
    opening = openings(kitchen)[part.id]
    shut, wide = (in_unit(kitchen, part, points) for points in (corners(part), moved(opening, corners(part))))
    face = shut[:, 1].max()
    axis = 2 if hinge == "bottom" else 0
    edge = shut[:, axis].max() if hinge == "right" else shut[:, axis].min()
    assert (opening.hinge, opening.travel) == (hinge, RIGHT_ANGLE)
    assert wide[:, 1].max() - face == pytest.approx(np.ptp(shut[:, axis]))
    staying = np.isclose(shut[:, axis], edge) & np.isclose(shut[:, 1], face)
    assert staying.sum() == 2
    np.testing.assert_allclose(wide[staying], shut[staying], atol=1e-9)


def test_a_drawer_takes_its_box_along_and_keeps_its_level():
    kitchen = demo("corner")
    second = openings(kitchen)[kitchen.parts_by_mark["A5.drawer-front.2"].id].leaf
    leaves = {kitchen.marks[id_]: o for id_, o in openings(kitchen).items() if o.leaf == second}
    boards = {f"A5.drawer.2.{side}" for side in ("left", "right", "front", "back", "bottom")}
    assert set(leaves) == boards | {"A5.drawer-front.2", "A5.handle.drawer.2"}
    (opening,) = set(leaves.values())
    assert opening.hinge is None
    assert opening.travel == pytest.approx(500.0 + 18.0 - 60.0)  # box and front, less what stays in
    assert opening.axis[2] == 0.0


def test_the_grip_of_a_fridge_moves_with_the_door_that_it_is_on():
    kitchen = demo("straight")
    opens = {kitchen.marks[id_]: opening for id_, opening in openings(kitchen).items()}
    assert opens["A1.appliance.grip"].leaf == opens["A1.appliance.door.upper"].leaf
    assert opens["A1.appliance.door.lower"].leaf != opens["A1.appliance.grip"].leaf
    assert "A1.appliance.body" not in opens


def test_lengths_rise_and_part_at_their_join_and_take_along_what_is_let_in():
    extras = extras_by_mark("corner")
    way = {id_: np.array(more["apart"]) for id_, more in extras.items() if "apart" in more}
    assert set(way) == {"T1", "T2"} | {id_ for id_ in extras if id_.startswith(("sink.", "hob."))}
    np.testing.assert_allclose(way["T1"], [-GAP / 1000, LIFT / 1000, 0.0], atol=1e-4)  # wall A runs along x
    np.testing.assert_allclose(way["sink.rim"] - way["T1"], [0.0, LIFT / 1000, 0.0])
    assert np.linalg.norm(way["T2"][[0, 2]]) == pytest.approx(GAP / 1000)
    assert way["T2"] @ axes((0.0, -1.0, 0.0)) > 0.1  # away from wall A, which is at y = 0


def test_extras_say_where_a_part_stands_and_what_it_wears():
    extras = extras_by_mark("island")
    assert extras["CU1.side.left"]["level"] == "upper"
    assert "level" not in extras["C2.side.left"]
    assert (extras["C2.side.left"]["wall"], extras["sink.rim"]["wall"]) == ("C", "C")
    assert "wall" not in extras["I2.side.left"]  # an island stands at no wall
    worn = {id_: extras[id_].get("decor") for id_ in ("T1", "C2.door.left", "C1.plinth", "C2.side.left")}
    assert list(worn.values()) == ["worktop", "front", "plinth", None]


def test_bolts_and_biscuits_lie_inside_the_tops_and_rise_with_them():
    kitchen = demo("corner")
    drawn = list(joinery_items(kitchen))
    (join,) = kitchen.joins
    assert [item.kind for item in drawn].count("bolt") == join.bolts
    tops = union_all([length.part.pose.plan_to_room(length.part.outline) for length in kitchen.lengths])
    top = kitchen.lengths[0].part
    for item in drawn:
        low, high = item.points.min(axis=0), item.points.max(axis=0)
        assert tops.buffer(0.01).contains(MultiPoint(item.points[:, :2]))
        assert top.pose.origin[2] < low[2] < high[2] < top.pose.origin[2] + top.thickness
        assert item.more["apart"][1] == pytest.approx(LIFT / 1000)
