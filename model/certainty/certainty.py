"""Certainty: how sure runs fit and tops are cut right, given how far each reading of the survey may be off.

What counts is a run's spare, see `model.certainty.neighbours`; and what is free above it and behind it, see
`model.certainty.against`.
Fillers take more, down to the least that they are cut to; behind units it is their rear edges that are scribed.
Readings are taken as independent and normal, and none of them as a mistake. What a mistake would do that might not
show, because little or nothing checks the reading, is said beside it (`Hidden`) and never in the same number.

Two ways that must agree: *linear*, by how much the spare moves with each reading (finite differences through the
survey itself; law of propagation of uncertainty, JCGM 100, the GUM, from memory), and *simulated*, by drawing
every reading many times over (Monte Carlo, JCGM 101, from memory). The first says which reading matters, the second
also holds where another neighbour comes to be the nearer one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property, partial
from statistics import NormalDist
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from countersunk.model.adjustment.snooping import is_contradictory
from countersunk.model.certainty.against import Against, against
from countersunk.model.certainty.neighbours import Neighbours
from countersunk.model.certainty.on_units import fitted_readings, shows_on_units
from countersunk.model.document.schema import Document, Room
from countersunk.model.errors import InputError
from countersunk.model.fitted.survey import survey_fitted
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, place_runs
from countersunk.model.survey import Survey, survey_room
from countersunk.model.survey.besides import GLARING
from countersunk.model.survey.readings import Reading, readings, with_readings
from countersunk.model.survey.shape import shape_of
from countersunk.model.survey.weighing import in_a_list, shows_from
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


MATTERS = 0.1
"""A reading of which a standard deviation moves something by less than this does not matter to it, mm."""

SEEN = {"mm": GLARING, "°": 5.0}
"""A mistake of more than this is seen in the plan and on site, whether or not a reading checks it: a hundred off is
not (common practice, no source).
"""

Moves = tuple[tuple[Reading, float], ...]
"""By how much the standard deviation of each reading moves something, mm."""


@dataclass(frozen=True)
class Hidden:
    """A mistake in a reading that might not show: up to ``least`` (mm or degrees), and no further than it would be
    `SEEN`; that would put what moves with the reading ``off`` by so many mm. ``alone`` where nothing checks it.
    """

    reading: Reading
    least: float
    off: float
    alone: bool


@dataclass(frozen=True)
class Doubtful:
    """Something that moves with the readings."""

    moves: Moves
    hidden: tuple[Hidden, ...] = field(default=(), kw_only=True)

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

    @property
    def alone(self) -> tuple[Reading, ...]:
        """The readings that it rests on and that nothing checks."""
        return tuple(hidden.reading for hidden in self.hidden if hidden.alone)

    @property
    def worst(self) -> Hidden | None:
        """The mistake that might not show and would put it furthest off."""
        return most(self.hidden, key=lambda hidden: hidden.off) if self.hidden else None


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
    While the readings contradict each other (``sound`` is False) nobody knows how sure it fits.
    """

    run: str
    units: tuple[str, ...]
    between: tuple[str, str]
    spare: float
    fillers: float
    way: Literal["along", "above", "behind"] = "along"
    sound: bool = True

    @property
    def left(self) -> float:
        """What is left, mm, with readings off by as much as is allowed for and fillers cut to their least."""
        return self.spare + self.fillers - COVERAGE * self.sigma

    @property
    def left_if_wrong(self) -> float:
        """The same with one reading wrong by the largest mistake that might not show, and all others right."""
        return self.spare + self.fillers - (self.worst.off if self.worst else 0.0)

    @property
    def probability(self) -> float:
        """The probability that it fits if no reading is a mistake, by the linear way."""
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
    names, shows = [row[0].owner for row in survey.rows], shows_from(survey.shape)
    sound = not is_contradictory(survey.shape.adjustment)
    ends = [(survey.neighbour(i, False), survey.neighbour(i, True)) for i in range(len(survey.runs))]
    along = (
        RunFit(m, name, row, between, spare, _fillers(run), sound=sound, hidden=_hidden(m, shows))
        for run, name, row, between, spare, m in zip(survey.runs, names, units, ends, spares, moves, strict=False)
    )
    rest = zip(others, spares[len(ends) :], moves[len(ends) :], strict=True)
    return (
        *along,
        *(
            RunFit(m, names[o.i], units[o.i], o.between, s, o.give, o.way, sound, hidden=_hidden(m, shows))
            for o, s, m in rest
        ),
    )


def _hidden(moves: Moves, shows: Mapping[str, float]) -> tuple[Hidden, ...]:
    """What mistakes that might not show would do, of each reading that matters; ``shows`` is from `shows_from`."""
    found = ((r, shows.get(r.field, math.inf), move) for r, move in moves if abs(move) > MATTERS)
    return tuple(_hidden_in(r, least, abs(move) / r.sigma) for r, least, move in found)


def _hidden_in(reading: Reading, least: float, share: float) -> Hidden:
    hides = min(least, SEEN[reading.unit])
    return Hidden(reading, hides, share * hides, math.isinf(least))


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
    now, moves = _all_moves(taken, partial(_tops, kitchen, taken), _moves_a_top)
    names, shows = (length.id for length in kitchen.lengths), _shows(kitchen)
    tops = zip(moves, names, now, strict=True)
    return tuple(TopFit(m, name, length, hidden=_hidden(m, shows)) for m, name, length in tops)


def _moves_a_top(reading: Reading) -> bool:
    """Whether a top could be longer or shorter by it: no top minds a window, a ceiling or a slope."""
    return reading.at[0] not in ("openings", "height", "slopes")


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


def _shows(kitchen: Kitchen) -> Mapping[str, float]:
    """The least error of each of them that shows."""
    if kitchen.document.fitted is not None and kitchen.fitted is not None:
        return shows_on_units(kitchen.document.fitted, kitchen.fitted)
    return shows_from(shape_of(kitchen.document.room))


def _placed(
    kitchen: Kitchen, taken: tuple[Reading, ...], values: list[float]
) -> tuple[tuple[PlacedRun, ...], Survey, Document]:
    """What tops are laid over, had ``values`` been read: runs, the room, and the document. Raises InputError."""
    document, plan = kitchen.planned.placed or kitchen.document, kitchen.planned
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


def in_words(fit: RunFit, room: Room) -> str:
    """What a fitter wants to know before cutting, in a sentence."""
    if not math.isfinite(fit.spare):
        return f"Nothing ends {fit.run} on one side: it fits whatever the walls measure"
    giving = "its fillers give" if fit.way == "along" else "scribing its units gives"
    give = f", {giving} {fit.fillers:.0f} more" if fit.fillers else ""
    worst = f"{max(0.0, fit.left):.0f} left" if fit.left >= -FIT else f"{-fit.left:.1f} short"
    if not fit.sound:
        return f"The readings contradict each other, and until that is settled nobody knows whether {fit.run} fits"
    text = (
        f"At {_allowed(fit, room)} and with no mistake in a reading, {fit.run} fits with "
        f"{percent(fit.probability)}: {fit.spare:.0f} mm to spare between {fit.between[0]} and {fit.between[1]}"
        f"{give}, {worst} at the worst"
    )
    sure = fit.probability >= SURE or fit.doubt is None
    return ". ".join([text if sure or not fit.doubt else f"{text}; {again(fit.doubt[0])}", *hidden_in_words(fit)])


NAMED = 3
"""More readings than these are counted and not named."""


def hidden_in_words(fit: RunFit) -> Iterator[str]:
    """What a mistake in one reading would do to a run without being seen; nothing where it would still fit."""
    worst = fit.worst
    if worst is None or not math.isfinite(fit.spare) or fit.left_if_wrong >= -FIT:
        return
    if fit.alone:
        yield f"Nothing checks {alone_in_words(fit)}: measure that a second time"
    if not worst.alone:
        yield (
            f"A mistake of up to {worst.least:.3g}{' mm' * (worst.reading.unit == 'mm') or '°'} in "
            f"{worst.reading.what} might not show and would leave {fit.run} {-fit.left_if_wrong:.0f} mm short"
        )


def alone_in_words(doubtful: Doubtful) -> str:
    """The readings that something rests on alone, as they are said."""
    names = [reading.what for reading in doubtful.alone]
    more = len(names) - NAMED
    return in_a_list(names if more <= 0 else [*names[:NAMED], f"{more} more"])


def _allowed(fit: RunFit, room: Room) -> str:
    """By how much those readings may be off that a fit hangs on most."""
    allowed = room.tolerance
    ways = {"above": f"±{allowed.height:g} mm a height", "behind": f"±{allowed.offset:g} mm an offset"}
    return ways.get(fit.way, allowed_in_words(room))


def allowed_in_words(room: Room) -> str:
    """By how much walls and corners may be off, where not each of them says so for itself."""
    if any(wall.tolerance or wall.corner_tolerance for wall in room.walls):
        return "the tolerance of each wall and corner"
    return f"±{room.tolerance.wall:g} mm a wall and ±{room.tolerance.corner:g}° a corner"


def again(reading: Reading) -> str:
    """What to do about a reading in doubt."""
    return f"measure {reading.what} again before you cut"


def percent(probability: float) -> str:
    """Whole, and never 0 or 100: nothing that was measured is certain."""
    if probability > 0.99:
        return "over 99 %"
    return f"{100 * probability:.0f} %" if probability >= 0.01 else "under 1 %"


def _all_moves(
    taken: tuple[Reading, ...], asked: Callable[[list[float]], list[float]],
    matters: Callable[[Reading], bool] = lambda _: True,
) -> tuple[list[float], list[Moves]]:  # fmt: skip
    """What is asked for as it stands, and how each of it moves with every reading that ``matters`` to any of it."""
    values = [r.value for r in taken]
    now = asked(values)
    columns = [
        _moved(taken, i, values, now, asked) if matters(reading) else [0.0] * len(now)
        for i, reading in enumerate(taken)
    ]
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
