"""Plans: the shapes that measures look at, in the room's plan (mm), and the spans between them.

Everything here is the true polygon in its turned frame, never its box along the room's axes: in a room out of
square the two differ by more than most clearances can spare.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely import Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.volume import Segment, Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import TALL as TALL
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.tolerance import CONTACT, OVERLAP_AREA
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.worktops import Length

REACH = 20_000.0
"""Bands are drawn this far (mm): across any room."""

SHOWN_WIDTH = 60.0
"""How wide the volume about a measured segment is drawn, mm; it has no meaning of its own."""

HEAD = 2_000.0
"""How high the volume of an aisle is drawn, mm; it has no meaning of its own."""


def block(frame: Pose, x0: float, y0: float, x1: float, y1: float) -> Polygon:
    """A rectangle of ``frame`` in the room's plan. Corner by corner: there are many, and this is the fastest."""
    (ox, oy, _), (ax, ay, _), (bx, by, _) = frame.origin, frame.x, frame.y
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return Polygon([(ox + x * ax + y * bx, oy + x * ay + y * by) for x, y in corners])


def unit_plan(unit: PlacedUnit) -> Polygon:
    """The plan of a unit with its front; a filler is only the strip in the plane of the fronts."""
    return unit.frame.plan_to_room(unit.outline)


def unit_volume(unit: PlacedUnit) -> Volume:
    """What a unit takes of the room above its legs, to be drawn."""
    return Volume(unit_plan(unit), unit.family.base, unit.family.top)


def run_of(kitchen: Kitchen, unit: PlacedUnit) -> PlacedRun:
    """The run that a unit stands in."""
    return next(run for run in kitchen.runs if unit in run.units)


def behind_units(length: Length) -> float:
    """From the back edge of an island's or a peninsula's top to the panel behind its units, mm."""
    return length.run.stand_off - length.stretch.units[0].boards.front.thickness


def top_plan(length: Length) -> Polygon:
    """The plan of a length of worktop, cut-outs filled."""
    return length.part.pose.plan_to_room(Polygon(length.part.outline.exterior))


def face(length: Length) -> float:
    """Height of a worktop's decor face above the floor, mm."""
    return length.part.pose.origin[2] + length.part.thickness


def parts_beneath(kitchen: Kitchen, length: Length) -> Iterator[Part]:
    """The parts of the units under a length; the back of an island is all along it the first unit's."""
    return (part for unit in length.stretch.units for part in kitchen.parts_of[unit.key])


def of_kind(kitchen: Kitchen, kind: str) -> Iterator[tuple[PlacedCutout, Length]]:
    """Every sink or every hob with the length that it is let into."""
    return ((c, kitchen.length(c.length)) for c in kitchen.cutouts if c.template.kind == kind)


def openings(kitchen: Kitchen) -> list[PlacedCutout]:
    """Every sink and every hob: what takes worktop away and weakens it. Holes for taps and such do not count."""
    return [cutout for cutout in kitchen.cutouts if cutout.template.kind in ("sink", "hob")]


def weakenings(kitchen: Kitchen) -> list[PlacedCutout]:
    """Every sink, hob and downdraft: long lines to cut, between which and the edges something has to stay."""
    return [cutout for cutout in kitchen.cutouts if cutout.template.kind in ("sink", "hob", "downdraft")]


def hoods(kitchen: Kitchen) -> list[PlacedUnit]:
    """Every cooker hood, and whatever else draws off what rises from a hob under it."""
    return [u for u in kitchen.units if any(appliance.draws for appliance in u.family.appliances)]


def wall_units(kitchen: Kitchen) -> list[PlacedUnit]:
    """Every unit that hangs on a wall, hoods excepted."""
    hung = hoods(kitchen)
    return [u for u in kitchen.units if u.family.level == "upper" and u not in hung]


def tall_units(kitchen: Kitchen, above: float) -> list[PlacedUnit]:
    """Every unit on the floor that is higher than ``above`` mm."""
    return [u for u in kitchen.units if u.family.level == "floor" and u.family.top > above]


def appliances(kitchen: Kitchen, appliance: str) -> list[PlacedUnit]:
    """Every unit that is or holds an appliance of that kind."""
    return [u for u in kitchen.units if u.family.holds(appliance)]


def overlap(a: BaseGeometry, b: BaseGeometry) -> bool:
    """Whether two plans share more than a touch. On a grid, since edges along each other but for rounding may else
    leave nothing of what is shared.
    """
    return bool(a.intersection(b, grid_size=CONTACT).area > OVERLAP_AREA)


def within(shape: BaseGeometry, band: Polygon) -> BaseGeometry:
    """What of a plan, or of the line of a wall, lies within a band; empty where it no more than touches it."""
    shared = shape.intersection(band)
    flat = shape.area == 0.0
    return shared if (shared.length > CONTACT if flat else shared.area > OVERLAP_AREA) else Polygon()


def between(a: BaseGeometry, b: BaseGeometry, z: float) -> Segment:
    """The shortest segment between two plans, at height ``z``."""
    one, other = nearest_points(a, b)
    return (one.x, one.y, z), (other.x, other.y, z)


def around(segment: Segment, low: float, high: float) -> Volume:
    """A narrow volume about a level segment, to be drawn."""
    (x0, y0, _), (x1, y1, _) = segment
    length = math.hypot(x1 - x0, y1 - y0)
    if length < CONTACT:
        return Volume(Point(x0, y0).buffer(SHOWN_WIDTH / 2), low, high)
    dx, dy = ((y0 - y1) / length * SHOWN_WIDTH / 2, (x1 - x0) / length * SHOWN_WIDTH / 2)
    corners = ((x0 - dx, y0 - dy), (x1 - dx, y1 - dy), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy))
    return Volume(Polygon(corners), low, high)


def upright(plan: Polygon, low: float, high: float) -> tuple[Volume, Segment]:
    """The volume over ``plan`` between two heights, and the upright segment in its middle."""
    x, y = plan.centroid.x, plan.centroid.y
    return Volume(plan, min(low, high), max(low, high)), ((x, y, low), (x, y, high))


def heights(part: Part) -> tuple[float, float]:
    """Between which heights above the floor a part of any pose lies, mm."""
    x0, y0, x1, y1 = part.outline.bounds
    base, (ax, bx, cx) = part.pose.origin[2], (part.pose.x[2], part.pose.y[2], part.pose.z[2])
    zs = [base + x * ax + y * bx + z * cx for x in (x0, x1) for y in (y0, y1) for z in (0.0, part.thickness)]
    return min(zs), max(zs)
