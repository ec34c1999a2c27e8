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
    front = [*_quarter((d - r, r), r, -90.0), *_quarter((d - r, t - r), r, 0.0)]
    back = (
        [*_quarter((r, t - r), r, 90.0), *_quarter((r, r), r, 180.0)]
        if stock.both_edges
        else [(0.0, t), (0.0, 0.0)]
    )
    return Polygon([*front, *back])


def rounded_rectangle(width: float, depth: float, radius: float) -> Polygon:
    """A rectangle about the origin whose corners are rounded with ``radius``, mm."""
    w, d = width / 2 - radius, depth / 2 - radius
    if radius == 0:
        return rectangle(-w, -d, w, d)
    corners = [((w, d), 0.0), ((-w, d), 90.0), ((-w, -d), 180.0), ((w, -d), 270.0)]
    return Polygon([p for centre, start in corners for p in _quarter(centre, radius, start)])


def one_polygon(shape: BaseGeometry) -> Polygon:
    """The shape as the one polygon that it must be. Raises SolidError where it fell apart or is empty."""
    if not isinstance(shape, Polygon) or shape.is_empty:
        raise SolidError(f"a plan that should be one polygon is {shape.wkt[:120]}")
    return shape


def plan_points(line: LineString | LinearRing) -> list[Point]:
    """The points of a line in the plane, as pairs."""
    return [(x, y) for x, y, *_ in line.coords]


def _quarter(centre: Point, radius: float, start: float) -> list[Point]:
    """A quarter circle anticlockwise from ``start`` degrees, both ends on the circle exactly."""
    n = quarter_segments(radius)
    turns = [math.radians(start + 90.0 * i / n) for i in range(n + 1)]
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in turns]
