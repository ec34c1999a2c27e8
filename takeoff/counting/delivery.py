"""Delivery: what is carried to the site is what is bought, with its offcuts, not what the kitchen weighs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.quantities import Contribution, Quantity
from countersunk.takeoff.plans.boards import BoardPlan
from countersunk.takeoff.plans.lengths import NEARLY
from countersunk.takeoff.plans.tops import TopPlan
from countersunk.takeoff.stock.units import amount

DELIVERY = "delivery"
"""The rule that brings it."""


def as_bought(
    kitchen: Kitchen, quantities: Iterable[Quantity], tops: Sequence[TopPlan], boards: Sequence[BoardPlan]
) -> list[Quantity]:
    """The same quantities, that of delivery by the lengths and sheets which plans buy.

    What the firm has already, as offcuts, is not delivered, and where it has all nothing is; what stands on no plan
    weighs what it is cut to.
    """
    quantities = list(quantities)
    delivery = next((q for q in quantities if q.rule == DELIVERY), None)
    if delivery is None or delivery.pack is None or not boards:
        return quantities
    masses = {c.id: c.amount for c in delivery.contributions}
    owned = {*_from_offcuts(kitchen, tops), *(p.id for b in boards for s in b.sheets if s.offcut for p in s.places)}
    shares = tuple(c for c in delivery.contributions if c.id not in owned)
    spare = {"tops": _spare_of_tops(kitchen, tops, masses), "boards": _spare_of_boards(boards, masses)}
    if not shares and not any(spare.values()):
        return [q for q in quantities if q is not delivery]
    made = _delivered(delivery, shares, spare)
    return [made if q is delivery else q for q in quantities]


def _delivered(delivery: Quantity, shares: tuple[Contribution, ...], spare: Mapping[str, float]) -> Quantity:
    net, more = sum(c.amount for c in shares), sum(spare.values())
    packs = max(1, math.ceil((net + more) / (delivery.pack or 1.0) * (1 - NEARLY)))
    cut_off = " + ".join(f"{amount(mass, 'kg')} cut off {name}" for name, mass in spare.items() if mass > 0)
    words = " + ".join(filter(None, (f"{amount(net, 'kg')} as cut", cut_off)))
    order = f"{words} = {amount(net + more, 'kg')} → {packs} × {delivery.pack_name}"
    return replace(delivery, net=net, allowance=more, packs=packs, formula=order, contributions=shares, share=None)


def _from_offcuts(kitchen: Kitchen, tops: Sequence[TopPlan]) -> Iterator[str]:
    for plan in tops:
        yield from (kitchen.length(p.id).key for bar in plan.bars if bar.offcut for p in bar.pieces)


def _spare_of_tops(kitchen: Kitchen, tops: Sequence[TopPlan], masses: Mapping[str, float]) -> float:
    """What lengths weigh beyond the pieces that are cut from them, kg."""
    found = 0.0
    for bar in (bar for plan in tops for bar in plan.bars if not bar.offcut):
        stock = kitchen.catalogue.stocks[bar.stock]
        pieces = (masses[kitchen.length(p.id).key] for p in bar.pieces)
        found += bar.length * bar.depth * stock.thickness * stock.density * 1e-9 - sum(pieces)
    return max(0.0, found)


def _spare_of_boards(boards: Sequence[BoardPlan], masses: Mapping[str, float]) -> float:
    """What sheets weigh beyond the panels that are cut from them, kg."""
    found = 0.0
    for plan in boards:
        board = plan.board
        sheet = board.sheet[0] * board.sheet[1] * board.thickness * board.density * 1e-9
        panels = (masses[p.id] for s in plan.sheets if not s.offcut for p in s.places)
        found += plan.bought * sheet - sum(panels)
    return max(0.0, found)
