"""Survey: from measured walls to a room, with the error that every measurement leaves.

A survey is *closed* when each wall has its corner angle: the last corner then leads back to the first wall, and
the measurements contradict each other a little. All of them, and whatever was measured besides, are adjusted by
least squares, each by its tolerance. Where they miss by more than is tolerated, the survey is refused and the
measurement named that most likely is wrong. An *open* survey without such checks is taken as measured.

angles      of corners, read or from diagonals           traverse    walls end to end, as they were read
observed    readings as observations between corners     shape       walls end to end, adjusted
blunders    which measurement most likely is wrong       walls       a wall in its place, and its bowed face
room        obstacles, services, sloping ceilings        readings    measurements, and how far off they may be
weighing    every reading, and which to doubt            mistakes    how a reading may have come to be wrong
heights     readings nearest to the top's height         leaning     what others say of walls that lean
besides     what to measure as well, and what for
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from shapely import LineString, Polygon, union_all
from shapely import box as rectangle

from countersunk.model.adjustment.least_squares import UndeterminedError
from countersunk.model.adjustment.snooping import is_contradictory
from countersunk.model.document.schema import Opening, Room, Wall
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.kept import kept
from countersunk.model.survey.blunders import advice, blunders
from countersunk.model.survey.observed import Points
from countersunk.model.survey.room import (
    PlacedCeiling,
    PlacedDormer,
    PlacedObstacle,
    PlacedService,
    PlacedSlope,
    dormers_over,
    on_wall,
    place_ceiling,
    place_obstacles,
    place_services,
    place_slopes,
    spoken,
)
from countersunk.model.survey.shape import RoomShape, shape_near, shape_of
from countersunk.model.survey.traverse import Traverse, distance, ends_of
from countersunk.model.survey.walls import SurveyedWall, check_stations, stations
from countersunk.model.ties import most
from countersunk.model.tolerance import FIT, MISCLOSURE_ANGLE, MISCLOSURE_DIAGONAL, MISCLOSURE_LENGTH, OVERLAP_AREA

__all__ = ["Misclosure", "Survey", "SurveyedWall", "furnished", "place_walls", "survey_room", "survey_unjudged"]


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
    dormers: tuple[PlacedDormer, ...] = ()
    ceiling: tuple[PlacedCeiling, ...] = ()

    @cached_property
    def outline(self) -> Polygon | None:
        """The floor of a closed survey, in the room's plan; None for an open one."""
        return Polygon([w.start for w in self.walls]) if self.misclosure else None

    def wall(self, name: str) -> SurveyedWall:
        """The wall of that name. Raises KeyError."""
        return {w.name: w for w in self.walls}[name]

    def ceiling_over(self, plan: Polygon) -> float:
        """The lowest that the ceiling comes over a plan in the room, mm."""
        lowered = (*(slope.over(plan) for slope in self.slopes), *(read.over(plan) for read in self.ceiling))
        return min((self.height, *lowered))

    def ceiling_at(self, x: float, y: float) -> float:
        """How high the ceiling is over a point of the room's plan, mm."""
        lowered = (*(slope.at(x, y) for slope in self.slopes), *(read.at(x, y) for read in self.ceiling))
        return min((self.height, *lowered))

    def face(self, wall: SurveyedWall) -> Polygon:
        """A wall below the ceiling, openings and all: x along it and height above the floor, mm."""
        whole = rectangle(0.0, 0.0, wall.length, self.height)
        for read in (ceiling for ceiling in self.ceiling if ceiling.wall == wall):
            ends = ((x, read.height_at(x)) for x in (0.0, wall.length))
            whole = Polygon([(0.0, 0.0), *sorted({*ends, *read.read}), (wall.length, 0.0)])
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


@kept(16)
def survey_room(room: Room) -> Survey:
    """Place the walls of ``room``. Raises InputError where they cannot be, or the survey misses too much."""
    shape = _checked_shape(room)
    _check_misses(shape)
    return furnished(room, _walls(shape), _misclosure(shape))


def survey_unjudged(room: Room) -> Survey:
    """The walls alone as their readings have them, however much these miss, with nothing on them.

    Raises InputError where they make no room at all.
    """
    shape = _checked_shape(room)
    return Survey(_walls(shape), room.height, (), _misclosure(shape))


def _checked_shape(room: Room) -> RoomShape:
    """The shape of a room whose readings name what there is. Raises InputError."""
    _check_names(room)
    for i, wall in enumerate(room.walls):
        check_stations(wall, f"room.walls[{i}]")
        _check_tolerance(wall, f"room.walls[{i}]")
    shape = shape_of(room)
    _check_diagonals(shape)
    _check_count(shape)
    return shape


def _misclosure(shape: RoomShape) -> Misclosure | None:
    traverse = shape.traverse
    return Misclosure(traverse.over, math.hypot(*traverse.balanced().gap)) if shape.closed else None


def furnished(room: Room, walls: tuple[SurveyedWall, ...], misclosure: Misclosure | None) -> Survey:
    """The survey of ``room`` with its walls in their places. Raises InputError for what has no place on them."""
    named = {wall.name: wall for wall in walls}
    slopes = place_slopes(room, named)
    dormers, ceiling = dormers_over(room, named), place_ceiling(room, named)
    placed = (place_obstacles(room, named, slopes), place_services(room, named), slopes, dormers, ceiling)
    survey = Survey(walls, room.height, _openings(room, named), misclosure, *placed)
    _check_openings(survey)
    if survey.outline is not None:
        _check_outline(survey.outline, survey.obstacles)
    return survey


def place_walls(room: Room, near: RoomShape | None = None) -> tuple[SurveyedWall, ...]:
    """Only the walls, as `survey_room` places them, however much they miss; quicker ``near`` a shape that is known.
    Raises InputError for lengths that make no triangle.
    """
    return _walls(shape_near(room, near) if near else shape_of(room))


def _check_names(room: Room) -> None:
    seen: set[str] = set()
    for i, wall in enumerate(room.walls):
        if wall.name in seen:
            advice = "another letter for this wall"
            raise InputError.at(
                f"room.walls[{i}].name", found=f"'{wall.name}' twice", allowed="each name once", advice=advice
            )
        seen.add(wall.name)


def _check_tolerance(wall: Wall, field: str) -> None:
    """Raises InputError for the tolerance of a corner that was not read as an angle."""
    if wall.corner_tolerance is not None and wall.corner is None:
        raise InputError.at(
            f"{field}.corner_tolerance",
            found=f"{wall.corner_tolerance:g}, and no corner",
            allowed="only beside a corner in degrees",
            advice="a corner that was taken with the tape has its tolerance, mm, within diagonal",
        )


def _check_diagonals(shape: RoomShape) -> None:
    """Raises InputError for diagonals that are not across the room, from one corner to another."""
    points = Points(shape.room, shape.closed)
    for i, diagonal in enumerate(shape.room.diagonals):
        field = f"room.diagonals[{i}]"
        ends = [points.corner_at(diagonal.start, f"{field}.from"), points.corner_at(diagonal.to, f"{field}.to")]
        if abs(ends[0] - ends[1]) in (0, 1, len(shape.room.walls) - 1):
            raise InputError.at(
                field,
                found=f"{diagonal.start} to {diagonal.to}",
                allowed="two corners with no wall between them",
                advice="a corner across the room; what lies along a wall is its length",
            )


def _check_count(shape: RoomShape) -> None:
    """Raises InputError for fewer walls than lead back to the first."""
    if shape.closed and len(shape.room.walls) < 3:
        raise InputError.at(
            "room.walls",
            found=f"{len(shape.room.walls)} with a corner at the last",
            allowed="a corner at the last of 3 walls or more, which leads back to the first",
            advice="leave out the last corner",
        )


def _check_misses(shape: RoomShape) -> None:
    """Raises InputError where angles, lengths or diagonals miss by more than is tolerated, and by more than their
    own tolerances explain.
    """
    missed = _closing_miss(shape.traverse) if shape.closed else None
    missed = missed or _diagonal_miss(shape)
    if missed is None or _is_chance(shape):
        return
    field, found, allowed = missed
    named, ordered = blunders(shape)
    if not ordered:
        field = field.partition("[")[0]
    elif len(named) == 1:
        field = named[0].field
    raise InputError.at(field, found=found, allowed=allowed, advice=advice(named, ordered, shape))


def _is_chance(shape: RoomShape) -> bool:
    """Whether right readings of these tolerances would miss as much, be it seldom."""
    try:
        return not is_contradictory(shape.adjustment)
    except UndeterminedError:
        return False


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


def _diagonal_miss(shape: RoomShape) -> tuple[str, str, str] | None:
    """The same where diagonals miss what walls and corners make of them."""
    ends = ((0.0, 0.0), *ends_of(shape.legs))
    points, misses = Points(shape.room, shape.closed), []
    for i, d in enumerate(shape.room.diagonals):
        a, b = (ends[points.corner_at(name, "") + 1] for name in (d.start, d.to))
        misses.append((abs(distance(a, b) - d.length), i, distance(a, b)))
    miss, i, across = most(misses, key=lambda each: each[0]) if misses else (0.0, 0, 0.0)
    if miss <= MISCLOSURE_DIAGONAL:
        return None
    if shape.adjustment.freedom == 1:
        read = ", ".join(f"{d.start} to {d.to} {d.length:g}" for d in shape.room.diagonals)
        return "room.diagonals", read, f"diagonals, walls and corners that agree within {MISCLOSURE_DIAGONAL:g} mm"
    allowed = f"{across:.0f} ± {MISCLOSURE_DIAGONAL:g}, as walls and corners have it"
    return f"room.diagonals[{i}].length", f"{shape.room.diagonals[i].length:g}", allowed


def _walls(shape: RoomShape) -> tuple[SurveyedWall, ...]:
    """Walls end to end, each with the inside angle that it makes with the next. Those of an open survey that agrees
    with itself are as they were measured.
    """
    sides = shape.sides
    if not shape.closed and shape.agrees:
        headings, corners = shape.traverse.headings, shape.traverse.angles
        lengths = shape.traverse.lengths
    else:
        headings, lengths = tuple(map(_heading, sides)), tuple(math.hypot(*side) for side in sides)
        corners = tuple(
            (180.0 - (a - b)) % 360.0 for a, b in zip(headings, (*headings[1:], headings[0]), strict=True)
        )
    starts = ((0.0, 0.0), *ends_of(sides))
    known = corners if shape.closed else (*corners[:-1], None)
    return tuple(
        SurveyedWall(wall.name, length, heading, start, angle, stations(wall), wall.length)
        for wall, length, heading, start, angle in zip(
            shape.room.walls, lengths, headings, starts, known, strict=False
        )
    )


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


def _openings(room: Room, walls: Mapping[str, SurveyedWall]) -> tuple[Opening, ...]:
    """Each on its wall as that was adjusted. Raises InputError for one that is on none."""
    placed = []
    for i, opening in enumerate(room.openings):
        wall = on_wall(opening.wall, opening.at, opening.width, f"room.openings[{i}]", walls)
        at = wall.within(opening.at, opening.width)
        placed.append(opening if at == opening.at else opening.model_copy(update={"at": at}))
    return tuple(placed)


def _check_openings(survey: Survey) -> None:
    walls = {w.name: w for w in survey.walls}
    for i, opening in enumerate(survey.openings):
        field = f"room.openings[{i}]"
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
