"""Measures between work centres: sink, hob, refrigerator and dishwasher.

The work triangle has its corners where somebody stands at the first sink, the first hob and the first
refrigerator: at the front edge of the top before the middle of the one, and before the front of the other. Where
one of them is missing there is no triangle. Its legs are ways on foot over the free floor, round an island and not
through it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from shapely import LineString, Point, Polygon, union_all

from countersunk.model.checks.cooking import Hob, hobs
from countersunk.model.checks.finding import Place
from countersunk.model.checks.floor import free_floor, shortest_path
from countersunk.model.facts.once import once
from countersunk.model.facts.plans import (
    SHOWN_WIDTH,
    TALL,
    appliances,
    around,
    between,
    face,
    free_standing,
    of_kind,
    run_of,
    tall_units,
    top_plan,
    unit_plan,
)
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.volume import Segment, Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import least
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.worktops import Length

HAND = 900.0
"""The height at which the triangle is drawn, mm; it has no meaning of its own."""

NO_WAY = "there is no way on foot between them"


class Centre(NamedTuple):
    """A work centre: its name, where one stands at it in the room's plan, and where it stands along its run.

    ``edge`` is the whole edge before it, and ``front`` the middle of that.
    """

    name: str
    edge: LineString
    front: Point
    run: PlacedRun
    x: float


def dishwasher_to_sink(kitchen: Kitchen) -> Iterator[Place]:
    """From a dishwasher's edge to the rim of the nearest sink, in the plan, mm."""
    sinks = list(of_kind(kitchen, "sink"))
    for unit in appliances(kitchen, "dishwasher") if sinks else ():
        plan = unit_plan(unit)
        sink, length = least(sinks, key=lambda s: plan.distance(s[0].rim_in_room))
        segment = between(plan, sink.rim_in_room, face(length))
        volume = around(segment, face(length), face(length) + 100.0)
        value = plan.distance(sink.rim_in_room)
        yield Place(f"{unit.name} to {sink.name}", value, (unit.name, sink.name), volume, segment)


def triangle_leg(kitchen: Kitchen) -> Iterator[Place]:
    """Each leg of the work triangle, mm, on foot."""
    for a, b, way in _ways(kitchen):
        yield _way(a, b, way)


def triangle_sum(kitchen: Kitchen) -> Iterator[Place]:
    """The three legs of the work triangle together, mm, on foot."""
    ways = _ways(kitchen)
    if ways:
        names = tuple(dict.fromkeys(c.name for a, b, _ in ways for c in (a, b)))
        whole = None if None in [way for *_, way in ways] else sum(way.length for *_, way in ways if way)
        reason = "" if whole is not None else NO_WAY
        yield Place(", ".join(names), whole, names, _trodden(ways), reason=reason)


def triangle_through_island(kitchen: Kitchen) -> Iterator[Place]:
    """How far a leg of the work triangle runs through an island or a peninsula, mm; only where there is one."""
    islands = [length for length in kitchen.lengths if length.run.free]
    whole = union_all([top_plan(length) for length in islands])
    for a, b in _legs(kitchen) if islands else ():
        through = LineString([a.front, b.front]).intersection(whole).length
        text = f"{a.name} to {b.name} through the {free_standing(kitchen, (a.name, b.name))}"
        yield _leg(a, b, text, through)


def tall_between(kitchen: Kitchen) -> Iterator[Place]:
    """How many tall units part two work centres of one run; a panel beside one of them parts nothing."""
    for a, b in combinations(work_centres(kitchen), 2):
        if a.run is b.run:
            low, high = sorted((a.x, b.x))
            talls = [u for u in tall_units(kitchen, TALL) if u in a.run.units and low < u.x < high]
            inside = [u.name for u in talls if u.name not in (a.name, b.name) and u.family.construction != "panel"]
            place = _leg(a, b, f"between {a.name} and {b.name}", float(len(inside)))
            yield Place(place.text, place.value, (*place.ids, *inside), place.volume, place.segment)


def work_centres(kitchen: Kitchen) -> list[Centre]:
    """The first sink, the first hob and the first refrigerator, those that there are."""
    sinks = [_let_in(cutout, length) for cutout, length in of_kind(kitchen, "sink")]
    cooked = [_cooked(kitchen, hob) for hob in hobs(kitchen)]
    fridges = [_unit_centre(kitchen, fridge) for fridge in appliances(kitchen, "fridge")]
    return [*sinks[:1], *cooked[:1], *fridges[:1]]


def _let_in(cutout: PlacedCutout, length: Length) -> Centre:
    along = cutout.line.centroid.x
    x0, _, x1, _ = cutout.rim.bounds
    edge = _edge(length.part.pose, x0, x1, length.run.stock.depth)
    return Centre(cutout.name, edge, edge.centroid, length.run, length.x + along)


def _cooked(kitchen: Kitchen, hob: Hob) -> Centre:
    if hob.cutout is not None:
        return _let_in(hob.cutout, kitchen.length(hob.stands_in))
    return _unit_centre(kitchen, next(unit for unit in hob.run.units if unit.name == hob.name))


def _unit_centre(kitchen: Kitchen, unit: PlacedUnit) -> Centre:
    """The centre of what stands on its own, such as a refrigerator or a cooker.

    Where its front stands back between two tops, whoever comes to it stands before these.
    """
    run = run_of(kitchen, unit)
    front, past = unit.face, run.stock.depth - run.stand_off
    edge, middle = (_edge(unit.frame, 0.0, unit.width, y) for y in (max(front, past), front))
    return Centre(unit.name, edge, middle.centroid, run, unit.x + unit.width / 2)


def _edge(frame: Pose, x0: float, x1: float, y: float) -> LineString:
    return LineString([frame.to_room((x, y, 0.0))[:2] for x in (x0, x1)])


def _legs(kitchen: Kitchen) -> list[tuple[Centre, Centre]]:
    centres = work_centres(kitchen)
    return list(combinations(centres, 2)) if len(centres) == 3 else []


@once
def _ways(kitchen: Kitchen) -> list[tuple[Centre, Centre, LineString | None]]:
    """The legs with the shortest way on foot along each, if there is one."""
    centres, legs = work_centres(kitchen), _legs(kitchen)
    if not legs:
        return []
    way = shortest_path(free_floor(kitchen), [centre.front for centre in centres])
    return [(a, b, way(centres.index(a), centres.index(b))) for a, b in legs]


def _way(a: Centre, b: Centre, way: LineString | None) -> Place:
    text, names = f"{a.name} to {b.name}", (a.name, b.name)
    if way is None:
        return Place(text, None, names, reason=NO_WAY)
    return Place(text, way.length, names, _trodden([(a, b, way)]), _leg(a, b, "", 0.0).segment)


def _trodden(ways: list[tuple[Centre, Centre, LineString | None]]) -> Volume | None:
    """The ways as one narrow volume, to be drawn; none where they are in pieces."""
    plan = union_all([way for *_, way in ways if way]).buffer(SHOWN_WIDTH / 2)
    return Volume(plan, HAND - 50.0, HAND + 50.0) if isinstance(plan, Polygon) and not plan.is_empty else None


def _leg(a: Centre, b: Centre, text: str, value: float) -> Place:
    segment: Segment = ((a.front.x, a.front.y, HAND), (b.front.x, b.front.y, HAND))
    volume: Volume = around(segment, HAND - 50.0, HAND + 50.0)
    return Place(text, value, (a.name, b.name), volume, segment)
