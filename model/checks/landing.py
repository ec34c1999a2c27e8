"""Measures of landing: unbroken worktop beside a sink, a hob or a refrigerator, to put things down on.

Landing is measured along the front edge, from the rim to the first thing that breaks it: another cut-out's rim, a
place less deep, a tall unit, a wall, the corner of the room where two fronts meet, or the end of the top. Beside a
sink the return round a corner counts as well, where at least `TURN` lies before it.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon, union_all
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.cooking import Hob, hobs
from countersunk.model.checks.counters import (
    CLEAR,
    LANDING_DEPTH,
    PREPARATION_DEPTH,
    Counter,
    FrontEdge,
    Side,
    beside,
    counter_of,
    counters,
    pieces,
    reach,
    rim_of,
    round_corner,
)
from countersunk.model.checks.finding import Aspect, Place, Stop, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Thing, of_cutout, of_length, of_unit
from countersunk.model.facts.plans import appliances, block, face, of_kind, overlap, run_of, top_plan, unit_volume
from countersunk.model.geometry.identity import Component
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.survey.room import BREAST
from countersunk.model.ties import least, most
from countersunk.model.tolerance import CONTACT, EQUAL, FIT
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import STRIP_WEB
from countersunk.model.tops.worktops import Length

ACROSS = 1219.0
"""A landing across from a refrigerator counts up to 48 in (NKBA Kitchen Planning Guidelines, seen), mm."""

TURN = 76.0
"""So much front lies before a corner at least where the return beyond it counts, mm. 3 in, with 21 in on the return
for a landing of 24 in (NKBA Kitchen Planning Guidelines, from memory)."""

PAST_CHEEK = 450.0
"""A landing past the cheek of a chimney breast counts up to so far from the cooker in its opening, mm: an arm's
reach without a step (common practice, no source)."""

SIDES: tuple[Side, Side] = ("left", "right")


def beside_hob_longer(kitchen: Kitchen) -> Iterator[Place]:
    """The longer of the landings to the left and the right of a hob, mm; of a cooker, on the tops beside it."""
    return (most(_hob_sides(kitchen, hob), key=_width) for hob in hobs(kitchen))


def beside_hob_shorter(kitchen: Kitchen) -> Iterator[Place]:
    """The shorter of the landings to the left and the right of a hob, mm; 0 where a cooker has none on a side."""
    return (least(_hob_sides(kitchen, hob), key=_width) for hob in hobs(kitchen))


def beside_sink_longer(kitchen: Kitchen) -> Iterator[Place]:
    """The longer of the landings to the left and the right of a sink, mm; a drainer belongs to the sink."""
    yield from (most(_sink_sides(kitchen, *sink), key=_width) for sink in of_kind(kitchen, "sink"))
    yield from (most(_unit_sides(kitchen, unit), key=_width) for unit in appliances(kitchen, "sink"))


def beside_sink_shorter(kitchen: Kitchen) -> Iterator[Place]:
    """The shorter of the landings to the left and the right of a sink, mm."""
    yield from (least(_sink_sides(kitchen, *sink), key=_width) for sink in of_kind(kitchen, "sink"))
    yield from (least(_unit_sides(kitchen, unit), key=_width) for unit in appliances(kitchen, "sink"))


def preparation(kitchen: Kitchen) -> Iterator[Place]:
    """The longer stretch right beside a sink that is `PREPARATION_DEPTH` deep all along, mm."""
    for sink, length in of_kind(kitchen, "sink"):
        yield most(_sink_sides(kitchen, sink, length, PREPARATION_DEPTH), key=_width)
    yield from (most(_unit_sides(kitchen, unit), key=_width) for unit in appliances(kitchen, "sink"))


def sink_to_hob(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between the rims of a sink and a hob in one row, along the front, mm; or up to a cooker."""
    cooked = {hob.thing for hob in hobs(kitchen)}
    for sink, length in of_kind(kitchen, "sink"):
        counter = counter_of(kitchen, length)
        for side in SIDES:
            run = reach(kitchen, counter, _rim(counter, sink, length, side), side, 0.0)
            where = Where(Phrase.BETWEEN, of_cutout(sink), against=run.by)
            if run.by in cooked:
                yield counter.place(run.ends, where, where.things)
    for unit in appliances(kitchen, "sink"):
        for side in SIDES:
            its = beside(kitchen, unit, side)
            if its is not None:
                run = reach(kitchen, its, its.start if side == "right" else its.stop, side, 0.0)
                where = Where(Phrase.BETWEEN, of_unit(unit), against=run.by)
                if run.by in cooked:
                    yield its.place(run.ends, where, where.things)


def beside_fridge(kitchen: Kitchen) -> Iterator[Place]:
    """The best landing of a refrigerator, mm: beside it where its grip is, or across from it within `ACROSS`.

    One under a worktop has its landing above it and is no place.
    """
    for fridge in (f for f in appliances(kitchen, "fridge") if not f.family.carries_top):
        sides = (_beside(kitchen, fridge, side) for side in _grip_sides(kitchen, fridge))
        found = [place for place in sides if place] + list(_across(kitchen, fridge))
        nothing = Where(Phrase.NO_LANDING, of_unit(fridge))
        yield most(found or [Place(nothing, 0.0, nothing.things, unit_volume(fridge))], key=_width)


def _width(place: Place) -> float:
    return place.value or 0.0


def _rim(counter: Counter, cutout: PlacedCutout, length: Length, side: Side) -> float:
    return rim_of(counter, cutout, length)[0 if side == "left" else 1]


def _hob_sides(kitchen: Kitchen, hob: Hob) -> list[Place]:
    """The landing to the left and to the right of a hob."""
    if hob.unit is not None:
        return _unit_sides(kitchen, hob.unit, hob.fuel)
    assert hob.cutout is not None
    assert hob.length is not None
    return [_straight(kitchen, hob.cutout, hob.length, side, LANDING_DEPTH) for side in SIDES]


def _unit_sides(kitchen: Kitchen, unit: PlacedUnit, fuel: str | None = None) -> list[Place]:
    """The same of what stands between tops, such as a cooker or a front sink."""
    sides = ((side, _beside(kitchen, unit, side, fuel)) for side in SIDES)
    return [found or _no_top(of_unit(unit), side) for side, found in sides]


def _no_top(thing: Thing, side: Side) -> Place:
    where = Where(Phrase.NO_TOP, thing, Aspect(side))
    return Place(where, 0.0, where.things)


def _straight(kitchen: Kitchen, cutout: PlacedCutout, length: Length, side: Side, need: float) -> Place:
    counter = counter_of(kitchen, length)
    run = reach(kitchen, counter, _rim(counter, cutout, length, side), side, need)
    where = Where(Phrase.LANDING, of_cutout(cutout), Aspect(side), run.by)
    return counter.place(run.ends, where, (where.subject,), cutout.template.fuel)


def _sink_sides(kitchen: Kitchen, sink: PlacedCutout, length: Length, need: float = LANDING_DEPTH) -> list[Place]:
    """The same of a sink, the return round a corner with it."""
    return [
        _turned(kitchen, sink, length, side, need) or _straight(kitchen, sink, length, side, need) for side in SIDES
    ]


def _turned(kitchen: Kitchen, sink: PlacedCutout, length: Length, side: Side, need: float) -> Place | None:
    """The landing on both sides of a corner; None where there is no corner so near, or none worth turning for."""
    counter = counter_of(kitchen, length)
    run = reach(kitchen, counter, _rim(counter, sink, length, side), side, need)
    other = round_corner(kitchen, counter, side) if run.by is Stop.CORNER and run.width >= TURN - CONTACT else None
    if other is None:
        return None
    back = reach(kitchen, other, other.start if side == "right" else other.stop, side, need)
    where = Where(Phrase.LANDING_ROUND, of_cutout(sink), Aspect(side), back.by)
    about = (where.subject, of_length(length), *_tops(other, back))
    plan = _corner_plan([(counter, run), (other, back)], side)
    return Place(where, run.width + back.width, about, Volume(plan, face(length), face(length) + CLEAR))


def _corner_plan(runs: list[tuple[Counter, FrontEdge]], side: Side) -> Polygon:
    """What lies from the rim through the corner to the end of the return, as the tops have it."""
    (one, run), (other, back) = runs
    far = 1e5 if side == "right" else -1e5
    first = _strip(one, run.start, run.stop + far)
    second = _strip(other, back.start - far, back.stop)
    # The web of a joint strip may part the two.
    return _largest(first.union(second).buffer(STRIP_WEB, join_style="mitre"))


def _strip(counter: Counter, x0: float, x1: float) -> Polygon:
    low, high = sorted((x0, x1))
    wide = block(counter.lead.part.pose, low, 0.0, high, counter.lead.run.stock.depth)
    return _largest(union_all([top_plan(length) for length in counter.lengths]).intersection(wide))


def _largest(shape: BaseGeometry) -> Polygon:
    """Of what lies in pieces the largest: in a tight corner the strips to be drawn may not meet, or be empty."""
    pieces = [p for p in getattr(shape, "geoms", [shape]) if isinstance(p, Polygon)]
    return most(pieces, key=lambda p: p.area) if pieces else Polygon()


def _tops(counter: Counter, run: FrontEdge) -> tuple[Thing, ...]:
    return counter.tops(*sorted(run.ends))


def _beside(kitchen: Kitchen, unit: PlacedUnit, side: Side, fuel: str | None = None) -> Place | None:
    """The landing of the counter that begins or ends at a unit, on that side of it; past the cheek of the breast in
    whose opening it stands, if that is within `PAST_CHEEK`.
    """
    counter = beside(kitchen, unit, side) or _past_cheek(kitchen, unit, side)
    if counter is None:
        return None
    run = reach(kitchen, counter, counter.start if side == "right" else counter.stop, side)
    where = Where(Phrase.LANDING, of_unit(unit), Aspect(side), run.by)
    return counter.place(run.ends, where, (where.subject,), fuel)


def _past_cheek(kitchen: Kitchen, unit: PlacedUnit, side: Side) -> Counter | None:
    """The counter on the same wall that ends at the far side of the cheek on that side of a unit."""
    wall = run_of(kitchen, unit).wall
    breasts = [o for o in kitchen.survey.obstacles if o.kind == BREAST and o.wall == wall]
    for counter in (c for c in counters(kitchen) if wall is not None and c.lead.run.wall == wall):
        end = counter.lead.x + (counter.stop if side == "left" else counter.start)
        near, far = (end, unit.x) if side == "left" else (unit.right, end)
        cheek = any(near - FIT <= o.x and o.right <= far + FIT for o in breasts)
        if cheek and far - near <= PAST_CHEEK + CONTACT:
            return counter
    return None


def _grip_sides(kitchen: Kitchen, fridge: PlacedUnit) -> list[Side]:
    """The sides of the front on which there are grips; both where no grip is modelled."""
    grips = [p for p in kitchen.parts_of[fridge.key] if p.which.component is Component.GRIP]
    xs = [fridge.frame.from_room(grip.pose.origin)[0] for grip in grips]
    sides = dict.fromkeys(SIDES[x > fridge.width / 2] for x in xs)
    return list(sides) or list(SIDES)


def _across(kitchen: Kitchen, fridge: PlacedUnit) -> Iterator[Place]:
    """Worktop of another run straight before the refrigerator's front, no farther off than `ACROSS`."""
    front = fridge.face
    before = block(fridge.frame, 0.0, front, fridge.width, front + ACROSS + EQUAL)
    for counter, start, stop in pieces(kitchen):
        stretch = block(counter.lead.part.pose, start, 0.0, stop, counter.lead.run.stock.depth)
        if overlap(stretch, before) and fridge not in counter.lead.run.units:
            x0, _, x1, _ = counter.lead.part.pose.plan_from_room(stretch.intersection(before)).bounds
            where = Where(Phrase.ACROSS, of_unit(fridge))
            yield counter.place((x0, x1), where, where.things)
