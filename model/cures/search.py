"""Search: the smallest change that cures a finding, by trying; bounded, always in the same order.

First every single move. Where none cures, two moves: the first is one that met the rule and broke another, or came
nearer, and the second is looked for in the kitchen that the first makes; then three in the same way.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Any

from countersunk.model.checks import check, default_rules
from countersunk.model.checks.finding import Finding, Verdict
from countersunk.model.checks.rules import Rules
from countersunk.model.checks.things import Thing, of_cutout, of_part, of_unit, runs_of
from countersunk.model.cures.choices import choices
from countersunk.model.cures.distances import hoods_after, slides
from countersunk.model.cures.kept import HOOD
from countersunk.model.cures.move import Move, Scope, Slide
from countersunk.model.cures.trials import Case, Trial
from countersunk.model.cures.wording import effects, sentence, why_none
from countersunk.model.document.schema import Document
from countersunk.model.edit.edits import edited
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.tolerance import EQUAL

MOST_TRIALS = (300, 180, 60)
"""So many kitchens are built for one finding, at most: with one move, with two, with three."""

QUICK = (120,)
"""The same where somebody waits for something else: single moves only."""

FIRSTS = 6
"""So many moves are gone on from."""

IDLE = 30
"""After so many moves of one kind that leave everything as it is, no more of that kind are tried."""

DISTANCES = (10.0, 25.0, 50.0, 100.0, 200.0, 400.0, 800.0)
"""Distances that are tried besides the one by which the limit is missed, mm."""

TELLING = 50.0
"""A slide that has changed nothing after so many mm is left, or after what is missed where that is less."""

REFUSED = 3
"""A slide is left after so many distances one after the other that cannot be built."""

Progress = Callable[[str], object]


@dataclass(frozen=True)
class Cure:
    """The smallest change found. ``changes`` are fields of the document with new values, as `edited` takes them.

    ``moves`` and ``size`` (mm) say how large it is, as `model.cures.move` has it. ``value`` is what the rule finds
    afterwards; ``words`` says all of it in a sentence; ``trials`` is how many kitchens were built to find it.
    """

    finding: Finding
    changes: tuple[tuple[str, Any], ...]
    size: float
    moves: int
    value: float | None
    words: str
    trials: int

    def applied(self, document: Document) -> Document:
        """The document with the change made."""
        return edited(document, dict(self.changes))


@dataclass(frozen=True)
class NoCure:
    """None was found within this layout; ``words`` says why."""

    finding: Finding
    words: str
    trials: int


class Frontier:
    """The trials that go on from one kitchen, ``base``, and the smallest of them that cured."""

    def __init__(
        self, case: Case, base: Trial, most: int, report: Progress = lambda _: None, bound: float = math.inf
    ) -> None:
        self.case, self.base, self.most, self.report = case, base, most, report
        self.bound = bound
        """Nothing as large as this is worth a trial, mm."""
        self.made: list[Trial] = []
        self.best: Trial | None = None

    def run(self) -> None:
        """Try what may be moved by any distance, then what may be chosen otherwise."""
        assert self.base.kitchen is not None
        scope = scope_of(self.base.kitchen, self.base.missed or [self.case.finding])
        done = {field for field, _ in self.base.move.changes}
        anew = (s for s in slides(self.base.kitchen, scope) if {f for f, _ in s.by(1.0).changes} != done)
        for slide in anew:
            for way in (-1.0, 1.0):
                _least(self, slide, way)
        for move in choices(self.base.kitchen, scope):
            if self.base.move.size + move.size >= self.bound - EQUAL or self.is_over:
                break
            if not self.is_idle(move.kinds[0]):
                self.try_out(move)

    def try_out(self, move: Move) -> Trial:
        """Make a move, let a hood follow its hob, and keep it if it is the smallest that cures."""
        trial = self._tried(self.base.move.then(move))
        if HOOD in trial.broken and trial.kitchen:
            follows = hoods_after(self.case.kitchen, trial.kitchen)
            if follows:
                return self._tried(replace(trial.move.then(follows), count=trial.move.count))
        return trial

    def _tried(self, move: Move) -> Trial:
        self.report(f"trying to {move.words}")
        trial = self.case.tried(move)
        self.made.append(trial)
        if trial.cures and move.size < self.bound - EQUAL:
            self.best, self.bound = trial, move.size
        return trial

    @property
    def is_over(self) -> bool:
        """Whether as many were tried as may be."""
        return len(self.made) >= self.most

    def is_idle(self, kind: str) -> bool:
        """Whether moves of a kind have nothing to do with it."""
        mine = [trial for trial in self.made if trial.kitchen is not None and self._kind(trial) == kind]
        return len(mine) >= IDLE and all(self.leaves(trial) for trial in mine)

    def _kind(self, trial: Trial) -> str:
        """Of what kind the move is that this stage made."""
        return trial.move.kinds[len(self.base.move.kinds)]

    def leaves(self, trial: Trial) -> bool:
        """Whether a trial leaves things as they were before its last move."""
        same = (trial.is_met, trial.value, trial.broken) == (self.base.is_met, self.base.value, self.base.broken)
        return trial.kitchen is not None and same

    @property
    def missed(self) -> list[float]:
        """By how many mm limits are missed: the one in question, or those that the moves so far broke."""
        some = self.base.missed or [self.case.finding]
        return [max(1.0, float(math.ceil(abs(f.margin or 0.0)))) for f in some if f.unit == "mm" and f.margin]


def cure(
    document: Document, finding: Finding, *, rules: Rules | None = None, kitchen: Kitchen | None = None,
    report: Progress = lambda _: None, most: tuple[int, ...] = MOST_TRIALS,
) -> Cure | NoCure:  # fmt: skip
    """The smallest change to ``document`` after which ``finding`` is met and no must or advice is worse anywhere.

    ``rules`` are those that the finding came from, else the program's for the document's regions; ``kitchen`` the
    document as built, where there is one. ``most`` says how many kitchens are built, at most, with one move, with
    two and so on. Every change that is proposed was built and checked as a whole. Raises InputError for a document
    that cannot be built.
    """
    built = kitchen or build(document)
    asked = rules or default_rules().within(document.regions)
    case = Case(built, finding, asked, check(built, asked))
    if finding.margin is None or finding.verdict is Verdict.MET:
        why = "it is met" if finding.margin is not None else f"nothing was measured: {finding.reason}"
        return NoCure(finding, f"nothing to change, since {why}", 0)
    made: list[Trial] = []
    bases = [case.untouched]
    for trials in most:
        best, found = _gone_on(case, bases, trials, report)
        made += found
        if best:
            return _told(case, best, len(made))
        bases = _promising(case, found)
    return NoCure(finding, why_none(case, made, len(most)), len(made))


def _told(case: Case, best: Trial, count: int) -> Cure:
    words = sentence(case.finding, best, effects(case.before, best.findings))
    move = best.move
    return Cure(case.finding, move.changes, move.size, move.count, best.value, words, count)


def _gone_on(case: Case, bases: list[Trial], most: int, report: Progress) -> tuple[Trial | None, list[Trial]]:
    """One more move after each of some: the smallest that cures, and every trial; each base has its share."""
    best, made = None, list[Trial]()
    for i, base in enumerate(bases):
        share = (most - len(made)) // (len(bases) - i)
        stage = Frontier(case, base, share, report, best.move.size if best else math.inf)
        stage.run()
        made += stage.made
        best = stage.best or best
    return best, made


def _promising(case: Case, made: list[Trial]) -> list[Trial]:
    """What to go on from: what met the rule and broke others, fewest first, then what came nearest to it.

    Of what sets the same fields only one: the smallest that met it, or that which came nearest.
    """
    first: dict[tuple[str, ...], Trial] = {}
    for trial in case.nearer(made):
        first.setdefault(tuple(field for field, _ in trial.move.changes), trial)
    return list(first.values())[:FIRSTS]


def scope_of(kitchen: Kitchen, findings: Iterable[Finding]) -> Scope:
    """The runs and units that findings are about; all runs where they are about none."""
    own, units = runs_of(kitchen), _units_under(kitchen)
    about = {thing for finding in findings for thing in finding.about}
    runs = frozenset(own[thing].name for thing in about if thing in own)
    return Scope(
        runs or frozenset(run.name for run in kitchen.runs), frozenset(units[t] for t in about if t in units)
    )


def _units_under(kitchen: Kitchen) -> dict[Thing, str]:
    """The name of the unit that a thing is, is let in over, or is a part of."""
    names = {of_unit(unit): unit.name for unit in kitchen.units}
    names |= {of_cutout(cutout): cutout.unit.name for cutout in kitchen.cutouts}
    return names | {of_part(part): unit.name for unit in kitchen.units for part in kitchen.parts_of[unit.key]}


def _least(stage: Frontier, slide: Slide, way: float) -> None:
    """The smallest distance one way at which a slide cures: steps until it does, then halving back to the mm.

    A slide that does not change anything at all is soon left, and so is one that cannot be built on and on.
    """
    nearest, telling, refused = 0.0, min([TELLING, *stage.missed]), 0
    for size in _steps(stage, slide, way):
        if stage.base.move.size + size >= stage.bound - EQUAL or stage.is_over:
            return
        trial = stage.try_out(slide.by(way * size))
        if trial.cures:
            _halve(stage, slide, way, nearest, size)
            return
        refused = 0 if trial.kitchen else refused + 1
        if refused >= REFUSED or (size >= telling and stage.leaves(trial)):
            return
        nearest = size


def _steps(stage: Frontier, slide: Slide, way: float) -> list[float]:
    """What is missed and other distances, less and more, as far as the slide goes."""
    missed = stage.missed or [1.0]
    room = slide.high if way > 0 else -slide.low
    return [size for size in sorted({*missed, *(min(2 * m, room) for m in missed), *DISTANCES}) if 0 < size <= room]


def _halve(stage: Frontier, slide: Slide, way: float, low: float, high: float) -> None:
    while high - low > 1.0 and not stage.is_over:
        middle = float(math.floor((low + high) / 2))
        if middle in (low, high):
            return
        low, high = (low, middle) if stage.try_out(slide.by(way * middle)).cures else (middle, high)
