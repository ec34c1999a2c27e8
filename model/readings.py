"""Readings: every measurement of a room with how far it may be off, and the room with others in their place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from model.document import Room, Strict, Wall
from model.survey.angles import corner_names, is_braced
from model.survey.room import spoken

COVERAGE = 2.0
"""A reading's ± in standard deviations: 19 in 20 lie within (coverage factor of JCGM 100, the GUM, from memory)."""


@dataclass(frozen=True)
class Reading:
    """One measurement: in words, its value and the ± of it (mm, or degrees), and where the document has it."""

    what: str
    value: float
    tolerance: float
    owner: tuple[str, int]
    key: tuple[str, ...]

    @property
    def sigma(self) -> float:
        """Its standard deviation."""
        return self.tolerance / COVERAGE


def readings(room: Room) -> tuple[Reading, ...]:
    """Everything that was measured along walls and across corners, in the order of the document.

    A diagonal of the room counts only where the room follows from it: else it is a check and moves nothing.
    """
    return (*_wall_readings(room), *_diagonal_readings(room), *_positions(room))


def with_readings(room: Room, taken: Sequence[Reading], values: Sequence[float]) -> Room:
    """The room as if ``values`` had been read instead. Nothing is validated."""
    changed: dict[str, list[Any]] = {}
    for reading, value in zip(taken, values, strict=True):
        group, i = reading.owner
        items = changed.setdefault(group, list(getattr(room, group)))
        items[i] = _with(items[i], reading.key, value)
    return room.model_copy(update={group: tuple(items) for group, items in changed.items()})


def _with(item: Strict, key: tuple[str, ...], value: float) -> Strict:
    new = _with(getattr(item, key[0]), key[1:], value) if len(key) > 1 else value
    return item.model_copy(update={key[0]: new})


def _wall_readings(room: Room) -> Iterator[Reading]:
    names = corner_names(room)
    for i, wall in enumerate(room.walls):
        yield Reading(f"wall {wall.name}", wall.length, room.tolerance.wall, ("walls", i), ("length",))
        yield from _corner_reading(wall, names[i], i, room)


def _corner_reading(wall: Wall, name: str, i: int, room: Room) -> Iterator[Reading]:
    allowed = room.tolerance
    if wall.corner is not None:
        yield Reading(f"corner {name}", wall.corner, allowed.corner, ("walls", i), ("corner",))
    if wall.diagonal is not None:
        words = f"the diagonal at corner {name}"
        yield Reading(words, wall.diagonal.length, allowed.diagonal, ("walls", i), ("diagonal", "length"))


def _diagonal_readings(room: Room) -> Iterator[Reading]:
    if is_braced(room):
        brace = room.diagonals[0]
        words = f"the diagonal {brace.start} to {brace.to}"
        yield Reading(words, brace.length, room.tolerance.diagonal, ("diagonals", 0), ("length",))


def _positions(room: Room) -> Iterator[Reading]:
    for i, opening in enumerate(room.openings):
        words = f"the left side of the {opening.kind} in wall {opening.wall}"
        yield Reading(words, opening.at, room.tolerance.position, ("openings", i), ("at",))
    for i, obstacle in enumerate(room.obstacles):
        words = f"the left side of the {spoken(obstacle.kind)} on wall {obstacle.wall}"
        yield Reading(words, obstacle.at, room.tolerance.position, ("obstacles", i), ("at",))
