"""Weighing: every reading of a room with what the others make of it, which to doubt, and what nothing checks."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from countersunk.model.adjustment.least_squares import Adjustment, Network
from countersunk.model.adjustment.limits import chi_square_limit
from countersunk.model.adjustment.observations import AcrossCorner, Angle, Distance, Observation
from countersunk.model.adjustment.snooping import Diagnosis, Suspect, judge
from countersunk.model.document.schema import Room
from countersunk.model.survey.angles import corner_names
from countersunk.model.survey.blunders import in_unit
from countersunk.model.survey.mistakes import mistake
from countersunk.model.survey.shape import RoomShape, shape_of
from countersunk.model.ties import least
from countersunk.model.tolerance import COVERAGE

NOTHING = (0.0, math.inf)
"""The standardised residual and the least error that shows, of what nothing checks."""

ALONE = 1e-3
"""With a redundancy number below this nothing that is worth the name checks a reading."""


@dataclass(frozen=True)
class Weighed:
    """A reading in words and in its ``field``: its value and its ± as read, what it was adjusted by (``residual``,
    adjusted less read), how much the others check it (``redundancy``, 0 to 1), the residual in its own standard
    deviations, and the least error of it that shows four times in five; all in mm or degrees.
    """

    what: str
    field: str
    value: float
    tolerance: float
    unit: str
    residual: float
    redundancy: float
    standardised: float
    least_detectable: float
    suspected: bool = False

    @property
    def alone(self) -> bool:
        """Whether nothing checks it."""
        return self.redundancy < ALONE


@dataclass(frozen=True)
class Weighing:
    """All readings of a room, what they say about themselves, and in words what to do about it."""

    rows: tuple[Weighed, ...]
    freedom: int
    chi_square: float
    verdict: Diagnosis
    words: tuple[str, ...]


def weigh(room: Room) -> Weighing:
    """The readings of a room that was placed. Raises UndeterminedError for one that nothing holds."""
    shape = shape_of(room)
    adjusted = shape.adjustment
    verdict = judge(adjusted)
    rows = tuple(_rows(shape, verdict))
    words = (*_verdict(adjusted, verdict), *_unseen(rows, shape))
    return Weighing(rows, adjusted.freedom, adjusted.chi_square, verdict, words)


def _rows(shape: RoomShape, verdict: Diagnosis) -> Iterator[Weighed]:
    adjusted, (network, fields) = shape.adjustment, shape.observed
    doubted = {suspect.index for suspect in verdict.suspects}
    for i, (o, field) in enumerate(zip(network.observations, fields, strict=True)):
        r = float(adjusted.redundancy[i])
        w, shown = (float(adjusted.standardised[i]), float(adjusted.least_detectable[i])) if r >= ALONE else NOTHING
        suspected = i in doubted or (verdict.single and r >= ALONE)
        v, tolerance = float(adjusted.residuals[i]), COVERAGE * o.sigma
        yield Weighed(o.name, field, o.value, tolerance, unit_of(o), v, r, w, shown, suspected)


def unit_of(observation: Observation) -> str:
    """What it is read in."""
    return "°" if isinstance(observation, Angle) else "mm"


def _verdict(adjusted: Adjustment, verdict: Diagnosis) -> Iterator[str]:
    """Whether the readings agree, and which to measure again."""
    limit = chi_square_limit(adjusted.freedom)
    tested = f"χ² is {adjusted.chi_square:.1f}, where {limit:.1f} is exceeded once in twenty"
    if not verdict.checked:
        yield "Nothing checks these readings: no statistics can find a mistake in them."
    elif verdict.sound:
        yield f"The readings agree within their tolerances ({tested})."
    elif verdict.single:
        yield (
            f"The readings contradict each other ({tested}). With one reading more than needed nothing tells which "
            "is wrong: measure all of them again, or anything a second time."
        )
    else:
        yield f"The readings contradict each other by more than their tolerances explain ({tested})."
        yield _again(adjusted, verdict.suspects)


def _again(adjusted: Adjustment, suspects: Sequence[Suspect]) -> str:
    if not suspects:
        worst = adjusted.network.observations[int(np.nanargmax(np.abs(adjusted.standardised)))]
        return f"No single reading explains it: measure {worst.name} again first, then weigh the readings again."
    named = ", or ".join(_likely(adjusted, suspect) for suspect in suspects)
    apart = "" if len(suspects) == 1 else "; these readings cannot tell them apart"
    return f"Measure again {named}{apart}."


def _likely(adjusted: Adjustment, suspect: Suspect) -> str:
    """A suspect with what all others make of it, and how that may have been misread."""
    o = adjusted.network.observations[suspect.index]
    value, read = in_unit(o, suspect.likely), f"{o.value:g}{'°' if isinstance(o, Angle) else ''}"
    within = COVERAGE * o.sigma / math.sqrt(adjusted.redundancy[suspect.index])
    slip = "" if isinstance(o, Angle | AcrossCorner) else mistake(o.value, suspect.likely, within)
    return f"{o.name} ({read}; {value} by the others{f': perhaps {slip}' if slip else ''})"


def _unseen(rows: Sequence[Weighed], shape: RoomShape) -> Iterator[str]:
    """What rests on one reading, what could hide in the walls, and which lengths would show it."""
    alone = [row.what for row in rows if row.alone]
    if 0 < len(alone) < len(rows):
        by = "it" if len(alone) == 1 else "them"
        yield f"Nothing checks {_and(alone)}: what is cut by {by} rests on one reading."
    checked = [row for row in rows if not row.alone and row.unit == "mm"]
    if checked:
        worst = least(checked, key=lambda row: -row.least_detectable)
        yield f"An error of less than {worst.least_detectable:.0f} mm in {worst.what} might not show."
    yield from _more(shape, least_shown(shape.adjustment))


def _more(shape: RoomShape, now: float) -> Iterator[str]:
    """Which lengths across the room would show the most."""
    for count in (1, 2):
        found = [(least_shown_with(shape, some), some) for some in combinations(_across(shape), count)]
        if not found:
            continue
        shown, some = least(found, key=lambda each: each[0])
        if shown < 0.9 * now:
            names = " and ".join(f"{a} to {b}" for a, b, *_ in some)
            yield f"With {names} as well, an error of {shown:.0f} mm in any length would show."
            now = shown


Line = tuple[str, str, str, str]
"""A length across a room: from corner to corner, and the points of both."""


def _across(shape: RoomShape) -> list[Line]:
    """Lengths across a room that were not measured yet, between corners with no wall between them."""
    count = len(shape.room.walls)
    names = corner_names(shape.room) if shape.closed else [*corner_names(shape.room)[:-1], "end"]
    ends = [(name, f"P{(i + 1) % count if shape.closed else i + 1}") for i, name in enumerate(names)]
    ends = ends if shape.closed else [("start", "P0"), *ends]
    read = {frozenset((o.a, o.b)) for o in shape.observed[0].observations if isinstance(o, Distance)}
    lines = ((a, b, p, q) for (a, p), (b, q) in combinations(ends, 2))
    return [line for line in lines if frozenset(line[2:]) not in read][:MOST]


MOST = 15
"""More lengths across a room are not tried: two of them are chosen from all pairs."""


def least_shown(adjusted: Adjustment) -> float:
    """The largest of the least errors in walls that show, mm; infinite where one never does."""
    walls = [i for i, o in enumerate(adjusted.network.observations) if isinstance(o, Distance)]
    return float(np.max(adjusted.least_detectable[walls]))


def least_shown_with(shape: RoomShape, lines: Sequence[Line]) -> float:
    """The same with more lengths, each as sure as a diagonal of the room."""
    adjusted, sigma = shape.adjustment, shape.room.tolerance.diagonal / COVERAGE
    more = tuple(Distance(f"{a} to {b}", 0.0, sigma, p, q) for a, b, p, q in lines)
    network: Network = replace(adjusted.network, observations=(*adjusted.network.observations, *more))
    return least_shown(Adjustment(network, adjusted.at))


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
