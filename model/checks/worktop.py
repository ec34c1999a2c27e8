"""Measures of worktops: height, depth, what carries them, what they weigh, what they are cut from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from countersunk.model.checks.cooking import hobs
from countersunk.model.checks.finding import Amount, Aspect, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import WHOLE, Thing, of_join, of_length, of_lengths, of_unit, of_units
from countersunk.model.facts.covering import end_overhangs, front_overhangs
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
from countersunk.model.geometry.identity import Position, Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.volume import Segment
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import least
from countersunk.model.tolerance import FIT
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length

SHALLOWER = 50.0
"""A unit is shallower than another from here on, mm: more than a front is thick."""

SQUARE_UNIT = "the corner unit is square and its corner is not: pack the units of that wall out to its wing"
"""What helps where a wing stands past the top of the other wall."""


def height(kitchen: Kitchen) -> Iterator[Place]:
    """From the floor to the decor face, mm."""
    for length in kitchen.lengths:
        volume, segment = upright(top_plan(length), 0.0, face(length))
        where = Where(Phrase.FACE, of_length(length))
        yield Place(where, face(length), where.things, volume, segment)


def lowest(kitchen: Kitchen) -> Iterator[Place]:
    """From the floor to the decor face of the lowest top, mm: where one low surface is asked for.

    One place for the kitchen, so that no finding about it goes away because lengths are joined otherwise.
    """
    if kitchen.lengths:
        length = least(kitchen.lengths, key=face)
        volume, segment = upright(top_plan(length), 0.0, face(length))
        yield Place(Where(Phrase.LOWEST, WHOLE), face(length), (of_length(length),), volume, segment)


def depth(kitchen: Kitchen) -> Iterator[Place]:
    """From the back to the front edge of the stock, mm."""
    for length in kitchen.lengths:
        d = length.run.stock.depth
        segment = _across(length, (length.part.length / 2, 0.0), (length.part.length / 2, d))
        yield _flat(length, Where(Phrase.DEPTH, of_length(length)), d, segment)


def to_wall_unit(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from a top's face to a wall unit over it, mm; not to a hood, nor to what stands on the top."""
    for length in kitchen.lengths:
        for unit in (u for u in wall_units(kitchen) if not u.family.on_top):
            if overlap(top_plan(length), unit_plan(unit)):
                volume, segment = upright(unit_plan(unit), face(length), unit.family.base)
                value = unit.family.base - face(length)
                where = Where(Phrase.TO, of_length(length), against=of_unit(unit))
                yield Place(where, value, where.things, volume, segment)


def up_to_wall_unit(kitchen: Kitchen) -> Iterator[Place]:
    """The same as one reaches up to it, mm: not to a wall unit over a hob, which hangs higher for its sake."""
    over = [of_unit(u) for u in wall_units(kitchen) if any(hob.is_under(unit_plan(u)) for hob in hobs(kitchen))]
    return (place for place in to_wall_unit(kitchen) if place.where.against not in over)


def over_shallow_unit(kitchen: Kitchen) -> Iterator[Place]:
    """How far a top stands past the front of each unit under it that is shallower than others there, mm.

    A body without a front, as a washing machine, is not: it is shallower by the front alone.
    """
    for length in kitchen.lengths:
        deepest, d = max(u.front for u in length.stretch.units), length.run.stock.depth
        for unit in (u for u in length.stretch.units if u.front < deepest - SHALLOWER):
            start, x = length.run.stand_off + unit.front, (unit.x + unit.right) / 2 - length.x
            where = Where(Phrase.OVER, of_length(length), against=of_unit(unit))
            yield _flat(length, where, d - start, _across(length, (x, start), (x, d)))


def over_low_unit(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from a unit under a top to the top's underside, mm, where the unit is lower than that."""
    for length in kitchen.lengths:
        underside = face(length) - length.run.stock.thickness
        for unit in (u for u in length.stretch.units if u.family.top < underside - FIT):
            volume, segment = upright(unit_plan(unit), unit.family.top, underside)
            where = Where(Phrase.OVER, of_length(length), against=of_unit(unit))
            yield Place(where, underside - unit.family.top, where.things, volume, segment)


def end_overhang(kitchen: Kitchen) -> Iterator[Place]:
    """How far a top stands past what carries it at a free end, mm: a unit or a post, no appliance or filler."""
    for length in kitchen.lengths:
        carriers = [u for u in length.stretch.units if _carries(u)]
        if not carriers:
            yield _flat(length, Where(Phrase.ALL_OF, of_length(length)), length.part.length, _front(length))
            continue
        parts = (part for unit in length.stretch.units for part in kitchen.parts_of[unit.key])
        posts = {part.which.at: part for part in parts if part.role is Role.POST}
        ends = (
            (Aspect.LEFT_END, Position.LEFT, length.left, carriers[0].x),
            (Aspect.RIGHT_END, Position.RIGHT, length.right, carriers[-1].right),
        )
        for side, at, end, carried in ends:
            if end.kind == "free":
                post = posts.get((at,))
                x = carried if post is None else _outer(length, post, at)
                y = length.run.stock.depth / 2
                segment = _across(length, (x - length.x, y), (end.x - length.x, y))
                yield _flat(length, Where(Phrase.EDGE, of_length(length), side), abs(end.x - x), segment)


def front_overhang(kitchen: Kitchen) -> Iterator[Place]:
    """The least that a top stands past anything beneath it, in front, mm; less than 0 where that stands past it.

    Whatever lies under the top counts, to whichever run it belongs: wings and corner units as well.
    """
    for length in kitchen.lengths:
        found = list(front_overhangs(kitchen, length))
        if found:
            past = least(found, key=lambda one: one.overhang)
            where, segment = Where(Phrase.FRONT, of_length(length)), _across(length, past.start, past.end)
            place = _flat(length, where, past.overhang, segment)
            advice = SQUARE_UNIT if past.overhang < 0 and past.unit.wing else ""
            yield replace(place, about=(of_length(length), of_unit(past.unit)), advice=advice)


def end_cover(kitchen: Kitchen) -> Iterator[Place]:
    """The least that a free end stands past anything beneath it, mm; less than 0 where that is left bare.

    Measured square to the end, also where its corners are clipped or rounded.
    """
    for length in kitchen.lengths:
        found = list(end_overhangs(kitchen, length))
        for side, aspect in (("left", Aspect.LEFT_END), ("right", Aspect.RIGHT_END)):
            here = [past for at, past in found if at == side]
            if here:
                past = least(here, key=lambda one: one.overhang)
                where = Where(Phrase.EDGE, of_length(length), aspect)
                place = _flat(length, where, past.overhang, _across(length, past.start, past.end))
                yield replace(place, about=(of_length(length), of_unit(past.unit)))


def back_overhang(kitchen: Kitchen) -> Iterator[Place]:
    """How far an island's or a peninsula's top stands past its back panel, or past the arms there, mm."""
    for length in kitchen.lengths:
        if length.run.free:
            arm = length.run.arm
            past, x = behind_units(length) - (arm.reach if arm else 0.0), length.part.length / 2
            where = Where(Phrase.EDGE, of_length(length), Aspect.BACK)
            yield _flat(length, where, past, _across(length, (x, past), (x, 0.0)))


def past_third(kitchen: Kitchen) -> Iterator[Place]:
    """How much further than a third of its depth the top of an island or peninsula stands past its back, mm."""
    for length in (top for top in kitchen.lengths if top.run.free):
        past = next(p for p in back_overhang(kitchen) if p.where.subject == of_length(length))
        yield replace(past, value=(past.value or 0.0) - length.run.stock.depth / 3)


def unsupported_gap(kitchen: Kitchen) -> Iterator[Place]:
    """Between what carries a top on either side of an appliance, mm; at a free end it is an overhang instead."""
    for length in kitchen.lengths:
        for carries, group in groupby(length.stretch.units, _carries):
            gap = list(group)
            appliance = any(u.family.kind.is_bought for u in gap)
            if not carries and appliance and not _hangs(length, gap):
                yield _gap(length, gap)


def weight(kitchen: Kitchen) -> Iterator[Place]:
    """Mass of a piece as cut, kg."""
    for length in kitchen.lengths:
        low, high = length.part.pose.origin[2], face(length)
        volume = upright(top_plan(length), low, high)[0]
        lift = people_for(length.mass, length.part.length, high)
        advice = f"{lift} people lift it, by the equation of NIOSH; more where it is turned or reached over"
        where = Where(Phrase.PIECE, of_length(length))
        yield Place(where, length.mass, where.things, volume, _front(length), advice=advice)


def room_to_move(kitchen: Kitchen) -> Iterator[Place]:
    """The gap at the wall behind a top of wood less what the top moves with its front held, mm.

    From a heated to a damp room, see `model.kinds.top_materials`. An island's back is free to move.
    """
    for length in (top for top in kitchen.lengths if top.run.wall):
        moves = length.run.stock.material.movement(length.run.stock.depth)
        if moves:
            gap, d, x = kitchen.allowances.expansion, length.run.stock.depth, length.part.length / 2
            where = Where(Phrase.GAP_BEHIND_WOOD, of_length(length), figures=(Figure(Amount.SIZE, moves),))
            yield _flat(length, where, gap - moves, _across(length, (x, gap), (x, d)))


def silica_of_engineered(kitchen: Kitchen) -> Iterator[Place]:
    """Crystalline silica in a top of engineered stone, bound by resin, % by its mass."""
    for length in (top for top in kitchen.lengths if top.run.stock.material.resin):
        yield _flat(length, Where(Phrase.MADE_OF, of_length(length)), length.run.stock.crystalline, _front(length))


def spare_of_stock(kitchen: Kitchen) -> Iterator[Place]:
    """What the longest stock length sold is longer than the piece, mm: ends are squared from it.

    The size of a slab is what is left once its raw edges are off.
    """
    for length in (top for top in kitchen.lengths if not top.run.stock.made_by):
        longest = max(length.run.stock.lengths)
        where = Where(Phrase.OF_STOCK, of_length(length), figures=(Figure(Amount.SIZE, longest),))
        yield _flat(length, where, longest - length.part.length, _front(length))


def join_off_square(kitchen: Kitchen) -> Iterator[Place]:
    """How far a corner with a mitre is off 90°, degrees: what the jig must be turned by on the male.

    A bonded seam is sawn or milled along a straightedge, by no jig.
    """
    for join in kitchen.joins:
        if join.making == "mitre":
            ends = [(x, y, face(kitchen.length(join.female))) for x, y, *_ in join.line.coords]
            segment = (ends[0], ends[-1])
            about = _halves(kitchen, join)
            volume = around(segment, segment[0][2] - kitchen.length(join.female).part.thickness, segment[0][2])
            where = Where(Phrase.JOIN, of_join(join), note=join.place)
            yield Place(where, abs(join.off_square), about, volume, segment)


def join_to_appliance(kitchen: Kitchen) -> Iterator[Place]:
    """From a joint to the nearest appliance under one of its two lengths, mm; 0 where the joint lies over it."""
    for join in kitchen.joins:
        tops = [kitchen.length(id_) for id_ in (join.female, join.male)]
        under = [u for top in tops for u in top.stretch.units if u.family.kind.is_bought]
        if under:
            unit = least(under, key=lambda u: join.line.distance(unit_plan(u)))
            segment = between(join.line, unit_plan(unit), face(tops[0]))
            value = join.line.distance(unit_plan(unit))
            volume = around(segment, tops[0].part.pose.origin[2], face(tops[0]))
            where = Where(Phrase.JOIN_TO, of_join(join), against=of_unit(unit))
            yield Place(where, value, (of_unit(unit), *_halves(kitchen, join)), volume, segment)


def _halves(kitchen: Kitchen, join: Join) -> tuple[Thing, ...]:
    """The female and the male of a join."""
    return of_lengths(kitchen.length(id_) for id_ in (join.female, join.male))


def _outer(length: Length, post: Part, at: Position) -> float:
    """The side of a post that looks out of an end, along its run, mm."""
    outer = (post.length if at is Position.RIGHT else 0.0, 0.0, 0.0)
    return length.run.frame.from_room(post.pose.to_room(outer))[0]


def _carries(unit: PlacedUnit) -> bool:
    return unit.family.kind.carries


def _hangs(length: Length, gap: list[PlacedUnit]) -> bool:
    """Whether the gap reaches to a free end."""
    at_left = length.left.kind == "free" and gap[0] is length.stretch.units[0]
    at_right = length.right.kind == "free" and gap[-1] is length.stretch.units[-1]
    return at_left or at_right


def _gap(length: Length, gap: list[PlacedUnit]) -> Place:
    x0, x1, y = gap[0].x - length.x, gap[-1].right - length.x, length.run.stock.depth / 2
    appliance = next(u for u in gap if u.family.kind.is_bought)
    where = Where(Phrase.OVER_UNITS, of_length(length), against=of_unit(appliance), more=of_units(gap))
    place = _flat(length, where, x1 - x0, _across(length, (x0, y), (x1, y)))
    return replace(place, about=(*where.more, where.subject))


def _across(length: Length, start: tuple[float, float], end: tuple[float, float]) -> Segment:
    """A segment given in the length's frame, on its face."""
    pose, z = length.part.pose, length.part.thickness
    return pose.to_room((*start, z)), pose.to_room((*end, z))


def _front(length: Length) -> Segment:
    d = length.run.stock.depth
    return _across(length, (0.0, d), (length.part.length, d))


def _flat(length: Length, where: Where, value: float, segment: Segment) -> Place:
    """A place of one length, measured along a level segment on its face."""
    volume = around(segment, length.part.pose.origin[2], face(length))
    return Place(where, value + 0.0, (of_length(length),), volume, segment)
