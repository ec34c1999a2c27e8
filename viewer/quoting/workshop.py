"""Workshop: orders and handover as data for their sheets."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import rounded
from countersunk.takeoff.counting.pricing import MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.counting.to_size import SizedPiece, size_lines
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.report.orders import Order
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.takeoff.stock.units import UnitCode
from countersunk.takeoff.stock.units import amount as measure
from countersunk.viewer.quoting.customer import Job, head
from countersunk.viewer.quoting.words import scope, two_columns


def orders_data(
    takeoff: Takeoff, orders: Sequence[Order], job: Job, reference: str, imprint: str
) -> dict[str, Any]:
    """An order for each supplier, numbered by the ``imprint`` of the kitchen; not a word on the customer."""
    return {
        **head(takeoff, job, reference),
        "customer": [],
        "deliver": list(job.deliver or takeoff.terms.business.deliver),
        "wanted": takeoff.money.day(job.wanted) if job.wanted else "",
        "orders": [_order(order, imprint, takeoff.money) for order in orders],
    }


def to_measure_data(takeoff: Takeoff, order: Order, job: Job, reference: str, imprint: str) -> dict[str, Any]:
    """Every piece that a supplier makes to measure, equal ones once, as its sheet draws them; no piece, no data."""
    same: dict[tuple[str, str, str], list[SizedPiece]] = {}
    for line in order.lines:
        for piece in line.quantity.pieces:
            same.setdefault((line.quantity.description, piece.size, piece.edges), []).append(piece)
    if not same:
        return {}
    return {
        **head(takeoff, job, reference),
        "customer": [],
        "supplier": order.supplier,
        "number": order_number(order.supplier, imprint),
        "pieces": [_to_measure(article, pieces) for (article, *_), pieces in same.items()],
    }


def _to_measure(article: str, pieces: Sequence[SizedPiece]) -> dict[str, Any]:
    first = pieces[0]
    return {
        "article": article,
        "count": len(pieces),
        "size": first.plain,
        "length": first.length,
        "width": first.width,
        "long": f"{rounded(first.length, 1):g}",
        "wide": f"{rounded(first.width, 1):g}",
        "outline": first.outline,
        "holes": first.rings,
        "pierced": [hole.removeprefix("hole ") for hole in first.holes],
        "corners": ", ".join(f"{rounded(x, 1):g}/{rounded(y, 1):g}" for x, y in first.corners),
        "edges": first.edges,
        "marks": [piece.mark for piece in pieces],
    }


def file_of(supplier: str) -> str:
    """The name of the drawings for a supplier: ``made-to-measure-fallow-board-yard.pdf``."""
    words = re.findall(r"[a-z0-9]+", supplier.lower())
    return f"made-to-measure-{'-'.join(words)[:60] or 'x'}.pdf"


def handover_data(kitchen: Kitchen, takeoff: Takeoff, job: Job, reference: str) -> dict[str, Any]:
    """What was fitted, how to care for it, what to avoid, whom to call."""
    fitted = scope(kitchen)
    bought = fitted.get("Sink, hob, appliances", [])
    kept = {name: lines for name, lines in fitted.items() if name not in ("Our work", "Sink, hob, appliances")}
    return {
        **head(takeoff, job, reference),
        "fitted": two_columns(kept),
        "bought": bought,
        **takeoff.terms.handover.model_dump(),
    }


def order_number(supplier: str, imprint: str) -> str:
    """The number of a supplier's order: the imprint of the kitchen's papers, and the supplier's initials.

    >>> order_number("Fallow Board Yard", "7D8C15")
    '7D8C15-FBY'
    """
    initials = "".join(word[0] for word in supplier.split() if word[0].isalnum()).upper()
    return f"{imprint}-{initials or 'X'}"


def _order(order: Order, imprint: str, money: MoneyForm) -> dict[str, Any]:
    return {
        "number": order_number(order.supplier, imprint),
        "supplier": order.supplier,
        "lines": [_order_line(line, money) for line in order.lines],
        "cost": money.amount(order.cost),
        "missing": list(order.missing),
    }


def _order_line(line: MaterialLine, money: MoneyForm) -> dict[str, Any]:
    q, charge = line.quantity, line.charge
    return {
        "code": (line.price.number if line.price else "") or q.item,
        "description": q.description,
        "sizes": list(size_lines(q.pieces)),
        "packs": packs(line),
        "listed": money.amount(charge.listed) if charge else "no price",
        "discount": f"{line.discount.normalize():f} %" if line.discount else "",
        "cost": money.amount(charge.cost) if charge else "",
    }


def packs(line: MaterialLine) -> str:
    """``2 × bag of 10``; an amount for what comes in no pack, and pieces of what is made to measure."""
    q = line.quantity
    if q.packs is None or q.ordered is None:
        return "unknown"
    if line.by_amount:
        return f"{told(q.needed, q.unit)} from stock"
    if q.pieces and q.unit == "m2":
        return f"{counted(len(q.pieces), 'piece')}, {told(q.ordered, q.unit)}"
    return f"{q.packs} × {q.pack_name}" if q.pack_name else told(q.ordered, q.unit)


def told(value: float, unit: UnitCode) -> str:
    """An amount as it is read off a list: four figures are enough."""
    return measure(float(f"{value:.4g}"), unit)
