"""Joins: how two worktops share a corner of the room.

Vocabulary. The *female* runs through to the other wall and keeps its back; the *male* ends on it. For a
*mason's mitre* the front edges meet at P; from P the *shoulder* runs along the bisector of the corner to the
line that lies ``notch`` behind the female's front edge, and from there the joint follows that line to the
male's wall. For a *butt* join the male ends square on the female's front edge, less the web of the joint strip.

All regions are built in the room's plan from the two wall frames, so any measured angle will do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import LineString, Polygon

from model.catalogue import Stock
from model.document import CornerJoin
from model.errors import InputError
from model.frames import Point
from model.survey import SurveyedWall

REACH = 6_000.0
"""Half-planes are drawn this far, more than any worktop is deep or long beyond a corner (mm)."""

STRIP_WEB = 2.0
"""What the web of a joint strip takes off the male, mm (common practice, no source)."""

NOTCH_BEHIND_NOSE = 9.0
"""How far behind the nose the notch ends unless the document says otherwise (common practice, no source)."""

BISCUIT_END = 50.0
BISCUIT_PITCH = 200.0

ANGLES = (60.0, 150.0)


@dataclass(frozen=True)
class Join:
    """A join between two lengths. ``angle`` is the inside angle of the corner as surveyed, degrees.

    ``line`` is the joint as the female has it and ``male_line`` as the male has it, in the room's plan, from the
    front to the male's wall; only a strip's web parts them. ``notch`` is 0 for a butt.
    """

    id: str
    kind: str
    corner: str
    angle: float
    female: str
    male: str
    line: LineString
    male_line: LineString
    notch: float

    @property
    def length(self) -> float:
        """Length of the joint, mm."""
        return float(self.line.length)

    @property
    def stations(self) -> list[float]:
        """Where biscuits and bolts sit in turn, mm along the joint's straight side from its front end.

        A butt has none: its strip is screwed to the male, and slots would open the female's factory edge.
        """
        if self.kind == "butt":
            return []
        return stations_along(LineString(self.line.coords[-2:]).length)

    @property
    def bolts(self) -> int:
        """How many connecting bolts draw it together."""
        return len(self.stations[1::2])

    @property
    def biscuits(self) -> int:
        """How many biscuits keep its faces level."""
        return len(self.stations[0::2])

    @property
    def hardware(self) -> str:
        """What holds it together, in words."""
        if self.kind == "butt":
            return "joint strip, screwed to the male"
        return f"{self.bolts} bolts, {self.biscuits} biscuits"

    @property
    def shoulder_angle(self) -> float:
        """What the shoulder is cut at: half the corner, degrees."""
        return self.angle / 2

    @property
    def off_square(self) -> float:
        """By how much the jig is turned off square on the male, degrees; the whole of it is cut there."""
        return self.angle - 90.0


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
    def kind(self) -> str:
        """As wished, else what suits the edge: a nose needs a mitre, a square edge can be butted."""
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

    def male_side(self) -> Polygon:
        """All of the room's plan in which the male lies."""
        if self.kind == "butt":
            return self._in_room(_above(self.stock.depth + STRIP_WEB))
        p, q, _ = self._joint()
        half = math.radians(self.angle) / 2
        tip = (p[0] + REACH * math.cos(half), p[1] + REACH * math.sin(half))
        return self._in_room([tip, p, q, (-2 * REACH, q[1]), (-2 * REACH, 2 * REACH), (tip[0], 2 * REACH)])

    def female_loses(self) -> Polygon:
        """All of the room's plan in which the female must not lie."""
        return self._in_room(_above(self.stock.depth)) if self.kind == "butt" else self.male_side()

    def female_line(self) -> LineString:
        """The joint as the female has it, in the room's plan, from the front to the male's wall."""
        return LineString([self._to_room(p) for p in self._joint()])

    def male_line(self) -> LineString:
        """The joint as the male has it; a strip's web lies between the two of a butt."""
        return LineString([self._to_room(p) for p in self._joint(STRIP_WEB)])

    def _joint(self, web: float = 0.0) -> list[Point]:
        """The joint as (u, v): along the female's wall from the corner, and out from it."""
        d, corner = self.stock.depth, math.radians(self.angle)
        if self.kind == "butt":
            v, wall = d + web, (d + web) / math.tan(corner)
            return [(wall + d / math.sin(corner), v), (wall, v)]
        behind = d - self.notch
        front = (d / math.tan(corner / 2), d)
        shoulder = (behind / math.tan(corner / 2), behind)
        return [front, shoulder, (behind / math.tan(corner), behind)]

    def _in_room(self, points: list[Point]) -> Polygon:
        return Polygon([self._to_room(p) for p in points])

    def _to_room(self, point: Point) -> Point:
        """(u, v) from the corner along and out from the female's wall, in the room's plan."""
        away = 1.0 if self.female is self.right else -1.0
        start = 0.0 if self.female is self.right else self.female.length
        x, y, _ = self.female.frame.to_room((start + away * point[0], point[1], 0.0))
        return (x, y)


def _above(v: float) -> list[Point]:
    return [(-2 * REACH, v), (2 * REACH, v), (2 * REACH, 2 * REACH), (-2 * REACH, 2 * REACH)]


def stations_along(length: float) -> list[float]:
    """Biscuits and bolts in turn along a joint of ``length`` mm, beginning and ending with a biscuit.

    Biscuits lie 50 from the ends and at most 200 apart (from memory), bolts midway between them, so that neither is
    in the other's way. A joint 600 deep gets 4 biscuits and 3 bolts, as a trade guide asks (quoted).

    >>> [round(x) for x in stations_along(585.0)]
    [50, 131, 212, 292, 373, 454, 535]
    """
    gaps = max(1, math.ceil((length - 2 * BISCUIT_END) / BISCUIT_PITCH))
    step = (length - 2 * BISCUIT_END) / gaps
    return [BISCUIT_END + i * step / 2 for i in range(2 * gaps + 1)]


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
    if corner.wish.female not in (None, corner.left.name, corner.right.name):
        raise InputError.at(
            f"{corner.field}.female",
            found=f"'{corner.wish.female}'",
            allowed=f"{corner.left.name} or {corner.right.name}",
        )
