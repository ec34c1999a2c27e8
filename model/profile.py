"""Plane shapes that worktops are made from: the real section of a stock, and lines to cut with round corners."""

from __future__ import annotations

import math

from shapely import LinearRing, LineString, Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from model.catalogue import Stock
from model.errors import SolidError
from model.frames import Point
from model.tolerance import ARC


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
    return Polygon([p for centre, start in corners for p in quarter(centre, radius, start)])


def one_polygon(shape: BaseGeometry) -> Polygon:
    """The shape as the one polygon that it must be. Raises SolidError where it fell apart or is empty."""
    if not isinstance(shape, Polygon) or shape.is_empty:
        raise SolidError(f"a plan that should be one polygon is {shape.wkt[:120]}")
    return shape


def lines_of(shape: BaseGeometry) -> list[LineString]:
    """The lines that a shape is made of."""
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, LineString)]


def plan_points(line: LineString | LinearRing) -> list[Point]:
    """The points of a line in the plane, as pairs."""
    return [(x, y) for x, y, *_ in line.coords]


SHARP = 20.0
"""A boundary that turns by more than this at a point has a corner there; by less, it follows an arc (degrees)."""


def set_out_points(line: LineString) -> list[Point]:
    """The points of a line that somebody marks: its ends, its corners, and the ends of each of its arcs."""
    points = plan_points(line)
    bends = [0.01 < _turn(a, b, c) < SHARP for a, b, c in zip(points, points[1:], points[2:], strict=False)]
    on_arc = [*bends[:1], *bends, *bends[-1:]]  # an end of the line is on the arc that it begins
    inside = [all(on_arc[i - 1 : i + 2]) for i in range(1, len(points) - 1)]
    return [p for p, skip in zip(points, [False, *inside, False], strict=True) if not skip]


def _turn(a: Point, b: Point, c: Point) -> float:
    """By how much the way from a over b to c turns at b, degrees."""
    first, second = (math.atan2(q[1] - p[1], q[0] - p[0]) for p, q in ((a, b), (b, c)))
    return abs((math.degrees(second - first) + 180.0) % 360.0 - 180.0)


def quarter(centre: Point, radius: float, start: float) -> list[Point]:
    """A quarter circle anticlockwise from ``start`` degrees, both ends on the circle exactly."""
    n = quarter_segments(radius)
    turns = [math.radians(start + 90.0 * i / n) for i in range(n + 1)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in turns]
