"""Measures between work centres: sink, hob, refrigerator and dishwasher.

The work triangle has its corners in the middle of the fronts of the first sink, the first hob and the first
refrigerator; where one of them is missing there is no triangle.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from shapely import LineString, Point, union_all

from model.checks.finding import Place, Segment, Volume
from model.checks.plans import (
    TALL,
    appliances,
    around,
    between,
    face,
    front_of,
    of_kind,
    tall_units,
    top_plan,
    unit_plan,
)
from model.cutouts import PlacedCutout
from model.kitchen import Kitchen
from model.layout import PlacedRun
from model.worktops import Length

HAND = 900.0
"""The height at which the triangle is drawn, mm; it has no meaning of its own."""


class Centre(NamedTuple):
    """A work centre: its name, the middle of its front in the room's plan, and where it stands along its run."""

    name: str
    front: Point
    run: PlacedRun
    x: float


def dishwasher_to_sink(kitchen: Kitchen) -> Iterator[Place]:
    """From a dishwasher's edge to the rim of the nearest sink, in the plan, mm."""
    sinks = list(of_kind(kitchen, "sink"))
    for unit in appliances(kitchen, "dishwasher") if sinks else ():
        plan = unit_plan(unit)
        sink, length = min(sinks, key=lambda s: plan.distance(s[0].rim_in_room))
        segment = between(plan, sink.rim_in_room, face(length))
        volume = around(segment, face(length), face(length) + 100.0)
        value = plan.distance(sink.rim_in_room)
        yield Place(f"{unit.name} to {sink.name}", value, (unit.name, sink.name), volume, segment)


def triangle_leg(kitchen: Kitchen) -> Iterator[Place]:
    """Each leg of the work triangle, mm, straight from front to front."""
    for a, b in _legs(kitchen):
        yield _leg(a, b, f"{a.name} to {b.name}", a.front.distance(b.front))


def triangle_sum(kitchen: Kitchen) -> Iterator[Place]:
    """The three legs of the work triangle together, mm."""
    legs = _legs(kitchen)
    if legs:
        names = tuple(dict.fromkeys(c.name for leg in legs for c in leg))
        yield Place(", ".join(names), sum(a.front.distance(b.front) for a, b in legs), names)


def triangle_through_island(kitchen: Kitchen) -> Iterator[Place]:
    """How far a leg of the work triangle runs through an island, mm; only for kitchens that have one."""
    islands = [length for length in kitchen.lengths if length.run.wall is None]
    whole = union_all([top_plan(length) for length in islands])
    for a, b in _legs(kitchen) if islands else ():
        through = LineString([a.front, b.front]).intersection(whole).length
        yield _leg(a, b, f"{a.name} to {b.name} through the island", through)


def tall_between(kitchen: Kitchen) -> Iterator[Place]:
    """How many tall units part two work centres of one run; a panel beside one of them parts nothing."""
    for a, b in combinations(_centres(kitchen), 2):
        if a.run is b.run:
            low, high = sorted((a.x, b.x))
            talls = [u for u in tall_units(kitchen, TALL) if u in a.run.units and low < u.x < high]
            inside = [u.name for u in talls if u.name not in (a.name, b.name) and u.family.construction != "panel"]
            place = _leg(a, b, f"between {a.name} and {b.name}", float(len(inside)))
            yield Place(place.text, place.value, (*place.ids, *inside), place.volume, place.segment)


def _centres(kitchen: Kitchen) -> list[Centre]:
    """The first sink, the first hob and the first refrigerator, those that there are."""
    firsts = (next(of_kind(kitchen, kind), None) for kind in ("sink", "hob"))
    found = [_let_in(cutout, length) for cutout, length in (f for f in firsts if f)]
    return [*found, *_fridges(kitchen)[:1]]


def _let_in(cutout: PlacedCutout, length: Length) -> Centre:
    x, y, _ = cutout.frame.to_room((0.0, cutout.template.rim[1] / 2, 0.0))
    return Centre(cutout.name, Point(x, y), length.run, length.x + cutout.line.centroid.x)


def _fridges(kitchen: Kitchen) -> list[Centre]:
    found = []
    for fridge in appliances(kitchen, "fridge"):
        run = next(run for run in kitchen.runs if fridge in run.units)
        x, y, _ = fridge.frame.to_room((fridge.width / 2, front_of(fridge), 0.0))
        found.append(Centre(fridge.name, Point(x, y), run, fridge.x + fridge.width / 2))
    return found


def _legs(kitchen: Kitchen) -> list[tuple[Centre, Centre]]:
    centres = _centres(kitchen)
    return list(combinations(centres, 2)) if len(centres) == 3 else []


def _leg(a: Centre, b: Centre, text: str, value: float) -> Place:
    segment: Segment = ((a.front.x, a.front.y, HAND), (b.front.x, b.front.y, HAND))
    volume: Volume = around(segment, HAND - 50.0, HAND + 50.0)
    return Place(text, value, (a.name, b.name), volume, segment)
