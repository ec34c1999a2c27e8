"""The command ``countersunk joins``: every way to place the joins of the tops, and one of them pinned."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rich.table import Table

from countersunk.model.errors import InputError
from countersunk.model.showing import in_inches
from countersunk.model.ties import settled
from countersunk.model.tops.bands import in_words
from countersunk.takeoff.counting.join_plans import JoinPlan


def chosen(plans: list[JoinPlan], number: int) -> JoinPlan:
    """The plan of that number, counted from 1. Raises InputError for none, or one that cannot be."""
    if not 1 <= number <= len(plans):
        raise InputError.at("--pin", found=f"{number}", allowed=f"1 to {len(plans)}", advice="a number of the list")
    plan = plans[number - 1]
    if not plan.admissible:
        raise InputError.at(
            "--pin", found=f"{number}, which cannot be: {plan.reasons[0]}", allowed="a plan with a price",
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


def tables(plans: list[JoinPlan]) -> Iterator[Table]:
    """The plans that can be, the best first; then the others with what speaks against them."""
    numbered = list(enumerate(plans, start=1))
    good = Table("no.", "joins", "pieces, mm", "heaviest, kg", "whole kitchen, net", "to know", title="Join plans")
    good.caption = saving(plans)
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


def saving(plans: list[JoinPlan]) -> str | None:
    """What the program does by itself, and what the cheapest plan would save against it.

    The program places joins by lengths alone, so that a file without a word on them stays as it was.
    """
    own = next((plan for plan in plans if plan.own and plan.total is not None), None)
    if own is None or own.total is None:
        return None
    first = plans[0]
    if first.total is None or first.total >= own.total:
        return "* as the program does by itself; none is cheaper"
    return f"* as the program does by itself; no. 1 saves {own.total - first.total}: --pin 1 --out FILE writes it"


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
