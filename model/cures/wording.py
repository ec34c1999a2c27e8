"""Wording: a cure in a sentence, with what it comes to and what else it touches."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from countersunk.model.checks.finding import Finding, Verdict, as_shown
from countersunk.model.cures.losses import Loss
from countersunk.model.cures.trials import BINDING, Case, Trial
from countersunk.model.ties import least, ranked
from countersunk.model.tolerance import CONTACT

NEAR = 1.0
"""A margin smaller than the limit itself, times this, is worth telling."""

TOLD = 3
"""So many other findings are told, the nearest to their limits first."""


def effects(before: Iterable[Finding], after: Iterable[Finding]) -> list[Finding]:
    """What has another value afterwards and is still met, near its limit, the nearest first; no notes."""
    old = {(f.rule, f.spot): f.value for f in before}
    changed = [f for f in after if f.severity in BINDING and old.get((f.rule, f.spot), f.value) != f.value]
    near = [f for f in changed if f.verdict is Verdict.MET and f.share < NEAR]
    return ranked(near, key=lambda f: f.share, within=CONTACT)


def sentence(finding: Finding, trial: Trial, told: Sequence[Finding]) -> str:
    """Such as "move the hob 80 mm to the left: 300 mm (at least 300 mm); still met: …"."""
    shown = "" if trial.value is None else f"{as_shown(trial.value, finding.unit)} ({_limit(finding)})"
    words = f"{trial.move.words}: {shown or 'no longer in question'}"
    distinct = {f.place: f for f in reversed(told) if f.rule != finding.rule}
    nearest = [f for f in told if distinct.get(f.place) is f][:TOLD]
    if nearest:
        kept = (f"{f.place} {as_shown(f.value or 0.0, f.unit)} ({_limit(f)})" for f in nearest)
        words += f"; still met: {', '.join(kept)}"
    return f"{words}; then worth a look: {_lost(trial.noted)}" if trial.noted else words


def _lost(noted: Sequence[Loss]) -> str:
    """What notes lose: each place with its value and what it was before."""
    return ", ".join(_loss(loss) for loss in noted)


def _loss(loss: Loss) -> str:
    before = "" if loss.before is None or loss.before.value is None else f", {_value(loss.before)} before"
    return f"{loss.after.place} {_value(loss.after)} ({_limit(loss.after)}{before})"


def _value(finding: Finding) -> str:
    return finding.reason if finding.value is None else as_shown(finding.value, finding.unit)


def _limit(finding: Finding) -> str:
    return f"{finding.sense} {as_shown(finding.limit, finding.unit)}"


def why_none(case: Case, trials: Sequence[Trial], moves: int) -> str:
    """Why nothing within the layout cures, from everything that was tried, and what stopped the nearest.

    ``moves`` is how many were made one after the other, at most.
    """
    none = f"none within this layout{' by a single move' if moves == 1 else ''}"
    built = [trial for trial in trials if trial.kitchen is not None]
    cured = [trial for trial in built if trial.is_met]
    before = case.finding.value
    same = [trial for trial in built if not trial.is_met and trial.value == before]
    if len(built) == len(same) > len(trials) / 2:
        return f"{none}, which has nothing to do with it: {len(same)} changes left it as it is"
    rules = Counter(rule for trial in cured for rule in trial.broken).most_common(TOLD)
    counts = {
        "cannot be built": len(trials) - len(built),
        "leave it as it is": len(same),
        "do not reach it": len(built) - len(cured) - len(same),
        f"would, but break {' or '.join(f'{rule} ({n})' for rule, n in rules)}": len(cured),
    }
    told = ", ".join(f"{count} {what}" for what, count in counts.items() if count)
    return f"{none}{_nearest(case, trials)}. Of {len(trials)} changes tried {told or 'none helps'}"


def _nearest(case: Case, trials: Sequence[Trial]) -> str:
    """The change that came nearest, and what it is stopped by; where none came nearer, the smallest not built."""
    nearer = case.nearer(trials)
    refused = [trial for trial in trials if not trial.kitchen]
    if not nearer and refused:
        smallest = least(refused, key=lambda t: (t.move.count, t.move.size))
        return f". Smallest of these: {smallest.move.words}, where it is {smallest.refused}"
    if not nearer:
        return ""
    return f". Nearest: {nearer[0].move.words}, {_stopped(case, nearer[0])}"


def _stopped(case: Case, trial: Trial) -> str:
    """What keeps a trial from being a cure, with its numbers."""
    if not trial.is_met:
        return f"which comes to {as_shown(trial.value or 0.0, case.finding.unit)} ({_limit(case.finding)})"
    worst = {f.rule: f for f in reversed(trial.missed)}
    return f"which breaks {' and '.join(_broken(rule, worst.get(rule)) for rule in trial.broken[:TOLD])}"


def _broken(rule: str, finding: Finding | None) -> str:
    if finding is None:
        return rule
    return f"{rule} ({finding.place}: {_value(finding)}, {_limit(finding)})"
