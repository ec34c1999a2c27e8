"""Measures of the survey: whether its readings agree, and what is left of a run's room when they are off."""

from __future__ import annotations

import math
from collections.abc import Iterator

from countersunk.model.certainty.certainty import RunFit, again, alone_in_words, percent, run_fits
from countersunk.model.checks.finding import Aspect, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import WHOLE, Thing, of_length, of_lengths, of_row, of_units, of_wall
from countersunk.model.facts.once import once
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import PlacedRun
from countersunk.model.survey.weighing import Weighing, in_a_list, weigh
from countersunk.model.tolerance import FIT

CURES = {
    "along": "give the run a filler",
    "above": "choose or hang lower units",
    "behind": "bring the units forward and scribe what closes the gap",
}

AGREEMENT = "survey.contradicted"
"""The one measure that is about the room as it was read and about no kitchen in it."""

fits = once(run_fits)


def contradicted(kitchen: Kitchen) -> Iterator[Place]:
    """How many readings of walls, corners and lengths across the room may be the mistake in a survey that has one.

    By least squares over all readings, each with its own tolerance: chi-square of the whole and the standardised
    residual of each, both at 0.1 %. It is 0 where the readings agree, 1 where the others show which one is wrong,
    and otherwise the number of readings that could each be the mistake. Readings that nothing checks give no place
    here; see `left_if_wrong`.
    """
    weighing = weigh(kitchen.document.room)
    if weighing.verdict.checked:
        yield _agreement(kitchen, weighing, found=weighing.verdict.contradicted)


def doubted(kitchen: Kitchen) -> Iterator[Place]:
    """The same in a survey such as right readings make, but seldom: chi-square of the whole at 5 %.

    No place where the readings contradict each other, which `contradicted` says.
    """
    weighing = weigh(kitchen.document.room)
    if weighing.verdict.checked and not weighing.verdict.contradicted:
        yield _agreement(kitchen, weighing, found=weighing.verdict.doubtful)


def _agreement(kitchen: Kitchen, weighing: Weighing, *, found: bool) -> Place:
    """How many readings may be the mistake where one was ``found``, which, and how seldom chance does as much."""
    about = (*of_lengths(kitchen.lengths), *of_units(kitchen.units))
    if not found:
        return Place(Where(Phrase.READINGS, WHOLE, note="walls, corners and lengths across the room"), 0.0, about)
    some = [row.what for row in weighing.rows if row.suspected]
    note = f"{', '.join(some) or 'any of those that check each other'} ({weighing.chance})"
    count = len(some) or sum(not row.alone for row in weighing.rows)
    return Place(Where(Phrase.READINGS, WHOLE, note=note), float(count), about, advice=". ".join(weighing.steps))


def left_of_run(kitchen: Kitchen) -> Iterator[Place]:
    """Free length of a run between its neighbours when readings are off by their tolerance, fillers taken, mm.

    The same above a run under a low ceiling, and behind one before a bowed wall.
    At 0 a run fits with about 98 %, if no reading is a mistake. A run that nothing ends on one side is no place.
    """
    for fit in fits(kitchen):
        if math.isfinite(fit.left):
            advice = f"{again(fit.doubt[0])}, or {CURES[fit.way]}" if fit.doubt else ""
            yield Place(_where(kitchen, fit, _said(fit)), fit.left, _units(kitchen, fit), advice=advice)


def left_if_wrong(kitchen: Kitchen) -> Iterator[Place]:
    """Free length of a run along its wall, fillers taken, if one reading is wrong and that does not show, mm.

    By the largest mistake in each reading that all others show four times in five (Baarda), all others being right;
    where nothing checks a reading, by one of 100 mm or 5°, since a larger one is seen at a glance.
    """
    for fit in fits(kitchen):
        if fit.way == "along" and math.isfinite(fit.spare):
            where = _where(kitchen, fit, f"{fit.run} between {fit.between[0]} and {fit.between[1]}")
            yield Place(where, fit.left_if_wrong, _units(kitchen, fit), advice=_checking(kitchen, fit))


def _checking(kitchen: Kitchen, fit: RunFit) -> str:
    """What to measure so that a mistake would show."""
    if fit.alone:
        return f"nothing checks {alone_in_words(fit)}: measure that a second time{_checks(kitchen, fit)}"
    return f"{again(fit.worst.reading)}{_besides(kitchen)}" if fit.worst else ""


def _checks(kitchen: Kitchen, fit: RunFit) -> str:
    """The lengths across the room that would check what a run rests on alone."""
    checked_by = weigh(kitchen.document.room).checked_by
    lines = dict.fromkeys(checked_by[reading.field] for reading in fit.alone if reading.field in checked_by)
    return f", or {in_a_list([*lines])} as well" if lines else _besides(kitchen)


def past_survey(kitchen: Kitchen) -> Iterator[Place]:
    """How far a top reaches past the end of the walls of an open survey, where nothing was measured, mm."""
    survey = kitchen.survey
    for length in kitchen.lengths:
        if length.run.wall is None:
            continue
        wall = survey.wall(length.run.wall)
        ends = (
            (Aspect.LEFT_END, survey.previous_wall(wall), -length.left.x),
            (Aspect.RIGHT_END, survey.next_wall(wall), length.right.x - wall.length),
        )
        for side, beyond, past in ends:
            if beyond is None and past > -FIT:
                where = Where(Phrase.PAST_SURVEY, of_length(length), side, of_wall(wall))
                yield Place(where, max(0.0, past), (of_length(length),))


def _besides(kitchen: Kitchen) -> str:
    more = weigh(kitchen.document.room).more
    return f", or {more} as well" if more else ""


def _run(kitchen: Kitchen, fit: RunFit) -> PlacedRun:
    return next(run for run in kitchen.runs if tuple(unit.name for unit in run.units) == fit.units)


def _where(kitchen: Kitchen, fit: RunFit, note: str) -> Where:
    return Where(Phrase.RUN_FITS, of_row(_run(kitchen, fit)), Aspect(fit.way), note=note)


def _units(kitchen: Kitchen, fit: RunFit) -> tuple[Thing, ...]:
    return of_units(_run(kitchen, fit).units)


def _said(fit: RunFit) -> str:
    sure = f"fits with {percent(fit.probability)} if no reading is a mistake"
    if not fit.sound:
        sure = "how surely it fits is not known while the readings contradict each other"
    return f"{fit.run} between {fit.between[0]} and {fit.between[1]}, {sure}"
