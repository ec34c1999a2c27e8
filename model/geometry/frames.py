"""All changes of frame, in one place.

Room frame
    right-handed, millimetres, z up, floor at z = 0.
Wall frame
    x along the wall from left to right as a person facing it sees them, y from the wall into the room, z up.
    Walls are listed clockwise, so with z up **this frame is left-handed**: what a person calls left, right,
    near and up does not turn like the room frame.
Part frame
    x along the length, y from back to front, z up through the thickness; for a worktop that lies on a wall
    it is the wall frame moved along, so it is left-handed too.

A `Pose` therefore holds three axes and not just a turn; the kernel flips faces where the axes mirror.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Vector = tuple[float, float, float]
Point = tuple[float, float]
Shape = TypeVar("Shape", bound=BaseGeometry)


@dataclass(frozen=True)
class Pose:
    """Where a frame stands in the room: its origin (mm) and its three unit axes, each in room coordinates."""

    origin: Vector = (0.0, 0.0, 0.0)
    x: Vector = (1.0, 0.0, 0.0)
    y: Vector = (0.0, 1.0, 0.0)
    z: Vector = (0.0, 0.0, 1.0)

    @cached_property
    def matrix(self) -> NDArray[np.float64]:
        """(3, 4) float: axes as columns, then the origin."""
        return np.column_stack([self.x, self.y, self.z, self.origin])

    def to_room(self, point: Vector) -> Vector:
        """A point of this frame, in room coordinates (mm)."""
        x, y, z = self.matrix @ (*point, 1.0)
        return (float(x), float(y), float(z))

    def from_room(self, point: Vector) -> Vector:
        """A point of the room in this frame's coordinates (mm): the inverse of `to_room`."""
        x, y, z = self.matrix[:, :3].T @ np.subtract(point, self.origin)
        return (float(x), float(y), float(z))

    def plan_to_room(self, shape: Shape) -> Shape:
        """A shape in this frame's x–y plane as seen in the room's plan; for frames whose z is upright."""
        (x0, y0, _), (x1, y1, _) = self.x, self.y
        return _turned(shape, x0, x1, y0, y1, self.origin[0], self.origin[1])

    def plan_from_room(self, shape: Shape) -> Shape:
        """The inverse of `plan_to_room`: a shape of the room's plan in this frame."""
        (x0, y0, _), (x1, y1, _) = self.x, self.y
        ox, oy, _ = self.origin
        return _turned(shape, x0, y0, x1, y1, -(x0 * ox + y0 * oy), -(x1 * ox + y1 * oy))

    def moved(self, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Pose:
        """The same axes, with the origin moved by millimetres along them."""
        return Pose(self.to_room((x, y, z)), self.x, self.y, self.z)

    def reaxed(self, x: Vector, y: Vector, z: Vector) -> Pose:
        """The same origin, with new axes given in this frame."""
        turn: Callable[[Vector], Vector] = self._direction_to_room
        return Pose(self.origin, turn(x), turn(y), turn(z))

    def carried(self, old: Pose, new: Pose) -> Pose:
        """The pose of what is moved with a frame that stood at ``old`` and now stands at ``new``."""
        turned = (new._direction_to_room(old._direction_from_room(axis)) for axis in (self.x, self.y, self.z))
        return Pose(new.to_room(old.from_room(self.origin)), *turned)

    def _direction_from_room(self, direction: Vector) -> Vector:
        x, y, z = self.matrix[:, :3].T @ direction
        return (float(x), float(y), float(z))

    def _direction_to_room(self, direction: Vector) -> Vector:
        x, y, z = self.matrix[:, :3] @ direction
        return (float(x), float(y), float(z))


def _turned(shape: Shape, a: float, b: float, c: float, d: float, x: float, y: float) -> Shape:
    """Every point (u, v) of a shape at (a u + b v + x, c u + d v + y): shapely's own turn, with less round it."""

    def moved(points: NDArray[np.float64]) -> NDArray[np.float64]:
        u, v = points[:, 0], points[:, 1]
        made = np.empty_like(points)
        made[:, 0], made[:, 1] = a * u + b * v + x, c * u + d * v + y
        return made

    turned: Shape = shapely.transform(shape, moved)
    return turned


def upright(origin: Point, heading: float) -> Pose:
    """The wall frame of a wall that starts at ``origin`` (mm) and runs along ``heading``.

    ``heading`` is in degrees, anticlockwise from the room's x axis; the room lies to the right of the run.
    """
    c, s = cos_sin(heading)
    return Pose((origin[0], origin[1], 0.0), (c, s, 0.0), (s, -c, 0.0), (0.0, 0.0, 1.0))


def cos_sin(degrees: float) -> Point:
    """Cosine and sine, exact at right angles so that square rooms stay square to the last bit."""
    quarter, rest = divmod(degrees % 360.0, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
