"""Extras: lines that the firm adds to every takeoff, overhead, and what a job is charged at least.

An extra is a skip, parking, something bought for one job, a lump sum by front, metre or area, or a provisional sum.
Its price is what the customer pays: neither discount nor mark-up comes on top.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from countersunk.model.errors import InputError
from countersunk.takeoff.counting.pricing import Charge, LabourLine, MaterialLine
from countersunk.takeoff.counting.quantities import Contribution, Measured, Quantity
from countersunk.takeoff.counting.terms import Extra, Terms
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.measuring.registry import MEASURES
from countersunk.takeoff.stock.money import HUNDRED, NOTHING, cents
from countersunk.takeoff.stock.offcuts import OWN
from countersunk.takeoff.stock.prices import Price, PriceBook
from countersunk.takeoff.stock.units import UNITS, USUAL, amount

JOB = "the terms of the job"
"""Where extras come from, as formulas and sources name it."""


def extra_lines(
    terms: Terms,
    measured: Measured,
    materials: Iterable[MaterialLine],
    labour: Iterable[LabourLine],
    book: PriceBook,
) -> list[MaterialLine]:
    """Every extra that ``terms`` ask for, then overhead on all lines, then what is short of the least charge.

    Raises InputError for an extra by a measure that there is not.
    """
    found = list(_extras(terms, measured, book))
    bought, worked = [line.charge for line in (*materials, *found)], [line.charge for line in labour]
    sums = sum((charge.net for charge in (*bought, *worked) if charge), Decimal(0))
    hour = book.prices.get(terms.rate)
    tax = hour.tax if hour else Decimal(0)
    if terms.overhead:
        money = cents(sums * Decimal(str(terms.overhead)) / HUNDRED)
        found.append(_lump("overhead", f"overhead, {terms.overhead:g} % of {sums}", money, tax, book))
        sums += money
    short = Decimal(str(terms.least_charge)) - sums
    if terms.least_charge and short > 0:
        words = f"what is short of the least charge, {Decimal(str(terms.least_charge)):.2f}"
        found.append(_lump("least-charge", words, cents(short), tax, book))
    return found


def _extras(terms: Terms, measured: Measured, book: PriceBook) -> Iterator[MaterialLine]:
    for i, extra in enumerate(terms.extras):
        if extra.per and extra.per not in MEASURES:
            raise InputError.unknown(f"extras[{i}].per", extra.per, list(MEASURES), "a measure of takeoff rules")
        dimension = MEASURES[extra.per].dimension if extra.per else "count"
        if extra.unit != "each" and UNITS[extra.unit].dimension != dimension:
            found, allowed = f"{extra.unit} of a {dimension}", f"each, or {USUAL[dimension]}"
            raise InputError.at(f"extras[{i}].unit", found=found, allowed=allowed)
        line = _extra(extra, measured, book)
        if line.quantity.net:
            yield line


def _extra(extra: Extra, measured: Measured, book: PriceBook) -> MaterialLine:
    code = f"extra.{extra.code}"
    quantity = _measured(extra, code, extra.per, measured) if extra.per else _one(code, extra.name)
    if extra.provisional:
        quantity = replace(quantity, description=f"{extra.name} (provisional sum)")
    return _line(quantity, Decimal(str(extra.price)), Decimal(str(extra.tax)), book)


def _measured(extra: Extra, code: str, per: str, measured: Measured) -> Quantity:
    """As many as a measure finds, or as much of them."""
    shares, counts = measured[per], extra.unit == "each"
    parts = tuple(Contribution(s.id, 1.0 if counts else s.amount / UNITS[extra.unit].size) for s in shares)
    net = sum(c.amount for c in parts)
    things = counted(len(shares), MEASURES[per].noun)
    words = things if counts else f"{things}, {amount(net, extra.unit)}"
    return Quantity(
        code, extra.name, "site", extra.unit, net, 0.0, 1.0, "", 0, f"{words} × {extra.price:g}", parts,
        "extras", JOB,
    )  # fmt: skip


def _one(code: str, name: str) -> Quantity:
    return Quantity(code, name, "site", "each", 1.0, 0.0, 1.0, "", 0, "once", (), "extras", JOB)


def _lump(code: str, name: str, money: Decimal, tax: Decimal, book: PriceBook) -> MaterialLine:
    return _line(_one(code, name), money, tax, book)


def _line(quantity: Quantity, price: Decimal, tax: Decimal, book: PriceBook) -> MaterialLine:
    """A line that is paid for by its amount, at ``price`` a unit."""
    day = max(p.date for p in book.prices.values())
    sold = Price(
        quantity.item, quantity.description, quantity.unit, Decimal(1), price, book.currency, day, tax, OWN
    )  # fmt: skip
    line = MaterialLine(quantity, sold, None, by_amount=True)
    money = cents((line.paid or NOTHING) * price)
    return replace(line, charge=Charge(money, NOTHING, NOTHING, tax, cents(money * tax / HUNDRED)))
