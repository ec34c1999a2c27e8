"""Worktops: from runs of units to lengths of top, their joins, cut-outs and the condition of every edge.

A *stretch* is an unbroken row of units that carry a top. It becomes one *length*; each of its ends is free
(it overhangs), against a tall unit, against a wall, or joined to the length on the next wall.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Literal

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from model.document import CornerJoin, Document
from model.edges import boundary
from model.errors import InputError
from model.frames import Pose
from model.joins import REACH, Corner, Join, check_corner
from model.layout import PlacedRun, PlacedUnit
from model.part import Edge, EdgeCondition, Layer, Part
from model.profile import section
from model.survey import Survey, SurveyedWall
from model.tolerance import ON_LINE

TO_WALL = 60.0
"""A top that would stop closer than this to a wall is run to the wall (common practice, no source)."""

CORNER_GAP = 150.0
"""Units may begin this much behind the place where the fronts meet and still share the corner (common practice)."""

STRAIGHT = 175.0
"""Walls that meet at more than this are one wall, or turn away; a top ends there as if it were free."""

EndKind = Literal["free", "tall", "wall", "join"]


@dataclass(frozen=True)
class End:
    """How a length ends: at ``x`` along the run (mm), or on ``wall``, or in the join of ``corner``."""

    kind: EndKind
    x: float
    wall: SurveyedWall | None = None
    corner: Corner | None = None


@dataclass(frozen=True)
class Stretch:
    """An unbroken row of units under one top."""

    run: PlacedRun
    units: tuple[PlacedUnit, ...]

    @property
    def left(self) -> float:
        """Left side of its first unit along the run, mm."""
        return self.units[0].x

    @property
    def right(self) -> float:
        """Right side of its last unit along the run, mm."""
        return self.units[-1].right


@dataclass(frozen=True)
class Length:
    """A piece of worktop. ``x`` is where its frame begins along the run; ``left`` and ``right`` are its ends."""

    part: Part
    stretch: Stretch
    x: float
    left: End
    right: End

    @property
    def id(self) -> str:
        """The part's id: T1, T2 …"""
        return self.part.id

    @property
    def run(self) -> PlacedRun:
        """The run that it covers."""
        return self.stretch.run


@dataclass(frozen=True)
class SharedCorner:
    """A corner with the stretch that ends in it and the one that begins there."""

    corner: Corner
    ending: Stretch
    beginning: Stretch


def stretches(runs: tuple[PlacedRun, ...]) -> list[Stretch]:
    """Every row of units that carry a top, in the order of the runs."""
    return [
        Stretch(run, tuple(group))
        for run in runs
        if run.level == "floor"
        for carries, group in groupby(run.units, lambda u: u.family.carries_top)
        if carries
    ]


def lay_worktops(
    runs: tuple[PlacedRun, ...], survey: Survey, document: Document
) -> tuple[list[Length], list[Join]]:
    """The lengths and joins over ``runs``. Raises InputError for a corner or length that cannot be made."""
    rows = stretches(runs)
    corners = _shared_corners(rows, survey, document)
    lengths = [_length(row, f"T{i}", _ends(row, corners, survey, document)) for i, row in enumerate(rows, start=1)]
    return lengths, _joins([c.corner for c in corners], lengths)


def _shared_corners(rows: list[Stretch], survey: Survey, document: Document) -> list[SharedCorner]:
    """The corners of the room that two stretches share. Raises InputError for a join that no corner has."""
    wishes = _wishes(document)
    found = []
    for left in survey.walls:
        right = survey.next_wall(left)
        if right is None or left.corner is None or left.corner > STRAIGHT:
            continue
        ending = _reaching(rows, left, left.length, left.corner)
        beginning = _reaching(rows, right, 0.0, left.corner)
        if ending and beginning:
            name = f"{left.name}-{right.name}"
            field, wish = wishes.pop(name, ("worktop.joins", CornerJoin(corner=name)))
            corner = Corner(left, right, ending.run.stock, wish, field)
            check_corner(corner)
            found.append(SharedCorner(corner, ending, beginning))
    for name, (field, _) in wishes.items():
        known = ", ".join(c.corner.name for c in found) or "none, since no two tops share a corner"
        allowed = f"a corner where two tops meet: {known}"
        raise InputError.at(f"{field}.corner", found=f"'{name}'", allowed=allowed)
    return found


def _wishes(document: Document) -> dict[str, tuple[str, CornerJoin]]:
    """The joins of the document with their fields, by corner."""
    wishes: dict[str, tuple[str, CornerJoin]] = {}
    for i, wish in enumerate(document.worktop.joins):
        field = f"worktop.joins[{i}]"
        if wish.corner in wishes:
            raise InputError.at(f"{field}.corner", found=f"'{wish.corner}' twice", allowed="each corner once")
        wishes[wish.corner] = (field, wish)
    return wishes


def _reaching(rows: list[Stretch], wall: SurveyedWall, x: float, angle: float) -> Stretch | None:
    """The stretch on ``wall`` that comes near enough to its end at ``x`` to share the corner of ``angle``."""
    shoulder = max(1.0, 1.0 / math.tan(math.radians(angle / 2)))
    near = (r for r in rows if r.run.wall == wall.name and _gap(r, x) <= r.run.stock.depth * shoulder + CORNER_GAP)
    return next((r for r in near if _is_outermost(r, x)), None)


def _gap(row: Stretch, x: float) -> float:
    return row.left if x == 0 else x - row.right


def _is_outermost(row: Stretch, x: float) -> bool:
    units = row.run.units
    return row.units[0] is units[0] if x == 0 else row.units[-1] is units[-1]


def _ends(row: Stretch, corners: list[SharedCorner], survey: Survey, document: Document) -> tuple[End, End]:
    overhang, units = document.worktop.overhang.ends, row.run.units
    wall = survey.wall(row.run.wall) if row.run.wall else None
    left, right = End("tall", row.left), End("tall", row.right)
    if units[0] is row.units[0]:
        before = survey.previous_wall(wall) if wall else None
        beside = before if before and (before.corner or 0.0) <= STRAIGHT else None
        corner = next((c.corner for c in corners if c.beginning is row), None)
        left = _outer_end(row.left, row.left - overhang, beside, corner)
    if units[-1] is row.units[-1]:
        beside = survey.next_wall(wall) if wall and (wall.corner or 0.0) <= STRAIGHT else None
        corner = next((c.corner for c in corners if c.ending is row), None)
        gap = wall.length - row.right if wall else 0.0
        right = _outer_end(gap, row.right + overhang, beside, corner)
    return left, right


def _outer_end(gap: float, x: float, beside: SurveyedWall | None, corner: Corner | None) -> End:
    """An end with no unit beyond it."""
    if corner is not None:
        return End("join", x, beside, corner)
    if beside is not None and gap <= TO_WALL:
        return End("wall", x, beside)
    return End("free", x)


def _length(row: Stretch, name: str, ends: tuple[End, End]) -> Length:
    run, (left, right) = row.run, ends
    outline = _outline(run, left, right)
    x0 = outline.bounds[0]
    longest = max(run.stock.lengths)
    if outline.bounds[2] - x0 > longest:
        raise InputError.at(
            f"{run.field}.units",
            found=f"a worktop {outline.bounds[2] - x0:.0f} long",
            allowed=f"at most {longest:g}, the longest of {run.stock.code}",
            advice="a stock that is sold longer, a tall unit between, or fewer units",
        )
    frame = run.frame.moved(x0, 0.0, row.units[0].family.top)
    part = Part(
        id=name, kind="worktop", layer=Layer.WORKTOPS, material=run.stock.code,
        outline=_moved(outline, -x0), thickness=run.stock.thickness, pose=frame, owner=name,
        section=section(run.stock), grain=True,
    )  # fmt: skip
    return Length(replace(part, edges=_edges(part, run, ends, x0)), row, x0, left, right)


def _outline(run: PlacedRun, left: End, right: End) -> Polygon:
    """The length in the plan of its run."""
    x0 = left.x if left.wall is None else -REACH
    x1 = right.x if right.wall is None else right.x + REACH
    outline: BaseGeometry = rectangle(x0, 0.0, x1, run.stock.depth)
    for end in (left, right):
        if end.wall is not None:
            inside = end.wall.frame.plan_to_room(rectangle(-2 * REACH, 0.0, 3 * REACH, 4 * REACH))
            outline = outline.intersection(run.frame.plan_from_room(inside))
        if end.corner is not None:
            outline = _cut(outline, run, end.corner)
    if not isinstance(outline, Polygon) or outline.is_empty or not _joints_are_whole(outline, run, (left, right)):
        raise InputError.at(
            f"{run.field}.units",
            found="a worktop that ends within its own join",
            allowed="a row of units that reaches past the joins at its ends",
            advice="more or wider units, or stop the top of one wall before the corner",
        )
    return outline


def _joints_are_whole(outline: Polygon, run: PlacedRun, ends: tuple[End, End]) -> bool:
    """Whether every joint lies on the outline from end to end."""
    around = outline.exterior.buffer(ON_LINE)
    corners = (end.corner for end in ends if end.corner is not None)
    return all(around.covers(run.frame.plan_from_room(_joint(run, corner)[0])) for corner in corners)


def _joint(run: PlacedRun, corner: Corner) -> tuple[LineString, EdgeCondition]:
    """The joint in the room's plan as the run's length has it."""
    if run.wall == corner.female.name:
        return corner.female_line(), EdgeCondition.JOINT_FEMALE
    return corner.male_line(), EdgeCondition.JOINT_MALE


def _cut(outline: BaseGeometry, run: PlacedRun, corner: Corner) -> BaseGeometry:
    """Take from the length what the other one of the corner has."""
    if run.wall == corner.male.name:
        return outline.intersection(run.frame.plan_from_room(corner.male_side()))
    return outline.difference(run.frame.plan_from_room(corner.female_loses()))


def _moved(polygon: Polygon, dx: float) -> Polygon:
    return Polygon([(x + dx, y) for x, y in polygon.exterior.coords])


def _edges(part: Part, run: PlacedRun, ends: tuple[End, End], x0: float) -> tuple[Edge, ...]:
    """The condition of every stretch of the boundary, from the lines that the length was made by."""
    lines = [(part.pose.plan_from_room(line), condition) for line, condition in _lines(run, ends, x0, part.depth)]
    return boundary(part, lines)


def _lines(
    run: PlacedRun, ends: tuple[End, End], x0: float, depth: float
) -> Iterator[tuple[LineString, EdgeCondition]]:
    """Lines in the room's plan and what a boundary that lies on them meets, joints first."""
    for end in ends:
        if end.corner is not None:
            yield _joint(run, end.corner)
        if end.wall is not None:
            yield _across(end.wall.frame.moved(-REACH), 4 * REACH), EdgeCondition.WALL
        else:
            condition = EdgeCondition.TALL if end.kind == "tall" else EdgeCondition.EXPOSED
            side = run.frame.moved(end.x)
            yield LineString([side.to_room((0, y, 0))[:2] for y in (0.0, depth)]), condition
    start = run.frame.moved(x0 - 1.0)
    yield _across(start.moved(y=run.stock.depth), 4 * REACH), EdgeCondition.FACTORY
    back = EdgeCondition.FACTORY if run.stock.both_edges else EdgeCondition.EXPOSED
    yield _across(start, 4 * REACH), EdgeCondition.WALL if run.wall else back


def _across(frame: Pose, length: float) -> LineString:
    return LineString([frame.to_room((x, 0.0, 0.0))[:2] for x in (0.0, length)])


def _joins(corners: list[Corner], lengths: list[Length]) -> list[Join]:
    """The joins between the lengths that share a corner."""
    by_corner = {
        (end.corner.name, length.run.wall): length.id
        for length in lengths
        for end in (length.left, length.right)
        if end.corner is not None
    }
    return [
        Join(
            id=f"J{i}",
            kind=c.kind,
            corner=c.name,
            angle=c.angle,
            female=by_corner[c.name, c.female.name],
            male=by_corner[c.name, c.male.name],
            line=c.female_line(),
            male_line=c.male_line(),
            notch=c.notch if c.kind == "mitre" else 0.0,
        )
        for i, c in enumerate(corners, start=1)
    ]
