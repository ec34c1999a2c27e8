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


def why_none(trials: Sequence[Trial], before: float | None, is_over: bool) -> str:
    """Why nothing within the layout cures, from everything that was tried; ``before`` is the value as it stands."""
    built = [trial for trial in trials if trial.kitchen is not None]
    cured = [trial for trial in built if trial.is_met]
    same = [trial for trial in built if not trial.is_met and trial.value == before]
    if built and len(same) == len(built):
        return f"none within this layout, which has nothing to do with it: {len(same)} changes left it as it is"
    rules = Counter(rule for trial in cured for rule in trial.broken).most_common(TOLD)
    counts = {
        "cannot be built": len(trials) - len(built),
        "leave it as it is": len(same),
        "do not reach it": len(built) - len(cured) - len(same),
        f"would, but break {' or '.join(f'{rule} ({n})' for rule, n in rules)}": len(cured),
    }
    told = ", ".join(f"{count} {what}" for what, count in counts.items() if count)
    more = "; no more were tried" if is_over else ""
    return f"none within this layout: of {len(trials)} changes tried {told or 'none helps'}{more}"
