"""Order: units of a row in another order, one more of them or one less. What is let in over a unit goes with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.catalogue.family import Family
from countersunk.model.cures.kept import WIDEST_FILLER
from countersunk.model.cures.move import FILLED, Move, Scope, place_of
from countersunk.model.document.schema import Document, Unit
from countersunk.model.edit.arrange import Changes, order_changes, rows
from countersunk.model.facts.covering import wedges
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import rounded_up

Order = Sequence[int | Unit]
"""Places that units had before, and units that are new."""


def orders(kitchen: Kitchen, scope: Scope) -> Iterator[Move]:
    """Every other order that is one decision: two change places, one goes elsewhere, a strip comes in or goes."""
    for run in scope.within(kitchen.runs):
        yield from _swaps(kitchen.document, run)
        yield from _elsewhere(kitchen.document, run)
        yield from _with_strips(kitchen, run, scope)
        yield from _without_fillers(kitchen.document, run)


def reordered(document: Document, row: str, order: Order) -> Changes:
    """The changes that put the units of a row in another order."""
    typed = rows(document)[row].units
    units = [typed[unit] if isinstance(unit, int) else unit for unit in order]
    return order_changes(document, row, [unit.model_dump(exclude_unset=True) for unit in units])


def _swaps(document: Document, run: PlacedRun) -> Iterator[Move]:
    for a, b in combinations(_movable(run), 2):
        if (a.family, a.width, a.hand) != (b.family, b.width, b.hand):
            (row, i), (_, j) = place_of(a.field), place_of(b.field)
            order = list(range(len(run.units)))
            order[i], order[j] = j, i
            size = a.width + b.width + 2 * (b.x - a.right)
            yield Move(reordered(document, row, order), f"let {a.name} and {b.name} change places", size, ("swap",))


def _elsewhere(document: Document, run: PlacedRun) -> Iterator[Move]:
    """A unit taken out and put between two others, more than one place away; the units between close up."""
    movable = _movable(run)
    for unit in movable:
        for other in movable:
            row, i = place_of(unit.field)
            j = place_of(other.field)[1]
            if abs(i - j) > 1:
                yield _put(document, run, (row, i, j))


def _put(document: Document, run: PlacedRun, at: tuple[str, int, int]) -> Move:
    row, i, j = at
    order = list(range(len(run.units)))
    order.insert(j, order.pop(i))
    unit, other = run.units[i], run.units[j]
    past = sum(run.units[k].width for k in (range(i + 1, j + 1) if j > i else range(j, i)))
    words = f"put {unit.name} to the {'right' if j > i else 'left'} of {other.name}"
    return Move(reordered(document, row, order), words, past + unit.width, ("order",))


def _movable(run: PlacedRun) -> list[PlacedUnit]:
    return [unit for unit in run.units if not unit.family.kind.keeps_place]


def _with_strips(kitchen: Kitchen, run: PlacedRun, scope: Scope) -> Iterator[Move]:
    """A filler or a panel at either end of a row, or beside a unit that it is about.

    A filler is as wide as the least that is made, or as what another unit gives up for it; never too wide.
    """
    last = len(run.units)
    beside = {place_of(u.field)[1] + k for u in run.units if u.name in scope.units for k in (0, 1)}
    for family in _strips(kitchen.catalogue, run):
        for place in sorted({0, last} | beside):
            yield from _strip(kitchen, run, family, place)


def _strips(catalogue: Catalogue, run: PlacedRun) -> list[Family]:
    top = max(unit.family.top for unit in run.units)
    found = [f for f in catalogue.families.values() if f.kind.is_scribed and f.level == run.level]
    return [family for family in found if family.top <= top]


def _strip(kitchen: Kitchen, run: PlacedRun, family: Family, place: int) -> Iterator[Move]:
    low, high = family.width_range or (family.widths[0], family.widths[0])
    if family.kind.fills_gap:
        high = min(high, WIDEST_FILLER)
        wedge = max((float(rounded_up(w.widest)) for w in wedges(kitchen) if w.beside in run.units), default=0.0)
        if low < wedge <= high:
            yield _come_in(kitchen.document, run, (family, wedge), place, None)
    yield _come_in(kitchen.document, run, (family, low), place, None)
    for unit in run.units:
        for width in unit.family.widths:
            if low <= unit.width - width <= high and not unit.family.appliances:
                yield _come_in(kitchen.document, run, (family, unit.width - width), place, unit)


def _come_in(
    document: Document, run: PlacedRun, strip: tuple[Family, float], place: int, gives: PlacedUnit | None
) -> Move:
    """A strip put in; the unit that ``gives`` gets narrower by as much."""
    family, width = strip
    order: list[int | Unit] = list(range(len(run.units)))
    row = run.field
    words = f"put {with_article(family.name)}, {width:g} wide, {_between(run, place)}"
    if gives:
        at, left = place_of(gives.field)[1], gives.width - width
        words += f" and make {gives.name} {left:g} wide instead of {gives.width:g}"
    order.insert(place, Unit(unit=family.code, width=width))
    changes = reordered(document, row, order)
    if gives:
        moved = at + (place <= at)
        changes = (*changes, (f"{row}.units[{moved}].width", left))
    size = width * FILLED if family.kind.fills_gap else width
    return Move(changes, words, size + (width if gives else 0.0), ("strip",))


def with_article(name: str) -> str:
    """A name with its article."""
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _between(run: PlacedRun, place: int) -> str:
    """Where a place in a row is, in words."""
    if place in (0, len(run.units)):
        return f"to the {'left' if place == 0 else 'right'} of {run.units[place and -1].name}"
    return f"between {run.units[place - 1].name} and {run.units[place].name}"


def _without_fillers(document: Document, run: PlacedRun) -> Iterator[Move]:
    for i, unit in enumerate(run.units):
        if unit.family.kind.fills_gap and len(run.units) > 1:
            order = [k for k in range(len(run.units)) if k != i]
            yield Move(
                reordered(document, run.field, order), f"take out the filler {unit.name}", unit.width, ("strip",)
            )
