"""Join trials: a plan of joins built and priced as a whole kitchen, or the reasons why it cannot be."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.schema import CornerJoin, Document, InLineJoin
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.ties import settled
from countersunk.model.tops.bands import CLEAR_OF_CUTOUTS
from countersunk.model.tops.join_limits import near_cutouts, objections, short
from countersunk.model.tops.joins import Join
from countersunk.model.tops.placed_joins import need_of
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
    lengths, joins, cutouts = kitchen.lengths, kitchen.joins, kitchen.cutouts
    reasons = tuple(objections(lengths, joins, cutouts, kitchen.document.access, kitchen.allowances))
    pieces = tuple(PlannedLength(t.id, t.part.length, t.mass) for t in kitchen.lengths)
    notes = tuple(note for join in kitchen.joins for note in _to_know(join, kitchen))
    total = None if reasons else take_off(kitchen, prices).totals.net
    places = {
        (kitchen.length(j.female).run.name, settled(j.at)): j.band for j in kitchen.joins if j.kind == "in line"
    }
    bands = tuple(places[join.run, settled(join.at)] for join in in_line)
    need = need_of(lengths, joins, cutouts)
    return JoinPlan(corners, in_line, reasons, notes, total, pieces, bands=bands, need=need)


def _to_know(join: Join, kitchen: Kitchen) -> Iterator[str]:
    if join.kind != "in line":
        halves = [kitchen.length(id_) for id_ in (join.female, join.male)]
        yield from (f"{piece}: see whether the unit below holds it" for piece in short(halves))
    sinks = {c.name for c in kitchen.cutouts if c.template.kind == "sink"}
    for name, distance in near_cutouts(join, kitchen.cutouts):
        if CLEAR_OF_CUTOUTS[1] <= distance < CLEAR_OF_CUTOUTS[0]:
            why = ", and the sink's weight hangs beside it" if name in sinks and distance < NEAR_SINK else ""
            yield f"{join.id} lies {distance:.0f} from {name}; {CLEAR_OF_CUTOUTS[0]:g} is often asked{why}"
