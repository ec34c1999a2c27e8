"""Slots: what a join takes out of its two lengths from below, as marks to cut by and as pockets of the solid.

Slots lie at the stations of the join, see `model.tops.stations`. Every mark is given in the frame of the length's
part, so that a drawing and the solid take it as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.affinity import affine_transform

from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.geometry.profile import plan_points
from countersunk.model.ties import most, rounded_up
from countersunk.model.tops.joins import BISCUIT, BOLT_CHANNEL, BOLT_POCKET, Interval, Join
from countersunk.model.tops.worktops import Length

BOLT_DEPTH = 22.0
"""How far the slot for a bolt goes up from the underside, mm (common practice, no source)."""

BISCUIT_THICK = 4.0
"""Width of a biscuit's slot, mm (quoted)."""

PILOT = (3.0, 25.0)
SCREW_END, SCREW_PITCH = 50.0, 150.0
"""Pilot holes for the screws of a joint strip: width and depth, from the ends and apart, mm (common practice)."""

LEAST_OVER_SLOT = 10.0
"""What must stay between a slot and the decor face (common practice, no source)."""


class MarkKind(StrEnum):
    """What is cut."""

    BOLT = "slot for a connecting bolt"
    BISCUIT = "slot for a biscuit"
    SCREW = "pilot hole for a strip's screw"
    STARTER = "starter hole"
    HOLE = "hole for a hole saw"


@dataclass(frozen=True)
class SlotMark:
    """One cut: the one of that ``number`` and kind ``of`` a join or a cut-out, by its id.

    ``outline`` is in the length's part frame and goes from ``low`` to ``high`` in it (mm). Bolt slots go up from
    the underside, holes right through; slots for biscuits and pilot holes for the screws of a strip lie in the
    joint's face at half the thickness, their outline is what they take of the plan.
    """

    of: str
    kind: MarkKind
    number: int
    outline: Polygon
    low: float
    high: float

    @property
    def centre(self) -> Point:
        """Where to set out from, in the part frame."""
        return (float(self.outline.centroid.x), float(self.outline.centroid.y))


def slotted(length: Length, joins: Iterable[Join]) -> Length:
    """The length with the slots of its joins cut."""
    slots = [mark for j in joins if length.id in (j.female, j.male) for mark in slots_of(j, length)]
    pockets = tuple(Pocket(mark.outline, mark.low, mark.high) for mark in slots)
    return replace(length, part=replace(length.part, pockets=(*length.part.pockets, *pockets)))


def strip(join: Join, female: Length) -> Part:
    """The web of the joint strip between two lengths, in the frame of the female."""
    between = Polygon([*plan_points(join.line), *reversed(plan_points(join.male_line))])
    part = female.part
    return Part(
        key=PartKey(join.key, Role.JOINT_STRIP), called=join.id, layer=Layer.HARDWARE, material="joint-strip",
        outline=part.pose.plan_from_room(between), thickness=part.thickness, pose=part.pose,
    )  # fmt: skip


def slots_of(join: Join, length: Length) -> list[SlotMark]:
    """What ``join`` takes of ``length``: slots along its straight side, or pilot holes for a strip's screws."""
    middle, thick = length.part.thickness / 2, length.part.thickness
    if join.has_strip:
        screws = screws_along(join.male_line.length) if join.male == length.id else []
        return _row(
            join, length, MarkKind.SCREW, _upright(PILOT), screws, (middle - PILOT[0] / 2, middle + PILOT[0] / 2)
        )
    if not join.has_bolts:
        return []
    deep = bolt_depth(thick)
    bolts = _row(join, length, MarkKind.BOLT, _bolt(), join.stations[1::2], (0.0, deep))
    half = BISCUIT_THICK / 2
    biscuits = _row(
        join, length, MarkKind.BISCUIT, _upright(BISCUIT), join.stations[0::2], (middle - half, middle + half)
    )
    return [*bolts, *biscuits]


def bolt_depth(thickness: float) -> float:
    """How deep channel and pocket of a bolt are, from the underside of a top of that thickness, mm."""
    return min(BOLT_DEPTH, thickness - LEAST_OVER_SLOT)


def screws_along(length: float) -> list[float]:
    """Where a strip's screws sit, mm along the male's end: 50 from its ends and at most 150 apart."""
    gaps = max(1, rounded_up((length - 2 * SCREW_END) / SCREW_PITCH))
    return [SCREW_END + i * (length - 2 * SCREW_END) / gaps for i in range(gaps + 1)]


def _row(
    join: Join, length: Length, kind: MarkKind, shape: Polygon, stations: Sequence[float], heights: Interval
) -> list[SlotMark]:
    """The same cut at every station along the joint."""
    side = joint_side(join, length)
    return [SlotMark(join.id, kind, i, _along(side, x, shape, length), *heights) for i, x in enumerate(stations, 1)]


def _upright(size: tuple[float, float]) -> Polygon:
    """What a slot takes of the plan: its length along the joint, its depth away from it."""
    return rectangle(-size[0] / 2, 0.0, size[0] / 2, size[1])


def joint_side(join: Join, length: Length) -> LineString:
    """The joint's long straight side in the length's part frame, from the front towards the male's wall."""
    line = join.line_of("female" if join.female == length.id else "male")
    return length.part.pose.plan_from_room(LineString(line.coords[-2:]))


def _bolt() -> Polygon:
    """Channel and pocket as one outline, from the joint (y = 0) into the top."""
    (w, reach), (wide, long) = BOLT_CHANNEL, BOLT_POCKET
    x, y = w / 2, reach - long
    half = wide / 2
    return Polygon([(-x, 0), (x, 0), (x, y), (half, y), (half, reach), (-half, reach), (-half, y), (-x, y)])


def _along(side: LineString, x: float, shape: Polygon, length: Length) -> Polygon:
    """``shape``, whose y points away from the joint, at ``x`` along ``side`` and on the length's own side of it."""
    (ax, ay), (bx, by) = side.coords
    ux, uy = (bx - ax) / side.length, (by - ay) / side.length
    at = side.interpolate(x)
    placed = [affine_transform(shape, [ux, -s * uy, uy, s * ux, at.x, at.y]) for s in (1.0, -1.0)]
    return most(placed, key=lambda p: p.intersection(length.part.outline).area)
