"""Walls: a surveyed wall in its place, and its true face where it is bowed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from shapely import LineString, Polygon
from shapely import box as rectangle

from countersunk.model.document.schema import Wall
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point, Pose, upright
from countersunk.model.tolerance import CONTACT, FIT, READING

LENGTH_DOUBT = 30.0
"""A last station of 0 this little past a wall's end is its end, read once more, mm (common practice)."""

BEHIND = 1.0
"""How far a bulge is drawn on behind the chord, mm; it has no other meaning."""


@dataclass(frozen=True)
class SurveyedWall:
    """A wall in its place. ``corner`` is the adjusted inside angle (degrees) at its right-hand end, if known.

    ``start``, ``length`` and ``frame`` are those of the chord, the straight line between its ends, by which units
    and tops are placed. ``stations`` are what was read off it: mm along the wall, and hollow (mm, see `Bow`).
    ``read`` is its length before it was adjusted: what was measured along it may reach as far. ``ends`` is how
    hollow it is at its left and right end, 0 unless it was measured from fitted units and not from its own ends.
    """

    name: str
    length: float
    heading: float
    start: Point
    corner: float | None
    stations: tuple[Point, ...] = ()
    read: float = 0.0
    ends: Point = (0.0, 0.0)

    def within(self, at: float, width: float = 0.0) -> float:
        """Where what was measured at ``at`` begins: no further along than what is ``width`` wide has its place."""
        return self.length - width if at + width > self.length + FIT else at

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
        """The chord at the foot of the wall in the room's plan, left to right."""
        return LineString([self.start, self.end])

    @cached_property
    def face(self) -> tuple[Point, ...]:
        """The wall's true face in the wall frame, straight from station to station: y < 0 where it is hollow."""
        inner = ((x, -hollow) for x, hollow in self.stations if READING < x < self.length - READING)
        left, right = self.ends
        return ((0.0, 0.0 - left), *inner, (self.length, 0.0 - right))

    @cached_property
    def bow(self) -> LineString:
        """The same as a line, to be intersected."""
        return LineString(self.face)

    @cached_property
    def bulges(self) -> tuple[Polygon, ...]:
        """Where the true face stands into the room past the chord, in the room's plan, and a little behind it:
        what is cut along both must leave nothing between.
        """
        far = max(y for _, y, *_ in self.bow.coords)
        if far <= CONTACT:
            return ()
        behind = min(y for _, y, *_ in self.bow.coords) - BEHIND
        wall = Polygon([*self.bow.coords, (self.length, behind), (0.0, behind)])
        past = wall.intersection(rectangle(0.0, -BEHIND, self.length, 2 * far))
        parts = (p for p in getattr(past, "geoms", [past]) if isinstance(p, Polygon))
        return tuple(self.frame.plan_to_room(p) for p in parts if p.bounds[3] > CONTACT)

    def face_at(self, x: float) -> float:
        """Where the true face stands ``x`` mm along the wall: y of the wall frame, mm."""
        along, out = zip(*self.face, strict=True)
        return float(np.interp(x, along, out))

    def peak(self, low: float, high: float) -> float:
        """How far the true face stands into the room past the chord at most, between two places along it, mm."""
        between = [y for x, y in self.face if low < x < high]
        return max(0.0, self.face_at(low), self.face_at(high), *between)


def stations(wall: Wall) -> tuple[Point, ...]:
    """The stations of a wall's bow: mm along the wall, and hollow."""
    if wall.bow is None:
        return ()
    read = tuple((i * wall.bow.every, hollow) for i, hollow in enumerate(wall.bow.offsets))
    if read[-1][1] == 0.0 and wall.length + READING < read[-1][0] < wall.length + LENGTH_DOUBT:
        return read[:-1]  # the wall's end, by a reading of its length that differs a little
    return read


def check_stations(wall: Wall, field: str) -> None:
    """Raises InputError for stations past the wall's end, and for ends off the chord."""
    read = stations(wall)
    if wall.bow is None:
        return
    if read[-1][0] > wall.length + READING:
        most = int((wall.length + READING) // wall.bow.every) + 1
        raise InputError.at(
            f"{field}.bow.offsets",
            found=f"{len(read)} stations, the last at {read[-1][0]:g}",
            allowed=f"at most {most}, every {wall.bow.every:g} along the {wall.length:g} of wall {wall.name}",
            advice="another distance in every, or leave out what was read past the wall's end",
        )
    for i, (x, hollow) in enumerate(read):
        if hollow and not READING < x < wall.length - READING:
            raise InputError.at(
                f"{field}.bow.offsets[{i}]",
                found=f"{hollow:g} at the wall's {'left' if i == 0 else 'right'} end",
                allowed="0, since offsets are read from the straight line between the wall's ends",
                advice="stretch the line from end to end, or take off what it stood out at the ends",
            )
