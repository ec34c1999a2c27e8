"""Workshop: orders, van list and handover as data for their sheets."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from model.kitchen import Kitchen
from takeoff.orders import Order
from takeoff.quote import MaterialLine
from takeoff.takeoff import Takeoff
from takeoff.units import number
from viewer.quoting.customer import Job, amount, head
from viewer.quoting.words import scope

VAN = {
    "worktop": "Worktop: lengths, edges, sealing, joints",
    "boards": "Boards and bands",
    "hardware": "Fittings and screws",
    "appliances": "Sink, hob, tap, appliances",
    "site": "On site",
    "wear": "Blades and cutters, metres that they will cut",
}


def orders_data(takeoff: Takeoff, orders: Sequence[Order], job: Job, reference: str) -> dict[str, Any]:
    """An order for each supplier; money without tax."""
    return {**head(takeoff, job, reference), "orders": [_order(order) for order in orders]}


def van_data(kitchen: Kitchen, takeoff: Takeoff, job: Job, reference: str) -> dict[str, Any]:
    """What goes into the van, to be ticked off; tops with their pieces and weights."""
    groups = {name: [_van_line(m) for m in takeoff.materials if m.quantity.group == g] for g, name in VAN.items()}
    return {
        **head(takeoff, job, reference),
        "groups": [{"name": name, "lines": lines} for name, lines in groups.items() if lines],
        "pieces": [_piece(kitchen, share.id, share.amount) for share in takeoff.masses],
        "tools": list(takeoff.terms.van),
        "hours": _hours(takeoff),
        "cautions": list(takeoff.cautions),
    }


def handover_data(kitchen: Kitchen, takeoff: Takeoff, job: Job, reference: str) -> dict[str, Any]:
    """What was fitted, how to care for it, what to avoid, whom to call."""
    fitted = scope(kitchen)
    bought = fitted.get("Sink, hob and appliances", [])
    kept = {name: lines for name, lines in fitted.items() if name not in ("Our work", "Sink, hob and appliances")}
    return {
        **head(takeoff, job, reference),
        "fitted": [{"head": name, "lines": lines} for name, lines in kept.items()],
        "bought": bought,
        **takeoff.terms.handover.model_dump(),
    }


def _order(order: Order) -> dict[str, Any]:
    return {
        "supplier": order.supplier,
        "lines": [_order_line(line) for line in order.lines],
        "cost": amount(order.cost),
        "missing": list(order.missing),
    }


def _order_line(line: MaterialLine) -> dict[str, str]:
    q, charge = line.quantity, line.charge
    return {
        "code": q.item,
        "description": q.description,
        "packs": packs(line),
        "measured": f"{number(q.net)} {q.unit}",
        "left": "" if q.surplus is None else f"{number(q.surplus)} {q.unit}",
        "listed": amount(charge.listed) if charge else "no price",
        "discount": f"{line.discount.normalize():f} %" if line.discount else "",
        "cost": amount(charge.cost) if charge else "",
    }


def packs(line: MaterialLine) -> str:
    """``2 × bag of 10``; a bare number for what is bought singly."""
    q = line.quantity
    if q.packs is None:
        return "unknown"
    return f"{q.packs} × {q.pack_name}" if q.pack_name else str(q.packs)


def _van_line(line: MaterialLine) -> dict[str, str]:
    q = line.quantity
    return {"packs": packs(line), "description": q.description, "measured": f"{number(q.net)} {q.unit}"}


def _piece(kitchen: Kitchen, id_: str, mass: float) -> dict[str, str]:
    part = kitchen.parts_by_id[id_]
    size = f"{part.length:.0f} × {part.depth:.0f} × {part.thickness:g}"
    return {"id": id_, "size": size, "mass": f"{mass:.0f} kg"}


def _hours(takeoff: Takeoff) -> str:
    minutes = sum((line.work.minutes for line in takeoff.labour), start=type(takeoff.totals.net)(0))
    return f"{minutes / 60:.1f}"
