"""Join trials: a plan of joins built and priced as a whole kitchen, or the reasons why it cannot be."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.carry import passes
from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.schema import CornerJoin, Document, InLineJoin
from countersunk.model.errors import InputError
from countersunk.model.facts.plans import overlap, unit_plan
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import settled
from countersunk.model.tops.bands import CLEAR_OF_CUTOUTS, CLEAR_OF_SIDES, SHORTEST
from countersunk.model.tops.joins import Join
from countersunk.takeoff.counting.join_plan import JoinPlan, PlannedLength, pinned
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.stock.prices import PriceBook

NEAR_SINK = 300.0
"""A sink this near to a join hangs its weight on it, mm (common practice, no source)."""


def tried(
    document: Document,
    catalogue: Catalogue,
    prices: PriceBook | None,
    corners: tuple[CornerJoin, ...],
    in_line: tuple[InLineJoin, ...],
) -> JoinPlan:
    """The plan with what speaks against it, or with the price of the whole kitchen."""
    plan = JoinPlan(corners, in_line, ())
    try:
        kitchen = build(pinned(document, plan), catalogue)
    except InputError as error:
        return JoinPlan(corners, in_line, tuple(p.found for p in error.problems))
    reasons = (*_not_carried(kitchen), *(why for join in kitchen.joins for why in _against(join, kitchen)))
    pieces = tuple(PlannedLength(t.id, t.part.length, t.mass) for t in kitchen.lengths)
    notes = tuple(note for join in kitchen.joins for note in _to_know(join, kitchen))
    total = None if reasons else take_off(kitchen, prices).totals.net
    places = {
        (kitchen.length(j.female).run.name, settled(j.at)): j.band for j in kitchen.joins if j.kind == "in line"
    }
    bands = tuple(places[join.run, settled(join.at)] for join in in_line)
    return JoinPlan(corners, in_line, tuple(reasons), notes, total, pieces, bands=bands)


def _not_carried(kitchen: Kitchen) -> Iterator[str]:
    """The pieces that cannot be brought in."""
    if kitchen.document.access:
        for length in kitchen.lengths:
            part = length.part
            passage = passes(part.outline, part.thickness, kitchen.document.access, kitchen.allowances)
            if not passage.ok:
                size = settled(part.length)
                yield f"{length.id}, {size:.0f} long, cannot be carried in: {passage.sentence}"


def _against(join: Join, kitchen: Kitchen) -> Iterator[str]:
    """What no fitter would do: a join over an appliance, over nothing, hard by a cut-out, or for a short piece."""
    under = [u for id_ in (join.female, join.male) for u in kitchen.length(id_).stretch.units]
    band = join.line.buffer(1.0)
    if join.kind == "in line":
        borne = [u for u in under if overlap(unit_plan(u), band)]
        for unit in borne:
            if not unit.family.kind.bears_join:
                yield f"{join.id} lies over {unit.name}, {unit.family.name}, which does not bear it"
            elif (side := _from_side(join, unit)) < CLEAR_OF_SIDES:
                yield f"{join.id} lies {side:.0f} from the side of {unit.name}; at least {CLEAR_OF_SIDES:g}"
        if not borne:
            yield f"{join.id} lies over no unit that bears it"
        yield from (f"{short}, in line with another; at least {SHORTEST:g}" for short in _short(join, kitchen))
    for name, distance in _cutouts_near(join, kitchen):
        if distance < CLEAR_OF_CUTOUTS[1]:
            yield f"{join.id} lies {distance:.0f} from the line of {name}; at least {CLEAR_OF_CUTOUTS[1]:g}"


def _from_side(join: Join, unit: PlacedUnit) -> float:
    """From the nearer side of a unit to a join over it, mm; to one in line."""
    return settled(min(abs(join.at - unit.x), abs(unit.right - join.at)))


def _short(join: Join, kitchen: Kitchen) -> Iterator[str]:
    """The pieces at a join that are hard to hold, to cut and to bear."""
    lengths = {id_: settled(kitchen.length(id_).part.length) for id_ in (join.female, join.male)}
    yield from (f"{id_} is {length:.0f} long" for id_, length in lengths.items() if length < SHORTEST)


def _to_know(join: Join, kitchen: Kitchen) -> Iterator[str]:
    if join.kind != "in line":
        yield from (f"{short}: see whether the unit below holds it" for short in _short(join, kitchen))
    sinks = {c.name for c in kitchen.cutouts if c.template.kind == "sink"}
    for name, distance in _cutouts_near(join, kitchen):
        if CLEAR_OF_CUTOUTS[1] <= distance < CLEAR_OF_CUTOUTS[0]:
            why = ", and the sink's weight hangs beside it" if name in sinks and distance < NEAR_SINK else ""
            yield f"{join.id} lies {distance:.0f} from {name}; {CLEAR_OF_CUTOUTS[0]:g} is often asked{why}"


def _cutouts_near(join: Join, kitchen: Kitchen) -> Iterator[tuple[str, float]]:
    """Every cut-out of either half with its distance from the joint, mm."""
    for cutout in kitchen.cutouts:
        if cutout.length in (join.female, join.male):
            yield cutout.name, settled(cutout.line_in_room.distance(join.line))
