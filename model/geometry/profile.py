"""Plane shapes that worktops are made from: the real section of a stock, and lines to cut with round corners."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import groupby, pairwise

from shapely import LinearRing, LineString, Polygon, difference, remove_repeated_points, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.errors import SolidError
from countersunk.model.geometry.frames import Point
from countersunk.model.tolerance import ARC, CONTACT, EQUAL


def quarter_segments(radius: float) -> int:
    """How many straight segments stand for a quarter circle so that none is off by more than `tolerance.ARC`."""
    if radius <= ARC:
        return 1
    return max(2, math.ceil((math.pi / 2) / (2 * math.acos(1 - ARC / radius))))


def section(stock: Stock) -> Polygon | None:
    """The stock's section in its (y, z) plane, the nose at y = depth; None where its edges are square."""
    if stock.nose == 0:
        return None
    r, d, t = stock.nose, stock.depth, stock.thickness
    front = [*quarter((d - r, r), r, -90.0), *quarter((d - r, t - r), r, 0.0)]
    back = (
        [*quarter((r, t - r), r, 90.0), *quarter((r, r), r, 180.0)] if stock.both_edges else [(0.0, t), (0.0, 0.0)]
    )
    return Polygon([*front, *back])


def rounded_rectangle(width: float, depth: float, radius: float) -> Polygon:
    """A rectangle about the origin whose corners are rounded with ``radius``, mm."""
    w, d = width / 2 - radius, depth / 2 - radius
    if radius == 0:
        return rectangle(-w, -d, w, d)
    corners = [((w, d), 0.0), ((-w, d), 90.0), ((-w, -d), 180.0), ((w, -d), 270.0)]
    points = [p for centre, start in corners for p in quarter(centre, radius, start)]
    return one_polygon(remove_repeated_points(Polygon(points), CONTACT))  # round ones have no straight sides


def rounded(plan: Polygon, radius: float) -> BaseGeometry:
    """A plan with every corner rounded, those that point in as well, mm; empty or in pieces where it is
    too narrow.
    """
    if radius == 0.0:
        return plan
    arc = quarter_segments(radius)
    inner = plan.buffer(radius, join_style="mitre").buffer(-radius, quad_segs=arc)
    outer = inner.buffer(-radius, join_style="mitre").buffer(radius, quad_segs=arc)
    return remove_repeated_points(outer, CONTACT)


def one_polygon(shape: BaseGeometry) -> Polygon:
    """The shape as the one polygon that it must be. Raises SolidError where it fell apart or is empty."""
    if not isinstance(shape, Polygon) or shape.is_empty:
        raise SolidError(f"a plan that should be one polygon is {shape.wkt[:120]}")
    return shape


def less(plan: BaseGeometry, taken: BaseGeometry) -> BaseGeometry:
    """What is left of a plan; lines nearer than `CONTACT` are one, so that nothing hair-thin stays between two."""
    return difference(plan, taken, grid_size=CONTACT)


def united(plans: Iterable[BaseGeometry], seam: float) -> BaseGeometry:
    """Plans as one shape, each grown by ``seam`` mm so that those side by side overlap.

    Where corners are a rounding apart, a union of plans that only touch can fail or lose one of them.
    """
    return union_all([plan.buffer(seam, join_style="mitre") for plan in plans])


def lines_of(shape: BaseGeometry) -> list[LineString]:
    """The lines that a shape is made of."""
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, LineString)]


def plan_points(line: LineString | LinearRing) -> list[Point]:
    """The points of a line in the plane, as pairs."""
    return [(x, y) for x, y, *_ in line.coords]


SHARP = 20.0
"""A boundary that turns by more than this at a point has a corner there; by less, it follows an arc (degrees)."""

BOWED = 3.0
"""By less than this a boundary turns only where it follows a bowed wall, which has a table of its own (degrees)."""

FLAT = 2_000.0
"""No corner is rounded as much as this, mm; what curves less is a bowed wall."""

TIGHT = 10.0
"""A corner rounded by no more than this is marked as if it were sharp, mm (common practice, no source)."""


def set_out_points(line: LineString) -> list[Point]:
    """The points of a line that somebody marks: its ends, its corners, and the ends of each of its arcs.

    For an arc of `TIGHT` radius or less it is the corner that it rounds.
    """
    points = plan_points(line)
    arcs = _arcs(points)
    tight = {a: _rounded_corner(points[a : b + 1]) for a, b in arcs if _radius(points[a : b + 1]) <= TIGHT + EQUAL}
    inside = {i for a, b in arcs for i in range(a + 1, b + (a in tight))}
    bowed = {i + 1 for i, t in enumerate(_turns(points)) if abs(t) < BOWED} - {i for arc in arcs for i in arc}
    return [tight.get(i, p) for i, p in enumerate(points) if i not in inside | bowed]


def _arcs(points: list[Point]) -> list[tuple[int, int]]:
    """First and last point of each arc: equal steps that all turn to the same side, by less than `SHARP`."""
    turns = [0.0, *_turns(points), 0.0]
    steps = [math.dist(a, b) for a, b in pairwise(points)]
    on = [
        0.01 < abs(turns[i]) < SHARP and math.isclose(steps[i - 1], steps[i], rel_tol=1e-3)
        for i in range(1, len(steps))
    ]
    runs = [list(run) for is_on, run in groupby(range(1, len(steps)), key=lambda i: on[i - 1]) if is_on]
    found = [(run[0] - 1, run[-1] + 1) for run in runs]
    return [(a, b) for a, b in found if _radius(points[a : b + 1]) < FLAT]


def _radius(arc: list[Point]) -> float:
    step = math.radians(abs(_turns(arc)[0]))
    return math.dist(arc[0], arc[1]) / (2 * math.sin(step / 2))


def _rounded_corner(arc: list[Point]) -> Point:
    """Where the tangents at the ends of an arc meet: half its turning away from its chord, on its outer side."""
    turns = _turns(arc)
    (ax, ay), (bx, by) = arc[0], arc[-1]
    out = math.copysign(math.tan(math.radians(abs(sum(turns)) * len(arc[1:]) / len(turns)) / 2) / 2, turns[0])
    return ((ax + bx) / 2 + (by - ay) * out, (ay + by) / 2 - (bx - ax) * out)


def _turns(points: list[Point]) -> list[float]:
    """By how much the way turns at each inner point, degrees, to the left positive."""
    headings = [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in pairwise(points)]
    return [(after - before + 180.0) % 360.0 - 180.0 for before, after in pairwise(headings)]


def quarter(centre: Point, radius: float, start: float) -> list[Point]:
    """A quarter circle anticlockwise from ``start`` degrees, both ends on the circle exactly."""
    n = quarter_segments(radius)
    turns = [math.radians(start + 90.0 * i / n) for i in range(n + 1)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in turns]
