"""Slab quantities: tops that are made to measure, counted by the slabs of their plan instead of by their area."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from countersunk.takeoff.counting.quantities import Quantity
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.plans.slabs import SlabPlan
from countersunk.takeoff.stock.units import UNITS, amount

SLABS = "slabs"
"""The rule that brings them."""


def on_slabs(quantities: Iterable[Quantity], plans: Sequence[SlabPlan]) -> list[Quantity]:
    """The same quantities, those of tops made to measure with as many slabs as their plan takes."""
    planned = {(plan.stock.code, plan.decor): plan for plan in plans}
    return [
        _planned(q, planned[q.item, q.decor]) if q.rule == SLABS and (q.item, q.decor) in planned else q
        for q in quantities
    ]


def _planned(quantity: Quantity, plan: SlabPlan) -> Quantity:
    """What is neither piece nor offcut to keep is the allowance; what fits no slab is a problem."""
    areas, m2 = plan.areas, UNITS["m2"].size
    spent = (areas.slabs - areas.offcuts) / m2
    pieces = counted(len(plan.pieces), "piece")
    kept = f"; {amount(areas.offcuts / m2, 'm2')} of offcuts to keep" if areas.offcuts else ""
    slabs = f"{len(plan.slabs)} × {quantity.pack_name}"
    order = f"{pieces}, {amount(quantity.net, 'm2')}, laid out → {slabs} ({bound(plan)})"
    if plan.unplaced:
        why = f"{', '.join(plan.unplaced)} larger than a slab: another join, or a slab that is larger"
        return replace(quantity, packs=None, pack=None, problem=why, formula=f"{order}: {why}")
    allowance = max(0.0, spent - quantity.net)
    return replace(
        quantity, packs=len(plan.slabs), allowance=allowance, formula=f"{order}{kept}", by_plan=True, share=None
    )


def bound(plan: SlabPlan) -> str:
    """How good the plan is."""
    if plan.is_least:
        return "fewer is impossible with straight cuts"
    return f"fewer than {plan.bound} is impossible; {plan.bound} may be enough"
