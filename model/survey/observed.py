"""Observed: every measurement of a room that its corners must agree with, as an observation between points.

Points are P0, the left end of the first wall, P1, its right end, and so on; in a closed room the last one is P0
again. P0 is where the room frame begins and P0 to P1 its x axis.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from countersunk.model.adjustment.least_squares import Network
from countersunk.model.adjustment.observations import (
    AcrossCorner,
    Angle,
    Distance,
    Key,
    Observation,
    Offset,
    Square,
    Width,
)
from countersunk.model.document.measured import Measured
from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.survey.angles import corner_names
from countersunk.model.survey.heights import governing
from countersunk.model.tolerance import COVERAGE

FIXED = frozenset({("P0", "x"), ("P0", "y"), ("P1", "y")})

FORMS = {
    ("length", "wall"): "a wall",
    ("pieces", "wall"): "a chain along a wall",
    ("angle", "corner"): "a corner",
    ("corner", "legs", "length"): "a tape across a corner",
    ("corner", "length", "square_to"): "a corner square to a wall",
    ("from", "length", "to"): "between two corners",
    ("length", "out", "wall"): "a width before a wall",
    ("across", "at", "length", "wall"): "square from a wall to another",
}
"""What a row of ``measured`` may say, by its keys in the order of the alphabet."""

ASIDE = {"tolerance", "height", "note", "external"}
"""What any row may say besides."""

Row = tuple[Observation, str]
"""An observation, and the field of the document that holds it."""


@dataclass(frozen=True)
class Points:
    """The corners of a room by their names, and the ends of its walls."""

    room: Room
    closed: bool

    def point(self, i: int) -> str:
        """The left end of wall ``i``, which is the right end of the one before."""
        return f"P{i % len(self.room.walls) if self.closed else i}"

    def ends(self, i: int) -> tuple[str, str]:
        """Both ends of a wall."""
        return self.point(i), self.point(i + 1)

    def corner(self, i: int) -> tuple[str, str, str]:
        """The corner at a wall's right-hand end, and the ends of its walls further off: on the next, on its own."""
        return self.point(i + 1), self.point(i + 2), self.point(i)

    def wall(self, name: str, field: str) -> int:
        """Which wall has that name. Raises InputError."""
        names = [wall.name for wall in self.room.walls]
        if name not in names:
            raise InputError.unknown(field, name, names, "a wall")
        return names.index(name)

    def corner_at(self, name: str, field: str) -> int:
        """At which wall's right-hand end that corner is. Raises InputError."""
        names = corner_names(self.room) if self.closed else corner_names(self.room)[:-1]
        if name not in names:
            raise InputError.unknown(field, name, names, "a corner")
        return names.index(name)

    def named(self, name: str, field: str) -> str:
        """A corner, or an end of the walls of an open room. Raises InputError."""
        if not self.closed and name in ("start", "end"):
            return self.point(0 if name == "start" else len(self.room.walls))
        return self.point(self.corner_at(name, field) + 1)


def network(room: Room, closed: bool, ends: tuple[Point, ...]) -> tuple[Network, tuple[str, ...]]:
    """A room's network, its walls thought to end at ``ends``, and the field of every observation."""
    rows = list(observed(room, closed))
    return Network(start_of(closed, ends), FIXED, tuple(row[0] for row in rows)), tuple(row[1] for row in rows)


def start_of(closed: bool, ends: tuple[Point, ...]) -> Mapping[Key, float]:
    """Coordinates of all points from the right-hand ends of the walls, turned so that the first lies along x."""
    turn = math.atan2(ends[0][1], ends[0][0])
    c, s = math.cos(turn), math.sin(turn)
    inner = ends[:-1] if closed else ends
    places = [(0.0, 0.0), *((x * c + y * s, y * c - x * s) for x, y in inner)]
    places[1] = (math.hypot(*ends[0]), 0.0)
    return {(f"P{i}", axis): v for i, place in enumerate(places) for axis, v in zip("xy", place, strict=True)}


def observed(room: Room, closed: bool) -> Iterator[Row]:
    """Walls and corners, diagonals, then what was measured besides. Raises InputError for names that are none."""
    points = Points(room, closed)
    for i in range(len(room.walls)):
        yield from _wall(points, i)
    for i, diagonal in enumerate(room.diagonals):
        field, name = f"room.diagonals[{i}]", f"the diagonal {diagonal.start} to {diagonal.to}"
        a, b = points.named(diagonal.start, f"{field}.from"), points.named(diagonal.to, f"{field}.to")
        sigma = (diagonal.tolerance or room.tolerance.diagonal) / COVERAGE
        yield Distance(name, diagonal.length, sigma, a, b), f"{field}.length"
    governs = governing(room)
    for i, row in enumerate(room.measured):
        found = measured(points, row, i)
        if i in governs:
            yield found


def _wall(points: Points, i: int) -> Iterator[Row]:
    wall, allowed, field = points.room.walls[i], points.room.tolerance, f"room.walls[{i}]"
    sigma = (wall.tolerance or allowed.wall) / COVERAGE
    yield Distance(f"wall {wall.name}", wall.length, sigma, *points.ends(i)), f"{field}.length"
    if not points.closed and i == len(points.room.walls) - 1:
        return
    name, (corner, on, back) = corner_names(points.room)[i], points.corner(i)
    if wall.corner is not None:
        sigma = (wall.corner_tolerance or allowed.corner) / COVERAGE
        yield Angle(f"corner {name}", wall.corner, sigma, corner, on, back), f"{field}.corner"
    if wall.diagonal is not None:
        words, across = f"the diagonal at corner {name}", wall.diagonal
        sigma = (across.tolerance or allowed.diagonal) / COVERAGE
        yield (
            AcrossCorner(words, across.length, sigma, corner, back, on, across.legs, across.external),
            f"{field}.diagonal.length",
        )


def form_of(row: Measured, field: str) -> str:
    """What a row of ``measured`` says. Raises InputError where its keys belong to nothing."""
    keys = tuple(sorted(set(row.model_dump(exclude_none=True, exclude_defaults=True)) - ASIDE))
    if keys not in FORMS:
        raise InputError.at(
            field,
            found=", ".join(keys) or "nothing",
            allowed="; ".join(f"{words}: {', '.join(form)}" for form, words in FORMS.items()),
            advice="one measurement a row, with just these keys",
        )
    return FORMS[keys]


def name_of(row: Measured, index: int) -> str:
    """A row of ``measured`` in words."""
    form = form_of(row, f"room.measured[{index}]")
    high = "" if row.height is None else f", {row.height:g} above the floor"
    return f"{WORDS[form].format(**row.model_dump(by_alias=True))}{high} (row {index + 1})"


def tolerance_of(row: Measured, room: Room) -> float:
    """How far a row of ``measured`` may be off: its own, or the room's for its kind."""
    allowed = room.tolerance
    along = row.wall is not None and row.out is None and row.across is None
    usual = allowed.corner if row.angle is not None else allowed.wall if along else allowed.diagonal
    return row.tolerance or usual


def measured(points: Points, row: Measured, index: int) -> Row:
    """A row of ``measured``. Raises InputError for names that are none."""
    field = f"room.measured[{index}]"
    form = form_of(row, field)
    sigma = tolerance_of(row, points.room) / COVERAGE
    key = "angle" if row.angle is not None else "pieces" if row.pieces else "length"
    return MAKERS[form](points, row, field, name_of(row, index), sigma), f"{field}.{key}"


def _again(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    return Distance(name, row.length or 0.0, sigma, *points.ends(points.wall(row.wall or "", f"{field}.wall")))


def _chain(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    ends, pieces = points.ends(points.wall(row.wall or "", f"{field}.wall")), row.pieces or ()
    return Distance(name, sum(pieces), sigma * math.sqrt(len(pieces)), *ends)


def _corner(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    places = points.corner(points.corner_at(row.corner or "", f"{field}.corner"))
    return Angle(name, row.angle or 0.0, sigma, *places)


def _tape(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    corner, on, back = points.corner(points.corner_at(row.corner or "", f"{field}.corner"))
    legs = row.legs or (1.0, 1.0)
    return AcrossCorner(name, row.length or 0.0, sigma, corner, back, on, legs, bool(row.external))


def _square_to(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    corner = points.named(row.corner or "", f"{field}.corner")
    ends = points.ends(points.wall(row.square_to or "", f"{field}.square_to"))
    return Offset(name, row.length or 0.0, sigma, corner, *ends)


def _between(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    a, b = points.named(row.start or "", f"{field}.from"), points.named(row.to or "", f"{field}.to")
    return Distance(name, row.length or 0.0, sigma, a, b)


def _width(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    i, count = points.wall(row.wall or "", f"{field}.wall"), len(points.room.walls)
    if not points.closed and not 0 < i < count - 1:
        raise InputError.at(
            f"{field}.wall",
            found=f"{row.wall}",
            allowed="a wall between two others",
            advice="measure from the wall on its left to the wall on its right",
        )
    left, right = (points.ends(k % count) for k in (i - 1, i + 1))
    return Width(name, row.length or 0.0, sigma, points.ends(i), left, right, row.out or 0.0)


def _across(points: Points, row: Measured, field: str, name: str, sigma: float) -> Observation:
    i = points.wall(row.wall or "", f"{field}.wall")
    there = points.ends(points.wall(row.across or "", f"{field}.across"))
    return Square(
        name, row.length or 0.0, sigma, points.ends(i), there, (row.at or 0.0) / points.room.walls[i].length
    )


MAKERS = {
    "a wall": _again,
    "a chain along a wall": _chain,
    "a corner": _corner,
    "a tape across a corner": _tape,
    "a corner square to a wall": _square_to,
    "between two corners": _between,
    "a width before a wall": _width,
    "square from a wall to another": _across,
}

WORDS = {
    "a wall": "wall {wall} again",
    "a chain along a wall": "the chain along wall {wall}",
    "a corner": "corner {corner} again",
    "a tape across a corner": "the diagonal at corner {corner} again",
    "a corner square to a wall": "corner {corner} square to wall {square_to}",
    "between two corners": "the distance {from} to {to}",
    "a width before a wall": "the width {out:g} before wall {wall}",
    "square from a wall to another": "from wall {wall} at {at:g} square to wall {across}",
}
