"""Search: the smallest change that cures a finding, by trying; bounded, always in the same order."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from model.checks import check, default_rules
from model.checks.finding import Finding, Verdict
from model.checks.rules import Rules
from model.cures.moves import Move, Slide, choices, slides
from model.cures.trials import Case, Trial
from model.cures.wording import effects, sentence, why_none
from model.document import Document
from model.edits import edited
from model.kitchen import Kitchen, build

MOST_TRIALS = 300
"""So many kitchens are built for one finding, at most."""

IDLE = 30
"""After so many moves of one kind that leave the value as it is, no more of that kind are tried."""

DISTANCES = (10.0, 25.0, 50.0, 100.0, 200.0, 400.0, 800.0)
"""Distances that are tried besides the one by which the limit is missed, mm."""

TELLING = 50.0
"""A slide that has changed nothing after so many mm is left, or after what is missed where that is less."""

Progress = Callable[[str], object]


@dataclass(frozen=True)
class Cure:
    """The smallest change found. ``changes`` are fields of the document with new values, as `edited` takes them.

    ``value`` is what the rule finds afterwards; ``words`` says all of it in a sentence; ``trials`` is how many
    kitchens were built to find it.
    """

    finding: Finding
    changes: tuple[tuple[str, Any], ...]
    size: float
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


class _Search:
    """The trials made so far, and the smallest that cured."""

    def __init__(self, case: Case, report: Progress) -> None:
        self.case, self.report = case, report
        self.made: list[Trial] = []
        self.best: Trial | None = None

    def try_out(self, move: Move) -> Trial:
        """Make a move and keep it if it is the smallest that cures."""
        self.report(f"trying to {move.words}")
        trial = self.case.tried(move)
        self.made.append(trial)
        if trial.cures and move.size < self.bound:
            self.best = trial
        return trial

    @property
    def bound(self) -> float:
        """Nothing as large as this is worth a trial."""
        return self.best.move.size if self.best else math.inf

    @property
    def is_over(self) -> bool:
        """Whether as many were tried as may be."""
        return len(self.made) >= MOST_TRIALS

    def is_idle(self, kind: str) -> bool:
        """Whether moves of a kind have nothing to do with it."""
        mine = [trial for trial in self.made if trial.move.kind == kind and trial.kitchen is not None]
        return len(mine) >= IDLE and all(self.leaves(trial) for trial in mine)

    def leaves(self, trial: Trial) -> bool:
        """Whether a trial leaves the value as it was."""
        return trial.kitchen is not None and not trial.is_met and trial.value == self.case.finding.value


def cure(
    document: Document, finding: Finding, *, rules: Rules | None = None, kitchen: Kitchen | None = None,
    report: Progress = lambda _: None,
) -> Cure | NoCure:  # fmt: skip
    """The smallest change to ``document`` after which ``finding`` is met and no other must or advice newly missed.

    ``rules`` are those that the finding came from, else the program's for the document's regions; ``kitchen`` the
    document as built, where there is one. Every change that is proposed was built and checked as a whole.
    Raises InputError for a document that cannot be built.
    """
    built = kitchen or build(document)
    asked = rules or default_rules().within(document.regions)
    case = Case(built, finding, asked, check(built, asked))
    if finding.margin is None or finding.verdict is Verdict.MET:
        why = "it is met" if finding.margin is not None else f"nothing was measured: {finding.reason}"
        return NoCure(finding, f"nothing to change, since {why}", 0)
    search = _Search(case, report)
    runs = _runs_of(built, finding)
    for slide in slides(built, runs):
        for way in (-1.0, 1.0):
            _least(search, slide, way)
    for move in choices(built, runs):
        if move.size >= search.bound or search.is_over:
            break
        if not search.is_idle(move.kind):
            search.try_out(move)
    return _outcome(search)


def _outcome(search: _Search) -> Cure | NoCure:
    case, best, count = search.case, search.best, len(search.made)
    if best is None:
        return NoCure(case.finding, why_none(search.made, case.finding.value, search.is_over), count)
    told = effects(case.before, best.findings)
    words = sentence(case.finding, best, told)
    return Cure(case.finding, best.move.changes, best.move.size, best.value, words, count)


def _runs_of(kitchen: Kitchen, finding: Finding) -> set[str]:
    """The runs that a finding is about, by what it names; all of them where it names nothing."""
    owners = {unit.name: run.name for run in kitchen.runs for unit in run.units}
    owners |= {length.id: length.run.name for length in kitchen.lengths}
    owners |= {cutout.name: kitchen.length(cutout.length).run.name for cutout in kitchen.cutouts}
    named = {owners[id_.partition(".")[0]] for id_ in finding.ids if id_.partition(".")[0] in owners}
    return named or {run.name for run in kitchen.runs}


def _least(search: _Search, slide: Slide, way: float) -> None:
    """The smallest distance one way at which a slide cures: steps until it does, then halving back to the mm.

    A slide that does not change the value at all is soon left.
    """
    nearest, telling = 0.0, min(TELLING, abs(search.case.finding.margin or TELLING))
    for size in _steps(search, slide, way):
        if size >= search.bound or search.is_over:
            return
        trial = search.try_out(slide.by(way * size))
        if trial.cures:
            _halve(search, slide, way, nearest, size)
            return
        if size >= telling and search.leaves(trial):
            return
        nearest = size


def _steps(search: _Search, slide: Slide, way: float) -> list[float]:
    """What is missed and other distances, less and more, as far as the slide goes."""
    margin = abs(search.case.finding.margin or 0.0) if search.case.finding.unit == "mm" else 0.0
    missed = max(1.0, float(math.ceil(round(margin, 3))))
    room = slide.high if way > 0 else -slide.low
    return [size for size in sorted({missed, 2 * missed, *DISTANCES}) if size <= room]


def _halve(search: _Search, slide: Slide, way: float, low: float, high: float) -> None:
    while high - low > 1.0 and not search.is_over:
        middle = float(math.floor((low + high) / 2))
        if middle in (low, high):
            return
        low, high = (low, middle) if search.try_out(slide.by(way * middle)).cures else (middle, high)
