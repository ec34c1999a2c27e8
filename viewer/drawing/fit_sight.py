"""Fit sight: what surrounds a clearance, cut to a window: in plan, or as one faces it where it is upright.

Plan is the room's frame. As one faces it: x to the right along the run, y up from the floor.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Finding
from countersunk.model.checks.things import runs_of
from countersunk.model.geometry.frames import Pose, Vector
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.profile import plan_points
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun
from countersunk.viewer.drawing.elevation import seen_box
from countersunk.viewer.drawing.plan import footprint
from countersunk.viewer.drawing.shapes import Box, Path, Point
from countersunk.viewer.drawing.strokes import Stroke

Outlined = tuple[BaseGeometry, Stroke]
Named = tuple[str, Polygon]

UPRIGHT = 1.0
"""A segment that moves less than this across the plan stands upright, mm."""

ROOM = 8_000.0
"""How far an elevation may look along a run, mm."""


@dataclass(frozen=True)
class Sight:
    """What can be drawn of a finding one way: lines about it, things with names, its area and its segment (mm)."""

    name: str
    lines: tuple[Outlined, ...]
    named: tuple[Named, ...]
    area: Polygon | None
    ends: tuple[Point, Point] | None

    @property
    def focus(self) -> Box | None:
        """What must be seen: the area and the segment."""
        shapes = [s for s in (self.area, LineString(self.ends) if self.ends else None) if s is not None]
        if not shapes:
            return None
        xs, ys = ([shape.bounds[i] for shape in shapes for i in (k, k + 2)] for k in (0, 1))
        return (min(xs), min(ys), max(xs), max(ys))


def sights(kitchen: Kitchen, finding: Finding) -> list[Sight]:
    """In plan; and as one faces it, for what was measured upright."""
    found = [plan_sight(kitchen, finding)]
    run = _run_of(kitchen, finding)
    if finding.segment and run and _is_upright(finding.segment):
        found.append(_front_sight(kitchen, finding, run))
    return [sight for sight in found if sight.focus]


def plan_sight(kitchen: Kitchen, finding: Finding | None = None) -> Sight:
    """The room from above, with a finding's area and segment."""
    ends = None
    if finding and finding.segment and not _is_upright(finding.segment):
        (ax, ay, _), (bx, by, _) = finding.segment
        ends = ((ax, ay), (bx, by))
    area = finding.volume.plan if finding and finding.volume else None
    lines, named = tuple(_plan_lines(kitchen)), tuple(_plan_names(kitchen))
    return Sight("in plan", lines, named, area, ends)


def _front_sight(kitchen: Kitchen, finding: Finding, run: PlacedRun) -> Sight:
    frame = run.frame
    ends = None
    if finding.segment:
        a, b = (frame.from_room(p) for p in finding.segment)
        ends = ((a[0], a[2]), (b[0], b[2]))
    area = _seen(finding.volume, frame) if finding.volume else None
    same = [r for r in kitchen.runs if r.wall == run.wall and (r.wall or r is run)]
    return Sight(
        "as one faces it", tuple(_front_lines(kitchen, same, frame)), tuple(_front_names(same)), area, ends
    )


def _seen(volume: Volume, frame: Pose) -> Polygon:
    x0, _, x1, _ = frame.plan_from_room(volume.plan).bounds
    return rectangle(x0, volume.low, x1, max(volume.high, volume.low + 1.0))


def _is_upright(segment: tuple[Vector, Vector]) -> bool:
    (ax, ay, az), (bx, by, bz) = segment
    return abs(ax - bx) < UPRIGHT and abs(ay - by) < UPRIGHT and abs(az - bz) > UPRIGHT


def _run_of(kitchen: Kitchen, finding: Finding) -> PlacedRun | None:
    """The run of the first thing that the finding is about."""
    own = runs_of(kitchen)
    return next((own[thing] for thing in finding.about if thing in own), None)


def _plan_lines(kitchen: Kitchen) -> Iterator[Outlined]:
    for wall in kitchen.survey.walls:
        yield wall.line, Stroke.ROOM
    for obstacle in kitchen.survey.obstacles:
        yield obstacle.plan.exterior, Stroke.ROOM
    for run in kitchen.runs:
        for unit in run.units:
            yield footprint(unit).exterior, Stroke.UNIT if run.level == "floor" else Stroke.HIDDEN
    for length in kitchen.lengths:
        yield length.part.pose.plan_to_room(Polygon(length.part.outline.exterior)).exterior, Stroke.OUTLINE
    for cutout in kitchen.cutouts:
        yield cutout.rim_in_room.exterior, Stroke.OUTLINE
        yield cutout.line_in_room.exterior, Stroke.LINE_TO_CUT
    for join in kitchen.joins:
        yield join.line, Stroke.JOINT_FEMALE


def _plan_names(kitchen: Kitchen) -> Iterator[Named]:
    for cutout in kitchen.cutouts:
        yield cutout.name, cutout.line_in_room
    for unit in kitchen.units:
        if unit.family.level == "floor":
            yield unit.name, footprint(unit)


def _front_lines(kitchen: Kitchen, runs: list[PlacedRun], frame: Pose) -> Iterator[Outlined]:
    yield LineString([(-ROOM, 0.0), (ROOM, 0.0)]), Stroke.ROOM
    for run in runs:
        for unit in run.units:
            yield rectangle(unit.x, unit.family.base, unit.right, unit.family.top).exterior, Stroke.UNIT
    keys = {unit.key for run in runs for unit in run.units}
    for part in kitchen.parts:
        if part.role in (Role.SHELF, Role.DRAWER, Role.BOTTOM) and part.owner in keys:
            yield rectangle(*seen_box(part, frame)).exterior, Stroke.HIDDEN
    for length in kitchen.lengths:
        if length.run in runs:
            yield rectangle(*seen_box(length.part, frame)).exterior, Stroke.OUTLINE
    for cutout in kitchen.cutouts:
        if kitchen.length(cutout.length).run in runs:
            for part in kitchen.parts_of[cutout.key]:
                yield rectangle(*seen_box(part, frame)).exterior, Stroke.LINE_TO_CUT


def _front_names(runs: list[PlacedRun]) -> Iterator[Named]:
    for run in runs:
        for unit in run.units:
            yield unit.name, rectangle(unit.x, unit.family.base, unit.right, unit.family.top)


def clipped(lines: tuple[Outlined, ...], window: Polygon) -> Iterator[Path]:
    """What of the lines lies in a window."""
    for shape, stroke in lines:
        inside = shape.intersection(window)
        for piece in getattr(inside, "geoms", [inside]):
            if isinstance(piece, LineString) and not piece.is_empty:
                yield Path(tuple(plan_points(piece)), stroke)
