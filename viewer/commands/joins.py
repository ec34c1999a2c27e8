"""The command ``countersunk joins``: every way to place the joins of the tops, and one of them pinned."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rich.table import Table

from countersunk.model.errors import InputError
from countersunk.model.showing import in_inches
from countersunk.model.ties import settled
from countersunk.model.tops.bands import in_words
from countersunk.takeoff.counting.join_plan import JoinPlan
from countersunk.takeoff.counting.join_plans import OWN_RULES, cheapest

CHEAPEST = "cheapest"
"""What `--pin` takes for the plan that costs least, besides a number of the list."""


def chosen(plans: list[JoinPlan], asked: str) -> JoinPlan:
    """The plan of that number, counted from 1, or the `CHEAPEST`.

    Raises InputError for none, or one that cannot be.
    """
    best = cheapest(plans)
    if asked == CHEAPEST and best is not None:
        return best
    if not (asked.isdecimal() and 1 <= int(asked) <= len(plans)):
        raise InputError.at(
            "--pin", found=f"{asked!r}", allowed=f"1 to {len(plans)}, or {CHEAPEST}", advice="a number of the list"
        )
    plan = plans[int(asked) - 1]
    if not plan.admissible:
        raise InputError.at(
            "--pin", found=f"{asked}, which cannot be: {plan.reasons[0]}", allowed="a plan with a price",
            advice="one from the top of the list",
        )  # fmt: skip
    return plan


def as_json(plans: list[JoinPlan]) -> list[dict[str, Any]]:
    """Every plan as plain data."""
    return [
        {
            "number": i,
            "words": plan.words,
            "joins": [c.model_dump(exclude_none=True) for c in plan.corners],
            "in_line": [j.model_dump() for j in plan.in_line],
            "admissible": plan.admissible,
            "reasons": list(plan.reasons),
            "notes": list(plan.notes),
            "own": plan.own,
            "bands": [list(map(list, band)) for band in plan.bands],
            "total": None if plan.total is None else str(plan.total),
            "pieces": [vars(piece) for piece in plan.pieces],
        }
        for i, plan in enumerate(plans, start=1)
    ]


def tables(plans: list[JoinPlan], joins_by: str) -> Iterator[Table]:
    """The plans that can be, the program's own first, the others by rank; then what speaks against the rest.

    ``joins_by`` is the word of the kitchen file.
    """
    numbered = list(enumerate(plans, start=1))
    own = _own(plans)
    heads = ("no.", "joins", "pieces, mm", "heaviest, kg", "whole kitchen, net", *(["against *"] if own else []))
    good = Table(*heads, "to know", title="Join plans", caption_justify="left")
    good.caption = saving(plans, joins_by)
    for i, plan in numbered:
        if plan.admissible:
            lengths = ", ".join(f"{p.length:.0f}{in_inches(p.length)}" for p in plan.pieces)
            heaviest = f"{max(p.mass for p in plan.pieces):.1f}" if plan.pieces else ""
            good.add_row(
                f"{i}{' *' if plan.own else ''}",
                plan.words,
                lengths,
                heaviest,
                f"{plan.total}",
                *([_against(plan, own)] if own else []),
                "\n".join(plan.notes),
            )
    yield good
    yield from _bands(plans)
    if any(not plan.admissible for plan in plans):
        bad = Table("no.", "joins", "why not", title="Not to be had")
        for i, plan in numbered:
            if not plan.admissible:
                bad.add_row(str(i), plan.words, "\n".join(plan.reasons))
        yield bad


def saving(plans: list[JoinPlan], joins_by: str) -> str | None:
    """By what rule the program places joins, and what the cheapest plan would save against that.

    The program goes by lengths alone, so that no kitchen changes with a price book. By stock no plan of the list
    with the same kinds of join needs less than its own.
    """
    own, best = _own(plans), cheapest(plans)
    if own is None or best is None or own.total is None or best.total is None:
        return None
    rule = f"* as the program does by itself: {OWN_RULES[joins_by]}"
    if joins_by == "stock":
        rule += ". None with the same kinds of join needs less"
    if best.total == own.total:
        return f"{rule}. None is cheaper"
    number = plans.index(best) + 1
    return f"{rule}. No. {number} is the cheapest and saves {own.total - best.total}: --pin {CHEAPEST} --out FILE"


def _own(plans: list[JoinPlan]) -> JoinPlan | None:
    """What the program does by itself, where it can be."""
    return next((plan for plan in plans if plan.own and plan.admissible), None)


def _against(plan: JoinPlan, own: JoinPlan) -> str:
    """What a plan costs more or less than the program's own; empty for that itself."""
    if plan.total is None or own.total is None or plan.own:
        return ""
    return f"{plan.total - own.total:+}"


def _bands(plans: list[JoinPlan]) -> Iterator[Table]:
    """From where to where each join in line of the plans that can be may lie, along its run, each band once."""
    parted = [
        (j, band) for plan in plans if plan.admissible for j, band in zip(plan.in_line, plan.bands, strict=True)
    ]
    found: dict[tuple[str, str], list[str]] = {}
    for join, band in parted:
        places = found.setdefault((join.run, in_words(band)), [])
        places.append(f"{settled(join.at):.0f}")
    if found:
        table = Table(
            "run", "a join may lie anywhere at, mm", "of these plans", title="In line, while other joins stay"
        )
        for (run, words), places in found.items():
            table.add_row(run, words, ", ".join(dict.fromkeys(places)))
        yield table
