"""Observations: what is read between points, how it follows from coordinates, and how it changes with them.

A key is a point and an axis, as ``("P", "x")``. What follows from coordinates by sums, products and roots is
differentiated by a complex step, which loses no digits (Squire and Trapp, SIAM Review 40, 1998).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

Key = tuple[str, str]

TINY = 1e-30
"""The complex step: so small that its square vanishes."""


@dataclass(frozen=True)
class Observation:
    """One reading: its ``name``, its value and its standard deviation ``sigma``, in the same unit."""

    name: str
    value: float
    sigma: float

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        """The coordinates that it follows from."""
        raise NotImplementedError

    def of(self, *values: Any) -> Any:
        """What would be read without an error, with ``values`` for its keys."""
        raise NotImplementedError

    def misfit(self, at: Mapping[Key, float]) -> float:
        """What was read less what follows from the coordinates."""
        return float(self.value - self.of(*(at[key] for key in self.keys)))

    def slopes(self, at: Mapping[Key, float]) -> list[float]:
        """By how much it changes with each of its keys."""
        values = [at[key] for key in self.keys]
        return [
            complex(self.of(*values[:i], value + TINY * 1j, *values[i + 1 :])).imag / TINY
            for i, value in enumerate(values)
        ]


def plane(*points: str) -> tuple[Key, ...]:
    """The keys of points in the plane."""
    return tuple((point, axis) for point in points for axis in "xy")


@dataclass(frozen=True)
class Distance(Observation):
    """Between two points."""

    a: str
    b: str

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return plane(self.a, self.b)

    def of(self, *values: Any) -> Any:
        ax, ay, bx, by = values
        return _norm(bx - ax, by - ay)


@dataclass(frozen=True)
class Angle(Observation):
    """At a corner, clockwise from the point ``left`` to the point ``right``, in degrees from 0 to 360."""

    corner: str
    left: str
    right: str

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return plane(self.corner, self.left, self.right)

    def of(self, *values: Any) -> Any:
        cx, cy, lx, ly, rx, ry = values
        turn = math.atan2(ly - cy, lx - cx) - math.atan2(ry - cy, rx - cx)
        return math.degrees(turn) % 360.0

    def misfit(self, at: Mapping[Key, float]) -> float:
        """The same, the short way round."""
        return (super().misfit(at) + 180.0) % 360.0 - 180.0

    def slopes(self, at: Mapping[Key, float]) -> list[float]:
        """Of a direction by its end; the corner moves the other way by both."""
        cx, cy, lx, ly, rx, ry = (at[key] for key in self.keys)
        (ax, ay), (bx, by) = _turn(lx - cx, ly - cy), _turn(rx - cx, ry - cy)
        return [bx - ax, by - ay, ax, ay, -bx, -by]


def _turn(dx: float, dy: float) -> tuple[float, float]:
    """Degrees by which a direction turns anticlockwise as its end moves along x and y."""
    square = dx * dx + dy * dy
    return math.degrees(-dy / square), math.degrees(dx / square)


@dataclass(frozen=True)
class AcrossCorner(Observation):
    """The tape across a corner: between marks on two lines from it, ``legs`` away.

    Clockwise from ``b`` to ``a`` the corner is less than 180°, or more where ``reflex``. On the wrong side of 180°
    it is read as if the tape went on past the legs laid straight, so that one length means one angle.
    """

    corner: str
    a: str
    b: str
    legs: tuple[float, float]
    reflex: bool = False

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return plane(self.corner, self.a, self.b)

    def of(self, *values: Any) -> Any:
        cx, cy, ax, ay, bx, by = values
        ux, uy, vx, vy = ax - cx, ay - cy, bx - cx, by - cy
        cosine = (ux * vx + uy * vy) / (_norm(ux, uy) * _norm(vx, vy))
        p, q = self.legs
        length = (p * p + q * q - 2 * p * q * cosine) ** 0.5
        turned = complex(ux * vy - uy * vx).real < 0
        return length if turned == self.reflex else 2 * (p + q) - length


@dataclass(frozen=True)
class Along(Observation):
    """How far along the line from ``a`` to ``b`` a point stands, square to it."""

    point: str
    a: str
    b: str

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return plane(self.point, self.a, self.b)

    def of(self, *values: Any) -> Any:
        px, py, ax, ay, bx, by = values
        return ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / _norm(bx - ax, by - ay)


@dataclass(frozen=True)
class Offset(Observation):
    """How far a point stands off the line from ``a`` to ``b``, square to it: positive on its right-hand side."""

    point: str
    a: str
    b: str

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return plane(self.point, self.a, self.b)

    def of(self, *values: Any) -> Any:
        px, py, ax, ay, bx, by = values
        return ((px - ax) * (by - ay) - (py - ay) * (bx - ax)) / _norm(bx - ax, by - ay)


@dataclass(frozen=True)
class Width(Observation):
    """Between two lines, each through two points, read along the base line moved ``out`` to its right-hand side."""

    base: tuple[str, str]
    left: tuple[str, str]
    right: tuple[str, str]
    out: float

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return plane(*self.base, *self.left, *self.right)

    def of(self, *values: Any) -> Any:
        ax, ay, bx, by = values[:4]
        length = _norm(bx - ax, by - ay)
        c, s = (bx - ax) / length, (by - ay) / length
        start = (ax + self.out * s, ay - self.out * c)
        near, far = (_met(start, (c, s), values[i : i + 4]) for i in (4, 8))
        return far - near


@dataclass(frozen=True)
class Square(Observation):
    """From a ``share`` of a base line, square to it on its right-hand side, to another line."""

    base: tuple[str, str]
    other: tuple[str, str]
    share: float

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return plane(*self.base, *self.other)

    def of(self, *values: Any) -> Any:
        ax, ay, bx, by = values[:4]
        length = _norm(bx - ax, by - ay)
        c, s = (bx - ax) / length, (by - ay) / length
        return _met((ax + self.share * (bx - ax), ay + self.share * (by - ay)), (s, -c), values[4:])


def _met(start: tuple[Any, Any], way: tuple[Any, Any], line: tuple[Any, ...]) -> Any:
    """How far from the start a line through two points is met."""
    (sx, sy), (c, s), (ax, ay, bx, by) = start, way, line
    dx, dy = bx - ax, by - ay
    return ((ax - sx) * dy - (ay - sy) * dx) / (c * dy - s * dx)


@dataclass(frozen=True)
class Rise(Observation):
    """By how much one point is higher than another."""

    a: str
    b: str

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return (self.a, "z"), (self.b, "z")

    def of(self, *values: Any) -> Any:
        low, high = values
        return high - low


def _norm(dx: Any, dy: Any) -> Any:
    return (dx * dx + dy * dy) ** 0.5
