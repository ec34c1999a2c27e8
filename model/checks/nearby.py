"""Measures round what stands in the room and is hot, or has to be read and shut off: stoves and meters.

They are obstacles of the survey. What a stove, its flue and its hearth need, and where a meter may be, is for their
sheets, the local code, the supplier and licensed people.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Aspect, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Sort, Thing, of_length, of_obstacle, of_unit, of_wall
from countersunk.model.facts.plans import REACH, around, between, block, face, top_plan, unit_plan, within
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import PlacedObstacle
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT

GAS, ELECTRIC = "gas-meter", "electricity-meter"


def stove_to_anything(kitchen: Kitchen) -> Iterator[Place]:
    """In the plan from a stove to the nearest unit or top, mm; 0 where that hangs over it, at whatever height."""
    for stove in _of_kind(kitchen, "stove"):
        standing = [(of_unit(unit), unit_plan(unit)) for unit in kitchen.units]
        standing += [(of_length(length), top_plan(length)) for length in kitchen.lengths]
        if standing:
            yield _between(stove, *least(standing, key=lambda one: stove.plan.distance(one[1])))


def before_meter(kitchen: Kitchen) -> Iterator[Place]:
    """From the face of a gas or electricity meter to what faces it at its height, mm."""
    return (place for kind in (GAS, ELECTRIC) for place in _before(kitchen, kind))


def before_electricity_meter(kitchen: Kitchen) -> Iterator[Place]:
    """From the face of an electricity meter alone to what faces it or stands on the floor before it, mm."""
    return _before(kitchen, ELECTRIC, foot=True)


def gas_meter_to_electricity(kitchen: Kitchen) -> Iterator[Place]:
    """From a gas meter to the nearest electricity meter, mm, straight across the room or up."""
    for gas in _of_kind(kitchen, GAS):
        others = _of_kind(kitchen, ELECTRIC)
        if others:
            other = least(others, key=lambda one: _apart(gas, one))
            segment = between(gas.plan, other.plan, gas.bottom)
            where = Where(Phrase.TO, of_obstacle(gas), against=of_obstacle(other))
            yield Place(where, _apart(gas, other), (), around(segment, gas.bottom, gas.top), segment)


def _of_kind(kitchen: Kitchen, kind: str) -> list[PlacedObstacle]:
    return [obstacle for obstacle in kitchen.survey.obstacles if obstacle.kind == kind]


def _apart(a: PlacedObstacle, b: PlacedObstacle) -> float:
    """Between two boxes, mm."""
    return math.hypot(a.plan.distance(b.plan), max(0.0, a.bottom - b.top, b.bottom - a.top))


def _between(stove: PlacedObstacle, thing: Thing, plan: BaseGeometry) -> Place:
    segment = between(stove.plan, plan, stove.bottom)
    where = Where(Phrase.TO, of_obstacle(stove), against=thing)
    return Place(where, math.dist(*segment), (thing,), around(segment, stove.bottom, stove.top), segment)


def _before(kitchen: Kitchen, kind: str, *, foot: bool = False) -> Iterator[Place]:
    for meter in _of_kind(kitchen, kind):
        front = meter.y + meter.depth
        band = block(meter.frame, meter.x, front, meter.right, REACH)
        low = 0.0 if foot else meter.bottom
        near = [(thing, within(plan, band)) for thing, plan in _standing(kitchen, meter, low)]
        found = [(thing, plan) for thing, plan in near if not plan.is_empty]
        where = Where(Phrase.SIDE_OF, of_obstacle(meter), Aspect.BEFORE)
        if not found:
            yield Place(where, None, (), reason="nothing that faces it was surveyed")
            continue
        thing, plan = least(found, key=lambda one: meter.plan.distance(one[1]))
        segment = between(meter.plan, plan, (meter.bottom + meter.top) / 2)
        about = (thing,) if thing.sort in (Sort.UNIT, Sort.LENGTH) else ()
        where = Where(Phrase.SIDE_OF, of_obstacle(meter), Aspect.BEFORE, thing)
        yield Place(where, math.dist(*segment), about, around(segment, low, meter.top), segment)


def _standing(kitchen: Kitchen, meter: PlacedObstacle, low: float) -> Iterator[tuple[Thing, BaseGeometry]]:
    """What stands or hangs between ``low`` and the top of a meter, and the walls."""
    for unit in kitchen.units:
        foot = 0.0 if unit.family.level == "floor" else unit.family.base
        if foot < meter.top - CONTACT and unit.family.top > low + CONTACT:
            yield of_unit(unit), unit_plan(unit)
    for length in kitchen.lengths:
        if low < face(length) - CONTACT and face(length) - length.part.thickness < meter.top:
            yield of_length(length), top_plan(length)
    for other in kitchen.survey.obstacles:
        if other is not meter and other.bottom < meter.top - CONTACT and other.top > low + CONTACT:
            yield of_obstacle(other), other.plan
    yield from ((of_wall(wall), wall.line) for wall in kitchen.survey.walls)
