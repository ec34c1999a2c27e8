"""The free floor: what nobody and nothing stands on, and how one gets about on it (mm, the room's plan).

The free floor is the room less every top, every unit on the floor that carries none and every obstacle: a top's
edge stops whoever walks. Doors stand open. An open survey has walls on some sides only; there the floor goes on as
far as anybody would look.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Point, Polygon, remove_repeated_points, total_bounds, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient
from shapely.ops import nearest_points

from countersunk.model.facts.once import once
from countersunk.model.facts.plans import HEAD, top_plan, unit_plan
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.profile import less, plan_points, united
from countersunk.model.geometry.solids import inset
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import most
from countersunk.model.tolerance import CONTACT

WIDEST = 2_000.0
"""Ways wider than this are not told apart, mm."""

STEP = 0.1
"""Widths of ways are found in steps of this, mm, on the side of caution."""

TOUCH = 0.5
"""A disc that comes so near to a line is there, and one so much too wide sticks, mm."""

AROUND = 4_000.0
"""How far round an open survey the floor is taken to go on, mm."""

SLACK = 0.01
"""A walker may graze an edge by this, mm, so that a way along a front is a way."""

SPECK = 1.0
"""mm²; free floor smaller than this is a slit between a top and its wall."""

STANDING = 300.0
"""Somebody stands on what is at least so wide, mm (common practice, no source)."""

SEAM = 1e-4
"""Bodies are grown by this, mm, so that those side by side overlap: finer than anything shown."""

Middles = Callable[[float], list[Polygon]]


def bodies(kitchen: Kitchen) -> Iterator[Polygon]:
    """Everything that stands on the floor: tops with what is under them, units that carry none, obstacles.

    A diagonal corner unit stands under the infill before it.
    """
    yield from (top_plan(length) for length in kitchen.lengths)
    yield from (part.pose.plan_to_room(part.outline) for part in kitchen.parts if part.role is Role.INFILL)
    yield from (obstacle.plan for obstacle in kitchen.survey.obstacles if obstacle.bottom < HEAD)
    for run in kitchen.runs:
        if run.level == "floor":
            yield from (unit_plan(unit) for unit in run.units if not unit.family.carries_top)


@once
def free_floor(kitchen: Kitchen) -> MultiPolygon:
    """The free floor; of an open survey with a strip round it, the walls taken out."""
    whole = kitchen.survey.outline or _ground(kitchen)
    # Where bodies stand side by side two corners may be no more than a rounding apart, which no buffer bears.
    free = remove_repeated_points(less(whole, united(bodies(kitchen), SEAM)), CONTACT)
    return MultiPolygon([p for p in _polygons(free) if p.area > SPECK])


@once
def standing_floor(kitchen: Kitchen) -> MultiPolygon:
    """Those pieces of the free floor on which somebody has room to stand: no slit between two tops."""
    return MultiPolygon([p for p in free_floor(kitchen).geoms if not p.buffer(-STANDING / 2).is_empty])


@once
def middles_in(kitchen: Kitchen) -> Middles:
    """By width (mm), where the middle of a disc of that width may be on the free floor; each worked out once."""
    floor = free_floor(kitchen)
    return cache(lambda width: inset(floor, width / 2))


def widest_way(middles: Middles, start: BaseGeometry, end: BaseGeometry) -> tuple[float, Point]:
    """The widest disc that can be pushed over the floor from touching ``start`` to touching ``end``.

    Its diameter, mm, to `STEP` and never too wide; `WIDEST` where it is more, 0 where there is no way at all. Both
    lines lie on the floor's edge. It is the free width of the narrowest place on the best way, whatever its
    direction, and not the distance between two boxes. Then the middle of that narrowest place.
    """
    width = _widest(lambda w: _passes(middles, start, end, w))
    return width, _pinch(middles, start, end, min(width + TOUCH, WIDEST))


def widest_disc(middles: Middles) -> tuple[float, Point]:
    """Diameter (mm, to `STEP`, at most `WIDEST`) and middle of a disc that lies on the floor, none being larger."""
    width = _widest(lambda w: bool(middles(w)))
    return width, most(middles(max(0.0, width - SLACK)), key=lambda p: p.area).representative_point()


def shortest_path(floor: BaseGeometry, points: list[Point]) -> Callable[[int, int], LineString | None]:
    """The shortest ways on foot between ``points``, by their numbers; None where there is none.

    A shortest way bends only at corners that stick out into the floor, so it is found in the graph of what can
    see what (visibility graph; Lozano-Pérez and Wesley 1979, from memory).
    """
    nodes = np.array([*(p.coords[0] for p in points), *_bends(floor)])
    sights = _sights(floor, nodes)
    found = [_nearest(sights, i) for i in range(len(points))]

    def way(i: int, j: int) -> LineString | None:
        distances, before = found[i]
        if not np.isfinite(distances[j]):
            return None
        steps = [j]
        while steps[-1] != i:
            steps.append(int(before[steps[-1]]))
        return LineString(nodes[steps[::-1]])

    return way


def _nearest(sights: NDArray[np.float64], start: int) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """The distance of every node from ``start``, and the node before it on the way (Dijkstra 1959, from memory)."""
    steps = np.where(sights > 0, sights, np.inf)
    far, before = np.full(len(steps), np.inf), np.full(len(steps), start)
    far[start], seen = 0.0, np.zeros(len(steps), dtype=bool)
    for _ in steps:
        here = int(np.argmin(np.where(seen, np.inf, far)))
        seen[here] = True
        nearer = far[here] + steps[here] < far
        far[nearer], before[nearer] = far[here] + steps[here][nearer], here
    return far, before


def _widest(holds: Callable[[float], bool]) -> float:
    """The largest width for which ``holds``, which holds for every smaller one: halving whole steps up to `WIDEST`.

    Held with `SLACK` to spare, so that a way exactly so wide is told as wide as it is.
    """
    low, high = 0, round(WIDEST / STEP)
    if holds(WIDEST):
        return WIDEST
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if holds(middle * STEP - SLACK) else (low, middle)
    return low * STEP


def _passes(middles: Middles, start: BaseGeometry, end: BaseGeometry, width: float) -> bool:
    """Whether a disc of that width passes: the middles that it may have, in one piece that reaches both lines."""
    return any(_touches(p, start, width) and _touches(p, end, width) for p in middles(width))


def _touches(piece: Polygon, line: BaseGeometry, width: float) -> bool:
    return bool(piece.distance(line) <= width / 2 + TOUCH)


def _pinch(middles: Middles, start: BaseGeometry, end: BaseGeometry, width: float) -> Point:
    """Where a disc that is a little too wide sticks: between the pieces on which it can touch either line."""
    near, far = ([p for p in middles(width) if _touches(p, line, width)] for line in (start, end))
    if not near or not far:
        return (end if near else start).centroid
    a, b = nearest_points(union_all(near), union_all(far))
    return Point((a.x + b.x) / 2, (a.y + b.y) / 2)


def _ground(kitchen: Kitchen) -> BaseGeometry:
    lines = [wall.line for wall in kitchen.survey.walls]
    whole = rectangle(*total_bounds([*lines, *bodies(kitchen)])).buffer(AROUND)
    return whole.difference(union_all(lines).buffer(SLACK))


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    return [p for p in getattr(shape, "geoms", [shape]) if isinstance(p, Polygon) and not p.is_empty]


def _bends(floor: BaseGeometry) -> list[tuple[float, float]]:
    """The corners that stick out into the floor."""
    rings = [ring for p in _polygons(floor) for q in [orient(p)] for ring in (q.exterior, *q.interiors)]
    return [corner for ring in rings for corner in _sticking_out(plan_points(ring)[:-1])]


def _sticking_out(ring: list[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """The corners at which a ring with the floor on its left turns to the right."""
    for (ax, ay), (bx, by), (cx, cy) in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) < 0:
            yield bx, by


def _sights(floor: BaseGeometry, nodes: NDArray[np.float64]) -> NDArray[np.float64]:
    """(n, n) float: the distance between two nodes that see each other over the floor, else 0."""
    ways = floor.buffer(SLACK, join_style="mitre")
    shapely.prepare(ways)
    i, j = np.triu_indices(len(nodes), 1)
    seen = shapely.covers(ways, shapely.linestrings(np.stack([nodes[i], nodes[j]], axis=1)))
    sights = np.zeros((len(nodes), len(nodes)))
    sights[i, j] = np.where(seen, np.hypot(*(nodes[i] - nodes[j]).T), 0.0)
    return sights + sights.T
