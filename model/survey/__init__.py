"""Survey: from measured walls to a room, with the error that every measurement leaves.

A survey is *closed* when each wall has its corner angle: the last corner then leads back to the first wall, and
the measurements contradict each other a little. What they miss is shared out; where they miss by more than is
tolerated, the survey is refused and the measurement named that most likely is wrong. An *open* survey is taken as
measured. The room's diagonals are checks and move nothing, but for a room of four walls that follows from one.

angles      of corners, read or from diagonals           traverse    walls end to end, the compass rule
blunders    which measurement most likely is wrong       walls       a wall in its place, and its bowed face
room        obstacles, services, sloping ceilings        readings    measurements, and how far off they may be
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from shapely import LineString, Polygon, union_all
from shapely import box as rectangle

from countersunk.model.document.schema import Opening, Room
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.survey.angles import corner_names, inside_angles, is_braced
from countersunk.model.survey.blunders import Check, advice, likely, suspects
from countersunk.model.survey.room import (
    PlacedObstacle,
    PlacedService,
    PlacedSlope,
    on_wall,
    place_obstacles,
    place_services,
    place_slopes,
    spoken,
)
from countersunk.model.survey.traverse import Traverse, ends_of
from countersunk.model.survey.walls import SurveyedWall, check_stations, stations
from countersunk.model.ties import most
from countersunk.model.tolerance import FIT, MISCLOSURE_ANGLE, MISCLOSURE_DIAGONAL, MISCLOSURE_LENGTH, OVERLAP_AREA

__all__ = ["Misclosure", "Survey", "SurveyedWall", "place_walls", "survey_room"]


class Misclosure(NamedTuple):
    """By how much a closed survey misses itself: degrees over all corners, and millimetres at the end."""

    angle: float
    length: float


@dataclass(frozen=True)
class Survey:
    """The room as it is taken to be. ``misclosure`` is None for an open survey."""

    walls: tuple[SurveyedWall, ...]
    height: float
    openings: tuple[Opening, ...]
    misclosure: Misclosure | None
    obstacles: tuple[PlacedObstacle, ...] = ()
    services: tuple[PlacedService, ...] = ()
    slopes: tuple[PlacedSlope, ...] = ()

    @cached_property
    def outline(self) -> Polygon | None:
        """The floor of a closed survey, in the room's plan; None for an open one."""
        return Polygon([w.start for w in self.walls]) if self.misclosure else None

    def wall(self, name: str) -> SurveyedWall:
        """The wall of that name. Raises KeyError."""
        return {w.name: w for w in self.walls}[name]

    def ceiling_over(self, plan: Polygon) -> float:
        """The lowest that the ceiling comes over a plan in the room, mm."""
        return min((self.height, *(slope.over(plan) for slope in self.slopes)))

    def face(self, wall: SurveyedWall) -> Polygon:
        """A wall below the ceiling, openings and all: x along it and height above the floor, mm."""
        whole = rectangle(0.0, 0.0, wall.length, self.height)
        taken = [above for slope in self.slopes if (above := slope.above(wall)).area > OVERLAP_AREA]
        return one_polygon(whole.difference(union_all(taken))) if taken else whole

    def next_wall(self, wall: SurveyedWall) -> SurveyedWall | None:
        """The wall that meets this one at its right-hand end, or None at the end of an open survey."""
        i = self.walls.index(wall) + 1
        return self.walls[i % len(self.walls)] if i < len(self.walls) or self.misclosure else None

    def previous_wall(self, wall: SurveyedWall) -> SurveyedWall | None:
        """The wall that meets this one at its left-hand end, or None at the start of an open survey."""
        i = self.walls.index(wall)
        return self.walls[i - 1] if i > 0 or self.misclosure else None


def survey_room(room: Room) -> Survey:
    """Place the walls of ``room``. Raises InputError where they cannot be, or the survey misses too much."""
    _check_names(room)
    for i, wall in enumerate(room.walls):
        check_stations(wall, f"room.walls[{i}]")
    angles = inside_angles(room)
    closed, traverse = None not in angles, _traverse(room, angles)
    _check_misses(room, traverse, _checks(room, closed), closed)
    walls = _walls(room, traverse, angles)
    named = {wall.name: wall for wall in walls}
    slopes = place_slopes(room, named)
    placed = (place_obstacles(room, named, slopes), place_services(room, named), slopes)
    misclosure = Misclosure(traverse.over, math.hypot(*traverse.balanced().gap)) if closed else None
    survey = Survey(walls, room.height, room.openings, misclosure, *placed)
    _check_openings(survey)
    if survey.outline is not None:
        _check_outline(survey.outline, survey.obstacles)
    return survey


def place_walls(room: Room) -> tuple[SurveyedWall, ...]:
    """Only the walls, as `survey_room` places them, however much they miss. Raises InputError for lengths that
    make no triangle.
    """
    angles = inside_angles(room)
    return _walls(room, _traverse(room, angles), angles)


def _traverse(room: Room, angles: tuple[float | None, ...]) -> Traverse:
    return Traverse(tuple(w.length for w in room.walls), tuple(180.0 if a is None else a for a in angles))


def _walls(room: Room, traverse: Traverse, angles: tuple[float | None, ...]) -> tuple[SurveyedWall, ...]:
    return _open(room, traverse, angles) if None in angles else _chained(room, traverse.balanced().closed())


def _check_names(room: Room) -> None:
    seen: set[str] = set()
    for i, wall in enumerate(room.walls):
        if wall.name in seen:
            advice = "another letter for this wall"
            raise InputError.at(
                f"room.walls[{i}].name", found=f"'{wall.name}' twice", allowed="each name once", advice=advice
            )
        seen.add(wall.name)


def _checks(room: Room, closed: bool) -> tuple[Check, ...]:
    """The room's diagonals between corners that are known."""
    names = corner_names(room) if closed else corner_names(room)[:-1]
    for i, diagonal in enumerate(room.diagonals):
        for key, corner in (("from", diagonal.start), ("to", diagonal.to)):
            if corner not in names:
                raise InputError.unknown(f"room.diagonals[{i}].{key}", corner, names, "a corner")
        ends = (names.index(diagonal.start), names.index(diagonal.to))
        if abs(ends[0] - ends[1]) in (0, 1, len(room.walls) - 1):
            raise InputError.at(
                f"room.diagonals[{i}]",
                found=f"{diagonal.start} to {diagonal.to}",
                allowed="two corners with no wall between them",
                advice="a corner across the room; what lies along a wall is its length",
            )
    return tuple(
        Check(f"{d.start} to {d.to}", (names.index(d.start), names.index(d.to)), d.length) for d in room.diagonals
    )


def _check_misses(room: Room, traverse: Traverse, checks: tuple[Check, ...], closed: bool) -> None:
    """Raises InputError where angles, lengths or diagonals miss by more than is tolerated."""
    if closed and len(room.walls) < 3:
        raise InputError.at(
            "room.walls",
            found=f"{len(room.walls)} with a corner at the last",
            allowed="a corner at the last of 3 walls or more, which leads back to the first",
            advice="leave out the last corner",
        )
    missed = _closing_miss(traverse) if closed else None
    square = traverse.balanced() if closed else traverse
    missed = missed or _diagonal_miss(checks, ends_of(square.closed() if closed else square.legs))
    if missed is None:
        return
    field, found, allowed = missed
    if not closed or is_braced(room):
        words = "measure every diagonal again, then the walls and corners between them"
        raise InputError.at(field, found=found, allowed=allowed, advice=words)
    ordered = suspects(room, traverse, checks)
    named = likely(ordered)
    field = named[0].field if len(named) == 1 else field
    raise InputError.at(field, found=found, allowed=allowed, advice=advice(ordered))


def _closing_miss(traverse: Traverse) -> tuple[str, str, str] | None:
    """Field, found and allowed where a closed survey misses itself."""
    count, gap = len(traverse.angles), math.hypot(*traverse.balanced().gap)
    if abs(traverse.over) > MISCLOSURE_ANGLE:
        allowed = f"{180 * (count - 2)}° ± {MISCLOSURE_ANGLE:g}° for {count} walls"
        return "room.walls", f"corners that add up to {sum(traverse.angles):.6g}°", allowed
    if gap > MISCLOSURE_LENGTH:
        found = f"walls that end {gap:.0f} mm from where they began"
        return "room.walls", found, f"at most {MISCLOSURE_LENGTH:g} mm"
    return None


def _diagonal_miss(checks: tuple[Check, ...], ends: tuple[Point, ...]) -> tuple[str, str, str] | None:
    """The same for the diagonal that misses most."""
    miss = [abs(check.across(ends) - check.length) for check in checks]
    i = most(range(len(miss)), key=miss.__getitem__) if miss else None
    if i is None or miss[i] <= MISCLOSURE_DIAGONAL:
        return None
    allowed = f"{checks[i].across(ends):.0f} ± {MISCLOSURE_DIAGONAL:g}, as walls and corners have it"
    return f"room.diagonals[{i}].length", f"{checks[i].length:g}", allowed


def _open(room: Room, traverse: Traverse, angles: tuple[float | None, ...]) -> tuple[SurveyedWall, ...]:
    """Walls as they were measured."""
    starts = ((0.0, 0.0), *traverse.ends)
    return tuple(
        SurveyedWall(wall.name, wall.length, heading, start, angle, stations(wall))
        for wall, heading, start, angle in zip(room.walls, traverse.headings, starts, angles, strict=False)
    )


def _chained(room: Room, sides: tuple[Point, ...]) -> tuple[SurveyedWall, ...]:
    """Walls end to end, each with the inside angle that it makes with the next."""
    headings = [_heading(side) for side in sides]
    starts = ((0.0, 0.0), *ends_of(sides))
    walls = []
    for i, (wall, side) in enumerate(zip(room.walls, sides, strict=True)):
        corner = (180.0 - (headings[i] - headings[(i + 1) % len(sides)])) % 360.0
        walls.append(SurveyedWall(wall.name, math.hypot(*side), headings[i], starts[i], corner, stations(wall)))
    return tuple(walls)


def _heading(vector: Point) -> float:
    """Degrees, rounded far below any tape so that square rooms are square."""
    return round(math.degrees(math.atan2(vector[1], vector[0])), 9)


def _check_outline(outline: Polygon, obstacles: tuple[PlacedObstacle, ...]) -> None:
    """A floor that walls enclose, and most of each obstacle standing on it."""
    if not outline.is_valid:
        raise InputError.at(
            "room.walls",
            found="walls that cross each other",
            allowed="a room that encloses a floor",
            advice="list the walls clockwise, each with the inside angle at its right-hand end",
        )
    for obstacle in obstacles:
        if not outline.contains(obstacle.plan.centroid):
            raise InputError.at(
                obstacle.field,
                found=f"a {spoken(obstacle.kind)} that reaches {obstacle.y + obstacle.depth:g} out from the wall",
                allowed="a place inside the room",
                advice="depth is measured from the wall into the room, out only where it stands free",
            )


def _check_openings(survey: Survey) -> None:
    walls = {w.name: w for w in survey.walls}
    for i, opening in enumerate(survey.openings):
        field = f"room.openings[{i}]"
        on_wall(opening.wall, opening.at, opening.width, field, walls)
        ceiling = min(_ceiling_at(survey, walls[opening.wall], x) for x in (opening.at, opening.at + opening.width))
        if not opening.sill < opening.head <= ceiling + FIT:
            raise InputError.at(
                f"{field}.head",
                found=f"sill {opening.sill:g}, head {opening.head:g}",
                allowed=f"above the sill, up to the ceiling at {ceiling:.0f} mm",
                advice="sill and head are heights above the floor",
            )


def _ceiling_at(survey: Survey, wall: SurveyedWall, x: float) -> float:
    """Height of the ceiling over a place on a wall; between two places it is never lower than at both."""
    if not survey.slopes:
        return survey.height
    upright = LineString([(x, 0.0), (x, survey.height)])
    return float(survey.face(wall).buffer(FIT).intersection(upright).bounds[3])
