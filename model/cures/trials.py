"""Trials: the kitchen with a move made, and what became of its findings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from model.checks import check
from model.checks.finding import Finding, Severity, Verdict
from model.checks.rules import Rules
from model.cures.moves import Move
from model.edits import edited
from model.errors import CountersunkError
from model.kitchen import Kitchen, build

BINDING = (Severity.MUST, Severity.SHOULD)
"""What a cure may not break; a note that it brings is told."""


@dataclass(frozen=True)
class Trial:
    """A move with the kitchen that it makes. ``value`` is what the rule finds at the place after it, if anything.

    ``broken`` names the musts and advices that are missed oftener than before, ``noted`` the notes. ``kitchen`` is
    None where none can be built.
    """

    move: Move
    kitchen: Kitchen | None
    findings: tuple[Finding, ...] = ()
    value: float | None = None
    is_met: bool = False
    broken: tuple[str, ...] = ()
    noted: tuple[str, ...] = ()

    @property
    def cures(self) -> bool:
        """Whether the finding is met and nothing else is missed for it."""
        return self.is_met and not self.broken


@dataclass(frozen=True)
class Case:
    """A finding to be cured in a kitchen, under rules; ``before`` are all findings of that kitchen."""

    kitchen: Kitchen
    finding: Finding
    rules: Rules
    before: tuple[Finding, ...]

    def tried(self, move: Move) -> Trial:
        """The kitchen with a move made: first by the rule in question alone, then, if that is met, by all."""
        try:
            kitchen = build(edited(self.kitchen.document, dict(move.changes)), self.kitchen.catalogue)
        except CountersunkError:
            return Trial(move, None)
        alone = check(kitchen, self._alone)
        value, met = self._after(alone)
        if not met:
            return Trial(move, kitchen, value=value)
        findings = check(kitchen, self.rules)
        broken, noted = (newly_missed(self.before, findings, some) for some in (BINDING, (Severity.NOTE,)))
        return Trial(move, kitchen, findings, value, True, broken, noted)

    @property
    def _alone(self) -> Rules:
        return Rules(tuple(rule for rule in self.rules.rules if rule.id == self.finding.rule))

    def _after(self, alone: Iterable[Finding]) -> tuple[float | None, bool]:
        """What the rule finds at the place, and whether it is met there and missed at fewer places than before."""
        mine = list(alone)
        here = next((f for f in mine if f.place == self.finding.place), None)
        there = min(mine, key=lambda f: f.margin if f.margin is not None else float("-inf"), default=None)
        missed = [f for f in mine if f.verdict is not Verdict.MET]
        before = [f for f in self.before if f.rule == self.finding.rule and f.verdict is not Verdict.MET]
        found = here or there
        value = found.value if found else None
        return value, len(missed) < len(before) and (here is None or here.verdict is Verdict.MET)


def newly_missed(
    before: Iterable[Finding], after: Iterable[Finding], severities: tuple[Severity, ...] = BINDING
) -> tuple[str, ...]:
    """Rules of some severities that are missed, or not measured, at more places than before."""
    old, new = (
        Counter(f.rule for f in some if f.severity in severities and f.verdict is not Verdict.MET)
        for some in (before, after)
    )
    return tuple(sorted(rule for rule, count in new.items() if count > old[rule]))
