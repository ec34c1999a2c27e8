"""Accepted: a quote goes out only if every line has its price, or somebody accepted by name that it has none."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from countersunk.model.errors import InputError, Problem
from countersunk.takeoff.counting.takeoff import Takeoff


def missing(takeoff: Takeoff) -> dict[str, str]:
    """What has no price, coverage, article or rule: its code, and why."""
    return {gap.code: gap.why for gap in takeoff.totals.gaps}


def check_priced(takeoff: Takeoff, accept: Collection[str] = ()) -> None:
    """Raises InputError that names every line without a price that neither ``accept`` nor the terms name."""
    problems = list(_problems(takeoff, {*accept, *takeoff.terms.accept}))
    if problems:
        raise InputError(problems)


def _problems(takeoff: Takeoff, accepted: Collection[str]) -> Iterator[Problem]:
    for code, why in missing(takeoff).items():
        if code not in accepted:
            advice = f"mend the price book, catalogue or rules, or leave it out by name: --accept {code}"
            yield Problem(code, why, "a line with its price", advice)
