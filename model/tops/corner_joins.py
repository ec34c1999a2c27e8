"""Corner joins: how the tops of two walls share the corner between them.

The *female* runs through to the other wall and keeps its back; the *male* ends on it. For a *mason's mitre* the
front edges meet at P; from P the *shoulder* runs along the bisector of the corner to the line that lies ``notch``
behind the female's front edge, and from there the joint follows that line to the male's wall. For a *full mitre*
the joint follows the bisector all the way to the corner itself, as ready-mitred tops and stone are cut: both halves
are alike, and no front edge is notched. For a *butt* join the male ends square on the female's front edge, less the
web of the joint strip where it has one.

All regions are built in the room's plan from the two wall frames, so any measured angle will do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from shapely import LineString, Polygon

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.document.schema import CornerJoin
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.survey import SurveyedWall
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.joins import REACH, STRIP_WEB, Joint

NOTCH_BEHIND_NOSE = 9.0
"""How far behind the nose the notch ends unless the document says otherwise (common practice, no source)."""

BISECTED = 120.0
"""From this corner on, degrees, joins are full mitres unless the document says otherwise (common practice, no
source): the straight side of a mason's mitre would run far along the male's wall, past whatever is let in there."""

ANGLES = (60.0, 150.0)
"""Corners that are joined, degrees."""


@dataclass(frozen=True)
class Corner:
    """Two walls that meet, the left one first, with the stock that covers both."""

    left: SurveyedWall
    right: SurveyedWall
    stock: Stock
    wish: CornerJoin
    field: str

    @property
    def name(self) -> str:
        """``A-B``: the walls from left to right."""
        return f"{self.left.name}-{self.right.name}"

    @property
    def kind(self) -> Literal["mitre", "full-mitre", "butt"]:
        """The kind that the file asks for, else what suits: a nose needs a mitre, a square edge can be butted."""
        if self.wish.kind is None and self.wish.notch is None and self.angle >= BISECTED - CONTACT:
            return "full-mitre"
        return self.wish.kind or ("mitre" if self.stock.nose else "butt")

    @property
    def angle(self) -> float:
        """Inside angle, degrees."""
        return self.left.corner if self.left.corner is not None else 90.0

    @property
    def female(self) -> SurveyedWall:
        """The wall whose top runs through."""
        return self.right if self.wish.female == self.right.name else self.left

    @property
    def male(self) -> SurveyedWall:
        """The wall whose top ends on the other."""
        return self.left if self.female is self.right else self.right

    @property
    def notch(self) -> float:
        """How far the mitre's shoulder ends behind the female's front edge, mm."""
        return self.wish.notch or self.stock.nose + NOTCH_BEHIND_NOSE

    @cached_property
    def joint(self) -> Joint:
        """The join that it makes."""
        butt = self.kind == "butt"
        return Joint(
            kind="full mitre" if self.kind == "full-mitre" else self.kind,
            place=f"corner {self.name}",
            corner=self.name,
            angle=self.angle,
            line=LineString(self._in_room(self._joint())),
            male_line=LineString(self._in_room(self._joint(self._web))),
            male_side=self._male_side(),
            female_loses=Polygon(self._in_room(_above(self.stock.depth))) if butt else self._male_side(),
            notch=self.notch if self.kind == "mitre" else 0.0,
            glue=self.stock.material.glue,
        )

    @property
    def _web(self) -> float:
        """What stands between the halves, mm."""
        return STRIP_WEB if self.kind == "butt" and not self.stock.material.glue else 0.0

    def _male_side(self) -> Polygon:
        if self.kind == "butt":
            return Polygon(self._in_room(_above(self.stock.depth + self._web)))
        half = math.radians(self.angle) / 2
        along, away = (math.cos(half), math.sin(half)), (-math.sin(half), math.cos(half))
        if self.kind == "full-mitre":
            ends = [(way * 2 * REACH * along[0], way * 2 * REACH * along[1]) for way in (1.0, -1.0)]
            return Polygon(self._in_room([*ends, *((x + 4 * REACH * away[0], y + 4 * REACH * away[1])
                                                   for x, y in reversed(ends))]))  # fmt: skip
        p, q, _ = self._joint()
        tip = (p[0] + REACH * along[0], p[1] + REACH * along[1])
        far = [(-2 * REACH, q[1]), (-2 * REACH, 2 * REACH), (tip[0], 2 * REACH)]
        return Polygon(self._in_room([tip, p, q, *far]))

    def _joint(self, web: float = 0.0) -> list[Point]:
        """The joint as (u, v): along the female's wall from the corner, and out from it."""
        d, corner = self.stock.depth, math.radians(self.angle)
        if self.kind == "butt":
            v, wall = d + web, (d + web) / math.tan(corner)
            return [(wall + d / math.sin(corner), v), (wall, v)]
        front = (d / math.tan(corner / 2), d)
        if self.kind == "full-mitre":
            return [front, (0.0, 0.0)]
        behind = d - self.notch
        shoulder = (behind / math.tan(corner / 2), behind)
        return [front, shoulder, (behind / math.tan(corner), behind)]

    def _in_room(self, points: list[Point]) -> list[Point]:
        return [self._to_room(p) for p in points]

    def _to_room(self, point: Point) -> Point:
        """(u, v) from the corner along and out from the female's wall, in the room's plan."""
        away = 1.0 if self.female is self.right else -1.0
        start = 0.0 if self.female is self.right else self.female.length
        x, y, _ = self.female.frame.to_room((start + away * point[0], point[1], 0.0))
        return (x, y)


def _above(v: float) -> list[Point]:
    return [(-2 * REACH, v), (2 * REACH, v), (2 * REACH, 2 * REACH), (-2 * REACH, 2 * REACH)]


def check_corner(corner: Corner) -> None:
    """Raises InputError where the corner cannot be joined as wished."""
    low, high = ANGLES
    if not low <= corner.angle <= high:
        raise InputError.at(
            corner.field,
            found=f"a corner of {corner.angle:.2f}°",
            allowed=f"{low:g}° to {high:g}° for a join",
            advice="stop the top of one wall before the corner",
        )
    nose = corner.stock.nose
    if corner.kind == "mitre" and corner.notch < nose:
        raise InputError.at(
            f"{corner.field}.notch",
            found=f"{corner.notch:g}",
            allowed=f"at least the nose's {nose:g}",
            advice=f"{nose + NOTCH_BEHIND_NOSE:g}",
        )
    if corner.kind == "full-mitre" and corner.wish.notch is not None:
        raise InputError.at(
            f"{corner.field}.notch",
            found=f"{corner.wish.notch:g} on a full mitre",
            allowed="no notch: it goes straight from the front edges to the corner",
            advice="leave it out, or kind: mitre",
        )
    if corner.wish.female not in (None, corner.left.name, corner.right.name):
        raise InputError.at(
            f"{corner.field}.female",
            found=f"'{corner.wish.female}'",
            allowed=f"{corner.left.name} or {corner.right.name}",
        )
