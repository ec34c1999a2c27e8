"""Traverse: measured walls end to end, by how much they miss their beginning, and the miss shared out.

Angles are adjusted equally; then the length misclosure is shared in proportion to wall lengths (compass rule, also
Bowditch's rule; surveying textbooks, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate

from countersunk.model.geometry.frames import Point, cos_sin


@dataclass(frozen=True)
class Traverse:
    """Lengths (mm) and the inside angle (degrees) at each right-hand end. The first starts at 0, 0 along x."""

    lengths: tuple[float, ...]
    angles: tuple[float, ...]

    @cached_property
    def headings(self) -> tuple[float, ...]:
        """Degrees; each corner turns to the right by 180 − angle."""
        return tuple(accumulate(self.angles[:-1], lambda heading, angle: heading - (180.0 - angle), initial=0.0))

    @cached_property
    def legs(self) -> tuple[Point, ...]:
        """Each wall as a vector in the plan."""
        ways = map(cos_sin, self.headings)
        return tuple((d * c, d * s) for d, (c, s) in zip(self.lengths, ways, strict=True))

    @property
    def ends(self) -> tuple[Point, ...]:
        """The right-hand end of each wall."""
        return ends_of(self.legs)

    @cached_property
    def over(self) -> float:
        """By how much the angles exceed (n − 2)·180°."""
        return sum(self.angles) - 180.0 * (len(self.angles) - 2)

    @cached_property
    def gap(self) -> Point:
        """Where the last wall ends, which should be 0, 0."""
        return sum(x for x, _ in self.legs), sum(y for _, y in self.legs)

    def balanced(self) -> Traverse:
        """The same with its angles adjusted equally, so that they add up."""
        return replace(self, angles=tuple(a - self.over / len(self.angles) for a in self.angles))

    def closed(self) -> tuple[Point, ...]:
        """The legs with the gap shared among them by the compass rule."""
        (dx, dy), whole = self.gap, sum(self.lengths)
        return tuple(
            (x - dx * d / whole, y - dy * d / whole) for (x, y), d in zip(self.legs, self.lengths, strict=True)
        )

    def with_length(self, i: int, length: float) -> Traverse:
        """The same with one wall of another length."""
        return replace(self, lengths=(*self.lengths[:i], length, *self.lengths[i + 1 :]))

    def with_angle(self, i: int, angle: float) -> Traverse:
        """The same with another angle at one wall's right-hand end."""
        return replace(self, angles=(*self.angles[:i], angle, *self.angles[i + 1 :]))


def ends_of(legs: tuple[Point, ...]) -> tuple[Point, ...]:
    """Where each of ``legs`` ends, one laid after the other from 0, 0."""
    xs, ys = accumulate(x for x, _ in legs), accumulate(y for _, y in legs)
    return tuple(zip(xs, ys, strict=True))


def distance(a: Point, b: Point) -> float:
    """Between two points of the plan, mm."""
    return math.hypot(b[0] - a[0], b[1] - a[1])
