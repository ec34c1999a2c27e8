"""Delivery: what is carried to the site is what is bought, with its offcuts, not what the kitchen weighs."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.quantities import Contribution, Quantity
from countersunk.takeoff.plans.boards import BoardPlan
from countersunk.takeoff.plans.lengths import NEARLY
from countersunk.takeoff.plans.tops import Bar, TopPlan
from countersunk.takeoff.stock.units import amount

DELIVERY = "delivery"
"""The rule that brings it."""


Supplied = Callable[[str, str], str]
"""Who sells an article in a decor."""


def as_bought(
    kitchen: Kitchen,
    quantities: Iterable[Quantity],
    tops: Sequence[TopPlan],
    boards: Sequence[BoardPlan],
    supplied: Supplied,
) -> list[Quantity]:
    """The same quantities, that of delivery by the lengths and sheets which plans buy, in drops by supplier.

    What the firm has already, as offcuts, is not delivered, and where it has all nothing is; what stands on no plan
    weighs what it is cut to, and comes with whoever sells the delivery.
    """
    quantities = list(quantities)
    delivery = next((q for q in quantities if q.rule == DELIVERY), None)
    if delivery is None or delivery.pack is None or not boards:
        return quantities
    masses = {c.id: c.amount for c in delivery.contributions}
    owned = {*_from_offcuts(kitchen, tops), *(p.id for b in boards for s in b.sheets if s.offcut for p in s.places)}
    shares = tuple(c for c in delivery.contributions if c.id not in owned)
    spare = {
        "tops": _spare_of_tops(kitchen, tops, masses, supplied),
        "boards": _spare_of_boards(boards, masses, supplied),
    }
    if not shares and not any(mass for found in spare.values() for mass in found.values()):
        return [q for q in quantities if q is not delivery]
    sellers = {**_sellers_of_tops(kitchen, tops, supplied), **_sellers_of_boards(boards, supplied)}
    carried: defaultdict[str, float] = defaultdict(float)
    for share in shares:
        carried[sellers.get(share.id, supplied(delivery.item, ""))] += share.amount
    for name, mass in (pair for found in spare.values() for pair in found.items()):
        carried[name] += mass
    made = _delivered(delivery, shares, {name: sum(found.values()) for name, found in spare.items()}, carried)
    return [made if q is delivery else q for q in quantities]


def _delivered(
    delivery: Quantity, shares: tuple[Contribution, ...], spare: Mapping[str, float], carried: Mapping[str, float]
) -> Quantity:
    net, more = sum(c.amount for c in shares), sum(spare.values())
    drops = {name: max(1, _drops(mass, delivery)) for name, mass in carried.items() if mass > 0}
    cut_off = " + ".join(f"{amount(mass, 'kg')} cut off {name}" for name, mass in spare.items() if mass > 0)
    words = " + ".join(filter(None, (f"{amount(net, 'kg')} as cut", cut_off)))
    packs = sum(drops.values())
    order = f"{words} = {amount(net + more, 'kg')} → {packs} × {delivery.pack_name}"
    if len(drops) > 1:
        order += "".join(
            f"; {name} {amount(carried[name], 'kg')}: {number}" for name, number in sorted(drops.items())
        )
    return replace(delivery, net=net, allowance=more, packs=packs, formula=order, contributions=shares, share=None)


def _drops(mass: float, delivery: Quantity) -> int:
    return math.ceil(mass / (delivery.pack or 1.0) * (1 - NEARLY))


def _sellers_of_tops(kitchen: Kitchen, tops: Sequence[TopPlan], supplied: Supplied) -> Mapping[str, str]:
    """Who sells the length that each piece of worktop is cut from, by its key."""
    return {
        kitchen.length(p.id).key: _seller(kitchen, bar, supplied)
        for plan in tops
        for bar in plan.bars
        if not bar.offcut
        for p in bar.pieces
    }


def _seller(kitchen: Kitchen, bar: Bar, supplied: Supplied) -> str:
    return supplied(f"{bar.stock}.{bar.length:g}", kitchen.length(bar.pieces[0].id).run.top)


def _sellers_of_boards(boards: Sequence[BoardPlan], supplied: Supplied) -> Mapping[str, str]:
    return {
        p.id: supplied(plan.board.code, plan.decor_code) for plan in boards for s in plan.sheets for p in s.places
    }


def _from_offcuts(kitchen: Kitchen, tops: Sequence[TopPlan]) -> Iterator[str]:
    for plan in tops:
        yield from (kitchen.length(p.id).key for bar in plan.bars if bar.offcut for p in bar.pieces)


def _spare_of_tops(
    kitchen: Kitchen, tops: Sequence[TopPlan], masses: Mapping[str, float], supplied: Supplied
) -> dict[str, float]:
    """What lengths weigh beyond the pieces that are cut from them, kg, by who sells them."""
    found: defaultdict[str, float] = defaultdict(float)
    for bar in (bar for plan in tops for bar in plan.bars if not bar.offcut):
        stock = kitchen.catalogue.stocks[bar.stock]
        pieces = (masses[kitchen.length(p.id).key] for p in bar.pieces)
        whole = bar.length * bar.depth * stock.thickness * stock.density * 1e-9
        found[_seller(kitchen, bar, supplied)] += whole - sum(pieces)
    return {name: mass for name, mass in found.items() if mass > 0}


def _spare_of_boards(
    boards: Sequence[BoardPlan], masses: Mapping[str, float], supplied: Supplied
) -> dict[str, float]:
    """What sheets weigh beyond the panels that are cut from them, kg, by who sells them."""
    found: defaultdict[str, float] = defaultdict(float)
    for plan in boards:
        board = plan.board
        sheet = board.sheet[0] * board.sheet[1] * board.thickness * board.density * 1e-9
        panels = (masses[p.id] for s in plan.sheets if not s.offcut for p in s.places)
        found[supplied(board.code, plan.decor_code)] += plan.bought * sheet - sum(panels)
    return {name: mass for name, mass in found.items() if mass > 0}
