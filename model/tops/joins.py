"""Joins: where two lengths of worktop meet, whatever the kind, and what holds them together.

Vocabulary. The *female* runs through, the *male* ends on it. Kinds:

``mitre``    a mason's mitre in a corner of the room (`model.tops.corner_joins`)
``full mitre``  there too, bisected from the front edges to the corner: neither half runs through
``butt``     in a corner, the male ends square on the female's front edge, a joint strip between them
``in line``  two lengths of one row, end to end (`model.tops.in_line`)
``tee``      a peninsula on the front edge of the length that it stands out from, with a strip (`model.tops.tees`)

Solid and compact tops are *bonded* whatever the kind: edge to edge in a seam adhesive of their colour, without a
strip, and without slots, which would show or go through. Tops of wood are glued edge to edge as well, without a
strip, but over biscuits and drawn together by bolts from below (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from shapely import LineString, Polygon

from countersunk.model.kinds.top_materials import Glue
from countersunk.model.ties import least, rounded_up
from countersunk.model.tolerance import CONTACT

Kind = Literal["mitre", "full mitre", "butt", "in line", "tee"]
Sex = Literal["female", "male"]
Interval = tuple[float, float]

REACH = 6_000.0
"""Half-planes are drawn this far, more than any worktop is deep or long beyond a corner (mm)."""

STRIP_WEB = 2.0
"""What the web of a joint strip takes off the male, mm (common practice, no source)."""

BISCUIT = (56.0, 12.0)
"""Half of a No. 20 biscuit (56 x 23, from memory) goes into either side: length, and depth with its glue."""

BOLT_CHANNEL = (12.0, 65.0)
BOLT_POCKET = (40.0, 24.0)
"""Channel for the bolt, and pocket for its head: width, and length from the joint (common practice, no source)."""

BISCUIT_END = 50.0
BISCUIT_PITCH = 200.0
BOLT_CLEAR = 5.0
"""Between a bolt's pocket and the side of a unit, and between its channel and a biscuit, mm (common practice)."""


@dataclass(frozen=True, kw_only=True)
class Joint:
    """The geometry of a join in the room's plan (mm). ``angle`` is that of the corner as surveyed, degrees.

    ``line`` is the joint as the female has it and ``male_line`` as the male has it, both from the front; only a
    strip's web parts them. The male lies in ``male_side``, the female outside ``female_loses``. ``place`` says in
    words where it is, and ``corner`` names the corner of the room, such as ``A-B``, if it is in one. ``notch`` is 0
    except for a mitre. The stock says by which ``glue`` it is joined, if any. A join in line lies ``at`` mm along
    its run, and can be moved within its ``band`` while the others stay.
    """

    kind: Kind
    place: str
    angle: float
    line: LineString
    male_line: LineString
    male_side: Polygon
    female_loses: Polygon
    notch: float = 0.0
    glue: Glue = ""
    corner: str = ""
    at: float = 0.0
    band: tuple[Interval, ...] = ()

    def line_of(self, sex: Sex) -> LineString:
        """The joint as that half has it, in the room's plan."""
        return self.line if sex == "female" else self.male_line

    @property
    def length(self) -> float:
        """Length of the joint, mm."""
        return float(self.line.length)

    @property
    def straight_side(self) -> LineString:
        """The joint without a mitre's shoulder, from the front."""
        return LineString(self.line.coords[-2:])

    @property
    def bonded(self) -> bool:
        """Whether it is glued edge to edge, with nothing between."""
        return bool(self.glue)

    @property
    def has_strip(self) -> bool:
        """Whether a joint strip closes it, screwed to the male; slots would open the female's factory edge."""
        return self.kind in ("butt", "tee") and not self.bonded

    @property
    def has_bolts(self) -> bool:
        """Whether bolts draw it together, with biscuits between them."""
        return not self.has_strip and self.glue != "seam"

    @property
    def making(self) -> str:
        """How it is made: as its kind is, or bonded, or glued as wood is."""
        return {"seam": "bonded", "wood": "wood", "": self.kind}[self.glue]

    @property
    def shoulder_angle(self) -> float:
        """What a mitre's shoulder, or all of a full mitre, is cut at: half the corner, degrees."""
        return self.angle / 2

    @property
    def off_square(self) -> float:
        """By how much the jig is turned off square on the male, degrees; the whole of it is cut there."""
        return 0.0 if self.kind == "in line" else self.angle - 90.0


@dataclass(frozen=True, kw_only=True)
class Join(Joint):
    """A joint between two lengths. ``key`` lasts: it is made of those of the rows that are joined.

    ``stations`` are its biscuits and bolts in turn, mm along the straight side.
    """

    key: str
    id: str
    female: str
    male: str
    stations: tuple[float, ...]

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
        if self.glue == "seam":
            return "seam adhesive, clamped"
        if self.has_strip:
            return "joint strip, screwed to the male"
        return f"{self.bolts} bolts, {self.biscuits} biscuits{', glue' if self.bonded else ''}"


def stations_along(length: float, blocked: Sequence[Interval] = ()) -> tuple[float, ...]:
    """Biscuits and bolts in turn along a joint of ``length`` mm, beginning and ending with a biscuit.

    Biscuits lie 50 from the ends and at most 200 apart (from memory), bolts midway between them, so that neither is
    in the other's way. A joint 600 deep gets 4 biscuits and 3 bolts, as a trade guide asks (quoted). ``blocked``
    are stretches along the joint where a bolt's middle must not lie, as over the side of a unit: such a bolt moves
    to the nearest clear place between its biscuits, and stays where there is none.

    >>> [round(x) for x in stations_along(585.0)]
    [50, 131, 212, 292, 373, 454, 535]
    """
    gaps = max(1, rounded_up((length - 2 * BISCUIT_END) / BISCUIT_PITCH))
    step = (length - 2 * BISCUIT_END) / gaps
    reach = step / 2 - (BISCUIT[0] + BOLT_CHANNEL[0]) / 2 - BOLT_CLEAR
    even = [BISCUIT_END + i * step / 2 for i in range(2 * gaps + 1)]
    return tuple(_clear(x, reach, blocked) if i % 2 else x for i, x in enumerate(even))


def _clear(x: float, reach: float, blocked: Sequence[Interval]) -> float:
    """The place nearest to ``x`` that is not blocked, no further than ``reach`` from it; else ``x`` itself.

    Of two as near the one that is nearer to the joint's front.
    """
    places = [x, *(edge for interval in blocked for edge in interval)]
    near = [p for p in places if abs(p - x) <= reach + CONTACT]
    free = [p for p in near if not any(a + CONTACT < p < b - CONTACT for a, b in blocked)]
    return least(free, key=lambda p: (abs(p - x), p)) if free else x
