"""Certainty: how sure it is that a run fits, given how far each reading of the survey may be off.

What counts is a run's spare, see `model.neighbours`. Fillers take more, down to the least that they are cut to.
Readings are taken as independent and normal.

Two ways that must agree: *linear*, by how much the spare moves with each reading (finite differences through the
survey itself; law of propagation of uncertainty, JCGM 100, the GUM, from memory), and *simulated*, by drawing
every reading many times over (Monte Carlo, JCGM 101, from memory). The first says which reading matters, the second
also holds where another neighbour comes to be the nearer one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from model.document import Tolerance
from model.kitchen import Kitchen
from model.layout import PlacedRun
from model.neighbours import Neighbours
from model.readings import COVERAGE, Reading
from model.tolerance import FIT

STEP = 0.01
"""By how much a reading is moved to see what follows (mm or degrees)."""

SURE = 0.99
"""A run that fits more surely than this needs nothing measured again (common practice, no source)."""

DRAWS = 2_000
SEED = 20_000
"""Every run of the program draws the same."""


@dataclass(frozen=True)
class RunFit:
    """How sure one run fits: its spare, ``between`` what, and what its ``fillers`` can give up (mm).

    ``moves`` is by how much each reading's standard deviation moves the spare (mm); ``units`` names its units.
    """

    run: str
    units: tuple[str, ...]
    between: tuple[str, str]
    spare: float
    fillers: float
    moves: tuple[tuple[Reading, float], ...]

    @cached_property
    def sigma(self) -> float:
        """Standard deviation of the spare, mm."""
        return math.hypot(*(move for _, move in self.moves))

    @property
    def left(self) -> float:
        """What is left, mm, with readings off by as much as is allowed for and fillers cut to their least."""
        return self.spare + self.fillers - COVERAGE * self.sigma

    @property
    def probability(self) -> float:
        """That it fits, by the linear way."""
        room = self.spare + self.fillers
        if not math.isfinite(room) or self.sigma < FIT:
            return 1.0 if room >= 0 else 0.0
        return NormalDist().cdf(room / self.sigma)

    @property
    def doubt(self) -> tuple[Reading, float] | None:
        """The reading that matters most, and its share of the variance."""
        if self.sigma < FIT:
            return None
        reading, move = max(self.moves, key=lambda pair: abs(pair[1]))
        return reading, (move / self.sigma) ** 2


def run_fits(kitchen: Kitchen) -> tuple[RunFit, ...]:
    """Every run on a wall, the linear way."""
    survey = Neighbours(kitchen)
    now = survey.spares([r.value for r in survey.readings])
    moves = np.array([_moves(survey, i) for i in range(len(survey.readings))]).T
    return tuple(
        RunFit(
            run=survey.rows[i][0].owner,
            units=tuple(unit.name for unit in run.units),
            between=(survey.neighbour(i, False), survey.neighbour(i, True)),
            spare=now[i],
            fillers=_fillers(run),
            moves=tuple(zip(survey.readings, map(float, moves[i]), strict=True)),
        )
        for i, run in enumerate(survey.runs)
    )


def simulated(kitchen: Kitchen, draws: int = DRAWS) -> NDArray[np.float64]:
    """(draws, runs) float: the spare of every run on a wall, fillers taken, with every reading drawn anew (mm)."""
    survey = Neighbours(kitchen)
    values, sigmas = [r.value for r in survey.readings], [r.sigma for r in survey.readings]
    drawn = np.random.default_rng(SEED).normal(values, sigmas, (draws, len(values)))
    return np.array([survey.spares(row.tolist()) for row in drawn]) + [_fillers(run) for run in survey.runs]


def in_words(fit: RunFit, allowed: Tolerance) -> str:
    """What a fitter wants to know before cutting, in a sentence."""
    if not math.isfinite(fit.spare):
        return f"Nothing ends {fit.run} on one side: it fits whatever the walls measure"
    fillers = f", its fillers give {fit.fillers:.0f} more" if fit.fillers else ""
    worst = f"{fit.left:.0f} left" if fit.left >= 0 else f"{-fit.left:.1f} short"
    text = (
        f"At ±{allowed.wall:g} mm a wall and ±{allowed.corner:g}° a corner, {fit.run} fits with "
        f"{percent(fit.probability)}: {fit.spare:.0f} mm to spare between {fit.between[0]} and {fit.between[1]}"
        f"{fillers}, {worst} at the worst"
    )
    return text if fit.probability >= SURE or fit.doubt is None else f"{text}; {again(fit.doubt[0])}"


def again(reading: Reading) -> str:
    """What to do about a reading in doubt."""
    return f"measure {reading.what} again before you cut"


def percent(probability: float) -> str:
    """Whole, and never 0 or 100: nothing that was measured is certain."""
    if probability > 0.99:
        return "over 99 %"
    return f"{100 * probability:.0f} %" if probability >= 0.01 else "under 1 %"


def _moves(survey: Neighbours, i: int) -> list[float]:
    """By how much one standard deviation of a reading moves the spare of each run, mm."""
    values = [r.value for r in survey.readings]
    up, down = (survey.spares([*values[:i], values[i] + step, *values[i + 1 :]]) for step in (STEP, -STEP))
    per = survey.readings[i].sigma / (2 * STEP)
    return [(a - b) * per if math.isfinite(a - b) else 0.0 for a, b in zip(up, down, strict=True)]


def _fillers(run: PlacedRun) -> float:
    """What the run's fillers can give up, mm."""
    fillers = [u for u in run.units if u.family.construction == "filler" and u.family.width_range]
    return sum(u.width - u.family.width_range[0] for u in fillers if u.family.width_range)
