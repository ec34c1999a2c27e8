"""Measures of the survey: what is left of a run's room when the readings are off by as much as is allowed for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from countersunk.model.certainty.certainty import RunFit, again, percent, run_fits
from countersunk.model.checks.finding import Aspect, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_row, of_units
from countersunk.model.kitchen import Kitchen

CURES = {
    "along": "give the run a filler",
    "above": "choose or hang lower units",
    "behind": "bring the units forward and scribe what closes the gap",
}


def left_of_run(kitchen: Kitchen) -> Iterator[Place]:
    """Free length of a run between its neighbours when readings are off by their tolerance, fillers taken, mm.

    The same above a run under a low ceiling, and behind one before a bowed wall.
    At 0 a run fits with about 98 %. A run that nothing ends on one side is no place.
    """
    for fit in run_fits(kitchen):
        if math.isfinite(fit.left):
            advice = f"{again(fit.doubt[0])}, or {CURES[fit.way]}" if fit.doubt else ""
            run = next(r for r in kitchen.runs if tuple(unit.name for unit in r.units) == fit.units)
            where = Where(Phrase.RUN_FITS, of_row(run), Aspect(fit.way), note=_said(fit))
            yield Place(where, fit.left, of_units(run.units), advice=advice)


def _said(fit: RunFit) -> str:
    return f"{fit.run} between {fit.between[0]} and {fit.between[1]}, fits with {percent(fit.probability)}"
