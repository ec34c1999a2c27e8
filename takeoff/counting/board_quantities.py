"""Board quantities: boards counted by the sheets of a plan, where one was made, instead of by their area."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from countersunk.takeoff.counting.quantities import Quantity
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.plans.boards import BoardPlan
from countersunk.takeoff.stock.offcuts import item_of
from countersunk.takeoff.stock.units import UNITS, amount


def on_sheets(
    quantities: Iterable[Quantity], plans: Sequence[BoardPlan], marks: Mapping[str, str]
) -> list[Quantity]:
    """The same quantities, those of planned boards with the sheets that their plan takes, and the offcuts taken.

    ``marks`` are what people read for the ids of parts.
    Raises ValueError for a plan that holds other parts than the quantity was measured from.
    """
    planned = {(plan.board.code, plan.decor_code): plan for plan in plans}
    found: list[Quantity] = []
    for quantity in quantities:
        plan = planned.get((quantity.item, quantity.decor))
        found += [quantity] if plan is None else _planned(quantity, plan, marks)
    return found


def _planned(quantity: Quantity, plan: BoardPlan, marks: Mapping[str, str]) -> list[Quantity]:
    """Sheets to buy, if any, and every offcut that is taken; panels are measured where they are cut from."""
    placed = [place.id for sheet in plan.sheets for place in sheet.places]
    if sorted([*placed, *plan.unplaced]) != sorted(c.id for c in quantity.contributions):
        raise ValueError(f"the plan of {plan.code} holds other parts than the kitchen has")
    taken = dict.fromkeys(sheet.offcut for sheet in plan.sheets if sheet.offcut)
    bought = [_bought(quantity, plan, marks)] if plan.bought or plan.unplaced else []
    return [*bought, *(_taken(quantity, plan, id_) for id_ in taken)]


def _bought(quantity: Quantity, plan: BoardPlan, marks: Mapping[str, str]) -> Quantity:
    """What is neither panel nor kept offcut is the allowance: saw cuts, trim and waste."""
    elsewhere = {p.id for sheet in plan.sheets if sheet.offcut for p in sheet.places}
    shares = tuple(c for c in quantity.contributions if c.id not in elsewhere)
    net, length, width = sum(c.amount for c in shares), *plan.board.sheet
    kept = sum(o.length * o.width for sheet in plan.sheets if not sheet.offcut for o in sheet.offcuts)
    spent = (plan.bought * length * width - kept) / UNITS["m2"].size
    left = ", ".join(marks[id_] for id_ in plan.unplaced)
    return replace(
        quantity,
        net=net,
        packs=plan.bought,
        allowance=max(0.0, spent - net),
        formula=_formula(quantity, plan, len(shares), net),
        contributions=shares,
        note=f"not on the plan, larger than a sheet: {left}" if left else "",
        by_plan=True,
        share=None,
    )


def _taken(quantity: Quantity, plan: BoardPlan, offcut: str) -> Quantity:
    """An offcut that the firm has, as often as it is taken; nothing is bought."""
    sheets = [sheet for sheet in plan.sheets if sheet.offcut == offcut]
    ids, (length, width) = {p.id for sheet in sheets for p in sheet.places}, sheets[0].size
    shares = tuple(c for c in quantity.contributions if c.id in ids)
    net, pack = sum(c.amount for c in shares), length * width / UNITS["m2"].size
    return replace(
        quantity,
        item=item_of(offcut),
        description=f"offcut {offcut}, {quantity.description} {length:g} × {width:g}",
        net=net,
        allowance=max(0.0, len(sheets) * pack - net),
        pack=pack,
        pack_name=f"offcut of {length:g} × {width:g}",
        packs=len(sheets),
        formula=f"{counted(len(shares), 'board')}, {amount(net, 'm2')}, laid out → {len(sheets)} × offcut {offcut}",
        contributions=shares,
        rule="offcuts",
        note="",
        decor="",
        by_plan=True,
        share=None,
    )


def _formula(quantity: Quantity, plan: BoardPlan, count: int, net: float) -> str:
    boards = counted(count, "board")
    order = f"{plan.bought} × {quantity.pack_name}"
    offcuts = sum(len(sheet.offcuts) for sheet in plan.sheets)
    kept = (
        f"; {counted(offcuts, 'offcut')} to keep, {amount(plan.kept / UNITS['m2'].size, 'm2')}" if offcuts else ""
    )
    return f"{boards}, {amount(net, 'm2')}, laid out → {order} ({bound(plan)}){kept}"


def bound(plan: BoardPlan) -> str:
    """How good the plan is."""
    if plan.is_least:
        return "fewer is impossible"
    return f"fewer than {plan.bound} is impossible; {plan.bound} may be enough"
