"""The room as it is shown: floor, walls with their openings cut out, windows and doors.

Walls are thin slabs that stand outside the room's faces, so that the faces stay where they were measured. They lie
in the slab frame of `viewer.scene.fixtures`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

import numpy as np
from shapely import GeometryCollection, MultiPoint, Polygon, get_coordinates, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.document.schema import Opening
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.geometry.solids import Mesh, bounds
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.viewer.scene.fixtures import LAYER, extruded, facts, fixture_items, slab, slab_frame
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import PALETTE, surface_finish
from countersunk.viewer.scene.surface import Surface, faceted, placing

WALL = 100.0
"""Thickness of a wall as it is shown, mm: nothing is known of the real one."""
FLOOR = 20.0
FLOOR_MARGIN = 1_000.0
"""How far the floor of an open survey reaches past everything that stands on it, mm."""
INFINITE = 100_000.0
"""Further than any room reaches, mm."""
FRAME = 50.0
"""Width of a window's or door's frame as it is seen, mm."""
SKIRTING, ARCHITRAVE = (95.0, 14.0), (60.0, 16.0)
"""Height or width, and thickness, of the boards at the foot of a wall and round a door, mm (common practice, no
source)."""
BOARD, PAST, NOSE = 24.0, 30.0, 22.0
"""Thickness of a window board, and how far it reaches past the window and into the room, mm."""
LOWEST_SILL = 960.0
"""A window board lower than this would meet what stands on the worktop, mm."""
AT_WALL = 160.0
"""What stands nearer to its wall hides the skirting, mm."""


def room_items(kitchen: Kitchen, cut: float = math.inf) -> Iterator[Item]:
    """Floor first, then each wall with its windows and doors, then fixtures; nothing above ``cut`` (mm high)."""
    yield _floor(kitchen)
    for wall in kitchen.survey.walls:
        yield from _wall(wall, kitchen, cut)
        yield from _skirting(wall, kitchen)
    for i, opening in enumerate(kitchen.survey.openings, start=1):
        yield from _opening(opening, i, kitchen.survey, cut)
    yield from fixture_items(kitchen.survey, cut)


def _floor(kitchen: Kitchen) -> Item:
    surface = slab(_floor_plan(kitchen), -FLOOR, 0.0)
    return Item("room.floor", "floor", LAYER, "floor", surface, np.eye(4), surface_finish(kitchen, "floor"))


def _floor_plan(kitchen: Kitchen) -> Polygon:
    """The room with the ground under its walls; for an open survey a rectangle under everything."""
    if kitchen.survey.outline is not None:
        return Polygon(one_polygon(kitchen.survey.outline.buffer(WALL, join_style="mitre")).exterior)
    ends = [point for wall in kitchen.survey.walls for point in (wall.start, wall.end)]
    boxes = [bounds(part) for part in kitchen.parts]
    corners = [corner for b in boxes for corner in ((b[0], b[1]), (b[3], b[4]))]
    return rectangle(*MultiPoint([*ends, *corners]).buffer(FLOOR_MARGIN).bounds)


def _wall(wall: SurveyedWall, kitchen: Kitchen, cut: float) -> Iterator[Item]:
    """The slab, or nothing where an opening takes the whole wall."""
    survey = kitchen.survey
    face = survey.face(wall).intersection(rectangle(0.0, 0.0, wall.length, cut if math.isfinite(cut) else INFINITE))
    holes = [_hole(o) for o in survey.openings if o.wall == wall.name]
    solid = face.difference(union_all(holes))
    if solid.is_empty:
        return
    surface = _wall_slab(solid, tuple(wall.bow.coords), _stations(solid, wall), *_mitres(wall, survey))
    label = f"wall {wall.name}, {wall.length:.0f} mm long"
    place = placing(slab_frame(wall))
    yield Item(
        f"room.wall.{wall.name}", "wall", LAYER, label, surface, place, surface_finish(kitchen, "wall"), facts(wall)
    )


def _skirting(wall: SurveyedWall, kitchen: Kitchen) -> Iterator[Item]:
    """The board at the foot of a wall, where neither a door nor anything on the floor stands at it.

    A bowed wall has none: nothing is known of how its skirting runs.
    """
    if len(wall.face) > 2:
        return
    high, thick = SKIRTING
    boxes = [b for part in kitchen.parts if (b := bounds(part))[2] < high]
    taken = [wall.frame.plan_from_room(rectangle(b[0], b[1], b[3], b[4])) for b in boxes]
    taken += [wall.frame.plan_from_room(o.plan) for o in kitchen.survey.obstacles if o.bottom < high]
    near = [plan.bounds for plan in taken if plan.bounds[1] < AT_WALL and plan.bounds[3] > -AT_WALL]
    hidden = [rectangle(x0, -1.0, x1, high + 1.0) for x0, _, x1, _ in near]
    doors = [
        rectangle(o.at - ARCHITRAVE[0], -1.0, o.at + o.width + ARCHITRAVE[0], high + 1.0)
        for o in kitchen.survey.openings
        if o.wall == wall.name and o.sill < high
    ]
    shown = rectangle(0.0, 0.0, wall.length, high).difference(union_all([*hidden, *doors]))
    pieces = [p for p in getattr(shown, "geoms", [shown]) if p.area > 50.0 * high]
    for i, piece in enumerate(pieces, start=1):
        yield Item(
            f"room.skirting.{wall.name}.{i}", "skirting", LAYER, f"skirting at wall {wall.name}",
            slab(piece, 0.0, thick), placing(slab_frame(wall)), PALETTE["joinery"], facts(wall),
        )  # fmt: skip


def _stations(face: BaseGeometry, wall: SurveyedWall) -> tuple[float, ...]:
    """Where the face is parted, so that each strip is flat: at every station of its bow where no opening ends."""
    ends = {round(x) for piece in getattr(face, "geoms", [face]) for x, _ in get_coordinates(piece)}
    return tuple(x for x, _ in wall.bow.coords[1:-1] if round(x) not in ends)


def _hole(opening: Opening) -> Polygon:
    return rectangle(opening.at, opening.sill, opening.at + opening.width, opening.head)


def _mitres(wall: SurveyedWall, survey: Survey) -> tuple[float, float]:
    """By how much the slab's outer face is longer than its inner one at its left and right end, mm."""
    before = survey.previous_wall(wall)
    return _mitre(before.corner if before else None), _mitre(wall.corner if survey.next_wall(wall) else None)


def _mitre(corner: float | None) -> float:
    return WALL / math.tan(math.radians(corner / 2)) if corner is not None else 0.0


@lru_cache(maxsize=256)
def _wall_slab(
    face: BaseGeometry, bow: tuple[Point, ...], stations: tuple[float, ...], left: float, right: float
) -> Surface:
    """The wall with its face as it is bowed; its back is straight and mitred."""
    length = bow[-1][0]
    strips = [face.intersection(rectangle(a, 0.0, b, INFINITE)) for a, b in pairwise((0.0, *stations, length))]
    pieces = [piece for s in strips for piece in getattr(s, "geoms", [s]) if piece.area > 0]
    points, faces = _welded(extruded(GeometryCollection(pieces) if stations else face, -WALL, 0.0), stations)
    outer = points[:, 2] < -WALL / 2
    points[~outer, 2] = np.interp(points[~outer, 0], *np.transpose(bow))
    points[outer & np.isclose(points[:, 0], 0.0), 0] -= left
    points[outer & np.isclose(points[:, 0], length), 0] += right
    return faceted((points, faces))


def _welded(mesh: Mesh, stations: tuple[float, ...]) -> Mesh:
    """Strips side by side as one: equal points once, and no faces where strips touch."""
    if not stations:
        return mesh
    points, index = np.unique(np.round(mesh[0], 6), axis=0, return_inverse=True)
    faces = index.reshape(-1)[mesh[1].astype(np.int64)]
    within = np.isclose(points[faces, 0][:, :, None], stations).all(axis=1).any(axis=1)
    return points, faces[~within].astype(np.uint64)


def _opening(opening: Opening, index: int, survey: Survey, cut: float) -> Iterator[Item]:
    """Frame and pane of a window, frame and leaf of a door; a passage has nothing in it."""
    wall, mark = survey.wall(opening.wall), f"room.{opening.kind}.{index}"
    size = f"{opening.width:.0f} × {opening.head - opening.sill:.0f} mm"
    label = f"{opening.kind} in wall {wall.name}, {size}"
    below = rectangle(-INFINITE, -INFINITE, INFINITE, min(cut, INFINITE))
    roomy = min(opening.width, opening.head - opening.sill) > 4 * FRAME
    for name, shape, z0, z1, look in PIECES[opening.kind](opening) if roomy else []:
        if shape.intersection(below).area == 0.0:
            continue
        yield Item(
            f"{mark}.{name}",
            opening.kind,
            LAYER,
            label,
            slab(shape.intersection(below), z0, z1),
            placing(slab_frame(wall)),
            PALETTE[look],
            facts(wall),
        )


Piece = tuple[str, Polygon, float, float, str]
"""Name, outline in the slab frame, from and to along z, look."""


def _window(opening: Opening) -> list[Piece]:
    lights = _lights(opening)
    frame = one_polygon(_hole(opening).difference(union_all(lights)))
    middle = -WALL * 0.6
    panes = [(f"pane{i}", light, middle - 3.0, middle + 3.0, "pane") for i, light in enumerate(lights, start=1)]
    pieces = [("frame", frame, middle - 30.0, middle + 30.0, "joinery"), *panes]
    if opening.sill < LOWEST_SILL or opening.top_in:
        return pieces
    left, right = opening.at - PAST, opening.at + opening.width + PAST
    board = rectangle(left, opening.sill - BOARD, right, opening.sill)
    inner = rectangle(opening.at, opening.sill - BOARD, opening.at + opening.width, opening.sill)
    return [*pieces, ("board", board, 0.0, NOSE, "joinery"), ("board.inner", inner, middle, 0.0, "joinery")]


def _lights(opening: Opening) -> list[Polygon]:
    """The panes of a window: two side by side where it is wide."""
    x0, x1 = opening.at + FRAME, opening.at + opening.width - FRAME
    z0, z1, middle = opening.sill + FRAME, opening.head - FRAME, (x0 + x1) / 2
    if opening.width < 900.0:
        return [rectangle(x0, z0, x1, z1)]
    half = FRAME / 2
    return [rectangle(x0, z0, middle - half, z1), rectangle(middle + half, z0, x1, z1)]


def _door(opening: Opening) -> list[Piece]:
    inner = rectangle(opening.at + FRAME, opening.sill, opening.at + opening.width - FRAME, opening.head - FRAME)
    x = opening.at + opening.width - FRAME - 60.0
    z = opening.sill + min(1_050.0, (opening.head - opening.sill) / 2)
    return [
        ("frame", one_polygon(_hole(opening).difference(inner)), -WALL, 0.0, "joinery"),
        ("architrave", one_polygon(_round(opening).difference(_hole(opening))), 0.0, ARCHITRAVE[1], "joinery"),
        ("leaf", one_polygon(inner.buffer(-3.0, join_style="mitre")), -60.0, -28.0, "joinery"),
        ("stiles", _stiles(inner), -28.0, -20.0, "joinery"),
        ("grip", rectangle(x - 110.0, z - 9.0, x, z + 9.0), -20.0, 30.0, "dark steel"),
    ]


def _round(opening: Opening) -> Polygon:
    """A door's opening with the boards round it, which end at the floor."""
    wide = ARCHITRAVE[0]
    return rectangle(opening.at - wide, opening.sill, opening.at + opening.width + wide, opening.head + wide)


def _stiles(inner: Polygon) -> Polygon:
    """The framing of a door's leaf round two panels."""
    x0, z0, x1, z1 = inner.bounds
    edge, middle = min(110.0, (x1 - x0) / 4), z0 + (z1 - z0) * 0.45
    panels = [
        rectangle(x0 + edge, z0 + 1.6 * edge, x1 - edge, middle - edge / 2),
        rectangle(x0 + edge, middle + edge / 2, x1 - edge, z1 - edge),
    ]
    leaf = inner.buffer(-3.0, join_style="mitre")
    return one_polygon(leaf.difference(union_all([p for p in panels if p.area > 0.0])))


def _nothing(_: Opening) -> list[Piece]:
    return []


PIECES = {"window": _window, "door": _door, "passage": _nothing}
"""What stands in an opening that is large enough to hold a frame."""
