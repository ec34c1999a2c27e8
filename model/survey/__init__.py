"""Survey: from measured walls to a room, with the error that every measurement leaves.

A survey is *closed* when each wall has its corner angle: the last corner then leads back to the first wall, and
the measurements contradict each other a little. Angles are adjusted equally; then the length misclosure is
shared in proportion to wall lengths (compass rule, also Bowditch's rule; surveying textbooks, from memory).
An *open* survey is taken as measured.

walls       a wall in its place, and its bowed face      room    obstacles, services, sloping ceilings
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from shapely import Polygon

from model.document import Opening, Room
from model.errors import InputError
from model.frames import Point, upright
from model.survey.room import (
    PlacedObstacle,
    PlacedService,
    PlacedSlope,
    on_wall,
    place_obstacles,
    place_services,
    place_slopes,
)
from model.survey.walls import SurveyedWall, stations
from model.tolerance import MISCLOSURE_ANGLE, MISCLOSURE_LENGTH

__all__ = ["Misclosure", "Survey", "SurveyedWall", "survey_room"]


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
    closed = all(w.corner is not None for w in room.walls)
    walls, misclosure = _closed(room) if closed else (_open(room), None)
    named = {wall.name: wall for wall in walls}
    placed = (place_obstacles(room, named), place_services(room, named), place_slopes(room, named))
    survey = Survey(walls, room.height, room.openings, misclosure, *placed)
    _check_openings(survey)
    if survey.outline is not None:
        _check_outline(survey.outline, survey.obstacles)
    return survey


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
                found=f"a {obstacle.kind} that reaches {obstacle.y + obstacle.depth:g} out from the wall",
                allowed="a place inside the room",
                advice="depth is measured from the wall into the room, out only where it stands free",
            )


def _check_names(room: Room) -> None:
    seen: set[str] = set()
    for i, wall in enumerate(room.walls):
        if wall.name in seen:
            raise InputError.at(f"room.walls[{i}].name", found=f"'{wall.name}' twice", allowed="each name once")
        seen.add(wall.name)
        if wall.corner is None and i < len(room.walls) - 1:
            advice = "measure the inside angle at this wall's right-hand end"
            raise InputError.at(f"room.walls[{i}]", found="no corner", allowed="a corner angle", advice=advice)


def _headings(angles: list[float]) -> list[float]:
    """Headings of the walls: the first runs along x, each corner turns to the right by 180 − angle."""
    headings = [0.0]
    for angle in angles[:-1]:
        headings.append(headings[-1] - (180.0 - angle))
    return headings


def _open(room: Room) -> tuple[SurveyedWall, ...]:
    angles = [w.corner if w.corner is not None else 180.0 for w in room.walls]
    start, walls = (0.0, 0.0), []
    for i, (wall, heading) in enumerate(zip(room.walls, _headings(angles), strict=True)):
        read = stations(wall, f"room.walls[{i}]")
        walls.append(SurveyedWall(wall.name, wall.length, heading, start, wall.corner, read))
        start = walls[-1].end
    return tuple(walls)


def _closed(room: Room) -> tuple[tuple[SurveyedWall, ...], Misclosure]:
    measured = [w.corner or 0.0 for w in room.walls]
    angle = sum(measured) - 180.0 * (len(measured) - 2)
    if abs(angle) > MISCLOSURE_ANGLE or len(measured) < 3:
        raise InputError.at(
            "room.walls",
            found=f"corners that add up to {sum(measured):g}°",
            allowed=f"{180 * (len(measured) - 2)}° ± {MISCLOSURE_ANGLE:g}° for {len(measured)} walls",
            advice="measure the corners again, or leave out the last corner for an open survey",
        )
    adjusted = [a - angle / len(measured) for a in measured]
    return _compass(room, adjusted, angle)


def _compass(room: Room, angles: list[float], angle: float) -> tuple[tuple[SurveyedWall, ...], Misclosure]:
    """Share the length misclosure over the walls' ends in proportion to their lengths."""
    lengths = [w.length for w in room.walls]
    legs = [upright((0.0, 0.0), h).to_room((d, 0, 0)) for d, h in zip(lengths, _headings(angles), strict=True)]
    dx, dy = sum(leg[0] for leg in legs), sum(leg[1] for leg in legs)
    gap = math.hypot(dx, dy)
    if gap > MISCLOSURE_LENGTH:
        raise InputError.at(
            "room.walls",
            found=f"walls that end {gap:.0f} mm from where they began",
            allowed=f"at most {MISCLOSURE_LENGTH:g} mm",
            advice="measure lengths and corners again",
        )
    shares = [d / sum(lengths) for d in lengths]
    sides = [(leg[0] - dx * s, leg[1] - dy * s) for leg, s in zip(legs, shares, strict=True)]
    return _chained(room, sides), Misclosure(angle, gap)


def _chained(room: Room, sides: list[Point]) -> tuple[SurveyedWall, ...]:
    """Walls end to end, each with the inside angle that it makes with the next."""
    headings = [_heading(side) for side in sides]
    start, walls = (0.0, 0.0), []
    for i, (wall, side) in enumerate(zip(room.walls, sides, strict=True)):
        corner = (180.0 - (headings[i] - headings[(i + 1) % len(sides)])) % 360.0
        read = stations(wall, f"room.walls[{i}]")
        walls.append(SurveyedWall(wall.name, math.hypot(*side), headings[i], start, corner, read))
        start = (start[0] + side[0], start[1] + side[1])
    return tuple(walls)


def _heading(vector: Point) -> float:
    """Degrees, rounded far below any tape so that square rooms are square."""
    return round(math.degrees(math.atan2(vector[1], vector[0])), 9)


def _check_openings(survey: Survey) -> None:
    walls = {w.name: w for w in survey.walls}
    for i, opening in enumerate(survey.openings):
        field = f"room.openings[{i}]"
        on_wall(opening.wall, opening.at, opening.width, field, walls)
        if not opening.sill < opening.head <= survey.height:
            found = f"sill {opening.sill:g}, head {opening.head:g}"
            raise InputError.at(f"{field}.head", found=found, allowed=f"above the sill, up to {survey.height:g} mm")
