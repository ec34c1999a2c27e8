"""Tables of a cutting plan for the terminal: what comes from which stock, in the order of the saw, and offcuts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from rich.table import Table

from countersunk.takeoff.cutting import CutLine, Rest, Sawn, Used, sawn
from countersunk.takeoff.plans.cut_lists import CutList
from countersunk.viewer.commands.cut_answer import Answer

OFFCUTS = 4
"""Offcuts named of each stock, the largest first."""


def plan_blocks(answer: Answer) -> Iterator[Table | str]:
    """A table for lengths, or one for each different sheet; then what it costs and how good that is."""
    cut, layouts = answer.cut, Counter(answer.used)
    if cut.flat:
        for number, (layout, times) in enumerate(layouts.items(), start=1):
            yield from _sheet(cut, layout, number, times)
    else:
        yield _lengths(cut, layouts)
    yield _verdict(answer)


def _verdict(answer: Answer) -> str:
    """One sentence on count, cost and bound."""
    cut, found = answer.cut, answer.found
    if "value" in found:
        return _value_verdict(answer)
    count, cost = found["stock_count"], found["cost"]
    noun = ("sheet" if cut.flat else "length") + ("" if count == 1 else "s")
    if len(cut.stocks) == 1 and cut.stocks[0].price:
        return f"{count} {noun}; {_fewer(cut, found)}. Cost {cost:g}."
    return f"{count} {noun}, cost {cost:g}; {_less(found)}."


def _value_verdict(answer: Answer) -> str:
    bound, found = answer.most, answer.found
    end = "more is impossible" if found["proven"] else f"more than {bound:g} is impossible, up to that may exist"
    return f"Value {found['value']:g} from one {answer.cut.stocks[0].id}; {end}."


def _fewer(cut: CutList, found: dict[str, Any]) -> str:
    """Of one kind of stock the bound is said as a count."""
    least = round(Fraction(found["lower_bound"]) / Fraction(cut.stocks[0].price, cut.per_price))
    return "fewer is impossible" if found["proven"] else f"fewer than {least} is impossible, {least} may be enough"


def _less(found: dict[str, Any]) -> str:
    cost, bound = found["cost"], found["lower_bound"]
    return (
        "less is impossible" if found["proven"] else f"below {bound:g} is impossible, less than {cost:g} may exist"
    )


def _lengths(cut: CutList, layouts: Counter[Used]) -> Table:
    table = Table("No.", "Stock", "Cut in order, each with where it begins", "Offcut", title_justify="left")
    for number, (layout, times) in enumerate(layouts.items(), start=1):
        parts = sawn(layout, cut.saw)
        pieces = "\n".join(f"{c.id}  {_mm(c.length, cut)}  at {_mm(c.x, cut)}" for c in parts.pieces)
        stock = f"{times} × {layout.stock.id}, {_mm(layout.stock.length, cut)}"
        table.add_row(str(number), stock, pieces, "\n".join(_mm(o.length, cut) for o in parts.offcuts))
    return table


def _sheet(cut: CutList, layout: Used, number: int, times: int) -> Iterator[Table | str]:
    stock, parts = layout.stock, sawn(layout, cut.saw)
    size = f"{_mm(stock.length, cut)} × {_mm(stock.width, cut)}"
    table = Table(title=f"No. {number}: {times} × {stock.id}, {size}", title_justify="left")
    table.add_column("Panel", overflow="fold")
    for name in ("x", "y", "Along", "Across"):
        table.add_column(name, justify="right")
    table.add_column("")
    for c in parts.pieces:
        sizes = [_mm(v, cut) for v in (c.x, c.y, c.length, c.width)]
        table.add_row(c.id, *sizes, "turned" if c.rotated else "")
    yield table
    yield f"Saw in order: {'; '.join(_line(line, cut) for line in parts.lines) or 'nothing'}."
    yield f"Offcuts: {_offcuts(parts, cut)}.\n"


def _line(line: CutLine, cut: CutList) -> str:
    """A cut across is at an x, one along at a y."""
    at, begin, end = (_mm(v, cut) for v in (line.at, line.begin, line.end))
    return f"{'across at x' if line.across else 'along at y'} {at} from {begin} to {end}"


def _offcuts(parts: Sawn, cut: CutList) -> str:
    largest = sorted(parts.offcuts, key=lambda rest: -rest.area)[:OFFCUTS]
    return ", ".join(_rest(rest, cut) for rest in largest) or "none"


def _rest(rest: Rest, cut: CutList) -> str:
    return f"{_mm(rest.length, cut)} × {_mm(rest.width, cut)}"


def _mm(steps: int, cut: CutList) -> str:
    return f"{steps / cut.per_mm:.10g}"
