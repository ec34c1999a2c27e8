"""Differ: how far two plans are from each other, in mm that things would have to be moved."""

from __future__ import annotations

from math import hypot
from typing import NamedTuple

from shapely import box as rectangle
from shapely import union_all
from shapely.geometry.base import BaseGeometry

from countersunk.model.planning.arms import DEPTH, tall_widths
from countersunk.model.planning.plan import RoomPlan
from countersunk.model.planning.score import Judge, corners_of
from countersunk.model.ties import settled

LEAST = 1_500
"""Plans nearer to each other than this are one layout, mm (common practice, no source)."""

TOLD = 100
"""What is told, mm; less is hardly seen."""


class PlanDistance(NamedTuple):
    """How much of one plan's rows has none in the other, and how far sink, hob and fridge are apart, mm."""

    row: int
    sink: int
    hob: int
    fridge: int

    @property
    def total(self) -> int:
        """mm."""
        return sum(self)

    def words(self, than: int) -> str:
        """In plain words, beside the proposal of that number."""
        moved = [
            f"the {name} {mm} mm away" for name, mm in zip(self._fields[1:], self[1:], strict=True) if mm >= TOLD
        ]
        row = [f"{self.row} mm of row elsewhere"] if self.row >= TOLD else []
        return f"Beside proposal {than}: {', '.join(row + moved)}."


def difference(one: RoomPlan, other: RoomPlan, judge: Judge) -> PlanDistance:
    """Between two plans of one brief."""
    elsewhere = _rows(one).difference(_rows(other)).area / DEPTH
    centres = zip(corners_of(one, judge), corners_of(other, judge), strict=False)
    apart = [round(settled(hypot(a[0] - b[0], a[1] - b[1]))) for a, b in centres]
    return PlanDistance(round(settled(elsewhere)), *apart, *[0] * (3 - len(apart)))


def _rows(plan: RoomPlan) -> BaseGeometry:
    """The floor that rows and tall units take."""
    plans = []
    for arm, (lo, hi) in zip(plan.shape.arms, plan.spans, strict=True):
        x0, x1 = arm.at(lo) - tall_widths(arm.left.talls), arm.at(hi) + tall_widths(arm.right.talls)
        plans.append(arm.wall.frame.plan_to_room(rectangle(x0, 0.0, x1, DEPTH)))
    return union_all(plans)
