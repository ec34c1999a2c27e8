"""Losses: what a change makes worse, place by place.

A place is the same before and after where its rule, its subject, its side and what it is against are the same.
It is *worse* where it is missed afterwards, and was met, was missed by less, was not measured or was not there. Of
several places that are known by the same, the worst is held against the worst. What is gone afterwards is not
worse: see `kept`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import zip_longest

from countersunk.model.checks.finding import Finding, Severity, Spot, Verdict

Known = tuple[str, Spot]


@dataclass(frozen=True)
class Loss:
    """A finding that is worse than the one ``before`` it at the same place, if there was one."""

    after: Finding
    before: Finding | None


def losses(
    before: Iterable[Finding], after: Iterable[Finding], severities: tuple[Severity, ...]
) -> tuple[Loss, ...]:
    """Every place that is worse, of rules of some severities, in the order of the findings after."""
    old, new = _by_place(before), _by_place(f for f in after if f.severity in severities)
    return tuple(loss for known, found in new.items() for loss in _of_place(old[known], found))


def _of_place(before: list[Finding], after: list[Finding]) -> Iterator[Loss]:
    """What is worse at one place: the worst held against the worst."""
    for was, now in zip_longest(sorted(before, key=rank), sorted(after, key=rank)):
        if now is not None and _is_worse(was, now):
            yield Loss(now, was)


def _is_worse(before: Finding | None, after: Finding) -> bool:
    if after.verdict is Verdict.MET:
        return False
    if before is None or before.verdict is Verdict.MET:
        return True
    unknown = before.margin is None and after.margin is not None
    return unknown or rank(after) < rank(before)


def rank(finding: Finding) -> float:
    """What is to spare; nothing is less than what was not measured."""
    return float("-inf") if finding.margin is None else finding.margin


def _by_place(findings: Iterable[Finding]) -> defaultdict[Known, list[Finding]]:
    found = defaultdict[Known, list[Finding]](list)
    for finding in findings:
        found[finding.rule, finding.spot].append(finding)
    return found
