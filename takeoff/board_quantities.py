"""Board quantities: boards counted by the sheets of a plan, where one was made, instead of by their area."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from takeoff.boards import BoardPlan
from takeoff.quantities import Quantity
from takeoff.units import UNITS, amount
from takeoff.wording import counted


def on_sheets(quantities: Iterable[Quantity], plans: Sequence[BoardPlan]) -> list[Quantity]:
    """The same quantities, those of planned boards with the sheets that their plan takes.

    Raises ValueError for a plan that holds other parts than the quantity was measured from.
    """
    by_code = {plan.board.code: plan for plan in plans}
    return [_planned(q, by_code[q.item]) if q.item in by_code else q for q in quantities]


def _planned(quantity: Quantity, plan: BoardPlan) -> Quantity:
    """What is neither panel nor kept offcut is the allowance: saw cuts, trim and waste."""
    placed = [place.id for sheet in plan.sheets for place in sheet.places]
    if sorted([*placed, *plan.unplaced]) != sorted(c.id for c in quantity.contributions):
        raise ValueError(f"the plan of {plan.board.code} holds other parts than the kitchen has")
    length, width = plan.board.sheet
    spent = (len(plan.sheets) * length * width - plan.kept) / UNITS["m2"].size
    left = ", ".join(plan.unplaced)
    return replace(
        quantity,
        packs=len(plan.sheets),
        allowance=max(0.0, spent - quantity.net),
        formula=_formula(quantity, plan),
        note=f"not on the plan, larger than a sheet: {left}" if left else "",
    )


def _formula(quantity: Quantity, plan: BoardPlan) -> str:
    boards = counted(len(quantity.contributions), "board")
    order = f"{len(plan.sheets)} × {quantity.pack_name}"
    offcuts = sum(len(sheet.offcuts) for sheet in plan.sheets)
    kept = (
        f"; {counted(offcuts, 'offcut')} to keep, {amount(plan.kept / UNITS['m2'].size, 'm2')}" if offcuts else ""
    )
    return f"{boards}, {amount(quantity.net, 'm2')}, laid out → {order} ({bound(plan)}){kept}"


def bound(plan: BoardPlan) -> str:
    """How good the plan is."""
    if plan.is_least:
        return "fewer is impossible"
    return f"fewer than {plan.bound} is impossible; {plan.bound} may be enough"
