"""Weighing: every reading of a room with what the others make of it, which to doubt, and what nothing checks.

What then to measure again stands in an order, each step with what it would settle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from countersunk.model.adjustment.least_squares import Adjustment
from countersunk.model.adjustment.limits import SINGLE, WHOLE, chance_of, chi_square_limit, normal_limit
from countersunk.model.adjustment.observations import AcrossCorner, Angle, Observation
from countersunk.model.adjustment.snooping import Diagnosis, Suspect, judge, worst_residual
from countersunk.model.document.schema import Room
from countersunk.model.survey.besides import (
    ALONE,
    Brace,
    Checked,
    Telling,
    with_lines,
    would_check,
    would_show,
    would_tell,
)
from countersunk.model.survey.blunders import in_unit, starts
from countersunk.model.survey.leaning import Lean, leans, off_tops
from countersunk.model.survey.mistakes import mistake
from countersunk.model.survey.shape import RoomShape, shape_of
from countersunk.model.ties import least, rounded_up
from countersunk.model.tolerance import COVERAGE

NOTHING = (0.0, math.inf)
"""The standardised residual and the least error that shows, of what nothing checks."""


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
    """All readings of a room, and what they say about themselves.

    ``said`` is that in sentences, and ``steps`` what to measure again or besides, in this order, without full
    stops. ``more`` are lengths across the room, in words, that would check the most. ``leaning`` are readings at
    other heights than that of tops, which corners do not go by. ``telling`` is what would tell suspects apart, and
    ``checked_by`` the length that would check what nothing checks, in words, by its field.
    """

    rows: tuple[Weighed, ...]
    freedom: int
    chi_square: float
    verdict: Diagnosis
    said: tuple[str, ...]
    steps: tuple[str, ...]
    more: str
    leaning: tuple[Lean, ...]
    telling: Telling | None
    checked_by: Mapping[str, str]

    @property
    def chance(self) -> str:
        """How many right surveys in a thousand miss themselves by as much, or right readings, in words."""
        right = 1000 * chance_of(self.chi_square, self.freedom)
        if self.verdict.contradicted:
            return f"fewer than 1 right {'survey' if right < 1 else 'reading'} in 1000 is so far off"
        return f"{rounded_up(right)} right surveys in 1000 are as far off"

    @property
    def words(self) -> tuple[str, ...]:
        """Every sentence about the readings, the verdict first."""
        return (*self.said, *(f"{step}." for step in self.steps))


@lru_cache(maxsize=8)
def weigh(room: Room) -> Weighing:
    """The readings of a room that was placed. Raises UndeterminedError for one that nothing holds."""
    shape = shape_of(room)
    adjusted = shape.adjustment
    verdict = judge(adjusted, starts(shape))
    rows = tuple(_rows(shape, verdict))
    besides = list(would_show(shape))
    leaning, alone = tuple(leans(shape)), [i for i, row in enumerate(rows) if row.alone]
    left = _left_alone(shape, alone, besides)
    doubted = [] if verdict.sound else [i for i, row in enumerate(rows) if row.suspected]
    telling = would_tell(shape, doubted) if len(doubted) > 1 else None
    said = (_verdict(adjusted, verdict), *_unseen(rows), *(lean.words for lean in leaning))
    steps = (
        *_again(adjusted, verdict, telling),
        *_at_heights(shape, leaning),
        *(_would_show(some, shown) for some, shown in besides),
        *_checking(rows, left, would_check(shape, left)),
    )
    more = in_a_list([*map(str, besides[-1][0])]) if besides else ""
    by = {rows[i].field: str(line) for line, checked in would_check(shape, alone) for i in checked}
    return Weighing(rows, adjusted.freedom, adjusted.chi_square, verdict, said, steps, more, leaning, telling, by)


def _left_alone(
    shape: RoomShape, alone: Sequence[int], besides: Sequence[tuple[Sequence[Brace], float]]
) -> list[int]:
    """Those of the readings that nothing checks which the lengths ``besides`` do not check either."""
    if not besides or not alone:
        return [*alone]
    redundancy = with_lines(shape, besides[-1][0]).redundancy
    return [i for i in alone if redundancy[i] < ALONE]


def shows_from(shape: RoomShape) -> Mapping[str, float]:
    """The least error that shows, of every reading that corners must agree with, by its field; mm or degrees.

    Infinite where nothing checks a reading; a reading that is not there is checked by nothing either.
    """
    adjusted, (_, fields) = shape.adjustment, shape.observed
    checked = zip(fields, adjusted.redundancy, adjusted.least_detectable, strict=True)
    return {field: float(least) if r >= ALONE else math.inf for field, r, least in checked}


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


def _verdict(adjusted: Adjustment, verdict: Diagnosis) -> str:
    """Whether the readings agree, and at which level that is judged."""
    usual, rare = (chi_square_limit(adjusted.freedom, chance) for chance in (WHOLE, SINGLE))
    tested = f"χ² is {adjusted.chi_square:.1f}; in right surveys it is over {usual:.1f} once in twenty"
    if not verdict.checked:
        return "Nothing checks these readings: no statistics can find a mistake in them."
    if verdict.sound:
        return f"The readings agree within their tolerances ({tested})."
    if verdict.doubtful:
        tested = f"{tested}, over {rare:.1f} once in a thousand"
        return f"The readings agree less well than right ones usually do ({tested})."
    if adjusted.chi_square <= rare:
        tested = (
            f"one is off by {worst_residual(adjusted):.2f} standard deviations; right ones are by more than "
            f"{normal_limit():.2f} once in a thousand"
        )
    else:
        tested = f"χ² is {adjusted.chi_square:.1f}; in right surveys it is over {rare:.1f} once in a thousand"
    return f"The readings contradict each other by more than their tolerances explain ({tested})."


def _again(adjusted: Adjustment, verdict: Diagnosis, telling: Telling | None) -> Iterator[str]:
    """What to measure again in a survey that contradicts itself, in this order."""
    if verdict.sound:
        return
    if verdict.single:
        yield (
            "Measure all of it again, or anything a second time: with one reading more than needed nothing tells "
            "which is wrong"
        )
        if telling:
            yield f"Measure {telling.what} as well, {telling.words}"
    elif verdict.suspects:
        named = ", or ".join(likely(adjusted, suspect) for suspect in verdict.suspects)
        apart = "; these readings cannot tell them apart" if len(verdict.suspects) > 1 else ""
        if telling:
            apart += f": measure {telling.what} as well, {telling.words}"
        yield f"Measure again {named}{apart}"
    else:
        worst = adjusted.network.observations[int(np.nanargmax(np.abs(adjusted.standardised)))]
        yield f"No single reading explains it: measure {worst.name} again first, then weigh the readings again"


def _at_heights(shape: RoomShape, leaning: Sequence[Lean]) -> Iterator[str]:
    """What to measure again of what was read at several heights."""
    for lean in leaning:
        if lean.doubtful:
            yield f"Measure again {lean.what}: walls hardly lean by {abs(lean.more):.0f} mm over that height"
    yield from off_tops(shape)


def likely(adjusted: Adjustment, suspect: Suspect) -> str:
    """A suspect with what all others make of it, and how that may have been misread."""
    o = adjusted.network.observations[suspect.index]
    value, read = in_unit(o, suspect.likely), f"{o.value:g}{'°' if isinstance(o, Angle) else ''}"
    within = COVERAGE * o.sigma / math.sqrt(adjusted.redundancy[suspect.index])
    slip = "" if isinstance(o, Angle | AcrossCorner) else mistake(o.value, suspect.likely, within)
    return f"{o.name} ({read}; {value} by the others{f': perhaps {slip}' if slip else ''})"


def _unseen(rows: Sequence[Weighed]) -> Iterator[str]:
    """What rests on one reading, and what could hide in the others."""
    alone = [row.what for row in rows if row.alone]
    if 0 < len(alone) < len(rows):
        by = "it" if len(alone) == 1 else "them"
        yield f"Nothing checks {in_a_list(alone)}: what is cut by {by} rests on one reading."
    checked = [row for row in rows if not row.alone and row.unit == "mm"]
    if checked:
        worst = least(checked, key=lambda row: -row.least_detectable)
        yield f"An error of less than {worst.least_detectable:.0f} mm in {worst.what} might not show."


def _would_show(some: Sequence[Brace], shown: float) -> str:
    return (
        f"Measure {in_a_list([*map(str, some)])} as well: then an error of {shown:.0f} mm in any length would show"
    )


def _checking(
    rows: Sequence[Weighed], left: Sequence[int], lines: Sequence[tuple[Brace, Checked]]
) -> Iterator[str]:
    """What would check the readings that nothing checks, nor would what is to be measured besides."""
    for line, checked in lines:
        worst = {rows[i].unit: f"{shown:.2g}{'°' if rows[i].unit == '°' else ' mm'}"
                 for i, shown in sorted(checked.items(), key=lambda each: each[1])}  # fmt: skip
        named = _named([rows[i].what for i in checked])
        yield f"Measure {line} as well: then an error of {in_a_list([*worst.values()], 'or')} in {named} would show"
    twice = [rows[i].what for i in left if not any(i in checked for _, checked in lines)]
    if twice:
        yield f"Measure {_named(twice)} a second time: no length across the room would check that"


NAMED = 4
"""More readings than these are counted and not named."""


def _named(readings: Sequence[str]) -> str:
    more = len(readings) - NAMED
    return in_a_list(readings) if more <= 0 else in_a_list([*readings[:NAMED], f"{more} more"])


def in_a_list(names: Sequence[str], last: str = "and") -> str:
    """Names as they are said one after the other.

    >>> in_a_list(["wall A"]), in_a_list(["wall A", "wall B", "corner A-B"])
    ('wall A', 'wall A, wall B and corner A-B')
    """
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {last} {names[-1]}"
