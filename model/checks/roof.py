"""Measures of windows in a sloping ceiling, whose sash turns about its middle and comes down into the room."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Thing, of_cutout, of_length, of_roof_window, of_unit
from countersunk.model.facts.plans import REACH, face, heights, top_plan, unit_plan, upright
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import PlacedRoofWindow
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT, OVERLAP_AREA


def sash(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the sash of a roof window down to what stands under its swing, mm: a tap, a top, a unit.

    Negative where that is struck; no place where nothing stands there.
    """
    for window in (window for slope in kitchen.survey.slopes for window in slope.windows):
        found = [(low - z, of, low, z) for of, plan, z in _standing(kitchen) if (low := _lowest(window, plan))]
        if found:
            value, of, low, z = least(found, key=lambda one: one[0])
            volume, segment = upright(window.plan, min(z, low), max(z, low))
            where = Where(Phrase.TO, of_roof_window(window), against=of)
            yield Place(where, value, (of,), volume, segment)


def _standing(kitchen: Kitchen) -> Iterator[tuple[Thing, BaseGeometry, float]]:
    """What may stand under a roof window: its plan in the room, and its highest."""
    yield from ((of_unit(unit), unit_plan(unit), unit.family.top) for unit in kitchen.units)
    yield from ((of_length(length), top_plan(length), face(length)) for length in kitchen.lengths)
    for cutout in kitchen.cutouts:
        for part in kitchen.parts_of[cutout.key]:
            yield of_cutout(cutout), part.standing_plan, heights(part)[1]


def _lowest(window: PlacedRoofWindow, plan: BaseGeometry) -> float:
    """How low the sash comes over a plan, mm above the floor; 0 where it does not come over it."""
    x0, y0, x1, y1 = window.frame.plan_from_room(plan).bounds
    beside = x1 <= window.x + CONTACT or x0 >= window.x + window.width - CONTACT
    over = window.swept.intersection(rectangle(y0, -REACH, y1, REACH))
    return 0.0 if beside or over.area <= OVERLAP_AREA else float(over.bounds[1])
