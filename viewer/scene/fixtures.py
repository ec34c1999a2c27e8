"""Fixtures: what stands in the room and on its walls besides units, and the sloping ceilings over it.

Slab frame: x along the wall, y up, z into the room; the face of a straight wall is z = 0. It is right-handed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from itertools import accumulate

import numpy as np
from shapely import Point, Polygon, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.geometry.frames import Pose, Vector
from countersunk.model.geometry.solids import Mesh
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.room import PlacedObstacle, PlacedRoofWindow, PlacedService, PlacedSlope, spoken
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import PALETTE
from countersunk.viewer.scene.surface import Surface, faceted, placing, shape_mesh

LAYER = "room"
DISC, FAN = 32.0, 90.0
"""Radius of the disc that stands for a service, and of a fan, mm."""
FLUE = 150.0
"""Diameter of a stove's flue as it is shown, mm."""
PROUD = 8.0
"""How far it stands off the wall, mm."""
CEILING = 12.0
"""Thickness of a sloping ceiling as it is shown, mm."""
FRAME = 50.0
"""Width of the frame of a roof window as it is seen, mm."""

OBSTACLES = {
    "radiator": "joinery", "stove": "black metal", "gas-meter": "joinery", "electricity-meter": "joinery",
}  # fmt: skip
"""The look of an obstacle; all others look like the walls."""


def fixture_items(survey: Survey, cut: float = math.inf) -> Iterator[Item]:
    """Obstacles, services and sloping ceilings; nothing above ``cut`` (mm over the floor)."""
    for i, obstacle in enumerate(survey.obstacles, start=1):
        if obstacle.bottom < cut:
            yield _obstacle(obstacle, i, survey.wall(obstacle.wall), cut)
        if obstacle.kind == "stove" and obstacle.top < cut:
            yield _glass(obstacle, i, survey.wall(obstacle.wall))
            yield _flue(obstacle, i, survey, cut)
    for i, service in enumerate(survey.services, start=1):
        if service.height + DISC <= cut:
            yield _service(service, i, survey.wall(service.wall))
    for i, slope in enumerate(survey.slopes, start=1):
        if slope.height_at(0.0) < cut:
            yield _slope(slope, i, survey.wall(slope.wall), cut)
        yield from _roof_windows(slope, survey.wall(slope.wall), cut)
    yield from _cheeks(survey, cut)


def facts(wall: SurveyedWall) -> dict[str, object]:
    """The wall's name and its normal in the axes of glTF (y up): what a viewer needs to fade a wall."""
    return {"wall": wall.name, "inward": _in_gltf(wall.frame.y)}


def slab_frame(wall: SurveyedWall) -> Pose:
    """See the module's docstring."""
    return wall.frame.reaxed((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))


@lru_cache(maxsize=256)
def slab(shape: BaseGeometry, z0: float, z1: float) -> Surface:
    """A plane shape given a thickness, in the slab frame."""
    return faceted(extruded(shape, z0, z1))


def extruded(shape: BaseGeometry, z0: float, z1: float) -> Mesh:
    """Every polygon of ``shape``, from z0 to z1, in one mesh."""
    meshes = [shape_mesh(piece, z1 - z0) for piece in getattr(shape, "geoms", [shape])]
    starts = accumulate((len(points) for points, _ in meshes), initial=0)
    faces = [faces + np.uint64(start) for (_, faces), start in zip(meshes, starts, strict=False)]
    points = np.concatenate([points for points, _ in meshes]) + np.array([0.0, 0.0, z0])
    return points, np.concatenate(faces)


def _in_gltf(vector: Vector) -> list[float]:
    x, y, z = vector
    return [x, z, -y]


def _obstacle(obstacle: PlacedObstacle, index: int, wall: SurveyedWall, cut: float) -> Item:
    """A box. One that stands free of its wall does not fade with it."""
    face = rectangle(obstacle.x, obstacle.bottom, obstacle.right, min(obstacle.top, cut))
    label = f"{spoken(obstacle.kind)} on wall {wall.name}, {obstacle.width:.0f} × {obstacle.depth:.0f} mm"
    surface = slab(face, obstacle.y, obstacle.y + obstacle.depth)
    look = PALETTE[OBSTACLES.get(obstacle.kind, "wall")]
    more = facts(wall) if obstacle.y == 0 else {}
    place = placing(slab_frame(wall))
    return Item(f"room.{obstacle.kind}.{index}", obstacle.kind, LAYER, label, surface, place, look, more)


def _glass(stove: PlacedObstacle, index: int, wall: SurveyedWall) -> Item:
    """The pane of a stove's door, on its face."""
    face = rectangle(stove.x, stove.bottom, stove.right, stove.top).buffer(-0.15 * stove.width, join_style="mitre")
    surface = slab(face, stove.y + stove.depth, stove.y + stove.depth + PROUD)
    place, look = placing(slab_frame(wall)), PALETTE["black glass"]
    return Item(f"room.stove.{index}.glass", "stove", LAYER, "door of the stove", surface, place, look, facts(wall))


def _flue(stove: PlacedObstacle, index: int, survey: Survey, cut: float) -> Item:
    """A pipe from the middle of a stove up to the ceiling; where it goes and how is its maker's to say."""
    wall, x, y = survey.wall(stove.wall), stove.x + stove.width / 2, stove.y + stove.depth / 2
    pipe = Point(x, y).buffer(FLUE / 2, 8)
    top = min(cut, survey.ceiling_over(wall.frame.plan_to_room(pipe)))
    frame = wall.frame.reaxed((0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    surface, look = slab(Point(y, x).buffer(FLUE / 2, 8), stove.top, top), PALETTE["black metal"]
    return Item(
        f"room.stove.{index}.flue", "stove", LAYER, "flue of the stove", surface, placing(frame), look, facts(wall)
    )


def _service(service: PlacedService, index: int, wall: SurveyedWall) -> Item:
    """A disc on the wall's true face."""
    face = wall.face_at(service.x)
    surface = slab(_disc(service), face, face + PROUD)
    label = f"{spoken(service.kind)} in wall {wall.name}, {service.x:.0f} along, {service.height:.0f} high"
    place, look = placing(slab_frame(wall)), PALETTE[f"service {service.kind}"]
    return Item(f"room.{service.kind}.{index}", "service", LAYER, label, surface, place, look, facts(wall))


def _disc(service: PlacedService) -> Polygon:
    return Point(service.x, service.height).buffer(FAN if service.kind == "fan" else DISC, 6)


def _slope(slope: PlacedSlope, index: int, wall: SurveyedWall, cut: float) -> Item:
    """A thin sheet above the face of the ceiling; its section is in height and distance from the wall."""
    if slope.windows:
        return _slope_with_holes(slope, index, wall, cut)
    low, top, out, kink = slope.height_at(0.0), slope.height, slope.run, slope.level_to
    level = ([(low, kink)], [(low + CEILING, max(0.0, kink - CEILING))]) if slope.least else ([], [])
    section = Polygon([(low, 0.0), *level[0], (top, out), (top, out - CEILING), *level[1], (low + CEILING, 0.0)])
    below = section.intersection(rectangle(0.0, 0.0, min(cut, slope.height), slope.run))
    frame = wall.frame.reaxed((0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0))
    more = {"wall": wall.name, "inward": _in_gltf(_underside(slope, wall))}
    surface, look = slab(below, slope.x, slope.x + slope.length), PALETTE["ceiling"]
    return Item(f"room.slope.{index}", "slope", LAYER, _label(slope, wall), surface, placing(frame), look, more)


def _label(slope: PlacedSlope, wall: SurveyedWall) -> str:
    low = slope.height_at(0.0)
    what = "ceiling of a dormer" if slope.least else "sloping ceiling"
    return f"{what}, {low:.0f} high at wall {wall.name}, {slope.height:.0f} at {slope.run:.0f} out"


def _slope_with_holes(slope: PlacedSlope, index: int, wall: SurveyedWall, cut: float) -> Item:
    """The sheet of a slope with holes for its windows: x along the wall, y up the slope."""
    sheet = rectangle(slope.x, 0.0, slope.x + slope.length, _up(slope, min(cut, slope.height)))
    holes = union_all([_pane(slope, window) for window in slope.windows])
    more = {"wall": wall.name, "inward": _in_gltf(_underside(slope, wall))}
    surface, place = slab(sheet.difference(holes), -CEILING, 0.0), placing(_on_slope(slope, wall))
    return Item(
        f"room.slope.{index}", "slope", LAYER, _label(slope, wall), surface, place, PALETTE["ceiling"], more
    )


def _roof_windows(slope: PlacedSlope, wall: SurveyedWall, cut: float) -> Iterator[Item]:
    """Frame and pane of each window of a slope, in the sheet."""
    for window in slope.windows:
        hole = _pane(slope, window)
        pane = hole.buffer(-FRAME, join_style="mitre")
        if window.head > cut or pane.is_empty:
            continue
        label = f"roof window over wall {wall.name}, {window.width:.0f} × {hole.bounds[3] - hole.bounds[1]:.0f} mm"
        more = {"wall": wall.name, "inward": _in_gltf(_underside(slope, wall))}
        place = placing(_on_slope(slope, wall))
        for name, shape, z0, look in (
            ("frame", hole.difference(pane), -60.0, "joinery"),
            ("pane", pane, -30.0, "pane"),
        ):
            mark = f"{window.field}.{name}"
            surface = slab(shape, z0, z0 + (60.0 if name == "frame" else 6.0))
            yield Item(mark, "window", LAYER, label, surface, place, PALETTE[look], more)


def _pane(slope: PlacedSlope, window: PlacedRoofWindow) -> Polygon:
    """A window in the sheet of its slope: x along the wall, y up the slope."""
    return rectangle(window.x, _up(slope, window.sill), window.x + window.width, _up(slope, window.head))


def _up(slope: PlacedSlope, height: float) -> float:
    """How far up a slope a height is, along it from the wall, mm."""
    return math.hypot(slope.out_at(height), height - slope.eaves)


def _on_slope(slope: PlacedSlope, wall: SurveyedWall) -> Pose:
    """x along the wall, y up the slope, z into the room."""
    rise, size = slope.height - slope.eaves, math.hypot(slope.height - slope.eaves, slope.run)
    up, inward = (0.0, slope.run / size, rise / size), (0.0, rise / size, -slope.run / size)
    return wall.frame.moved(z=slope.eaves).reaxed((1.0, 0.0, 0.0), up, inward)


def _cheeks(survey: Survey, cut: float) -> Iterator[Item]:
    """The sides of dormers: upright, from the slope beside up to the ceiling within."""
    for dormer in survey.dormers:
        wall = survey.wall(dormer.wall)
        section = Polygon([(dormer.eaves, 0.0), (dormer.height, 0.0), (dormer.height, dormer.out)])
        below = section.intersection(rectangle(0.0, 0.0, min(cut, dormer.height), dormer.out))
        frame = wall.frame.reaxed((0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0))
        for name, x in (("left", dormer.x - CEILING), ("right", dormer.x + dormer.width)):
            if below.area > 0.0:
                surface, look = slab(below, x, x + CEILING), PALETTE["ceiling"]
                label = f"{name} side of the dormer over wall {wall.name}"
                mark = f"{dormer.field}.{name}"
                yield Item(mark, "slope", LAYER, label, surface, placing(frame), look, facts(wall))


def _underside(slope: PlacedSlope, wall: SurveyedWall) -> Vector:
    """Unit normal of a sloping ceiling's face into the room."""
    rise, way = slope.height - slope.eaves, np.asarray(wall.frame.y)
    normal = way * rise - np.array([0.0, 0.0, slope.run])
    x, y, z = normal / np.linalg.norm(normal)
    return (float(x), float(y), float(z))
