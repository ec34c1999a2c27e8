"""Blunders: which measurement most likely is wrong in a survey that misses too much, and what it should be.

Every reading in turn is left out and the room adjusted to all others (`model.adjustment.snooping`); what they then
leave is weighed by their tolerances. Opposite walls of a rectangle explain a gap equally well; then both are named.
With a single reading more than needed each explains it, and none is.

A gross error leads the adjustment astray. So it also starts from the room as every wall and corner in turn would
close it best: a wall by the part of the gap along it, a corner by the turn about it that brings the end nearest to
the beginning: where the perpendicular bisector of the closing line passes through the corner (surveying textbooks,
from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from countersunk.model.adjustment.least_squares import UndeterminedError
from countersunk.model.adjustment.observations import AcrossCorner, Angle, Key, Observation
from countersunk.model.adjustment.snooping import Suspect, alone, suspects
from countersunk.model.survey.besides import Telling, would_tell
from countersunk.model.survey.observed import start_of
from countersunk.model.survey.shape import RoomShape
from countersunk.model.survey.traverse import Traverse, ends_of

SPELT = 3
"""More than these are named in a list: of a room with square corners every wall along the gap explains it."""

NOBODY = (
    "measure every diagonal again, then the walls and corners between them: with one reading more than needed "
    "nothing tells which is wrong"
)


@dataclass(frozen=True)
class Blunder:
    """A measurement in words, its field in the document, the value that would close the survey, and its place among
    the observations.
    """

    what: str
    field: str
    value: str
    index: int

    @property
    def remedy(self) -> str:
        """What to do about it, and what is likely to come of it."""
        return f"{self.what} again ({self.value} would close the room)"


def blunders(shape: RoomShape) -> tuple[list[Blunder], list[Blunder]]:
    """Those of which one alone closes the room, and all in the order in which they come nearest to it."""
    network, _ = shape.observed
    if network.freedom <= 1:
        return [], []
    ordered = alone(network, list(starts(shape)))
    named = suspects(ordered, network.freedom)
    return [blunder(shape, s) for s in named], [blunder(shape, s) for s in ordered]


def advice(named: list[Blunder], ordered: list[Blunder], shape: RoomShape) -> str:
    """What to measure again, in words."""
    if not ordered:
        return NOBODY
    if not named:
        return f"measure everything again: no single measurement explains it; begin with {ordered[0].what}"
    telling = _telling(named, shape) if len(named) > 1 else None
    apart = f"; measure {telling.what} as well, {telling.words}" if telling else ""
    if len(named) > SPELT:
        those = ", ".join(f"{b.what} ({b.value})" for b in named)
        return f"measure again {those}: any one of them would close the room{apart}"
    return f"measure {', or '.join(b.remedy for b in named)}{apart}"


def _telling(named: list[Blunder], shape: RoomShape) -> Telling | None:
    """What would tell them apart; nothing where no room fits all readings."""
    try:
        return would_tell(shape, [b.index for b in named])
    except UndeterminedError:
        return None


def blunder(shape: RoomShape, suspect: Suspect) -> Blunder:
    """A suspect in words."""
    network, fields = shape.observed
    observation, field = network.observations[suspect.index], fields[suspect.index]
    if isinstance(observation, AcrossCorner) and suspect.likely > sum(observation.legs):
        what, side = observation.name.replace("the diagonal", "the marks"), str(not observation.reflex).lower()
        return Blunder(what, f"{field.removesuffix('length')}external", f"external: {side}", suspect.index)
    return Blunder(observation.name, field, in_unit(observation, suspect.likely), suspect.index)


def in_unit(observation: Observation, value: float) -> str:
    """A value of an observation as it is read: whole mm, tenths of a degree."""
    return f"{value % 360.0:.1f}°" if isinstance(observation, Angle) else f"{value:.0f}"


def starts(shape: RoomShape) -> Iterator[Mapping[Key, float]]:
    """The room as it was read, and as every wall and corner in turn would close it best."""
    for traverse in (shape.traverse, *(_closings(shape.traverse) if shape.closed else ())):
        legs = traverse.balanced().closed() if shape.closed else traverse.legs
        yield start_of(shape.closed, ends_of(legs))


def _closings(traverse: Traverse) -> Iterator[Traverse]:
    square = traverse.balanced()
    gx, gy = square.gap
    for i, (x, y) in enumerate(square.legs):
        length = traverse.lengths[i] - (gx * x + gy * y) / traverse.lengths[i]
        if length > 0:
            yield traverse.with_length(i, length)
    for i, angle in enumerate(traverse.angles):
        yield traverse.with_angle(i, (angle + _turn(traverse, i)) % 360.0)


def _turn(traverse: Traverse, i: int) -> float:
    """Degrees to add to an angle so that the end comes nearest to the beginning; the last one turns nothing."""
    if i == len(traverse.angles) - 1:
        return -traverse.over
    (px, py), (ex, ey) = traverse.ends[i], traverse.gap
    turn = math.degrees(math.atan2(-py, -px) - math.atan2(ey - py, ex - px))
    return (turn + 180.0) % 360.0 - 180.0
