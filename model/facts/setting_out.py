"""Setting out: everything that a fitter cuts into a length besides its outline: slots, and holes to start a saw.

Starter holes. Their centre is set in from each side of the line by 10 and the drill's radius, so that the hole lies
wholly inside the line (common practice, no source). A small round hole has none: it takes a hole saw.
"""

from __future__ import annotations

import math

from shapely import Polygon

from countersunk.model.catalogue.catalogue import Template
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.cutouts import PlacedCutout, corners_of
from countersunk.model.tops.slots import MarkKind, SlotMark, slots_of
from countersunk.model.tops.worktops import Length

DRILL = 12.0
STARTER_INSET = 10.0

HOLE_SAW = 105.0
"""The largest hole that is cut with a hole saw, mm (common practice, no source)."""


def marks(kitchen: Kitchen, length: Length) -> tuple[SlotMark, ...]:
    """Every mark of a length: the slots of its joins and holes of its cut-outs; none of one that others make."""
    if length.run.stock.made_by:
        return ()
    joins = [j for j in kitchen.joins if length.id in (j.female, j.male)]
    slots = [mark for join in joins for mark in slots_of(join, length)]
    holes = [mark for c in kitchen.cutouts if c.length == length.id for mark in holes_of(c, length)]
    return (*slots, *holes)


def holes_of(cutout: PlacedCutout, length: Length) -> list[SlotMark]:
    """The starter holes of a line to saw, or the one hole that a hole saw cuts."""
    if not takes_hole_saw(cutout.template):
        return starter_holes(cutout, length)
    return [SlotMark(cutout.id, MarkKind.HOLE, 1, cutout.line, 0.0, length.part.thickness)]


def takes_hole_saw(template: Template) -> bool:
    """Whether the line is a circle small enough for a hole saw."""
    return template.diameter is not None and template.diameter <= HOLE_SAW


def starter_holes(cutout: PlacedCutout, length: Length) -> list[SlotMark]:
    """Four holes, one at each corner of the line, wholly inside it; one in the middle where four have no room. Of
    an outline of its own every corner has one.
    """
    if cutout.template.outline:
        return _in_corners(cutout, length)
    w, d = (max(0.0, size / 2 - starter_inset(cutout.template.radius)) for size in cutout.template.line)
    if min(w, d) < DRILL:
        w = d = 0.0
    cx, cy, _ = length.part.pose.from_room(cutout.frame.origin)
    centres = dict.fromkeys((cx + sx * w, cy + sy * d) for sy in (-1, 1) for sx in (-1, 1))
    thick = length.part.thickness
    return [SlotMark(cutout.id, MarkKind.STARTER, i, _hole(at), 0.0, thick) for i, at in enumerate(centres, 1)]


def _in_corners(cutout: PlacedCutout, length: Length) -> list[SlotMark]:
    """A hole in every corner of an outline, or one within it where it is too narrow for them."""
    corners = corners_of(cutout.template)
    inner = corners.buffer(-starter_inset(cutout.template.radius), join_style="mitre")
    whole = isinstance(inner, Polygon) and not inner.is_empty
    middle = corners.representative_point()
    points = plan_points(inner.exterior)[:-1] if whole else [(middle.x, middle.y)]
    cx, cy, _ = length.part.pose.from_room(cutout.frame.origin)
    thick = length.part.thickness
    return [
        SlotMark(cutout.id, MarkKind.STARTER, i, _hole((cx + x, cy + y)), 0.0, thick)
        for i, (x, y) in enumerate(points, start=1)
    ]


def starter_inset(radius: float) -> float:
    """From the sides of a line to the middle of a starter hole, mm; more where a round corner comes nearer.

    On the corner's diagonal a hole ``i`` from both sides is √2·(r − i) from the arc's centre; it must stay inside.
    """
    inside = radius - (radius - DRILL / 2 - 1.0) / math.sqrt(2)
    return max(STARTER_INSET + DRILL / 2, inside)


def _hole(centre: Point) -> Polygon:
    turns = [2 * math.pi * i / 24 for i in range(24)]
    return Polygon([(centre[0] + DRILL / 2 * math.cos(t), centre[1] + DRILL / 2 * math.sin(t)) for t in turns])
