"""Orders: what is to be bought, by supplier, and as a CSV. Wear of one's own tools is not ordered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from countersunk.takeoff.counting.pricing import MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.counting.to_size import size_lines
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.takeoff.stock.texts import table_bytes
from countersunk.takeoff.stock.units import number

UNNAMED = "no supplier named"
COLUMNS = (
    "supplier", "number", "code", "description", "packs", "pack", "ordered", "unit", "price",
    "listed", "discount", "cost", "currency", "price of", "sizes", "note",
)  # fmt: skip

NUMBERS = ("packs", "ordered", "price", "listed", "discount", "cost")


@dataclass(frozen=True)
class Order:
    """The lines of one supplier."""

    supplier: str
    lines: tuple[MaterialLine, ...]

    @property
    def cost(self) -> Decimal:
        """What it comes to without tax, discount taken off, of the lines that have a price."""
        return sum((line.charge.cost for line in self.lines if line.charge), Decimal(0))

    @property
    def missing(self) -> tuple[str, ...]:
        """What has no price."""
        return tuple(line.missing for line in self.lines if line.missing)


def orders(takeoff: Takeoff) -> tuple[Order, ...]:
    """An order for each supplier, in the order of their names; what has none comes last."""
    by_supplier: dict[str, list[MaterialLine]] = {}
    for line in takeoff.materials:
        if line.quantity.group != "wear" and not line.by_amount:
            by_supplier.setdefault(line.supplier or UNNAMED, []).append(line)
    names = sorted(by_supplier, key=lambda name: (name == UNNAMED, name))
    return tuple(Order(name, tuple(by_supplier[name])) for name in names)


def orders_csv(found: Sequence[Order], money: MoneyForm) -> bytes:
    """Every line of every order as one table; text that a spreadsheet would run stays text."""
    rows = (_row(order.supplier, line, money.currency) for order in found for line in order.lines)
    return table_bytes(COLUMNS, rows, NUMBERS, money)


def _row(supplier: str, line: MaterialLine, currency: str) -> dict[str, str]:
    q = line.quantity
    return {
        "supplier": supplier, "number": line.price.number if line.price else "", "code": q.item,
        "description": q.description,
        "packs": "unknown" if q.packs is None else str(q.packs), "pack": q.pack_name or q.unit,
        "ordered": "unknown" if q.ordered is None else number(q.ordered), "unit": q.unit, **_money(line),
        "currency": currency, "sizes": "; ".join(size_lines(q.pieces)), "note": line.notes,
    }  # fmt: skip


def _money(line: MaterialLine) -> dict[str, str]:
    if line.price is None or line.charge is None:
        return {"price": "no price"}
    charge = line.charge
    return {
        "price": f"{line.price.price:f}",
        "listed": str(charge.listed),
        "discount": str(charge.discount),
        "cost": str(charge.cost),
        "price of": line.price.date.isoformat(),
    }
