"""Bends: wide corners where straight units of two rows meet under tops that are joined on the bisector.

There is no corner unit for such a corner: each row ends where its fronts meet those of the other, and a filler on
either side keeps doors and handles apart (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely.ops import nearest_points

from countersunk.model.facts.plans import unit_plan
from countersunk.model.geometry.frames import Point
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import PlacedUnit
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.corner_joins import BISECTED


@dataclass(frozen=True)
class WideCorner:
    """The last unit before a wide corner and the first behind it, as one faces them.

    ``gap`` is the way from the one to the other, mm, from ``start`` to ``end`` in the room's plan. ``before`` and
    ``behind`` are how far their fronts end from where the planes of both meet, mm: what fillers close.
    """

    left: PlacedUnit
    right: PlacedUnit
    gap: float
    start: Point
    end: Point
    before: float
    behind: float


def bends(kitchen: Kitchen) -> Iterator[WideCorner]:
    """One for each join in a corner of 120° and more that no corner unit fills."""
    for join in kitchen.joins:
        if join.corner and join.angle >= BISECTED - CONTACT:
            halves = [kitchen.length(id_) for id_ in (join.female, join.male)]
            ends_there = halves[0].right.joint is not None and halves[0].right.joint.corner == join.corner
            first, second = halves if ends_there else reversed(halves)
            left, right = first.stretch.units[-1], second.stretch.units[0]
            if not (left.family.kind.is_in_corner or right.family.kind.is_in_corner):
                yield _bend(left, right)


def _bend(left: PlacedUnit, right: PlacedUnit) -> WideCorner:
    plans = unit_plan(left), unit_plan(right)
    start, end = ((point.x, point.y) for point in nearest_points(*plans))
    before, behind = _to_meeting(left, right)
    return WideCorner(left, right, plans[0].distance(plans[1]), start, end, before, behind)


def _to_meeting(left: PlacedUnit, right: PlacedUnit) -> tuple[float, float]:
    """How far each front must go on to where the two planes meet, mm."""
    (px, py), (qx, qy) = _front(left, left.width), _front(right, 0.0)
    (ax, ay), (bx, by) = _front(left, left.width + 1.0), _front(right, -1.0)
    (ux, uy), (vx, vy) = (ax - px, ay - py), (bx - qx, by - qy)
    turn = ux * vy - uy * vx
    return ((qx - px) * vy - (qy - py) * vx) / turn, ((qx - px) * uy - (qy - py) * ux) / turn


def _front(unit: PlacedUnit, x: float) -> Point:
    """A point in the plane of its front, in the room's plan."""
    return unit.frame.to_room((x, unit.face, 0.0))[:2]
