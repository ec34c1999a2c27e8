"""Quote: quantities and work with their prices. Every line is rounded half up to cents, and every total is the sum
of what is printed. A line without a price has no cost, is named, and leaves the total marked incomplete."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from takeoff.labour import Work
from takeoff.prices import Price, PriceBook
from takeoff.quantities import Quantity

CENT = Decimal("0.01")
HUNDRED = Decimal(100)
PACK_TOLERANCE = Decimal("0.000001")


@dataclass(frozen=True)
class Charge:
    """The money of a line: ``cost``, the mark-up on it, and tax on both; each rounded to cents."""

    cost: Decimal
    markup: Decimal
    rate: Decimal
    tax: Decimal

    @property
    def net(self) -> Decimal:
        """Cost and mark-up, without tax."""
        return self.cost + self.markup


@dataclass(frozen=True)
class MaterialLine:
    """A quantity with its price; without one, ``missing`` says why."""

    quantity: Quantity
    price: Price | None
    charge: Charge | None
    missing: str = ""

    @property
    def notes(self) -> str:
        """What a reader of the line must know."""
        return "; ".join(filter(None, (self.quantity.note, self.missing)))


@dataclass(frozen=True)
class LabourLine:
    """Work at the hourly rate."""

    work: Work
    charge: Charge | None
    missing: str = ""


@dataclass(frozen=True)
class TaxTotal:
    """Tax at one rate (percent) on its base."""

    rate: Decimal
    base: Decimal
    tax: Decimal


@dataclass(frozen=True)
class Totals:
    """Sums of the printed lines. ``missing`` names what has no price; then the totals are incomplete."""

    currency: str
    markup_percent: Decimal
    hourly_rate: Decimal | None
    materials: Decimal
    markup: Decimal
    labour: Decimal
    taxes: tuple[TaxTotal, ...]
    missing: tuple[str, ...]

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
        return not self.missing


def cents(value: Decimal) -> Decimal:
    """Half up to cents.

    >>> cents(Decimal("2.345")), cents(Decimal("2.3449"))
    (Decimal('2.35'), Decimal('2.34'))
    """
    return value.quantize(CENT, ROUND_HALF_UP)


def material_lines(quantities: Iterable[Quantity], book: PriceBook, markup: Decimal) -> list[MaterialLine]:
    """Every quantity with its price of ``book`` and ``markup`` percent."""
    return [_material(quantity, book, markup) for quantity in quantities]


def labour_lines(works: Iterable[Work], book: PriceBook, rate_code: str) -> list[LabourLine]:
    """Every work at the rate of one hour that ``book`` has under ``rate_code``."""
    rate = book.prices.get(rate_code)
    return [_labour(work, rate, f"{rate_code}: no price in {book.name}") for work in works]


def totals(
    materials: Iterable[MaterialLine],
    labour: Iterable[LabourLine],
    book: PriceBook,
    markup: Decimal,
    rate_code: str,
) -> Totals:
    """The sums of what the lines print."""
    materials, labour = list(materials), list(labour)
    bought = [line.charge for line in materials if line.charge]
    worked = [line.charge for line in labour if line.charge]
    rate = book.prices.get(rate_code)
    return Totals(
        currency=book.currency,
        markup_percent=markup,
        hourly_rate=_hourly(rate),
        materials=sum((c.cost for c in bought), Decimal(0)),
        markup=sum((c.markup for c in bought), Decimal(0)),
        labour=sum((c.net for c in worked), Decimal(0)),
        taxes=_taxes([*bought, *worked]),
        missing=_named([*(m.missing for m in materials), *(w.missing for w in labour)]),
    )


def _named(missing: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(filter(None, missing)))


def _material(quantity: Quantity, book: PriceBook, markup: Decimal) -> MaterialLine:
    if quantity.packs is None:
        return MaterialLine(quantity, None, None, f"{quantity.item}: {quantity.problem}")
    price = book.prices.get(quantity.item)
    if price is None:
        return MaterialLine(quantity, None, None, f"{quantity.item}: no price in {book.name}")
    if not _same_pack(quantity, price):
        priced = f"{price.pack.normalize():f} {price.unit}"
        sold = f"{quantity.pack:g} {quantity.unit}"
        return MaterialLine(
            quantity, price, None, f"{quantity.item}: the price is for {priced}, the pack is {sold}"
        )
    cost = cents(quantity.packs * price.price)
    return MaterialLine(quantity, price, _charge(cost, cents(cost * markup / HUNDRED), price.tax))


def _same_pack(quantity: Quantity, price: Price) -> bool:
    return price.unit == quantity.unit and abs(Decimal(str(quantity.pack)) - price.pack) < PACK_TOLERANCE


def _labour(work: Work, rate: Price | None, missing: str) -> LabourLine:
    hourly = _hourly(rate)
    if rate is None or hourly is None:
        return LabourLine(work, None, missing if rate is None else f"{rate.code}: the price is not for an hour")
    return LabourLine(work, _charge(cents(work.minutes * hourly / 60), Decimal("0.00"), rate.tax))


def _hourly(rate: Price | None) -> Decimal | None:
    return rate.price / rate.pack if rate is not None and rate.unit == "h" else None


def _charge(cost: Decimal, markup: Decimal, rate: Decimal) -> Charge:
    return Charge(cost, markup, rate, cents((cost + markup) * rate / HUNDRED))


def _taxes(charges: list[Charge]) -> tuple[TaxTotal, ...]:
    rates = sorted({c.rate for c in charges})
    return tuple(_tax_total(rate, [c for c in charges if c.rate == rate]) for rate in rates)


def _tax_total(rate: Decimal, charges: list[Charge]) -> TaxTotal:
    base = sum((c.net for c in charges), Decimal(0))
    return TaxTotal(rate, base, sum((c.tax for c in charges), Decimal(0)))
