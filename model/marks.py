"""Marks: what a fitter cuts into a length besides its outline: slots on the underside, holes to start a saw.

Every mark is given in the frame of the length's part, so that a drawing and the solid take it as it is.

Slots lie at the stations of the join, see `model.stations`.

Starter holes. Their centre is set in from each side of the line by 10 and the drill's radius, so that the hole lies
wholly inside the line (common practice, no source).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.affinity import affine_transform

from model.cutouts import PlacedCutout
from model.frames import Point
from model.joins import BISCUIT, BOLT_CHANNEL, BOLT_POCKET, Join
from model.kitchen import Kitchen
from model.worktops import Length

BOLT_DEPTH = 22.0
"""How far the slot for a bolt goes up from the underside, mm (common practice, no source)."""

LEAST_OVER_SLOT = 10.0
"""What must stay between a slot and the decor face (common practice, no source)."""

DRILL = 12.0
STARTER_INSET = 10.0


class MarkKind(StrEnum):
    """What is cut."""

    BOLT = "slot for a connecting bolt"
    BISCUIT = "slot for a biscuit"
    STARTER = "starter hole"


@dataclass(frozen=True)
class Mark:
    """One cut. ``outline`` is in the length's part frame (mm); ``depth`` is how far it goes in.

    Bolt slots go up from the underside, starter holes right through; a biscuit's slot lies in the joint's face at
    half the thickness, its outline is what it takes of the plan.
    """

    id: str
    kind: MarkKind
    outline: Polygon
    depth: float

    @property
    def centre(self) -> Point:
        """Where to set out from, in the part frame."""
        return (float(self.outline.centroid.x), float(self.outline.centroid.y))


def marks(kitchen: Kitchen, length: Length) -> tuple[Mark, ...]:
    """Every mark of a length: the slots of its joins and the starter holes of its cut-outs."""
    joins = [j for j in kitchen.joins if length.id in (j.female, j.male)]
    slots = [mark for join in joins for mark in slots_of(join, length)]
    holes = [mark for c in kitchen.cutouts if c.length == length.id for mark in starter_holes(c, length)]
    return (*slots, *holes)


def slots_of(join: Join, length: Length) -> list[Mark]:
    """The slots that ``join`` takes of ``length``: bolts and biscuits along the joint's straight side."""
    side = joint_side(join, length)
    into = "female" if join.female == length.id else "male"
    stations = join.stations
    thickness = length.part.thickness
    deep = min(BOLT_DEPTH, thickness - LEAST_OVER_SLOT)
    bolts = [
        (f"{join.id}.bolt.{i}.{into}", MarkKind.BOLT, _bolt(), x, deep) for i, x in enumerate(stations[1::2], 1)
    ]
    flat = rectangle(-BISCUIT[0] / 2, 0.0, BISCUIT[0] / 2, BISCUIT[1])
    biscuits = [
        (f"{join.id}.biscuit.{i}.{into}", MarkKind.BISCUIT, flat, x, BISCUIT[1])
        for i, x in enumerate(stations[0::2], 1)
    ]
    return [
        Mark(id_, kind, _along(side, x, shape, length), deep) for id_, kind, shape, x, deep in [*bolts, *biscuits]
    ]


def joint_side(join: Join, length: Length) -> LineString:
    """The joint's long straight side in the length's part frame, from the front towards the male's wall."""
    line = join.line_of("female" if join.female == length.id else "male")
    return length.part.pose.plan_from_room(LineString(line.coords[-2:]))


def starter_holes(cutout: PlacedCutout, length: Length) -> list[Mark]:
    """Four holes, one at each corner of the line, wholly inside it; fewer where it is too small for four."""
    w, d = (size / 2 - STARTER_INSET - DRILL / 2 for size in cutout.template.line)
    cx, cy, _ = length.part.pose.from_room(cutout.frame.origin)
    centres = dict.fromkeys((cx + sx * max(0.0, w), cy + sy * max(0.0, d)) for sy in (-1, 1) for sx in (-1, 1))
    return [
        Mark(f"{cutout.id}.hole.{i}", MarkKind.STARTER, _hole(centre), length.part.thickness)
        for i, centre in enumerate(centres, 1)
    ]


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
    return max(placed, key=lambda p: p.intersection(length.part.outline).area)


def _hole(centre: Point) -> Polygon:
    turns = [2 * math.pi * i / 24 for i in range(24)]
    return Polygon([(centre[0] + DRILL / 2 * math.cos(t), centre[1] + DRILL / 2 * math.sin(t)) for t in turns])
