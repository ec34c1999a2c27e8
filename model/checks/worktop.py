"""Measures of worktops: height, depth, what carries them, what they weigh, what they are cut from."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from countersunk.model.checks.finding import Place
from countersunk.model.facts.lifting import people_for
from countersunk.model.facts.plans import (
    around,
    behind_units,
    between,
    face,
    overlap,
    top_plan,
    unit_plan,
    upright,
    wall_units,
)
from countersunk.model.geometry.volume import Segment
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import least
from countersunk.model.tops.worktops import Length

CARRIES_NOTHING = ("appliance", "filler")
"""Constructions on which a top cannot rest from back to front."""


def height(kitchen: Kitchen) -> Iterator[Place]:
    """From the floor to the decor face, mm."""
    for length in kitchen.lengths:
        volume, segment = upright(top_plan(length), 0.0, face(length))
        yield Place(f"face of {length.id}", face(length), (length.id,), volume, segment)


def lowest(kitchen: Kitchen) -> Iterator[Place]:
    """From the floor to the decor face of the lowest top, mm: where one low surface is asked for.

    One place for the kitchen, so that no finding about it goes away because lengths are joined otherwise.
    """
    if kitchen.lengths:
        length = least(kitchen.lengths, key=face)
        volume, segment = upright(top_plan(length), 0.0, face(length))
        yield Place("lowest of the tops", face(length), (length.id,), volume, segment)


def depth(kitchen: Kitchen) -> Iterator[Place]:
    """From the back to the front edge of the stock, mm."""
    for length in kitchen.lengths:
        d = length.run.stock.depth
        segment = _across(length, (length.part.length / 2, 0.0), (length.part.length / 2, d))
        yield _flat(length, f"depth of {length.id}", d, segment)


def to_wall_unit(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from a top's face to a wall unit over it, mm; not to a hood."""
    for length in kitchen.lengths:
        for unit in wall_units(kitchen):
            if overlap(top_plan(length), unit_plan(unit)):
                volume, segment = upright(unit_plan(unit), face(length), unit.family.base)
                value = unit.family.base - face(length)
                yield Place(f"{length.id} to {unit.name}", value, (length.id, unit.name), volume, segment)


def end_overhang(kitchen: Kitchen) -> Iterator[Place]:
    """How far a top stands past what carries it at a free end, mm; appliances and fillers carry nothing."""
    for length in kitchen.lengths:
        carriers = [u for u in length.stretch.units if _carries(u)]
        if not carriers:
            yield _flat(length, f"all of {length.id}: no unit carries it", length.part.length, _front(length))
            continue
        for side, end, x in (("left", length.left, carriers[0].x), ("right", length.right, carriers[-1].right)):
            if end.kind == "free":
                y = length.run.stock.depth / 2
                segment = _across(length, (x - length.x, y), (end.x - length.x, y))
                yield _flat(length, f"{side} end of {length.id}", abs(end.x - x), segment)


def front_overhang(kitchen: Kitchen) -> Iterator[Place]:
    """How far a top stands past the fronts of the units under it, mm."""
    for length in kitchen.lengths:
        d, fronts = length.run.stock.depth, max(u.face for u in length.stretch.units)
        start, x = length.run.stand_off + fronts, length.part.length / 2
        yield _flat(length, f"front of {length.id}", d - start, _across(length, (x, start), (x, d)))


def back_overhang(kitchen: Kitchen) -> Iterator[Place]:
    """How far an island's or a peninsula's top stands past its back panel, mm."""
    for length in kitchen.lengths:
        if length.run.free:
            past, x = behind_units(length), length.part.length / 2
            yield _flat(length, f"back of {length.id}", past, _across(length, (x, past), (x, 0.0)))


def unsupported_gap(kitchen: Kitchen) -> Iterator[Place]:
    """Between what carries a top on either side of an appliance, mm; at a free end it is an overhang instead."""
    for length in kitchen.lengths:
        for carries, group in groupby(length.stretch.units, _carries):
            gap = list(group)
            appliance = any(u.family.construction == "appliance" for u in gap)
            if not carries and appliance and not _hangs(length, gap):
                yield _gap(length, gap)


def weight(kitchen: Kitchen) -> Iterator[Place]:
    """Mass of a piece as cut, kg."""
    for length in kitchen.lengths:
        low, high = length.part.pose.origin[2], face(length)
        volume = upright(top_plan(length), low, high)[0]
        lift = people_for(length.mass, length.part.length, high)
        advice = f"{lift} people lift it, by the equation of NIOSH; more where it is turned or reached over"
        yield Place(f"piece {length.id}", length.mass, (length.id,), volume, _front(length), advice=advice)


def spare_of_stock(kitchen: Kitchen) -> Iterator[Place]:
    """What the longest stock length sold is longer than the piece, mm: ends are squared from it."""
    for length in kitchen.lengths:
        spare = max(length.run.stock.lengths) - length.part.length
        text = f"{length.id} of {max(length.run.stock.lengths):g}"
        yield _flat(length, text, spare, _front(length))


def join_off_square(kitchen: Kitchen) -> Iterator[Place]:
    """How far a corner with a mitre is off 90°, degrees: what the jig must be turned by on the male."""
    for join in kitchen.joins:
        if join.kind == "mitre":
            ends = [(x, y, face(kitchen.length(join.female))) for x, y, *_ in join.line.coords]
            segment = (ends[0], ends[-1])
            ids = (join.female, join.male)
            volume = around(segment, segment[0][2] - kitchen.length(join.female).part.thickness, segment[0][2])
            yield Place(f"join {join.id}, {join.place}", abs(join.off_square), ids, volume, segment)


def join_to_appliance(kitchen: Kitchen) -> Iterator[Place]:
    """From a joint to the nearest appliance under one of its two lengths, mm; 0 where the joint lies over it."""
    for join in kitchen.joins:
        tops = [kitchen.length(id_) for id_ in (join.female, join.male)]
        under = [u for top in tops for u in top.stretch.units if u.family.construction == "appliance"]
        if under:
            unit = least(under, key=lambda u: join.line.distance(unit_plan(u)))
            segment = between(join.line, unit_plan(unit), face(tops[0]))
            value = join.line.distance(unit_plan(unit))
            volume = around(segment, tops[0].part.pose.origin[2], face(tops[0]))
            ids = (unit.name, join.female, join.male)
            yield Place(f"join {join.id} to {unit.name}", value, ids, volume, segment)


def _carries(unit: PlacedUnit) -> bool:
    return unit.family.construction not in CARRIES_NOTHING


def _hangs(length: Length, gap: list[PlacedUnit]) -> bool:
    """Whether the gap reaches to a free end."""
    at_left = length.left.kind == "free" and gap[0] is length.stretch.units[0]
    at_right = length.right.kind == "free" and gap[-1] is length.stretch.units[-1]
    return at_left or at_right


def _gap(length: Length, gap: list[PlacedUnit]) -> Place:
    x0, x1, y = gap[0].x - length.x, gap[-1].right - length.x, length.run.stock.depth / 2
    names = tuple(u.name for u in gap)
    place = _flat(length, f"{length.id} over {', '.join(names)}", x1 - x0, _across(length, (x0, y), (x1, y)))
    return Place(place.text, place.value, (*names, length.id), place.volume, place.segment)


def _across(length: Length, start: tuple[float, float], end: tuple[float, float]) -> Segment:
    """A segment given in the length's frame, on its face."""
    pose, z = length.part.pose, length.part.thickness
    return pose.to_room((*start, z)), pose.to_room((*end, z))


def _front(length: Length) -> Segment:
    d = length.run.stock.depth
    return _across(length, (0.0, d), (length.part.length, d))


def _flat(length: Length, text: str, value: float, segment: Segment) -> Place:
    """A place of one length, measured along a level segment on its face."""
    volume = around(segment, length.part.pose.origin[2], face(length))
    return Place(text, value + 0.0, (length.id,), volume, segment)
