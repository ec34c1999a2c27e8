"""Unit costs: what units cost by a price book, each taken off alone, for layouts to be weighed by."""

from __future__ import annotations

from collections import defaultdict
from string import ascii_lowercase

from countersunk.model.catalogue.catalogue import Catalogue, Family, catalogue_named
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.costs import Costs
from countersunk.takeoff.counting.takeoff import Takeoff, estimate
from countersunk.takeoff.stock.prices import PriceBook

WALL = 20_000.0
PRICED = (
    "base-drawers", "base-doors", "base-sink", "base-hob", "base-oven", "base-corner", "dishwasher", "end-panel",
    "tall-larder", "tall-oven", "tall-fridge", "tall-panel", "wall-doors", "hood",
)  # fmt: skip
"""What layouts are made of, but for fillers, which are made to measure, and wall units round a corner."""


def unit_costs(brief: Brief, book: PriceBook, catalogue: Catalogue | None = None) -> Costs:
    """Material of units without plinths, and of a metre of the brief's worktop, as far as the book has prices.

    Units are those of ``catalogue``, or of the one of the program that the brief names.
    """
    kitchen = _one_of_each(brief, catalogue or catalogue_named(brief.catalogue))
    taken = estimate(kitchen, book)
    money = _by_owner(taken, kitchen)
    units = {
        (u.family.code, u.width): money[u.key]
        for u in kitchen.units
        if not u.family.kind.fills_gap and money[u.key]
    }
    tops = sum(length.part.length for length in kitchen.lengths)
    return Costs(units, 1_000 * sum(money[t.key] for t in kitchen.lengths) / tops, taken.totals.currency)


def _one_of_each(brief: Brief, catalogue: Catalogue) -> Kitchen:
    """A kitchen with one unit of every family and width, each family on a straight wall of its own."""
    families = [catalogue.families[code] for code in PRICED]
    names = [f"W{letter}" for letter in ascii_lowercase[: len(families)]]
    walls = [{"name": name, "length": WALL, "corner": 180.0} for name in names]
    del walls[-1]["corner"]
    runs = [
        {"wall": n, "level": f.level, "start": 0.0, "units": _each(f)} for n, f in zip(names, families, strict=True)
    ]
    given = {"kitchen": "One unit of each", "room": {"walls": tuple(walls)}, "runs": tuple(runs)}
    return build(Document.model_validate({**given, "worktop": brief.worktop, "fronts": brief.fronts}), catalogue)


def _each(family: Family) -> tuple[dict[str, object], ...]:
    """One of each width, after a filler: what is made for a whole run, as its plinth is, belongs to its first."""
    first: dict[str, object] = {"unit": "filler" if family.level == "floor" else "wall-filler", "width": 20.0}
    units: list[dict[str, object]] = [{"unit": family.code, "width": width} for width in family.widths or (None,)]
    return first, *units


def _by_owner(taken: Takeoff, kitchen: Kitchen) -> dict[str, float]:
    """Money by the key of the unit or length that brings it: net amounts at the price for one."""
    money: dict[str, float] = defaultdict(float)
    for line in taken.materials:
        price = line.price
        if price is not None and price.unit == line.quantity.unit:
            for share in line.quantity.contributions:
                money[kitchen.owners.get(share.id, share.id)] += share.amount * float(price.price / price.pack)
    return money
