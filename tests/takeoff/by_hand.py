"""A small kitchen that is taken off by hand in `test_by_hand`, and what the tests of money are made with."""

from __future__ import annotations

import math
from decimal import Decimal

from shapely import Polygon
from shapely import box as rectangle
from shapely.affinity import translate

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.counting.quantities import Contribution, Quantity
from countersunk.takeoff.counting.terms import Terms, Uplift, default_terms
from countersunk.takeoff.stock.prices import PriceBook, price_book
from tests.specimens import document

SLICES = 100

HEADER = "code,description,unit,pack,price,currency,date,tax\n"


def small_kitchen(**changes: object) -> Kitchen:
    """Three base units on a wall, 400, 600 and 600 wide, a sink over the second, a hob over the third.

    The top is 600 × 38 with both ends free: 1600 + 2 × 10 = 1620 long.
    """
    cutouts = (
        {"template": "sink.one-bowl", "over": "A2"},
        {"template": "hob.electric-60", "over": "A3"},
    )
    return build(document(**{"cutouts": cutouts, **changes}))


def mass_by_slices(length: Length) -> float:
    """Mass of a length, kg, apart from the kernel: its plan by its thickness, less its slots and what its rounded
    edges lack, summed over `SLICES` strips of the plan along each edge that the factory rounds."""
    part, stock = length.part, length.run.stock
    lost = pockets_take(part) + sum(_lacking(part.outline, stock, i) for i in range(SLICES if stock.nose else 0))
    return float((part.area * part.thickness - lost) * stock.density * 1e-9)


def pockets_take(part: Part) -> float:
    """What pockets take out of a part, mm³, by the slice in the middle of each: one that leans does so evenly."""
    found = 0.0
    for pocket in part.pockets:
        low, high = max(pocket.low, 0.0), min(pocket.high, part.thickness)
        slice_ = translate(pocket.outline, pocket.leans * ((low + high) / 2 - pocket.low))
        found += slice_.intersection(part.outline).area * (high - low)
    return found


def _lacking(plan: Polygon, stock: Stock, i: int) -> float:
    """mm³ that one strip in from the front edge lacks, and the one in from the back if that is rounded too."""
    r, (x0, _, x1, _) = stock.nose, plan.bounds
    low, high = i * r / SLICES, (i + 1) * r / SLICES
    strips = [rectangle(x0, stock.depth - high, x1, stock.depth - low)]
    strips += [rectangle(x0, low, x1, high)] if stock.both_edges else []
    short = 2 * (r - math.sqrt(r**2 - (r - (low + high) / 2) ** 2))
    return sum(plan.intersection(strip).area for strip in strips) * short


def ids_of(kitchen: Kitchen) -> set[str]:
    """Everything that a quantity may say it comes from."""
    return {
        *kitchen.parts_by_id,
        *(edge.id for part in kitchen.parts for edge in part.edges),
        *(join.key for join in kitchen.joins),
        *(cutout.key for cutout in kitchen.cutouts),
        *(unit.key for unit in kitchen.units),
    }


def quantity(item: str = "a", packs: int | None = 1, pack: float = 1.0, unit: str = "each") -> Quantity:
    """A quantity with nothing in it but what money needs."""
    return Quantity(
        item, item, "hardware", unit, 1.0, 0.0, pack, "", packs, "1 thing", (Contribution("A1", 1.0),), "r", "s",
        problem="" if packs else "no article",
    )  # fmt: skip


def book(*rows: tuple[str, str, str]) -> PriceBook:
    """A price book from code, price and tax; the labour rate is 30.00 an hour without tax."""
    lines = [f"{code},thing,each,1,{price},EUR,2026-01-02,{tax}" for code, price, tax in rows]
    text = HEADER + "\n".join([*lines, "labour.hour,hour,h,1,30.00,EUR,2026-01-02,0"])
    return price_book(text.encode(), "test.csv")


def terms(percent: float = 0.0, kind: str = "markup", **changes: object) -> Terms:
    """The terms of the house with this mark-up or margin, no discounts and no travel, and what is given changed."""
    quiet = {"discounts": (), "travel": default_terms().travel.model_copy(update={"visits": 0, "hours": None})}
    uplift = Uplift.model_validate({"kind": kind, "percent": percent})
    return default_terms().model_copy(update={**quiet, "uplift": uplift, **changes})


def money(text: str) -> Decimal:
    return Decimal(text)
