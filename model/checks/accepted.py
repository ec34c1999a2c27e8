"""Accepted: musts that are not met, and who accepts each of them, and why.

A quote goes out only if every must is met or accepted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from countersunk.model.checks.finding import Finding, Verdict, as_shown
from countersunk.model.document.accepted import Accepted
from countersunk.model.errors import InputError, Problem
from countersunk.model.kitchen import Kitchen

MOST = 8
"""So many musts are named in one message; of the others it says how many there are."""


def accepted_by(kitchen: Kitchen, finding: Finding) -> Accepted | None:
    """Who accepts that a must is not met, as the kitchen's file says; None where nobody does."""
    names = {*finding.ids, *(thing.key for thing in finding.things)}
    known = kitchen.document.accepted
    return next((a for a in known if a.rule == finding.rule and a.at in names), None)


def accepted_words(kitchen: Kitchen, findings: Iterable[Finding]) -> Iterator[str]:
    """Every must that is not met and accepted: what is asked, what there is, who accepts it, and why."""
    for finding in _unmet(findings):
        agreed = accepted_by(kitchen, finding)
        if agreed:
            yield f"{finding.question} {finding.place}: {_shown(finding)}. Accepted by {agreed.by}: {agreed.reason}"


def refuse_unmet(kitchen: Kitchen, findings: Iterable[Finding], where: str = "") -> None:
    """Raises InputError that names every must which is not met and which nobody accepts; ``where`` begins each."""
    open_ = [f for f in _unmet(findings) if accepted_by(kitchen, f) is None]
    if not open_:
        return
    problems = [_problem(finding, where) for finding in open_[:MOST]]
    if len(open_) > MOST:
        problems.append(Problem(f"{where}musts", f"{len(open_) - MOST} more that are not met", "none", "see check"))
    raise InputError(problems)


def _unmet(findings: Iterable[Finding]) -> list[Finding]:
    return [f for f in findings if f.verdict is Verdict.NOT_MET]


def _shown(finding: Finding) -> str:
    value = "not measured" if finding.value is None else as_shown(finding.value, finding.unit)
    return f"{value}, {finding.sense} {as_shown(finding.limit, finding.unit)} is asked"


def _problem(finding: Finding, where: str) -> Problem:
    at = next(iter(finding.ids), finding.where.subject.key)
    entry = f"{{rule: {finding.rule}, at: {at}, by: your name, reason: why}}"
    advice = f"put it right, or add to the kitchen file, under accepted: {entry}"
    return Problem(f"{where}{finding.rule}", f"{finding.place}: {_shown(finding)}", "a must that is met", advice)
