"""Pricing: quantities and work with their prices, by the rule of `takeoff.stock.money`.

A line without a price has no cost, is named, and leaves the total marked incomplete.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal

from countersunk.takeoff.counting.labour import Work
from countersunk.takeoff.counting.quantities import Quantity
from countersunk.takeoff.counting.terms import Terms, Uplift
from countersunk.takeoff.stock.money import HUNDRED, NOTHING, cents
from countersunk.takeoff.stock.prices import Price, PriceBook

PACK_TOLERANCE = Decimal("0.000001")

SHARE = Decimal("0.0001")
"""Shares of a pack are paid for to this."""


@dataclass(frozen=True)
class Charge:
    """The money of a line: what is ``listed``, the ``discount`` off it, what is added to the cost, and tax on both;
    each rounded to cents. ``rate`` in percent."""

    listed: Decimal
    discount: Decimal
    markup: Decimal
    rate: Decimal
    tax: Decimal

    @property
    def cost(self) -> Decimal:
        """What is paid for it."""
        return self.listed - self.discount

    @property
    def net(self) -> Decimal:
        """What is asked for it, without tax."""
        return self.cost + self.markup


@dataclass(frozen=True)
class Gap:
    """A line that has no price: its code, by which it may be left out, and why."""

    code: str
    why: str

    def __str__(self) -> str:
        return f"{self.code}: {self.why}"


@dataclass(frozen=True)
class MaterialLine:
    """A quantity with its price, and the supplier's discount in percent; without a price, ``gap`` says why.

    ``by_amount``: what is needed is paid for and nothing is ordered, as of what the firm has in stock.
    """

    quantity: Quantity
    price: Price | None
    charge: Charge | None
    gap: Gap | None = None
    discount: Decimal = Decimal(0)
    by_amount: bool = False

    @property
    def paid(self) -> Decimal | None:
        """How many packs are paid for: those that are ordered, or the share that is needed, to four decimals."""
        q = self.quantity
        if not self.by_amount or q.pack is None:
            return None if q.packs is None else Decimal(q.packs)
        return (Decimal(f"{q.needed:.6f}") / Decimal(str(q.pack))).quantize(SHARE, ROUND_HALF_UP)

    @property
    def missing(self) -> str:
        """The gap in words, nothing where there is none."""
        return str(self.gap or "")

    @property
    def supplier(self) -> str:
        """Who sells it, as the price book has it."""
        return self.price.supplier if self.price else ""

    @property
    def notes(self) -> str:
        """What a reader of the line must know."""
        return "; ".join(filter(None, (self.quantity.note, self.missing)))


@dataclass(frozen=True)
class LabourLine:
    """Work at the hourly rate, or kilometres at theirs."""

    work: Work
    charge: Charge | None
    gap: Gap | None = None

    @property
    def missing(self) -> str:
        """The gap in words, nothing where there is none."""
        return str(self.gap or "")


@dataclass(frozen=True)
class TaxTotal:
    """Tax at one rate (percent) on its base."""

    rate: Decimal
    base: Decimal
    tax: Decimal


@dataclass(frozen=True)
class Totals:
    """Sums of the printed lines. ``gaps`` are what has no price; then the totals are incomplete."""

    currency: str
    uplift: Uplift
    hourly_rate: Decimal | None
    kilometre: Decimal | None
    discount: Decimal
    materials: Decimal
    markup: Decimal
    labour: Decimal
    taxes: tuple[TaxTotal, ...]
    gaps: tuple[Gap, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """The gaps in words."""
        return tuple(str(gap) for gap in self.gaps)

    @property
    def net(self) -> Decimal:
        """Without tax."""
        return self.materials + self.markup + self.labour

    @property
    def tax(self) -> Decimal:
        """At all rates together."""
        return sum((t.tax for t in self.taxes), Decimal(0))

    @property
    def gross(self) -> Decimal:
        """With tax."""
        return self.net + self.tax

    @property
    def complete(self) -> bool:
        """Whether every line has its price."""
        return not self.gaps

    @property
    def markup_in_words(self) -> str:
        """The arithmetic of the uplift, both ways round.

        Line by line is the rule, so the last cents can differ from the percentage of the sum.
        """
        sold = self.materials + self.markup
        both = [self.markup * HUNDRED / whole if whole else NOTHING for whole in (self.materials, sold)]
        shares = f"{cents(both[0]):f} % of cost, {cents(both[1]):f} % of price"
        return f"{self.materials} cost + {self.markup} = {sold} price: {shares}"


def material_lines(quantities: Iterable[Quantity], book: PriceBook, terms: Terms) -> list[MaterialLine]:
    """Every quantity with its price of ``book``, the supplier's discount and the uplift of ``terms``."""
    return [_material(quantity, book, terms) for quantity in quantities]


def labour_lines(works: Iterable[Work], book: PriceBook, terms: Terms) -> list[LabourLine]:
    """Every work at the rate of an hour, and travel at that of a kilometre, as ``book`` has them."""
    return [_labour(work, terms.travel.rate if work.unit == "km" else terms.rate, book) for work in works]


def totals(
    materials: Iterable[MaterialLine], labour: Iterable[LabourLine], book: PriceBook, terms: Terms
) -> Totals:
    """The sums of what the lines print."""
    materials, labour = list(materials), list(labour)
    bought = [line.charge for line in materials if line.charge]
    worked = [line.charge for line in labour if line.charge]
    return Totals(
        currency=book.currency,
        uplift=terms.uplift,
        hourly_rate=_per_one(book.prices.get(terms.rate), "h"),
        kilometre=_per_one(book.prices.get(terms.travel.rate), "km"),
        discount=sum((c.discount for c in bought), Decimal(0)),
        materials=sum((c.cost for c in bought), Decimal(0)),
        markup=sum((c.markup for c in bought), Decimal(0)),
        labour=sum((c.net for c in worked), Decimal(0)),
        taxes=_taxes([*bought, *worked]),
        gaps=_distinct([*(m.gap for m in materials), *(w.gap for w in labour)]),
    )


def _distinct(gaps: list[Gap | None]) -> tuple[Gap, ...]:
    return tuple(dict.fromkeys(gap for gap in gaps if gap))


def _material(quantity: Quantity, book: PriceBook, terms: Terms) -> MaterialLine:
    price = book.find(quantity.item, quantity.decor)
    why = _why_unpriced(quantity, price, book)
    if why or price is None or quantity.packs is None:
        return MaterialLine(quantity, price, None, Gap(quantity.item, why))
    by_amount = quantity.item in terms.from_stock
    if by_amount:
        quantity = replace(quantity, packs=0, formula=f"{quantity.formula}, of which what is needed is from stock")
    discount = terms.discount(price.supplier)
    line = MaterialLine(quantity, price, None, discount=discount, by_amount=by_amount)
    listed = cents((line.paid or NOTHING) * price.price)
    off = cents(listed * discount / HUNDRED)
    return replace(line, charge=_charge(listed, off, terms.uplift.on(listed - off), price.tax))


def _why_unpriced(quantity: Quantity, price: Price | None, book: PriceBook) -> str:
    """Why a quantity cannot be priced; empty where it can."""
    if quantity.packs is None:
        return quantity.problem
    if price is None:
        return f"no price in {book.name}"
    if _same_pack(quantity, price):
        return ""
    priced, sold = f"{price.pack.normalize():f} {price.unit}", f"{quantity.pack:g} {quantity.unit}"
    return f"the price is for {priced}, the pack is {sold}"


def _same_pack(quantity: Quantity, price: Price) -> bool:
    return price.unit == quantity.unit and abs(Decimal(str(quantity.pack)) - price.pack) < PACK_TOLERANCE


def _labour(work: Work, code: str, book: PriceBook) -> LabourLine:
    price, unit = book.prices.get(code), "km" if work.unit == "km" else "h"
    each = _per_one(price, unit)
    if price is None:
        return LabourLine(work, None, Gap(code, f"no price in {book.name}"))
    if each is None:
        return LabourLine(work, None, Gap(code, f"the price is not for {'a km' if unit == 'km' else 'an hour'}"))
    # the division comes last, so that whole cents stay whole
    cost = cents(work.amount * each if unit == "km" else work.minutes * each / 60)
    return LabourLine(work, _charge(cost, NOTHING, NOTHING, price.tax))


def _per_one(price: Price | None, unit: str) -> Decimal | None:
    return price.price / price.pack if price is not None and price.unit == unit else None


def _charge(listed: Decimal, discount: Decimal, markup: Decimal, rate: Decimal) -> Charge:
    return Charge(listed, discount, markup, rate, cents((listed - discount + markup) * rate / HUNDRED))


def _taxes(charges: list[Charge]) -> tuple[TaxTotal, ...]:
    rates = sorted({c.rate for c in charges})
    return tuple(_tax_total(rate, [c for c in charges if c.rate == rate]) for rate in rates)


def _tax_total(rate: Decimal, charges: list[Charge]) -> TaxTotal:
    base = sum((c.net for c in charges), Decimal(0))
    return TaxTotal(rate, base, sum((c.tax for c in charges), Decimal(0)))
