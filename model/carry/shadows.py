"""Shadows: a piece of worktop as it is held, seen from above."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPoint, Polygon
from shapely import box as rectangle
from shapely.geometry.polygon import orient

from model.profile import one_polygon

Way = Literal["on edge", "flat", "tilted", "on end"]
Floats = NDArray[np.float64]

HANDS = 30.0
"""mm kept free on every side of a piece that is carried, above and below too: knuckles, and no scraped decor
(common practice, no source)."""


@dataclass(frozen=True)
class Shadow:
    """The convex plan of a piece held one way (mm, about its own origin), and the height that it takes (mm)."""

    way: Way
    plan: Polygon
    height: float

    @cached_property
    def corners(self) -> Floats:
        """Corners of the plan anticlockwise, shape (n, 2)."""
        return np.asarray(orient(self.plan).exterior.coords)[:-1, :2]

    @cached_property
    def edges(self) -> Floats:
        """Unit vectors along the edges, the first from corner 0 to corner 1, shape (n, 2)."""
        sides = np.roll(self.corners, -1, axis=0) - self.corners
        return np.asarray(sides / np.hypot(*sides.T)[:, None])


def shadows(outline: Polygon, thickness: float, headroom: float) -> Iterator[Shadow]:
    """A piece held in every way worth trying, the usual one first.

    On edge comes first, as tops are carried: so they bend least, which matters most beside a cut-out (common
    practice, no source). It is tilted only where on edge is higher than ``headroom``, the least height on the way
    less hands, and then as far as that allows.
    """
    length, depth = _sizes(outline)
    yield Shadow("on edge", rectangle(0.0, 0.0, length, thickness), depth)
    yield Shadow("flat", one_polygon(outline.convex_hull), thickness)
    if thickness < headroom < depth:
        yield _tilted(outline, thickness, _tilt(depth, thickness, headroom))
    yield Shadow("on end", rectangle(0.0, 0.0, depth, thickness), length)


def _sizes(outline: Polygon) -> tuple[float, float]:
    """The longer and the shorter side of the box along the piece's own axes, mm."""
    x0, y0, x1, y1 = outline.bounds
    return max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)


def _tilt(depth: float, thickness: float, headroom: float) -> float:
    """The steepest angle from flat (radians) at which depth · sin + thickness · cos is within ``headroom``."""
    lean = math.atan2(thickness, depth)
    return max(0.0, math.asin(min(1.0, headroom / math.hypot(depth, thickness))) - lean)


def _tilted(outline: Polygon, thickness: float, tilt: float) -> Shadow:
    """The piece rolled about its longer axis by ``tilt`` radians out of the level."""
    x0, y0, x1, y1 = outline.bounds
    points = np.asarray(outline.exterior.coords)[:, :2]
    along, across = points.T if x1 - x0 >= y1 - y0 else points.T[::-1]
    level, rise = across * math.cos(tilt), thickness * math.sin(tilt)
    plan = MultiPoint([*zip(along, level, strict=True), *zip(along, level + rise, strict=True)]).convex_hull
    height = min(x1 - x0, y1 - y0) * math.sin(tilt) + thickness * math.cos(tilt)
    return Shadow("tilted", one_polygon(plan), height)
