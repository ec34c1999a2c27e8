"""Certainty: how sure runs fit and tops are cut right, given how far each reading of the survey may be off.

What counts is a run's spare, see `model.certainty.neighbours`; and what is free above it and behind it, see
`model.certainty.against`.
Fillers take more, down to the least that they are cut to; behind units it is their rear edges that are scribed.
Readings are taken as independent and normal.

Two ways that must agree: *linear*, by how much the spare moves with each reading (finite differences through the
survey itself; law of propagation of uncertainty, JCGM 100, the GUM, from memory), and *simulated*, by drawing
every reading many times over (Monte Carlo, JCGM 101, from memory). The first says which reading matters, the second
also holds where another neighbour comes to be the nearer one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from statistics import NormalDist
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from countersunk.model.certainty.against import Against, against
from countersunk.model.certainty.neighbours import Neighbours
from countersunk.model.certainty.on_units import fitted_readings
from countersunk.model.document.schema import Document, Tolerance
from countersunk.model.errors import InputError
from countersunk.model.fitted.survey import survey_fitted
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, place_runs
from countersunk.model.survey import Survey, survey_room
from countersunk.model.survey.readings import Reading, readings, with_readings
from countersunk.model.ties import most
from countersunk.model.tolerance import CONTACT, COVERAGE, FIT
from countersunk.model.tops.worktops import lay_worktops

STEP = 0.01
"""By how much a reading is moved to see what follows (mm or degrees)."""

JUMP = 1.5
"""More than this for such a step, on one side and not on the other, is a jump and no bend: a hundredth of a degree
turns no more than this aside over the longest wall (mm)."""

SURE = 0.99
"""A run that fits more surely than this needs nothing measured again (common practice, no source)."""

DRAWS = 2_000
SEED = 20_000
"""Every run of the program draws the same."""


Moves = tuple[tuple[Reading, float], ...]
"""By how much the standard deviation of each reading moves something, mm."""


@dataclass(frozen=True)
class Doubtful:
    """Something that moves with the readings."""

    moves: Moves

    @cached_property
    def sigma(self) -> float:
        """Its standard deviation, mm."""
        return math.hypot(*(move for _, move in self.moves))

    @property
    def doubt(self) -> tuple[Reading, float] | None:
        """The reading that matters most, and its share of the variance."""
        if self.sigma < FIT:
            return None
        reading, move = most(self.moves, key=lambda pair: abs(pair[1]))
        return reading, (move / self.sigma) ** 2


@dataclass(frozen=True)
class TopFit(Doubtful):
    """How far off the ``length`` of a top may be (mm), cut to the survey and not to the room."""

    top: str
    length: float


@dataclass(frozen=True)
class RunFit(Doubtful):
    """How sure one run fits: its spare, ``between`` what, and what its ``fillers`` can give up (mm).

    It is the spare that moves with the readings; ``units`` names the run's units. ``way`` is where it must fit:
    along its wall, or with what is above or behind it; behind it, it is the rear edges of its units that give.
    """

    run: str
    units: tuple[str, ...]
    between: tuple[str, str]
    spare: float
    fillers: float
    way: Literal["along", "above", "behind"] = "along"

    @property
    def left(self) -> float:
        """What is left, mm, with readings off by as much as is allowed for and fillers cut to their least."""
        return self.spare + self.fillers - COVERAGE * self.sigma

    @property
    def probability(self) -> float:
        """That it fits, by the linear way."""
        room = self.spare + self.fillers
        if not math.isfinite(room) or self.sigma < FIT:
            return 1.0 if room >= -CONTACT else 0.0
        return NormalDist().cdf(room / self.sigma)


def run_fits(kitchen: Kitchen) -> tuple[RunFit, ...]:
    """Every run on a wall along it, then those under a low ceiling and before a bowed wall, the linear way; as
    planned, whatever was fitted since.
    """
    survey = Neighbours(kitchen.planned)
    others = _against(survey)
    spares, moves = _all_moves(survey.readings, partial(_spares, survey, others))
    units = [tuple(unit.name for unit in run.units) for run in survey.runs]
    names = [row[0].owner for row in survey.rows]
    along = [
        RunFit(m, names[i], units[i], (survey.neighbour(i, False), survey.neighbour(i, True)), spare, _fillers(run))
        for i, (run, spare, m) in enumerate(zip(survey.runs, spares, moves, strict=False))
    ]
    rest = zip(others, spares[len(along) :], moves[len(along) :], strict=True)
    return (*along, *(RunFit(m, names[o.i], units[o.i], o.between, s, o.give, o.way) for o, s, m in rest))


def _against(survey: Neighbours) -> list[Against]:
    return list(against(survey.runs, *survey.planned))


def _spares(survey: Neighbours, others: Sequence[Against], values: Sequence[float]) -> list[float]:
    """What every run has to spare along its wall, then what ``others`` leave, had ``values`` been read (mm)."""
    room, walls = survey.read(values)
    return [*survey.spares(room, walls), *(other.spare(room, walls) for other in others)]


def top_fits(kitchen: Kitchen) -> tuple[TopFit, ...]:
    """Every length of top, the linear way; some tens of times the work of laying them.

    Tops that are cut to fitted units move with what was read on those, and no more with the survey of the room.
    """
    taken = _taken(kitchen)
    now, moves = _all_moves(taken, partial(_tops, kitchen, taken))
    names = (length.id for length in kitchen.lengths)
    return tuple(TopFit(m, name, length) for m, name, length in zip(moves, names, now, strict=True))


def _tops(kitchen: Kitchen, taken: tuple[Reading, ...], values: list[float]) -> list[float]:
    """How long each top would be, had ``values`` been read (mm); not a number where nothing could be built."""
    try:
        runs, survey, document = _placed(kitchen, taken, values)
        laid, _ = lay_worktops(runs, survey, document, kitchen.catalogue)
    except InputError:
        return [math.nan] * len(kitchen.lengths)
    return [top.part.length for top in laid]


def _taken(kitchen: Kitchen) -> tuple[Reading, ...]:
    """The readings that tops are cut to."""
    if kitchen.document.fitted is not None and kitchen.fitted is not None:
        return fitted_readings(kitchen.document.fitted, kitchen.fitted)
    return readings(kitchen.document.room)


def _placed(
    kitchen: Kitchen, taken: tuple[Reading, ...], values: list[float]
) -> tuple[tuple[PlacedRun, ...], Survey, Document]:
    """What tops are laid over, had ``values`` been read: runs, the room, and the document. Raises InputError."""
    document, plan = kitchen.document, kitchen.planned
    if document.fitted is not None and kitchen.fitted is not None:
        found = survey_fitted(document, with_readings(document.fitted, taken, values), plan.survey, plan.runs)
        return found.runs, found.survey, found.document
    survey = survey_room(with_readings(document.room, taken, values))
    return place_runs(document, survey, kitchen.catalogue), survey, document


def simulated(kitchen: Kitchen, draws: int = DRAWS) -> NDArray[np.float64]:
    """(draws, fits) float: the spare of every fit in `run_fits`, fillers taken, every reading drawn anew (mm)."""
    survey = Neighbours(kitchen.planned)
    others = _against(survey)
    values, sigmas = [r.value for r in survey.readings], [r.sigma for r in survey.readings]
    drawn = np.random.default_rng(SEED).normal(values, sigmas, (draws, len(values)))
    give = [*(_fillers(run) for run in survey.runs), *(other.give for other in others)]
    return np.array([_spares(survey, others, row.tolist()) for row in drawn]) + give


def drawn_probabilities(kitchen: Kitchen) -> list[float]:
    """That each of `run_fits` fits, by drawing; what just touches fits, as it does by the linear way."""
    return [float(share) for share in np.mean(simulated(kitchen) >= -CONTACT, axis=0)]


def in_words(fit: RunFit, allowed: Tolerance) -> str:
    """What a fitter wants to know before cutting, in a sentence."""
    if not math.isfinite(fit.spare):
        return f"Nothing ends {fit.run} on one side: it fits whatever the walls measure"
    giving = "its fillers give" if fit.way == "along" else "scribing its units gives"
    give = f", {giving} {fit.fillers:.0f} more" if fit.fillers else ""
    worst = f"{max(0.0, fit.left):.0f} left" if fit.left >= -FIT else f"{-fit.left:.1f} short"
    text = (
        f"At {_allowed(fit, allowed)}, {fit.run} fits with "
        f"{percent(fit.probability)}: {fit.spare:.0f} mm to spare between {fit.between[0]} and {fit.between[1]}"
        f"{give}, {worst} at the worst"
    )
    return text if fit.probability >= SURE or fit.doubt is None else f"{text}; {again(fit.doubt[0])}"


def _allowed(fit: RunFit, allowed: Tolerance) -> str:
    """By how much those readings may be off that a fit hangs on most."""
    ways = {"above": f"±{allowed.height:g} mm a height", "behind": f"±{allowed.offset:g} mm an offset"}
    return ways.get(fit.way, f"±{allowed.wall:g} mm a wall and ±{allowed.corner:g}° a corner")


def again(reading: Reading) -> str:
    """What to do about a reading in doubt."""
    return f"measure {reading.what} again before you cut"


def percent(probability: float) -> str:
    """Whole, and never 0 or 100: nothing that was measured is certain."""
    if probability > 0.99:
        return "over 99 %"
    return f"{100 * probability:.0f} %" if probability >= 0.01 else "under 1 %"


def _all_moves(
    taken: tuple[Reading, ...], asked: Callable[[list[float]], list[float]]
) -> tuple[list[float], list[Moves]]:
    """What is asked for as it stands, and how each of it moves with every reading."""
    values = [r.value for r in taken]
    now = asked(values)
    columns = [_moved(taken, i, values, now, asked) for i in range(len(taken))]
    return now, [tuple(zip(taken, row, strict=True)) for row in zip(*columns, strict=True)]


def _moved(
    taken: tuple[Reading, ...], i: int, values: list[float], now: list[float],
    asked: Callable[[list[float]], list[float]],
) -> list[float]:  # fmt: skip
    """By how much one standard deviation of a reading moves each of the lengths that are asked for, mm."""
    up, down = (asked([*values[:i], values[i] + step, *values[i + 1 :]]) for step in (STEP, -STEP))
    per = taken[i].sigma / STEP
    return [_rise(a, b, n) * per for a, b, n in zip(up, down, now, strict=True)]


def _rise(up: float, down: float, now: float) -> float:
    """What a step adds; from one side only where nothing can be built on the other, 0 for what has no end.

    Where a length jumps within the step, as a top does that just reaches a wall or just does not, it is what the
    step adds on the side without the jump: no reading moves anything by so much.
    """
    if abs((up - now) - (now - down)) > JUMP:
        return min(up - now, now - down, key=abs)
    for rise in ((up - down) / 2, up - now, now - down):
        if math.isfinite(rise):
            return rise
    return 0.0


def _fillers(run: PlacedRun) -> float:
    """What the run's fillers can give up, mm."""
    fillers = [u for u in run.units if u.family.kind.fills_gap and u.family.width_range]
    return sum(max(0.0, u.width - u.family.width_range[0]) for u in fillers if u.family.width_range)
