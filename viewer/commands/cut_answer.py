"""Cut answer: a cutting plan for a list of pieces in the words of ``countersunk cut``, and what it leaves."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import inf
from pathlib import Path
from time import perf_counter
from typing import Any

from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue
from countersunk.model.errors import InputError, Problem
from countersunk.takeoff.cutting import Cut, CutPlan, Used, best_value, cut_lengths, cut_sheets, sawn
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.cut_lists import CutList, read_cut_list
from countersunk.takeoff.stock.offcuts import Offcut, after, new_offcut

VALUES_ASIDE = (
    "The values are left aside: they count where the stock is one line with a quantity of 1. Every piece is cut."
)


@dataclass(frozen=True)
class Answer:
    """What was read and what is cut; ``found`` is the contract's answer, ``most`` a value that nothing exceeds."""

    cut: CutList
    used: list[Used]
    found: dict[str, Any]
    most: int | float = 0


def answer(
    pieces: Path, stock: Path, kerf: str, trim: str, seconds: float | None, offcuts: Sequence[Offcut] = ()
) -> Answer:  # fmt: skip
    """Read, plan, and say what was found. Raises InputError."""
    cut, start = read_cut_list(pieces, stock, kerf, trim, offcuts), perf_counter()
    limit = inf if seconds is None else seconds
    planned = _most_valuable(cut, limit) if cut.seeks_value else _cheapest(cut, limit, stock.name)
    cuts = [{"stock": u.stock.id, "cuts": [_cut(c, cut) for c in u.cuts]} for u in planned.used]
    count, took = len(planned.used), round(perf_counter() - start, 3)
    return replace(planned, found={"used": cuts, "stock_count": count, **planned.found, "seconds": took})


def next_offcuts(answer: Answer, stock: Sequence[Offcut], material: str) -> tuple[Offcut, ...]:
    """The stock of offcuts for the next job: less what this one takes, and what it leaves that is worth keeping.

    What is left of an offcut has its decor. Raises InputError for what is left of lengths that are no worktop:
    nobody has said how wide they are.
    """
    cut, known = answer.cut, {o.id: o for o in stock}
    left = []
    for used in answer.used:
        old = known.get(used.stock.id)
        for rest in sawn(used, cut.saw).offcuts:
            length, width = rest.length / cut.per_mm, rest.width / cut.per_mm
            if _is_kept(length, width, cut.flat):
                across = width if cut.flat else old.width if old else _depth(material)
                left.append(new_offcut(material, old.decor if old else "", length, across))
    return after(stock, [u.stock.id for u in answer.used if u.stock.id in known], left)


def _is_kept(length: float, width: float, flat: bool) -> bool:
    saw = default_rules()
    return saw.sheets.is_kept(length, width) if flat else length >= max(saw.saw.keep)


def _depth(material: str) -> float:
    """How deep a worktop is sold, mm."""
    stocks = {**inch_catalogue().stocks, **default_catalogue().stocks}
    if material not in stocks:
        raise InputError.unknown("--material", material, stocks, "a worktop where lengths are kept")
    return stocks[material].depth


def _cheapest(cut: CutList, seconds: float, file: str) -> Answer:
    plan = (cut_sheets if cut.flat else cut_lengths)(cut.pieces, cut.stocks, cut.saw, seconds=seconds)
    if plan.unplaced:
        raise _short(plan, cut, file)
    found = {
        "cost": _number(plan.cost, cut.per_price),
        "lower_bound": _number(plan.lower_bound, cut.per_price),
        "proven": plan.proven,
    }
    return Answer(cut, list(plan.used), found)


def _most_valuable(cut: CutList, seconds: float) -> Answer:
    best = best_value(cut.pieces, cut.stocks[0], cut.saw, seconds=seconds)
    used = [best.used] if best.used.cuts else []
    price = _number(cut.stocks[0].price if used else 0, cut.per_price)
    found = {
        "cost": price, "lower_bound": price, "proven": best.proven, "value": _number(best.value, cut.per_value),
    }  # fmt: skip
    return Answer(cut, used, found, _number(best.bound, cut.per_value))


def _short(plan: CutPlan, cut: CutList, file: str) -> InputError:
    left = ", ".join(f"{n} × {id_}" for id_, n in list(Counter(plan.unplaced).items())[:6])
    there = ", ".join(f"{s.quantity} × {s.id}" for s in cut.stocks if s.quantity is not None)
    found = f"{there}, on which {left} found no place"
    return InputError([Problem("quantity", found, "stock for every piece", "more or larger stock", file)])


def _cut(cut: Cut, list_: CutList) -> dict[str, Any]:
    """One piece as the contract has it."""
    x, y, length, width = (_number(v, list_.per_mm) for v in (cut.x, cut.y, cut.length, cut.width))
    if not list_.flat:
        return {"id": cut.id, "at": x, "length": length}
    return {"id": cut.id, "x": x, "y": y, "length": length, "width": width, "rotated": cut.rotated}


def _number(steps: int, scale: int) -> int | float:
    """Whole where it is whole."""
    value = Fraction(steps, scale)
    return int(value) if value.denominator == 1 else float(value)
