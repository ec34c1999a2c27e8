"""Wording: a cure in a sentence, with what it comes to and what else it touches."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from model.checks.finding import Finding, Verdict, as_shown
from model.cures.trials import BINDING, Trial

NEAR = 1.0
"""A margin smaller than the limit itself, times this, is worth telling."""

NO_LIMIT = 100.0
"""Against which the margin is weighed where the limit is 0."""

TOLD = 3
"""So many other findings are told, the nearest to their limits first."""


def effects(before: Iterable[Finding], after: Iterable[Finding]) -> list[Finding]:
    """What has another value afterwards and is still met, near its limit, the nearest first; no notes."""
    old = {(f.rule, f.place): f.value for f in before}
    changed = [f for f in after if f.severity in BINDING and old.get((f.rule, f.place), f.value) != f.value]
    near = [f for f in changed if f.verdict is Verdict.MET and _spare(f) < NEAR]
    return sorted(near, key=_spare)


def sentence(finding: Finding, trial: Trial, told: Sequence[Finding]) -> str:
    """Such as "move the hob 80 mm to the left: 300 mm (at least 300 mm); still met: …"."""
    value = "no longer in question" if trial.value is None else as_shown(trial.value, finding.unit)
    words = f"{trial.move.words}: {value} ({_limit(finding)})"
    distinct = {f.place: f for f in reversed(told) if f.rule != finding.rule}
    nearest = [f for f in told if distinct.get(f.place) is f][:TOLD]
    if nearest:
        kept = (f"{f.place} {as_shown(f.value or 0.0, f.unit)} ({_limit(f)})" for f in nearest)
        words += f"; still met: {', '.join(kept)}"
    return f"{words}; then worth a look: {', '.join(trial.noted)}" if trial.noted else words


def _limit(finding: Finding) -> str:
    return f"{finding.sense} {as_shown(finding.limit, finding.unit)}"


def _spare(finding: Finding) -> float:
    """The margin in proportion to the limit."""
    return (finding.margin or 0.0) / (finding.limit or NO_LIMIT)


def why_none(trials: Sequence[Trial], is_over: bool) -> str:
    """Why nothing within the layout cures, from everything that was tried."""
    unbuilt = sum(trial.kitchen is None for trial in trials)
    cured = [trial for trial in trials if trial.is_met]
    rules = Counter(rule for trial in cured for rule in trial.broken).most_common(TOLD)
    parts = [f"{unbuilt} cannot be built"] if unbuilt else []
    if len(trials) - unbuilt - len(cured):
        parts.append(f"{len(trials) - unbuilt - len(cured)} do not reach it")
    if cured:
        parts.append(f"{len(cured)} would, but break {' or '.join(f'{rule} ({n})' for rule, n in rules)}")
    more = "; no more than these were tried" if is_over else ""
    return f"none within this layout: of {len(trials)} changes tried {', '.join(parts) or 'none helps'}{more}"
