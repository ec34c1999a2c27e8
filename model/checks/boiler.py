"""Measures of a boiler: what is free round its case, so that it can be hung, opened and serviced.

The case stands alone or in a housing, whose door is not looked at. Its maker's sheet and a licensed fitter decide
what flue and pipes need.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Aspect, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Sort, Thing, of_length, of_obstacle, of_unit, of_wall
from countersunk.model.facts.plans import (
    REACH,
    appliances,
    around,
    between,
    block,
    face,
    heights,
    overlap,
    top_plan,
    unit_plan,
    upright,
    within,
)
from countersunk.model.geometry.identity import Component, Role
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT, FIT

Standing = tuple[Thing, BaseGeometry]


def beside(kitchen: Kitchen) -> Iterator[Place]:
    """From the case to what stands nearest beside it at its height, on each side that has anything, mm."""
    for unit, case in _cases(kitchen):
        x0, y0, x1, y1 = _plan(unit, case)
        y0, y1 = y0 + FIT, y1 - FIT  # the wall just behind is not beside it
        bands = {Aspect.LEFT: (-REACH, y0, x0, y1), Aspect.RIGHT: (x1, y0, REACH, y1)}
        for side, band in bands.items():
            yield from _nearest(unit, case, side, block(unit.frame, *band), _beside(kitchen, unit, case))


def before(kitchen: Kitchen) -> Iterator[Place]:
    """From the face of the case to what faces it at its height, mm: room to take it apart."""
    for unit, case in _cases(kitchen):
        x0, _, x1, y1 = _plan(unit, case)
        band = block(unit.frame, x0, y1, x1, REACH)
        found = list(_nearest(unit, case, Aspect.BEFORE, band, _around(kitchen, unit, case)))
        nothing = Where(Phrase.SIDE_OF, of_unit(unit), Aspect.BEFORE)
        yield from found or [Place(nothing, None, (of_unit(unit),), reason="nothing that faces it was surveyed")]


def above(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the case to the ceiling or to what hangs over it, mm."""
    for unit, case in _cases(kitchen):
        plan, (_, high) = case.standing_plan, heights(case)
        hung = [o.bottom for o in kitchen.survey.obstacles if o.bottom > high - CONTACT and overlap(o.plan, plan)]
        units = (u for u in kitchen.units if u is not unit and u.family.base > high - CONTACT)
        hung += [u.family.base for u in units if overlap(unit_plan(u), plan)]
        yield _upright(unit, case, Aspect.ABOVE, high, min((kitchen.survey.ceiling_over(plan), *hung)))


def below(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the case down to the worktop or the unit under it, mm; to the floor where there is neither."""
    for unit, case in _cases(kitchen):
        plan, (low, _) = case.standing_plan, heights(case)
        tops = [face(t) for t in kitchen.lengths if overlap(top_plan(t), plan)]
        units = (u for u in kitchen.units if u is not unit and u.family.top < low + CONTACT)
        tops += [u.family.top for u in units if overlap(unit_plan(u), plan)]
        yield _upright(unit, case, Aspect.BELOW, max((0.0, *tops)), low)


def _cases(kitchen: Kitchen) -> Iterator[tuple[PlacedUnit, Part]]:
    """Every boiler's case, with the unit that it is or hangs in."""
    for unit in appliances(kitchen, "boiler"):
        parts = kitchen.parts_of[unit.key]
        yield unit, next(p for p in parts if p.role is Role.APPLIANCE and p.which.component is Component.BODY)


def _plan(unit: PlacedUnit, case: Part) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = unit.frame.plan_from_room(case.standing_plan).bounds
    return x0, y0, x1, y1


def _beside(kitchen: Kitchen, unit: PlacedUnit, case: Part) -> Iterator[Standing]:
    """What stands round a case, and the sides of its own housing."""
    yield from ((of_unit(unit), p.standing_plan) for p in kitchen.parts_of[unit.key] if p.role is Role.SIDE)
    yield from _around(kitchen, unit, case)


def _around(kitchen: Kitchen, unit: PlacedUnit, case: Part) -> Iterator[Standing]:
    low, high = heights(case)
    for other in kitchen.units:
        foot = 0.0 if other.family.level == "floor" else other.family.base
        if other is not unit and foot < high - CONTACT and other.family.top > low + CONTACT:
            yield of_unit(other), unit_plan(other)
    for o in kitchen.survey.obstacles:
        if o.bottom < high - CONTACT and o.top > low + CONTACT:
            yield of_obstacle(o), o.plan
    yield from ((of_wall(wall), wall.line) for wall in kitchen.survey.walls)
    for length in kitchen.lengths:
        if low + CONTACT < face(length):
            yield of_length(length), top_plan(length)


def _nearest(
    unit: PlacedUnit, case: Part, side: Aspect, band: Polygon, standing: Iterator[Standing]
) -> Iterator[Place]:
    """The place of what lies nearest in a band on one side of a case; none where nothing does."""
    found = [(thing, shape) for thing, whole in standing if not (shape := within(whole, band)).is_empty]
    if found:
        plan, (low, high) = case.standing_plan, heights(case)
        thing, shape = least(found, key=lambda near: plan.distance(near[1]))
        segment = between(plan, shape, (low + high) / 2)
        where = Where(Phrase.SIDE_OF, of_unit(unit), side, thing)
        about = tuple(dict.fromkeys(t for t in (of_unit(unit), thing) if t.sort is Sort.UNIT))
        yield Place(where, math.dist(*segment), about, around(segment, low, high), segment)


def _upright(unit: PlacedUnit, case: Part, side: Aspect, low: float, high: float) -> Place:
    volume, segment = upright(case.standing_plan, low, high)
    return Place(Where(Phrase.SIDE_OF, of_unit(unit), side), high - low, (of_unit(unit),), volume, segment)
