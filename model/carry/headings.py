"""Headings: what clearance a shadow has at each heading, and the best path of headings between two.

A turn is the region between two outer walls, which meet in the outer corner, and two inner walls, which meet in
the inner corner. Let C be the wedge between the outer walls and s the way from the outer to the inner corner. The
solid inside the turn is s + C, the same wedge moved. A shadow that is free at some heading lies in C; pushed by
−v, v ∈ C, until it touches both outer walls it is still free, because that is the same as moving the solid away by
v, and s + v + C lies within s + C. So at each heading only that one place has to be looked at, and it moves
steadily as the heading does. Where the shadow fits across a corridor at a heading, it slides between that place and
the far end of the corridor without turning. Therefore a piece passes the turn *if and only if* headings at which it
fits across the two corridors are joined by an arc of headings at which it clears the inner solid when pushed into
the outer corner. One heading that fits across both is such an arc: carried through without turning.

The clearance is the distance between two convex sets, the greatest over the unit normals n between those of the
outer walls of n·s − h(n), where h is the shadow's support function; it is negative where they overlap. It is
greatest at a wall's normal, at an edge's normal, or where a corner of the shadow looks at the inner corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from countersunk.model.carry.shadows import Floats, Shadow

STEPS = 720
"""Headings looked at on the full circle, beside those at which an edge lies along a straight."""

FINER = 8
"""How many times as many are looked at where it is a close call: where half a step moves an end by the margin."""

OUT = -1e9
"""Clearance of what is not a way at all, mm."""


def headings_for(shadow: Shadow, axes: Iterable[float], steps: int = STEPS) -> Floats:
    """All headings that are looked at (radians, increasing, over one period), for straights along ``axes``."""
    along = np.subtract.outer(np.asarray(list(axes)), _angles(shadow.edges)).ravel()
    even = np.arange(round(steps * shadow.period / (2 * np.pi))) * (2 * np.pi / steps)
    every: Floats = np.unique(np.concatenate([even, along % shadow.period, (along + np.pi) % shadow.period]))
    return every


@dataclass(frozen=True)
class Turning:
    """A shadow at each of ``headings`` (radians), with ``hands`` mm to be left free around it.

    Clearances are mm, shape (headings,). Directions are angles of the world's plan, radians. ``breadths`` remembers
    what the shadow takes across each direction that was asked for, hands included.
    """

    shadow: Shadow
    headings: Floats
    hands: float
    breadths: dict[float, Floats] = field(default_factory=dict)

    def across(self, axis: float, width: float) -> Floats:
        """What is left of ``width`` across a straight that runs along ``axis``."""
        if axis not in self.breadths:
            reach = self._reach(self._seen(axis + np.pi / 2))
            self.breadths[axis] = reach.max(axis=0) - reach.min(axis=0) + 2 * self.hands
        return np.asarray(width - self.breadths[axis])

    def along(self, axis: float, length: float) -> Floats | float:
        """What is left of ``length`` along a straight."""
        return length if math.isinf(length) else self.across(axis + np.pi / 2, length)

    def slanting(self, axis: float, side: float, width: float, wall: float) -> Floats:
        """What is left when the shadow slips along one of its edges through an opening, without turning.

        The opening, ``width`` wide in a wall ``wall`` thick, looks along ``axis``; the shadow comes from or goes
        to a corridor along ``side``, at a right angle to it, and slants so that it stays on that side.
        """
        edges, corners = self.shadow.edges, self.shadow.corners
        breadths = np.ptp(corners @ _across(edges).T, axis=0)
        ways = _angles(edges)[:, None] + self.headings
        through, aside = np.cos(ways - axis), np.cos(ways - side)
        gaps = width * np.abs(through) - wall * np.abs(aside) - 2 * self.hands - breadths[:, None]
        return np.asarray(np.where(through * aside >= 0, gaps, OUT).max(axis=0))

    def cornering(self, walls: tuple[float, float], widths: tuple[float, float]) -> Floats:
        """Clearance to the inner solid of a turn when pushed into its outer corner.

        ``walls`` are the directions in which the outer walls look, before and after the turn.
        """
        one, two = (self._seen(wall) for wall in walls)
        first, second = self._reach(one), self._reach(two)
        gap1 = widths[0] - self.hands + first.min(axis=0)
        gap2 = widths[1] - self.hands + second.min(axis=0)
        cosine = math.cos(walls[1] - walls[0])
        inner = ((gap1 - cosine * gap2) * one + (gap2 - cosine * gap1) * two) / (1 - cosine**2)
        walls_clear = np.maximum(gap1 - first.max(axis=0), gap2 - second.max(axis=0))
        return np.asarray(np.maximum(walls_clear, self._facing(inner, one, two)) - self.hands)

    def _facing(self, inner: Floats, one: Floats, two: Floats) -> Floats:
        """Distance of the inner corner from edges and corners that look at it from between two walls' normals.

        All three are seen from the shadow, shape (2, headings).
        """
        corners, edges = self.shadow.corners, self.shadow.edges
        out = -_across(edges)
        to_edges = out @ inner - np.einsum("ij,ij->i", out, corners)[:, None]
        edge_looks = _between(out @ one, out @ two, one, two)
        x, y = inner[0] - corners[:, :1], inner[1] - corners[:, 1:]
        before = np.roll(edges, 1, axis=0)
        past = (x * edges[:, :1] + y * edges[:, 1:] <= 0) & (x * before[:, :1] + y * before[:, 1:] >= 0)
        corner_looks = past & _between(x * one[0] + y * one[1], x * two[0] + y * two[1], one, two)
        edge, corner = np.where(edge_looks, to_edges, OUT), np.where(corner_looks, np.hypot(x, y), OUT)
        return np.asarray(np.maximum(edge.max(axis=0), corner.max(axis=0)))

    def _seen(self, direction: float) -> Floats:
        """A direction of the world as unit vectors in the shadow's own frame, shape (2, headings)."""
        angles = direction - self.headings
        return np.stack([np.cos(angles), np.sin(angles)])

    def _reach(self, seen: Floats) -> Floats:
        """How far each corner reaches in a direction, shape (corners, headings)."""
        return np.asarray(self.shadow.corners @ seen)


def spread(reached: Floats, clear: Floats) -> Floats:
    """The best clearance with which each heading is reached from any other, turning through ``clear``.

    ``reached`` holds the clearance with which each heading can be begun with. The worst on a path counts; of the
    paths, the best. Both ways round the circle, in steps that double.
    """
    start = np.minimum(reached, clear)
    back = _one_way(start[::-1], clear[::-1])[::-1]
    return np.asarray(np.maximum(_one_way(start, clear), back))


def _one_way(best: Floats, least: Floats) -> Floats:
    """`spread` towards higher headings only."""
    step = 1
    while step < len(best):
        best = np.maximum(best, np.minimum(_shifted(best, step), least))
        least = np.minimum(least, _shifted(least, step))
        step *= 2
    return best


def _shifted(values: Floats, step: int) -> Floats:
    return np.concatenate([values[-step:], values[:-step]])


def _angles(vectors: Floats) -> Floats:
    return np.asarray(np.arctan2(vectors[:, 1], vectors[:, 0]))


def _across(vectors: Floats) -> Floats:
    """Each of (n, 2) vectors turned to the left by a right angle."""
    return np.column_stack([-vectors[:, 1], vectors[:, 0]])


def _between(on_one: Floats, on_two: Floats, one: Floats, two: Floats) -> NDArray[np.bool_]:
    """Whether directions lie between two unit vectors, from their shares on both."""
    cosine, slack = (one * two).sum(axis=0), 1e-9
    return np.asarray((on_one - cosine * on_two >= -slack) & (on_two - cosine * on_one >= -slack), dtype=bool)
