"""Top quantities: worktops counted by the lengths of their plans, and what is taken from a stock of offcuts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting import wording
from countersunk.takeoff.counting.quantities import Contribution, Quantity
from countersunk.takeoff.measuring.rules import TakeoffRules
from countersunk.takeoff.plans.tops import Bar, TopPlan
from countersunk.takeoff.stock.offcuts import item_of
from countersunk.takeoff.stock.sources import cited


def worktop_quantities(kitchen: Kitchen, plans: Sequence[TopPlan], rules: TakeoffRules) -> list[Quantity]:
    """One quantity for each kind of length bought, for each offcut taken, and for what no stock holds.

    Raises ValueError for plans that do not hold every length of the kitchen once.
    """
    _check_plans(kitchen, plans)
    bought = [_bought(kitchen, list(bars), plan, rules) for plan in plans for bars in _alike(plan)]
    return bought + [_unplaced(kitchen, plan, rules) for plan in plans if plan.unplaced]


def _alike(plan: TopPlan) -> Iterator[Iterator[Bar]]:
    ordered = sorted(plan.bars, key=_kind)
    return (bars for _, bars in groupby(ordered, key=_kind))


def _kind(bar: Bar) -> tuple[str, str, float]:
    return bar.offcut, bar.stock, bar.length


def _bought(kitchen: Kitchen, bars: Sequence[Bar], plan: TopPlan, rules: TakeoffRules) -> Quantity:
    """Bars of one kind: bought, or offcuts that the firm has."""
    first, stock = bars[0], kitchen.catalogue.stocks[bars[0].stock]
    decor = kitchen.catalogue.decors[kitchen.length(first.pieces[0].id).run.top]
    pieces = [p for bar in bars for p in bar.pieces]
    kept = f"offcut {first.offcut}, " if first.offcut else ""
    narrower = f", {first.depth:g} deep" if first.depth != stock.depth else ""
    cut = "; ".join(wording.bar(bar, rules.saw.kerf) for bar in bars)
    return Quantity(
        item=item_of(first.offcut) if kept else f"{first.stock}.{first.length:g}",
        description=f"{kept}{stock.name} x {first.length:g}{narrower}, {decor.name}",
        group="worktop",
        unit="m",
        net=sum(p.length for p in pieces) / 1000,
        allowance=sum(map(_spent, bars)) / 1000,
        pack=first.length / 1000,
        pack_name=f"length of {first.length:g} mm",
        packs=len(bars),
        formula=f"{cut} ({wording.bound(plan)})",
        contributions=tuple(Contribution(kitchen.length(p.id).key, p.length / 1000) for p in pieces),
        rule="worktops",
        source=cited(rules.saw.sources),
        note="; ".join(_notes(bars, plan, stock, rules)),
        decor=decor.code,
    )  # fmt: skip


def _spent(bar: Bar) -> float:
    """What trim and saw cuts take of a bar beside its pieces, mm; nothing where rows share its length."""
    return max(0.0, bar.end + bar.trim / 2 - bar.net)


def _notes(bars: Sequence[Bar], plan: TopPlan, stock: Stock, rules: TakeoffRules) -> Iterator[str]:
    for bar in bars:
        if bar.trim < rules.saw.trim and not bar.offcut:
            ids = " and ".join(p.id for p in bar.pieces)
            yield f"{ids}: on {bar.length:g} less is left than the trim of {rules.saw.trim:g}"
        ripped = [p.id for p in bar.pieces if p.depth < bar.depth]
        if ripped:
            yield f"{', '.join(ripped)} ripped from a depth of {bar.depth:g}"
    if stock.code not in plan.stocks:
        yield f"instead of {', '.join(plan.stocks)}, of the same section: ask for the same decor and batch"
    left = [o for bar in bars for o in bar.left]
    if left:
        yield f"worth keeping: {', '.join(f'{o.length:g} x {o.width:g}' for o in left)}"


def _unplaced(kitchen: Kitchen, plan: TopPlan, rules: TakeoffRules) -> Quantity:
    """What no stock length holds: measured, and not ordered."""
    ids, code = ", ".join(p.id for p in plan.unplaced), plan.stocks[0]
    stock = kitchen.catalogue.stocks[code]
    problem = f"{ids} longer than the longest stock, {max(stock.lengths):g}"
    net = sum(p.length for p in plan.unplaced) / 1000
    shares = tuple(Contribution(kitchen.length(p.id).key, p.length / 1000) for p in plan.unplaced)
    return Quantity(
        stock.code, stock.name, "worktop", "m", net, 0.0, None, "", None, problem, shares, "worktops",
        cited(rules.saw.sources), problem=problem,
    )  # fmt: skip


def _check_plans(kitchen: Kitchen, plans: Sequence[TopPlan]) -> None:
    placed = [p.id for plan in plans for bar in plan.bars for p in bar.pieces]
    placed += [p.id for plan in plans for p in plan.unplaced]
    lengths = [length.id for length in kitchen.cut_here.lengths]
    if sorted(placed) != sorted(lengths):
        raise ValueError(f"the plans hold {sorted(placed)} where the kitchen has {sorted(lengths)}")
