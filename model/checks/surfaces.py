"""Measures of worktop that serves several: ovens, two work centres at once, and all the frontage there is."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import LineString, union_all

from countersunk.model.checks.counters import CLEAR, OTHER, Counter, Side, breaks, counters, neighbour, pieces
from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.landing import ACROSS
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import WHOLE, of_cutout, of_unit
from countersunk.model.facts.plans import appliances, block, face, overlap, run_of, unit_plan, unit_volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import most
from countersunk.model.tolerance import CONTACT, EQUAL

Piece = tuple[Counter, float, float]
"""A stretch of a counter's front edge, from and to along it (mm)."""


def beside_oven(kitchen: Kitchen) -> Iterator[Place]:
    """The longest stretch of worktop that lies above an oven, ends beside it or lies across from it, mm.

    Across counts within `ACROSS` of the oven's front. What a rim takes is no worktop.
    """
    return _beside(kitchen, "oven")


def beside_microwave(kitchen: Kitchen) -> Iterator[Place]:
    """The same for a microwave oven that is built in, mm."""
    return _beside(kitchen, "microwave")


def sink_to_fridge(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between a sink and a refrigerator in one row, along the front, mm, where nothing else is between."""
    return _between(kitchen, "sink", "fridge")


def hob_to_fridge(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between a hob and a refrigerator in one row, along the front, mm, where nothing else is between."""
    return _between(kitchen, "hob", "fridge")


def sink_to_oven(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between a sink and an oven in a tall unit in one row, mm, where nothing else is between."""
    return _between(kitchen, "sink", "oven")


def hob_to_oven(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between a hob and an oven in a tall unit in one row, mm, where nothing else is between."""
    return _between(kitchen, "hob", "oven")


def fridge_to_oven(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop from a refrigerator to an oven in a tall unit, both beside it, mm, where nothing else is between."""
    for counter, x0, x1 in pieces(kitchen):
        left, right = neighbour(counter, "left"), neighbour(counter, "right")
        if left and right and x1 - x0 > counter.stop - counter.start - CONTACT and _pair(left, right):
            where = Where(Phrase.BETWEEN, of_unit(left), against=of_unit(right))
            yield counter.place((x0, x1), where, where.things)


def frontage(kitchen: Kitchen) -> Iterator[Place]:
    """All the worktop there is along its fronts, mm: without rims, and only where it is clear above.

    Clear by `CLEAR` above the face; what is no landing for want of depth does not count.
    """
    clear = [(piece, _clear_length(kitchen, piece)) for piece in pieces(kitchen)]
    tops = tuple(dict.fromkeys(top for (counter, x0, x1), _ in clear for top in counter.tops(x0, x1)))
    if tops:
        yield Place(Where(Phrase.FRONTAGE, WHOLE, more=tops), sum(size for _, size in clear), tops)


def _beside(kitchen: Kitchen, code: str) -> Iterator[Place]:
    for oven in appliances(kitchen, code):
        run = run_of(kitchen, oven)
        found = [p for p in pieces(kitchen) if _at(p, run, oven)] + list(_across(kitchen, run, oven))
        if not found:
            where = Where(Phrase.NO_WORKTOP, of_unit(oven))
            yield Place(where, 0.0, where.things, unit_volume(oven))
        else:
            counter, x0, x1 = most(found, key=lambda piece: piece[2] - piece[1])
            where = Where(Phrase.SERVES, of_unit(oven), more=counter.tops(x0, x1))
            yield counter.place((x0, x1), where, (where.subject,))


def _at(piece: Piece, run: PlacedRun, oven: PlacedUnit) -> bool:
    """Whether a stretch reaches an oven: it lies over it, or ends at its side; under one that hangs it counts as
    well.
    """
    counter, x0, x1 = piece
    low, high, its = counter.lead.x + x0, counter.lead.x + x1, counter.lead.run
    here = its is run or (run.level == "upper" and its.wall == run.wall)
    return here and low <= oven.right + CONTACT and high >= oven.x - CONTACT


def _across(kitchen: Kitchen, run: PlacedRun, oven: PlacedUnit) -> Iterator[Piece]:
    front = oven.face
    before = block(oven.frame, 0.0, front, oven.width, front + ACROSS + EQUAL)
    for counter, x0, x1 in pieces(kitchen):
        lead, depth = counter.lead, counter.lead.run.stock.depth
        if lead.run is not run and overlap(before, block(lead.part.pose, x0, depth - 1.0, x1, depth)):
            yield counter, x0, x1


def _between(kitchen: Kitchen, kind: str, appliance: str) -> Iterator[Place]:
    """The stretch from the last rim of a counter to the unit beside its end, if they are of these kinds."""
    cutouts = {of_cutout(c) for c in kitchen.cutouts if c.template.kind == kind}
    units = appliances(kitchen, appliance)
    sides: tuple[Side, ...] = tuple(OTHER)
    for counter in counters(kitchen):
        for side in sides:
            unit, broken = neighbour(counter, side), breaks(kitchen, counter)
            last = broken[-1 if side == "right" else 0] if broken else None
            if unit in units and unit and last and last.by in cutouts:
                x0, x1 = (last.x1, counter.stop) if side == "right" else (counter.start, last.x0)
                where = Where(Phrase.BETWEEN, last.by, against=of_unit(unit))
                yield counter.place((x0, x1), where, where.things)


def _pair(left: PlacedUnit, right: PlacedUnit) -> bool:
    """Whether one is a refrigerator and the other holds an oven."""
    return any(a.family.holds("fridge") and b.family.holds("oven") for a, b in ((left, right), (right, left)))


def _clear_length(kitchen: Kitchen, piece: Piece) -> float:
    """How much of a stretch has nothing hanging low over it, mm."""
    counter, x0, x1 = piece
    pose, depth, low = counter.lead.part.pose, counter.lead.run.stock.depth, face(counter.lead)
    hung = [u for u in kitchen.units if u.family.level == "upper" and u.family.base < low + CLEAR]
    shade = union_all([pose.plan_from_room(unit_plan(u)) for u in hung])
    middle = LineString([(x0, depth / 4), (x1, depth / 4)])
    return float(middle.difference(shade).length)
