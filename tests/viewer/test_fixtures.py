"""Fixtures: obstacles, services, slopes and bows, in the scene and on the papers."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from shapely import Point

from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.survey import survey_room
from countersunk.viewer.drawing.elevation import elevation_sheets
from countersunk.viewer.drawing.fixtures import bow_in_words, swing, way_out
from countersunk.viewer.drawing.lettering import words_on
from countersunk.viewer.drawing.plan import plan_sheet
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.scene.room import WALL, room_items
from tests.specimens import DEMOS, SQUARE_ROOM, document, open_kitchen

SLOPE = {"wall": "C", "eaves": 1200.0, "run": 1500.0}


@pytest.fixture(scope="module")
def loft():
    return open_kitchen(next(path for path in DEMOS if path.stem == "loft"))


def furnished(**room):
    return build(document(room={"walls": SQUARE_ROOM, **room}))


def item(kitchen, id_, cut=np.inf):
    return next(i for i in room_items(kitchen, cut) if i.id == id_)


def mesh(drawn):
    return trimesh.Trimesh(drawn.points, drawn.surface.faces)


def bowed(*offsets):
    bow = {"every": 1000.0, "offsets": tuple(map(float, offsets))}
    return tuple({**w, "bow": bow} if w["name"] == "C" else w for w in SQUARE_ROOM)


def test_an_obstacle_is_a_box_in_its_place():
    column = {
        "kind": "column",
        "wall": "C",
        "at": 1000.0,
        "width": 300.0,
        "depth": 200.0,
        "out": 50.0,
        "top": 2000.0,
    }
    drawn = item(furnished(obstacles=(column,)), "room.column.1")
    assert mesh(drawn).volume == pytest.approx(300 * 200 * 2000)
    assert mesh(drawn).bounds.ravel() == pytest.approx([1700, -2950, 0, 2000, -2750, 2000])
    assert "inward" not in drawn.more


def test_a_service_is_a_disc_on_the_true_face_of_its_wall():
    service = {"kind": "socket", "wall": "C", "at": 1000.0, "height": 1100.0}
    drawn = item(build(document(room={"walls": bowed(0, 20, 0), "services": (service,)})), "room.socket.1")
    low, high = mesh(drawn).bounds
    assert (low + high) / 2 == pytest.approx([2000.0, -3000.0 - 20.0 + 4.0, 1100.0])
    assert drawn.label == "socket in wall C, 1000 along, 1100 high"


def test_a_bowed_wall_has_the_volume_between_its_face_and_its_back():
    # Worked: hollow by 30 in the middle third of 3000 and falling to 0 at both ends is, in plan, less by
    # 1000 · 15 + 1000 · 30 + 1000 · 15 = 60 000 mm²; times a height of 2400.
    straight, bow = (
        mesh(item(build(document(room={"walls": w})), "room.wall.C")) for w in (SQUARE_ROOM, bowed(0, 30, 30))
    )
    assert bow.is_watertight
    assert straight.volume - bow.volume == pytest.approx(60_000 * 2400)


def test_a_bowed_wall_with_a_window_is_closed():
    window = {"kind": "window", "wall": "C", "at": 1000.0, "width": 600.0, "sill": 1000.0}
    drawn = mesh(item(build(document(room={"walls": bowed(0, -30, 30), "openings": (window,)})), "room.wall.C"))
    assert drawn.is_watertight


def test_walls_end_at_a_sloping_ceiling():
    # Worked: 1500 from the wall with the eaves the ceiling is full, so of walls B and D a triangle of 1500 x 1200
    # is missing, and of wall C everything above 1200.
    survey = survey_room(document(room={"walls": SQUARE_ROOM, "slopes": (SLOPE,)}).room)
    areas = {wall.name: survey.face(wall).area for wall in survey.walls}
    side = 3000 * 2400 - 1500 * 1200 / 2
    assert areas == pytest.approx({"A": 3000 * 2400, "B": side, "C": 3000 * 1200, "D": side}, rel=1e-4)


def test_a_gable_takes_both_its_slopes():
    slopes = (SLOPE, {**SLOPE, "wall": "A", "run": 1500.0})
    survey = survey_room(document(room={"walls": SQUARE_ROOM, "slopes": slopes}).room)
    assert survey.face(survey.wall("B")).area == pytest.approx(3000 * 2400 - 1500 * 1200, rel=1e-4)


def test_a_sloping_ceiling_lies_over_what_it_hides_and_looks_down_into_the_room():
    drawn = item(furnished(slopes=(SLOPE,)), "room.slope.1")
    low, high = mesh(drawn).bounds
    assert mesh(drawn).volume > 0
    assert (low[2], high[2]) == pytest.approx((1200.0, 2400.0))
    assert (low[1], high[1]) == pytest.approx((-3000.0, -1500.0))
    x, y, z = drawn.more["inward"]
    assert (x, y, z) == pytest.approx((0.0, -1500 / np.hypot(1200, 1500), -1200 / np.hypot(1200, 1500)))


def test_an_obstacle_without_a_top_ends_at_the_ceiling():
    boxing = {"kind": "pipe-boxing", "wall": "C", "at": 0.0, "width": 200.0, "depth": 200.0}
    kitchen = furnished(slopes=(SLOPE,), obstacles=(boxing,))
    assert kitchen.survey.obstacles[0].top == pytest.approx(1200.0)


def test_a_window_into_a_sloping_ceiling_is_refused():
    window = {"kind": "window", "wall": "B", "at": 2000.0, "width": 600.0, "sill": 1000.0, "head": 2000.0}
    with pytest.raises(InputError, match=r"openings\[0\].head: found sill 1000, head 2000; allowed: .* 1520 mm"):
        furnished(slopes=(SLOPE,), openings=(window,))


def test_nothing_of_a_cut_room_stands_above_the_cut(loft):
    drawn = list(room_items(loft, 1500.0))
    assert max(i.points[:, 2].max() for i in drawn) == pytest.approx(1500.0)
    assert {"column", "radiator", "slope", "service"} <= {i.kind for i in drawn}


def test_every_fixture_of_the_loft_is_a_closed_solid_within_the_room_and_its_walls(loft):
    room = loft.survey.outline.buffer(WALL + 5.0)
    for drawn in room_items(loft):
        if drawn.kind not in ("floor", "wall"):
            assert mesh(drawn).is_watertight, drawn.id
            assert all(room.contains(Point(p[:2])) for p in drawn.points), drawn.id


def test_the_plan_names_everything_in_the_room(loft):
    words = {text for text, _ in words_on(plan_sheet(loft))}
    assert {"chimney breast", "pipe boxing", "column", "radiator", *(f"s{i}" for i in range(1, 9))} <= words
    assert "ceiling 1300 at wall C, 2500 from the broken line on" in words
    assert any(text.endswith("wall B, hollow 8") for text in words)
    assert any(text.endswith("wall D, bulges 6") for text in words)


def test_elevations_give_the_heights_and_places_of_fixtures(loft):
    sheets = {sheet.name: {text for text, _ in words_on(sheet)} for sheet in elevation_sheets(loft)}
    assert {"s1 water", "s2 waste", "pipe boxing, 200 deep", "1480", "500", "1300"} <= sheets["elevation-B"]
    assert {"radiator", "110 deep", "150", "650"} <= sheets["elevation-C"]
    assert {"s8 switch", "800", "1100"} <= sheets["elevation-D"]


@pytest.mark.parametrize(("side", "hinge", "open_edge"), [("left", 1000.0, 1000.0), ("right", 1800.0, 1800.0)])
def test_a_door_swings_about_its_hinge(side, hinge, open_edge):
    door = {"kind": "door", "wall": "A", "at": 1000.0, "width": 800.0, "swing": side}
    survey = survey_room(document(room={"walls": SQUARE_ROOM, "openings": (door,)}).room)
    leaf, edge = swing(survey.wall("A"), survey.openings[0])
    assert leaf.points == (pytest.approx((hinge, 0.0)), pytest.approx((open_edge, -800.0)))
    assert edge.stroke is Stroke.HIDDEN
    assert all(np.hypot(x - hinge, y) == pytest.approx(800.0) for x, y in edge.points)


def test_a_door_that_opens_out_has_an_arrow_through_it_and_no_leaf_in_the_room():
    door = {"kind": "door", "wall": "A", "at": 1000.0, "width": 800.0, "swing": "out"}
    survey = survey_room(document(room={"walls": SQUARE_ROOM, "openings": (door,)}).room)
    wall, opening = survey.wall("A"), survey.openings[0]
    assert list(swing(wall, opening)) == []
    shaft, head = way_out(wall, opening, 20.0)
    # From 80 before the wall to 120 behind it, through the middle of the door; the room lies at y < 0.
    assert shaft.points == (pytest.approx((1400.0, -80.0)), pytest.approx((1400.0, 120.0)))
    assert head.points[1] == pytest.approx((1400.0, 120.0))
    assert all(y < 120.0 for _, y in (head.points[0], head.points[2]))
    assert list(way_out(wall, opening.model_copy(update={"swing": "left"}), 20.0)) == []


@pytest.mark.parametrize(("offsets", "words"), [((0, 8, 5), "hollow 8"), ((0, -6, 2), "hollow 2, bulges 6")])
def test_a_bow_in_words(offsets, words):
    survey = survey_room(document(room={"walls": bowed(*offsets)}).room)
    assert bow_in_words(survey.wall("C")) == words
    assert bow_in_words(survey.wall("A")) == ""
