"""Readings: every measurement of a room with how far it may be off, and the room with others in their place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from pydantic import BaseModel

from countersunk.model.document.schema import Obstacle, Opening, Room, Wall
from countersunk.model.survey.angles import corner_names
from countersunk.model.survey.observed import name_of, tolerance_of
from countersunk.model.survey.room import spoken
from countersunk.model.survey.walls import stations
from countersunk.model.tolerance import COVERAGE, READING

Read = TypeVar("Read", bound=BaseModel)
Path = tuple[str | int, ...]
"""Where a room has a value: ``("walls", 0, "length")``."""


READ = {"at": "left side", "width": "width", "depth": "depth", "out": "distance from the wall"}


@dataclass(frozen=True)
class Reading:
    """One measurement: in words, its value and the ± of it (mm, or degrees), and where the room has it."""

    what: str
    value: float
    tolerance: float
    at: Path

    @property
    def sigma(self) -> float:
        """Its standard deviation."""
        return self.tolerance / COVERAGE

    @property
    def unit(self) -> str:
        """What it is read in."""
        return "°" if self.at[-1] in ("corner", "angle") else "mm"

    @property
    def field(self) -> str:
        """The field of the document that holds it; of a piece that of its chain."""
        steps = self.at[: self.at.index("pieces") + 1] if "pieces" in self.at else self.at
        return "room" + "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps)


def readings(room: Room) -> tuple[Reading, ...]:
    """Everything that was measured along walls, across corners, off bowed walls and up to the ceiling, in the order
    of the document.
    """
    return (
        *_wall_readings(room), *_diagonal_readings(room), *_more_readings(room), *_positions(room), *_heights(room),
    )  # fmt: skip


def with_readings(room: Read, taken: Sequence[Reading], values: Sequence[float]) -> Read:
    """The room, or whatever else has the readings, as if ``values`` had been read. Nothing is validated, and
    nothing copied needlessly.
    """
    changes = [(r.at, value) for r, value in zip(taken, values, strict=True) if value != r.value]
    changed: Read = _with(room, changes) if changes else room
    return changed


def _with(item: Any, changes: Sequence[tuple[Path, float]]) -> Any:
    """A schema or a list of them with other values at some places; those below one step are changed together."""
    if not changes[0][0]:
        return changes[0][1]
    below: dict[str | int, list[tuple[Path, float]]] = {}
    for (step, *rest), value in changes:
        below.setdefault(step, []).append((tuple(rest), value))
    if isinstance(item, tuple):
        return tuple(_with(old, below[i]) if i in below else old for i, old in enumerate(item))
    return item.model_copy(update={str(key): _with(getattr(item, str(key)), some) for key, some in below.items()})


def _wall_readings(room: Room) -> Iterator[Reading]:
    names = corner_names(room)
    for i, wall in enumerate(room.walls):
        within = wall.tolerance or room.tolerance.wall
        yield Reading(f"wall {wall.name}", wall.length, within, ("walls", i, "length"))
        yield from _corner_reading(wall, names[i], i, room)
        yield from _bow_readings(wall, i, room)


def _corner_reading(wall: Wall, name: str, i: int, room: Room) -> Iterator[Reading]:
    allowed = room.tolerance
    if wall.corner is not None:
        within = wall.corner_tolerance or allowed.corner
        yield Reading(f"corner {name}", wall.corner, within, ("walls", i, "corner"))
    if wall.diagonal is not None:
        words = f"the diagonal at corner {name}"
        within = wall.diagonal.tolerance or allowed.diagonal
        yield Reading(words, wall.diagonal.length, within, ("walls", i, "diagonal", "length"))


def _bow_readings(wall: Wall, i: int, room: Room) -> Iterator[Reading]:
    """What stands off the line at its ends is nothing by definition, and no reading."""
    for x, hollow in stations(wall):
        if READING < x < wall.length - READING and wall.bow:
            at = ("walls", i, "bow", "offsets", round(x / wall.bow.every))
            yield Reading(f"the offset of wall {wall.name} at {x:g}", hollow, room.tolerance.offset, at)


def _diagonal_readings(room: Room) -> Iterator[Reading]:
    for i, brace in enumerate(room.diagonals):
        words = f"the diagonal {brace.start} to {brace.to}"
        yield Reading(words, brace.length, brace.tolerance or room.tolerance.diagonal, ("diagonals", i, "length"))


def _more_readings(room: Room) -> Iterator[Reading]:
    """What was measured besides; of a chain every piece."""
    for i, row in enumerate(room.measured):
        what, allowed = name_of(row, i), tolerance_of(row, room)
        for j, piece in enumerate(row.pieces or ()):
            yield Reading(f"piece {j + 1} of {what}", piece, allowed, ("measured", i, "pieces", j))
        for key, value in (("angle", row.angle), ("length", row.length)):
            if value is not None:
                yield Reading(what, value, allowed, ("measured", i, key))


def _positions(room: Room) -> Iterator[Reading]:
    for i, opening in enumerate(room.openings):
        what = f"the {opening.kind} in wall {opening.wall}"
        yield from _sizes(opening, what, ("openings", i), room, ("at", "width"))
    for i, obstacle in enumerate(room.obstacles):
        what = f"the {spoken(obstacle.kind)} on wall {obstacle.wall}"
        keys = ("at", "width", "depth", "out") if obstacle.out else ("at", "width", "depth")
        yield from _sizes(obstacle, what, ("obstacles", i), room, keys)


def _sizes(item: Opening | Obstacle, what: str, at: Path, room: Room, keys: Sequence[str]) -> Iterator[Reading]:
    """Where something is and how large, as far as it can end a run."""
    within = item.tolerance or room.tolerance.position
    for key in keys:
        yield Reading(f"the {READ[key]} of {what}", getattr(item, key), within, (*at, key))


def _heights(room: Room) -> Iterator[Reading]:
    yield Reading("the height of the room", room.height, room.tolerance.height, ("height",))
    for i, slope in enumerate(room.slopes):
        words, allowed = f"of the slope over wall {slope.wall}", room.tolerance
        yield Reading(f"the eaves {words}", slope.eaves, allowed.height, ("slopes", i, "eaves"))
        yield Reading(f"the run {words}", slope.run, allowed.position, ("slopes", i, "run"))
