"""Trials: the kitchen with a move made, and what became of its findings."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from countersunk.model.checks import check
from countersunk.model.checks.finding import Finding, Severity, Verdict
from countersunk.model.checks.rules import Rules
from countersunk.model.cures.kept import KEPT
from countersunk.model.cures.losses import Loss, losses, rank
from countersunk.model.cures.move import NOTHING, Move
from countersunk.model.edit.edits import edited
from countersunk.model.errors import CountersunkError, InputError
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.ties import least, ranked

BINDING = (Severity.MUST, Severity.SHOULD)
"""What a cure may make worse nowhere; what a note loses is said."""


@dataclass(frozen=True)
class Trial:
    """A move with the kitchen that it makes. ``value`` is what the rule finds at the place after it, if anything.

    ``broken`` names the musts and advices that are worse at some place than before, ``missed`` are the findings
    there, and ``noted`` is what notes lose. ``kitchen`` is None where none can be built, and ``refused`` says why.
    """

    move: Move
    kitchen: Kitchen | None
    findings: tuple[Finding, ...] = ()
    value: float | None = None
    is_met: bool = False
    broken: tuple[str, ...] = ()
    noted: tuple[Loss, ...] = ()
    missed: tuple[Finding, ...] = ()
    refused: str = ""

    @property
    def cures(self) -> bool:
        """Whether the finding is met and nothing is worse for it."""
        return self.is_met and not self.broken


@dataclass(frozen=True)
class Case:
    """A finding to be cured in a kitchen, under rules; ``before`` are all findings of that kitchen."""

    kitchen: Kitchen
    finding: Finding
    rules: Rules
    before: tuple[Finding, ...]

    @property
    def untouched(self) -> Trial:
        """The kitchen as it stands."""
        return Trial(NOTHING, self.kitchen, self.before, self.finding.value)

    def short(self, value: float | None) -> float:
        """By how much a value of the rule misses its limit; as far as can be where there is none."""
        if value is None:
            return float("inf")
        limit = self.finding.limit
        return max(0.0, limit - value if self.finding.sense == "at least" else value - limit)

    def nearer(self, trials: Iterable[Trial]) -> list[Trial]:
        """Those that met the rule or came nearer to it; first what met it and broke fewest others."""
        short = self.short(self.finding.value)
        some = [trial for trial in trials if trial.kitchen and (trial.is_met or self.short(trial.value) < short)]
        return ranked(some, key=self._rank, tie=lambda trial: trial.move.words)

    def _rank(self, trial: Trial) -> tuple[bool, int, float, int, float]:
        move = trial.move
        return not trial.is_met, len(trial.broken), self.short(trial.value), move.count, move.size

    def tried(self, move: Move) -> Trial:
        """The kitchen with a move made: first by the rule in question alone, then, if that is met, by all."""
        try:
            kitchen = build(edited(self.kitchen.document, dict(move.changes)), self.kitchen.catalogue)
        except CountersunkError as error:
            return Trial(move, None, refused=_why(error))
        value, met = self._after(check(kitchen, self._alone))
        return self._judged(move, kitchen, value) if met else Trial(move, kitchen, value=value)

    def _judged(self, move: Move, kitchen: Kitchen, value: float | None) -> Trial:
        findings = check(kitchen, self.rules)
        worse, noted = (losses(self.before, findings, some) for some in (BINDING, (Severity.NOTE,)))
        missed = tuple(loss.after for loss in worse)
        broken = sorted({finding.rule for finding in missed})
        spoilt = (name for name, count in KEPT.items() if count(kitchen) < self._kept[name])
        return Trial(move, kitchen, findings, value, True, (*broken, *spoilt), noted, missed)

    @cached_property
    def _kept(self) -> dict[str, float]:
        return {name: count(self.kitchen) for name, count in KEPT.items()}

    @cached_property
    def _alone(self) -> Rules:
        return Rules(tuple(rule for rule in self.rules.rules if rule.id == self.finding.rule))

    def _after(self, alone: Iterable[Finding]) -> tuple[float | None, bool]:
        """What the rule finds at the place, and whether it is met there and missed at fewer places than before.

        Where the place has gone, as it is known by what it is against as well, a new one stands for it, of the same
        subject where there is one.
        """
        mine, known = list(alone), {f.spot for f in self._own}
        here = [f for f in mine if f.spot == self.finding.spot]
        new = [f for f in mine if f.spot not in known]
        same = [f for f in new if f.where.subject == self.finding.where.subject]
        some = here or same or new
        found = least(some, key=rank) if some else None
        fewer = _missed(mine) < _missed(self._own)
        return found.value if found else None, fewer and (found is None or found.verdict is Verdict.MET)

    @cached_property
    def _own(self) -> list[Finding]:
        """What the rule found before, at all its places."""
        return [f for f in self.before if f.rule == self.finding.rule]


def _missed(findings: Iterable[Finding]) -> int:
    return sum(f.verdict is not Verdict.MET for f in findings)


def _why(error: CountersunkError) -> str:
    """The first problem in short."""
    if isinstance(error, InputError) and error.problems:
        return f"{error.problems[0].found} (allowed: {error.problems[0].allowed})"
    return f"{error}"
