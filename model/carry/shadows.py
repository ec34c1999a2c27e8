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

from countersunk.model.geometry.profile import one_polygon
from countersunk.model.tolerance import CONTACT

Way = Literal["on edge", "one end up", "flat", "tilted", "on end"]
Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Shadow:
    """The convex plan of a piece held one way (mm, in a frame of its own), and the height that it takes, mm.

    What is raised just as far as there is height takes no height that could lack: 0.
    """

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

    @cached_property
    def span(self) -> float:
        """The diagonal of its box, mm: no two corners are farther apart."""
        return math.hypot(*np.ptp(self.corners, axis=0))

    @cached_property
    def period(self) -> float:
        """The least of half and full turns (radians) after which the plan lies as before."""
        half, odd = divmod(len(self.corners), 2)
        middles = self.corners + np.roll(self.corners, half, axis=0)
        alike = not odd and float(np.ptp(middles, axis=0).max()) < CONTACT
        return math.pi if alike else 2 * math.pi


def shadows(outline: Polygon, thickness: float, headroom: float, tilt: bool) -> Iterator[Shadow]:
    """A piece held in every way worth trying below ``headroom``, the least height on the way less hands, mm.

    On edge comes first, as tops are carried: so they bend least, which matters most beside a cut-out (common
    practice, no source). One end goes up, still on edge, as far as there is height, if that makes the plan shorter.
    It is tilted, out of the level, only where on edge is too high, and stands on end only where there is height.
    Without ``tilt`` it is kept level: on edge or flat.
    """
    length, depth = _sizes(outline)
    yield Shadow("on edge", rectangle(0.0, 0.0, length, thickness), depth)
    if tilt:
        yield from _one_end_up(length, depth, thickness, headroom)
    yield Shadow("flat", one_polygon(outline.convex_hull), thickness)
    if tilt and thickness < headroom < depth - CONTACT:
        yield _tilted(outline, thickness, _steepest(depth, thickness, headroom))
    if tilt and length <= headroom + CONTACT:
        yield Shadow("on end", rectangle(0.0, 0.0, depth, thickness), length)


def _one_end_up(length: float, depth: float, thickness: float, headroom: float) -> Iterator[Shadow]:
    """On edge with one end as high as it goes; the plan grows at first, and is shorter than level only far up."""
    if depth + CONTACT < headroom < length - CONTACT:
        pitch = _steepest(length, depth, headroom)
        plan = length * math.cos(pitch) + depth * math.sin(pitch)
        if plan < length:
            yield Shadow("one end up", rectangle(0.0, 0.0, plan, thickness), 0.0)


def _sizes(outline: Polygon) -> tuple[float, float]:
    """The longer and the shorter side of the box along the piece's own axes, mm."""
    x0, y0, x1, y1 = outline.bounds
    return max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)


def _steepest(long: float, short: float, height: float) -> float:
    """The steepest angle (radians) at which a ``long`` × ``short`` rectangle stands no higher than ``height``.

    It is long · sin + short · cos high; ``height`` lies between its sides.
    """
    return math.asin(height / math.hypot(long, short)) - math.atan2(short, long)


def _tilted(outline: Polygon, thickness: float, tilt: float) -> Shadow:
    """The piece rolled about its longer axis by ``tilt`` radians out of the level."""
    x0, y0, x1, y1 = outline.bounds
    points = np.asarray(outline.exterior.coords)[:, :2]
    along, across = points.T if x1 - x0 >= y1 - y0 else points.T[::-1]
    level, rise = across * math.cos(tilt), thickness * math.sin(tilt)
    plan = MultiPoint([*zip(along, level, strict=True), *zip(along, level + rise, strict=True)]).convex_hull
    return Shadow("tilted", one_polygon(plan), 0.0)
