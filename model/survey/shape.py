"""Shape: from the readings of a room to its walls end to end, adjusted to all of them.

What was read without a contradiction stays as it was read, to the last bit. All else is adjusted by least squares,
each reading by its own tolerance; the compass rule (see `model.survey.traverse`) only says where to begin.
A room of which corners were not measured is closed where that holds it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

import numpy as np

from countersunk.model.adjustment.least_squares import Adjustment, Network, UndeterminedError, adjust, adjust_near
from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.kept import kept
from countersunk.model.survey.angles import inside_angles
from countersunk.model.survey.observed import network
from countersunk.model.survey.traverse import Traverse, ends_of

AGREES = 1e-6
"""Readings that miss by less, in standard deviations, contradict nothing."""


@dataclass(frozen=True)
class RoomShape:
    """A room's walls as a ``traverse``: as read, or with corners that were not ``measured`` guessed.

    ``near`` is the shape by readings that differ a little, from which this one is adjusted the quicker.
    """

    room: Room
    closed: bool
    traverse: Traverse
    measured: tuple[bool, ...]
    near: RoomShape | None = None

    @property
    def complete(self) -> bool:
        """Whether the traverse holds nothing but readings."""
        return all(self.measured if self.closed else self.measured[:-1])

    @cached_property
    def legs(self) -> tuple[Point, ...]:
        """The walls as vectors, before they are adjusted; a closed room's by the compass rule."""
        return self.traverse.balanced().closed() if self.closed else self.traverse.legs

    @cached_property
    def observed(self) -> tuple[Network, tuple[str, ...]]:
        """The network of all readings, and the field of each."""
        return network(self.room, self.closed, ends_of(self.legs))

    @cached_property
    def adjustment(self) -> Adjustment:
        """All readings adjusted. Raises UndeterminedError."""
        start = self.observed[0]
        return adjust_near(start, self.near.adjustment) if self.near else adjust(start)

    @cached_property
    def agrees(self) -> bool:
        """Whether the readings contradict each other nowhere, so that nothing need be adjusted."""
        start = self.observed[0]
        return self.complete and float(np.max(np.abs(start.misfits(start.start)), initial=0.0)) < AGREES

    @property
    def sides(self) -> tuple[Point, ...]:
        """The walls as vectors, adjusted. Raises InputError for readings that no room fits."""
        if self.agrees:
            return self.legs
        try:
            return legs_of(self.adjustment, self.closed, len(self.room.walls))
        except UndeterminedError:
            raise InputError.at(
                "room.walls",
                found="walls and corners that no room fits",
                allowed="walls and corners of one room",
                advice="measure the walls again, and a diagonal across the room",
            ) from None


def legs_of(adjustment: Adjustment, closed: bool, count: int) -> tuple[Point, ...]:
    """The walls of an adjusted room as vectors."""
    names = [f"P{i % count if closed else i}" for i in range(count + 1)]
    at = [(adjustment.at[name, "x"], adjustment.at[name, "y"]) for name in names]
    return tuple((bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(at))


@kept(16)
def shape_of(room: Room) -> RoomShape:
    """The room's shape. Raises InputError for corners that were not measured where nothing holds the room."""
    angles = inside_angles(room)
    measured = tuple(angle is not None for angle in angles)
    if all(measured[:-1]):
        traverse = Traverse(_lengths(room), tuple(180.0 if a is None else a for a in angles))
        return RoomShape(room, measured[-1], traverse, measured)
    for closed in (False, True):
        if not closed and measured[-1]:
            continue
        shape = RoomShape(room, closed, Traverse(_lengths(room), _guessed(angles, closed)), measured)
        if _holds(shape):
            return replace(shape, traverse=_traverse_of(shape))
    raise _unmeasured(measured)


def shape_near(room: Room, near: RoomShape) -> RoomShape:
    """The same for a room of which the shape by readings that differ a little is known."""
    if near.complete:
        return replace(shape_of(room), near=near)
    return replace(near, room=room, near=near)


def _lengths(room: Room) -> tuple[float, ...]:
    return tuple(wall.length for wall in room.walls)


def _guessed(angles: tuple[float | None, ...], closed: bool) -> tuple[float, ...]:
    """The angles with those that were not measured as what they all would be in a closed room, or square."""
    missing = angles.count(None)
    left = 180.0 * (len(angles) - 2) - sum(a for a in angles if a is not None)
    usual = left / missing if closed else 90.0
    return tuple(usual if a is None else a for a in angles)


def _holds(shape: RoomShape) -> bool:
    """Whether all readings together hold a room of which corners are missing, and agree with some such room."""
    if shape.closed and len(shape.room.walls) < 3:
        return False
    try:
        adjusted = shape.adjustment
    except UndeterminedError:
        return False
    return adjusted.freedom > 0 or adjusted.chi_square < AGREES


def _traverse_of(shape: RoomShape) -> Traverse:
    """The walls as read between the corners as they were adjusted."""
    sides = legs_of(shape.adjustment, shape.closed, len(shape.room.walls))
    ways = [math.degrees(math.atan2(y, x)) for x, y in sides]
    corners = [(180.0 - (a - b)) % 360.0 for a, b in zip(ways, [*ways[1:], ways[0]], strict=True)]
    kept = zip(shape.traverse.angles, corners, shape.measured, strict=True)
    return replace(shape.traverse, angles=tuple(read if known else found for read, found, known in kept))


def _unmeasured(measured: tuple[bool, ...]) -> InputError:
    """The first corner that was not measured."""
    i = measured.index(False)
    return InputError.at(
        f"room.walls[{i}]",
        found="no corner",
        allowed="a corner angle, or a diagonal across the corner",
        advice="measure the inside angle at this wall's right-hand end; for four walls one of the "
        "room's diagonals does for all corners",
    )
