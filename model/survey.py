"""Survey: from measured walls to a room, with the error that every measurement leaves.

A survey is *closed* when each wall has its corner angle: the last corner then leads back to the first wall, and
the measurements contradict each other a little. Angles are adjusted equally; then the length misclosure is
shared in proportion to wall lengths (compass rule, also Bowditch's rule; surveying textbooks, from memory).
An *open* survey is taken as measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from shapely import LineString, Polygon

from model.document import Opening, Room
from model.errors import InputError
from model.frames import Point, Pose, upright
from model.tolerance import MISCLOSURE_ANGLE, MISCLOSURE_LENGTH


@dataclass(frozen=True)
class SurveyedWall:
    """A wall in its place. ``corner`` is the adjusted inside angle (degrees) at its right-hand end, if known."""

    name: str
    length: float
    heading: float
    start: Point
    corner: float | None

    @cached_property
    def frame(self) -> Pose:
        """The wall frame: x along the wall, y into the room, z up."""
        return upright(self.start, self.heading)

    @cached_property
    def end(self) -> Point:
        """The right-hand end, in the room's plan."""
        x, y, _ = self.frame.to_room((self.length, 0.0, 0.0))
        return (x, y)

    @cached_property
    def line(self) -> LineString:
        """The foot of the wall in the room's plan, left to right."""
        return LineString([self.start, self.end])


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

    @cached_property
    def outline(self) -> Polygon | None:
        """The floor of a closed survey, in the room's plan; None for an open one."""
        return Polygon([w.start for w in self.walls]) if self.misclosure else None

    def wall(self, name: str) -> SurveyedWall:
        """The wall of that name. Raises KeyError."""
        return {w.name: w for w in self.walls}[name]

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
    survey = Survey(walls, room.height, room.openings, misclosure)
    _check_openings(survey)
    if survey.outline is not None and not survey.outline.is_valid:
        raise InputError.at(
            "room.walls", found="walls that cross each other", allowed="a room that encloses a floor"
        )
    return survey


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
    for wall, heading in zip(room.walls, _headings(angles), strict=True):
        walls.append(SurveyedWall(wall.name, wall.length, heading, start, wall.corner))
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
    return _chained([w.name for w in room.walls], sides), Misclosure(angle, gap)


def _chained(names: list[str], sides: list[Point]) -> tuple[SurveyedWall, ...]:
    """Walls end to end, each with the inside angle that it makes with the next."""
    headings = [_heading(side) for side in sides]
    start, walls = (0.0, 0.0), []
    for i, (name, side) in enumerate(zip(names, sides, strict=True)):
        corner = (180.0 - (headings[i] - headings[(i + 1) % len(sides)])) % 360.0
        walls.append(SurveyedWall(name, math.hypot(*side), headings[i], start, corner))
        start = (start[0] + side[0], start[1] + side[1])
    return tuple(walls)


def _heading(vector: Point) -> float:
    """Degrees, rounded far below any tape so that square rooms are square."""
    return round(math.degrees(math.atan2(vector[1], vector[0])), 9)


def _check_openings(survey: Survey) -> None:
    lengths = {w.name: w.length for w in survey.walls}
    for i, opening in enumerate(survey.openings):
        field = f"room.openings[{i}]"
        if opening.wall not in lengths:
            raise InputError.unknown(f"{field}.wall", opening.wall, lengths, "a wall")
        if opening.at + opening.width > lengths[opening.wall]:
            room_left = lengths[opening.wall] - opening.at
            raise InputError.at(
                f"{field}.width", found=f"{opening.width:g}", allowed=f"at most {room_left:.0f} mm here"
            )
        if not opening.sill < opening.head <= survey.height:
            found = f"sill {opening.sill:g}, head {opening.head:g}"
            raise InputError.at(f"{field}.head", found=found, allowed=f"above the sill, up to {survey.height:g} mm")
