"""Dressing: a few things that make a kitchen look lived in. They are invented, ordered by nobody and in no price.

They stand on worktops, at the back, where nobody cooks or washes: clear of hobs, sinks and whatever stands on the
top or hangs low over it. Boards lean only where there is wall behind them. Lengths in mm.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import Point, Polygon, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.solids import Mesh, bounds
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import most
from countersunk.model.tops.worktops import Length
from countersunk.viewer.photo.view import Viewpoint
from countersunk.viewer.scene.fixtures import extruded
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import Finish
from countersunk.viewer.scene.surface import Floats, faceted

LAYER = "dressing"
FROM_HOB, FROM_SINK = 300.0, 180.0
"""Clear of what is cooked on, and of what is washed in, mm (common practice, no source)."""
TALLEST, APART, STEP = 450.0, 380.0, 60.0
"""Clear height over a place, distance between things, and between places that are tried, mm."""
BEHIND = 70.0
"""From the back of the top to what stands there, mm."""
AROUND = 36
"""Sides of what is round."""

CLAY = Finish("dressing clay", "#c9c3b8", roughness=0.55)
GLAZE = Finish("dressing glaze", "#4f626b", roughness=0.28)
LEAF = Finish("dressing leaf", "#4d6b3a", roughness=0.5)
FRUIT = Finish("dressing fruit", "#d9a032", roughness=0.45)
OAK = Finish("dressing oak", "#c39a64", roughness=0.6, figure="wood", vein="#9a7342")
NUT = Finish("dressing nut", "#7d583a", roughness=0.6, figure="wood", vein="#553823")


@dataclass(frozen=True)
class Ornament:
    """What may stand somewhere: the radius of its place, whether it leans on a wall, and what it is made of."""

    name: str
    radius: float
    leans: bool
    made: Callable[[], Sequence[tuple[Mesh, Finish]]]


@dataclass(frozen=True, eq=False)
class FreePlace:
    """A free place: on which length, where in its frame, and in the room at the height of the top."""

    length: Length
    x: float
    y: float
    point: Floats


def dressing(kitchen: Kitchen, view: Viewpoint) -> Iterator[Item]:
    """Things in view, as far as there is room for them; the same for the same kitchen."""
    kept = [np.array(p) for p in _at_work(kitchen)]
    for number, thing in enumerate(THINGS, start=1):
        places = [p for p in _places(kitchen, thing) if _in_view(p, view)]
        clear = [p for p in places if all(np.linalg.norm(p.point[:2] - k[:2]) > APART for k in kept)]
        if not clear:
            continue
        place = most(clear, key=lambda p: _room_about(p, kept) - 0.15 * float(np.linalg.norm(p.point - view.eye)))
        kept.append(place.point)
        yield from _stood(thing, place, number)


def _room_about(place: FreePlace, kept: Sequence[Floats]) -> float:
    return min([900.0, *(float(np.linalg.norm(place.point[:2] - k[:2])) for k in kept)])


def _in_view(place: FreePlace, view: Viewpoint) -> bool:
    across, up, depth = view.projected(place.point + np.array([0.0, 0.0, 120.0]))
    return bool(abs(across) < 0.88 and abs(up) < 0.9 and depth > 1_300.0)


def _at_work(kitchen: Kitchen) -> Iterator[tuple[float, float, float]]:
    for part in kitchen.parts:
        if part.role in (Role.HOB, Role.SINK):
            b = bounds(part)
            yield ((b[0] + b[3]) / 2, (b[1] + b[4]) / 2, b[5])


def _places(kitchen: Kitchen, thing: Ornament) -> Iterator[FreePlace]:
    for length in kitchen.lengths:
        part = length.part
        if thing.leans and not length.run.wall:
            continue
        free = part.outline.difference(_taken(kitchen, length))
        x0, y0, x1, y1 = part.outline.bounds
        y = y0 + BEHIND + thing.radius if length.run.wall else (y0 + y1) / 2
        for x in np.arange(x0 + thing.radius + 80.0, x1 - thing.radius - 60.0, STEP):
            foot = Point(x, y).buffer(thing.radius)
            if free.contains(foot) and not (
                thing.leans and _before_window(kitchen, length, float(x), thing.radius)
            ):
                point = np.array(part.pose.to_room((float(x), y, part.thickness)))
                yield FreePlace(length, float(x), y, point)


def _taken(kitchen: Kitchen, length: Length) -> BaseGeometry:
    """In the frame of the top: round hobs and sinks, and under and behind whatever stands or hangs over it."""
    part = length.part
    low = part.pose.origin[2] + part.thickness
    taken: list[BaseGeometry] = []
    for other in kitchen.parts:
        if other.role in (Role.SPLASHBACK, Role.UPSTAND) or other.owner == part.owner:
            continue
        b = bounds(other)
        clear = {Role.HOB: FROM_HOB, Role.SINK: FROM_SINK}.get(other.role, 20.0)
        if other.role in (Role.HOB, Role.SINK) or (b[2] < low + TALLEST and b[5] > low + 5.0):
            corners = [(b[0], b[1]), (b[3], b[1]), (b[3], b[4]), (b[0], b[4])]
            taken.append(part.pose.plan_from_room(Polygon(corners)).buffer(clear))
    return union_all(taken)


def _before_window(kitchen: Kitchen, length: Length, x: float, radius: float) -> bool:
    """Whether anything but wall is behind that place."""
    if not length.run.wall:
        return True
    wall = kitchen.survey.wall(length.run.wall)
    at = wall.frame.from_room(length.part.pose.to_room((x, 0.0, 0.0)))[0]
    top = length.part.pose.origin[2] + TALLEST
    return any(
        o.wall == wall.name and o.sill < top and o.at - radius < at < o.at + o.width + radius
        for o in kitchen.survey.openings
    )


def _stood(thing: Ornament, place: FreePlace, number: int) -> Iterator[Item]:
    """The thing in the room: its x along the top, its y to the wall behind."""
    pose = place.length.part.pose
    along, back = np.array(pose.x), -np.array(pose.y)
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2] = along, np.cross((0.0, 0.0, 1.0), along), (0.0, 0.0, 1.0)
    if matrix[:3, 1] @ back < 0:
        matrix[:3, 0] *= -1.0
        matrix[:3, 1] *= -1.0
    matrix[:3, 3] = place.point
    for i, (mesh, finish) in enumerate(thing.made(), start=1):
        id_, label = f"dressing.{number}.{i}", f"{thing.name}, not included"
        yield Item(id_, LAYER, LAYER, label, faceted(mesh), matrix, finish)


def turned(profile: Sequence[tuple[float, float]], at: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> Mesh:
    """A solid of revolution from its profile, radius and height, from the axis at the bottom to that at the top."""
    ring = np.array(profile)
    angles = np.linspace(0.0, 2 * math.pi, AROUND, endpoint=False)
    inner = ring[1:-1]
    x, y = np.outer(inner[:, 0], np.cos(angles)), np.outer(inner[:, 0], np.sin(angles))
    z = np.repeat(inner[:, 1:], AROUND, axis=1)
    low, high = [[0.0, 0.0, ring[0, 1]]], [[0.0, 0.0, ring[-1, 1]]]
    points = np.concatenate([np.stack([x, y, z], axis=-1).reshape(-1, 3), low, high]) + np.array(at)
    faces, rows = [], len(inner)
    j, k = np.arange(AROUND), (np.arange(AROUND) + 1) % AROUND
    for i in range(rows - 1):
        a, b = i * AROUND, (i + 1) * AROUND
        faces += [np.column_stack([a + j, a + k, b + k]), np.column_stack([a + j, b + k, b + j])]
    first, last = rows * AROUND, rows * AROUND + 1
    faces.append(np.column_stack([np.full(AROUND, first), k, j]))
    end = (rows - 1) * AROUND
    faces.append(np.column_stack([np.full(AROUND, last), end + j, end + k]))
    return points, np.concatenate(faces).astype(np.uint64)


def _plant() -> list[tuple[Mesh, Finish]]:
    pot = turned([(0, 0), (52, 0), (66, 115), (70, 122), (62, 122), (58, 105), (0, 105)])
    return [(pot, CLAY), (_leaves(46, 100.0, 300.0), LEAF)]


def _leaves(count: int, low: float, reach: float) -> Mesh:
    """Leaves that spread from the middle, each two triangles either side of its rib, seen from both sides."""
    rng = np.random.default_rng(11)
    points: list[Floats] = []
    faces: list[tuple[int, int, int]] = []
    for _ in range(count):
        turn, lean = rng.uniform(0, 2 * math.pi), rng.uniform(0.15, 1.15)
        out = np.array([math.cos(turn) * math.sin(lean), math.sin(turn) * math.sin(lean), math.cos(lean)])
        side = np.cross(out, (0.0, 0.0, 1.0))
        side /= np.linalg.norm(side)
        start = np.array([0.0, 0.0, low]) + out * reach * rng.uniform(0.15, 0.7)
        long, wide = rng.uniform(70, 115), rng.uniform(20, 30)
        drop = np.array([0.0, 0.0, -0.25 * long])
        middle, tip = start + out * long * 0.5, start + out * long + drop
        lift = np.cross(side, out) * 7.0
        n = len(points)
        points += [start, middle + side * wide + lift, middle, middle - side * wide + lift, tip]
        for a, b, c in ((0, 2, 1), (0, 3, 2), (1, 2, 4), (2, 3, 4)):
            faces.append((n + a, n + b, n + c))
    stems = np.array(points)
    return stems, np.array(faces, dtype=np.uint64)


def _bowl() -> list[tuple[Mesh, Finish]]:
    bowl = turned([(0, 0), (55, 0), (60, 6), (105, 45), (128, 78), (124, 80), (100, 50), (56, 14), (0, 12)])
    places = [(-38, 18, 52), (42, 20, 52), (2, -44, 52), (4, 8, 96)]
    return [(bowl, CLAY), *((_ball(40.0, (float(x), float(y), float(z))), FRUIT) for x, y, z in places)]


def _ball(radius: float, at: tuple[float, float, float]) -> Mesh:
    angles = np.linspace(-math.pi / 2, math.pi / 2, 18)
    return turned([(radius * math.cos(a), radius * math.sin(a)) for a in angles], at)


def _vase() -> list[tuple[Mesh, Finish]]:
    outline = [
        (0, 0),
        (48, 0),
        (62, 20),
        (76, 70),
        (70, 125),
        (40, 170),
        (26, 195),
        (30, 215),
        (34, 220),
        (24, 218),
    ]
    return [(turned([*outline, (20, 190), (0, 190)]), GLAZE), (_leaves(30, 200.0, 330.0), LEAF)]


def _boards() -> list[tuple[Mesh, Finish]]:
    return [(_leaning(230.0, 360.0, 22.0, 0.0, 60.0), OAK), (_leaning(190.0, 270.0, 20.0, 95.0, 34.0), NUT)]


def _leaning(wide: float, tall: float, thick: float, x: float, y: float) -> Mesh:
    """A board with round corners that leans back towards +y, its foot at the front."""
    face = rectangle(-wide / 2 + 14, 14, wide / 2 - 14, tall - 14).buffer(14, 6)
    points, faces = extruded(face, 0.0, thick)
    lean = math.radians(11.0)
    across, up, out = points[:, 0] + x, points[:, 1], points[:, 2]
    foot = y - tall * math.sin(lean)
    placed = np.column_stack(
        [across, foot + up * math.sin(lean) - out * math.cos(lean), up * math.cos(lean) + out * math.sin(lean)]
    )
    # Leaning turns y into z and z into −y, a pure turn, so faces keep their sides.
    return placed, faces


THINGS = (
    Ornament("chopping boards", 150.0, True, _boards),
    Ornament("plant", 110.0, False, _plant),
    Ornament("bowl of fruit", 135.0, False, _bowl),
    Ornament("vase", 100.0, False, _vase),
)
"""What is placed, in this order, each where there is most room about it."""
