"""Top offers: every length of stock that the tops of a kitchen may be cut from, with its price."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from countersunk.model.catalogue.catalogue import Stock
from countersunk.takeoff.stock.offcuts import Offcut
from countersunk.takeoff.stock.prices import PriceBook

COINS = 10_000
"""Steps to the unit of money: a price book has at most four decimals."""

Section = tuple[float, float, str, float]
"""Thickness, nose, core and density of a stock."""


@dataclass(frozen=True)
class TopOffer:
    """What can be had: a length of a stock at a price, or an offcut of it."""

    stock: str
    length: float
    depth: float
    both_edges: bool
    price: Decimal
    priced: bool
    offcut: Offcut | None = None
    new: Decimal = Decimal(0)

    @property
    def is_kept(self) -> bool:
        """Whether it is left of an earlier job: its ends are sawn, and ``new`` is what as much of it costs new."""
        return self.offcut is not None


def section_of(stock: Stock) -> Section:
    """What lengths must have in common to come from one stock."""
    return stock.thickness, stock.nose, stock.core, stock.density


def offers(
    stocks: Mapping[str, Stock],
    section: Section,
    asked: Sequence[str],
    book: PriceBook,
    decor: str,
    offcuts: Sequence[Offcut],
) -> list[TopOffer]:
    """What is kept, and what the book has a price for; the stocks ``asked`` for in any case.

    Of these a length without a price is taken to cost as much for its area as the dearest that has one. Where none
    has one nothing else is offered, and all cost the same for their area; then what is kept costs
    nothing, since its money says nothing beside an area.
    """
    same = {code: s for code, s in stocks.items() if section_of(s) == section}
    listed = {(s.code, n): book.find(f"{s.code}.{n:g}", decor) for s in same.values() for n in s.lengths}
    by_area = [p.price / _area(same[code], n) for (code, n), p in listed.items() if p and code in asked]
    found = []
    for (code, length), price in listed.items():
        stock, known = same[code], price is not None and bool(by_area)
        if known or code in asked:
            guess = (_area(stock, length) * max(by_area, default=Decimal(1))).quantize(1 / Decimal(COINS))
            cost = price.price if price and by_area else guess
            found.append(TopOffer(code, length, stock.depth, stock.both_edges, cost, known))
    kept = _kept(same, decor, offcuts)
    if not by_area:
        return [*found, *(replace(offer, price=Decimal(0)) for offer in kept)]
    return [*found, *(replace(offer, new=_new(offer, found)) for offer in kept)]


def _new(offer: TopOffer, found: Sequence[TopOffer]) -> Decimal:
    """What as much of a stock costs where it is cheapest for its area."""
    by_area = [f.price / Decimal(f.length * f.depth) for f in found if f.stock == offer.stock and f.priced]
    return min(by_area, default=Decimal(0)) * Decimal(offer.length * offer.depth)


def _area(stock: Stock, length: float) -> Decimal:
    """m²."""
    return Decimal(length * stock.depth) / 1_000_000


def _kept(stocks: Mapping[str, Stock], decor: str, offcuts: Sequence[Offcut]) -> Iterator[TopOffer]:
    """Offcuts of these stocks; one narrower than its stock has one finished edge left."""
    for o in offcuts:
        stock = stocks.get(o.material)
        if stock and o.decor == decor and o.quantity and o.width:
            both = stock.both_edges and o.width >= stock.depth
            yield TopOffer(o.material, o.length, min(o.width, stock.depth), both, o.price, True, o)
