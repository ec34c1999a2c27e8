"""Measures between work centres: sink, hob, refrigerator and dishwasher.

The work triangle has its corners where somebody stands at the first sink, the first hob and the first
refrigerator: at the front edge of the top before the middle of the one, and before the front of the other. Where
one of them is missing there is no triangle. Its legs are ways on foot over the free floor, round an island and not
through it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from typing import NamedTuple

from shapely import LineString, Point, Polygon, union_all
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from countersunk.model.checks.cooking import Hob, hobs
from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.floor import TOUCH, free_floor, shortest_path, standing_floor
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import WHOLE, Thing, free_standing, of_cutout, of_unit, of_units
from countersunk.model.facts.once import once
from countersunk.model.facts.plans import (
    SHOWN_WIDTH,
    TALL,
    appliances,
    around,
    between,
    face,
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
from countersunk.model.tolerance import FIT
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.worktops import Length

HAND = 900.0
"""The height at which the triangle is drawn, mm; it has no meaning of its own."""

AT_CORNER = 200.0
"""So much farther off than the nearest place on the floor one still stands at a sink in a corner, mm (no
source).
"""

NO_WAY = "there is no way on foot between them"


class Centre(NamedTuple):
    """A work centre: what it is, where one stands at it in the room's plan, and where it stands along its run.

    ``edge`` is the whole edge before it, and ``front`` the middle of that; in a corner, the edges on either side of
    the place nearest to it.
    """

    thing: Thing
    edge: BaseGeometry
    front: Point
    run: PlacedRun
    x: float


def dishwasher_to_sink(kitchen: Kitchen) -> Iterator[Place]:
    """From a dishwasher's edge to the rim of the nearest sink, in the plan, mm."""
    sinks = [(of_cutout(sink), sink.rim_in_room, face(length)) for sink, length in of_kind(kitchen, "sink")]
    sinks += [(of_unit(sink), unit_plan(sink), sink.family.top) for sink in appliances(kitchen, "sink")]
    for unit in appliances(kitchen, "dishwasher") if sinks else ():
        plan = unit_plan(unit)
        sink, rim, high = least(sinks, key=lambda s: plan.distance(s[1]))
        segment = between(plan, rim, high)
        volume = around(segment, high, high + 100.0)
        value = plan.distance(rim)
        where = Where(Phrase.TO, of_unit(unit), against=sink)
        yield Place(where, value, where.things, volume, segment)


def triangle_leg(kitchen: Kitchen) -> Iterator[Place]:
    """Each leg of the work triangle, mm, on foot."""
    for a, b, way in _ways(kitchen):
        yield _way(a, b, way)


def triangle_sum(kitchen: Kitchen) -> Iterator[Place]:
    """The three legs of the work triangle together, mm, on foot."""
    ways = _ways(kitchen)
    if ways:
        centres = tuple(dict.fromkeys(c.thing for a, b, _ in ways for c in (a, b)))
        where = Where(Phrase.TRIANGLE, WHOLE, more=centres)
        whole = None if None in [way for *_, way in ways] else sum(way.length for *_, way in ways if way)
        reason = "" if whole is not None else NO_WAY
        yield Place(where, whole, centres, _trodden(ways), reason=reason)


def triangle_through_island(kitchen: Kitchen) -> Iterator[Place]:
    """How far a leg of the work triangle runs through an island or a peninsula, mm; only where there is one."""
    islands = [length for length in kitchen.lengths if length.run.free]
    whole = union_all([top_plan(length) for length in islands])
    inside = whole.buffer(-FIT, join_style="mitre")
    for a, b in _legs(kitchen) if islands else ():
        leg = LineString([a.front, b.front])  # what runs along an edge does not run through
        through = leg.intersection(whole).length if leg.intersects(inside) else 0.0
        note = free_standing(kitchen, (a.thing, b.thing))
        yield _leg(Where(Phrase.THROUGH, a.thing, against=b.thing, note=note), (a, b), through)


def tall_between(kitchen: Kitchen) -> Iterator[Place]:
    """How many tall units part two work centres of one run; a panel beside one of them parts nothing."""
    for a, b in combinations(work_centres(kitchen), 2):
        if a.run is b.run:
            low, high = sorted((a.x, b.x))
            talls = [u for u in tall_units(kitchen, TALL) if u in a.run.units and low < u.x < high]
            bodies = [u for u in talls if not u.family.kind.is_panel]
            inside = [thing for thing in of_units(bodies) if thing not in (a.thing, b.thing)]
            place = _leg(Where(Phrase.BETWEEN, a.thing, against=b.thing), (a, b), float(len(inside)))
            yield replace(place, about=(*place.about, *inside))


def work_centres(kitchen: Kitchen) -> list[Centre]:
    """The first sink, the first hob and the first refrigerator, those that there are."""
    sinks = [_let_in(kitchen, cutout, length) for cutout, length in of_kind(kitchen, "sink")]
    sinks += [_unit_centre(kitchen, unit) for unit in appliances(kitchen, "sink")]
    cooked = [_cooked(kitchen, hob) for hob in hobs(kitchen)]
    fridges = [_unit_centre(kitchen, fridge) for fridge in appliances(kitchen, "fridge")]
    return [*sinks[:1], *cooked[:1], *fridges[:1]]


def _let_in(kitchen: Kitchen, cutout: PlacedCutout, length: Length) -> Centre:
    """The centre of what is let in: in front of its rim, or, behind other tops, the nearest place to stand."""
    along = cutout.line.centroid.x
    x0, _, x1, _ = cutout.rim.bounds
    edge = _edge(length.part.pose, x0, x1, length.run.stock.depth)
    front, floor = edge.centroid, standing_floor(kitchen)
    if floor.distance(edge) > TOUCH and not floor.is_empty:
        middle = cutout.line_in_room.centroid
        front = nearest_points(floor, middle)[0]
        near = floor.boundary.intersection(middle.buffer(middle.distance(front) + AT_CORNER))
        return Centre(of_cutout(cutout), near, front, length.run, length.x + along)
    return Centre(of_cutout(cutout), edge, front, length.run, length.x + along)


def _cooked(kitchen: Kitchen, hob: Hob) -> Centre:
    if hob.cutout is not None and hob.length is not None:
        return _let_in(kitchen, hob.cutout, hob.length)
    assert hob.unit is not None
    return _unit_centre(kitchen, hob.unit)


def _unit_centre(kitchen: Kitchen, unit: PlacedUnit) -> Centre:
    """The centre of what stands on its own, such as a refrigerator or a cooker.

    People stand in front of the tops where its front is set back between them, and in front of the top where it is
    under one.
    """
    run = run_of(kitchen, unit)
    past = run.stock.depth - run.stand_off - unit.forward
    front = max(unit.face, past) if unit.family.carries_top else unit.face
    edge, middle = (_edge(unit.frame, 0.0, unit.width, y) for y in (max(front, past), front))
    return Centre(of_unit(unit), edge, middle.centroid, run, unit.x + unit.width / 2)


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
    where = Where(Phrase.TO, a.thing, against=b.thing)
    if way is None:
        return Place(where, None, where.things, reason=NO_WAY)
    return replace(_leg(where, (a, b), way.length), volume=_trodden([(a, b, way)]))


def _trodden(ways: list[tuple[Centre, Centre, LineString | None]]) -> Volume | None:
    """The ways as one narrow volume, to be drawn; none where they are in pieces."""
    plan = union_all([way for *_, way in ways if way]).buffer(SHOWN_WIDTH / 2)
    return Volume(plan, HAND - 50.0, HAND + 50.0) if isinstance(plan, Polygon) and not plan.is_empty else None


def _leg(where: Where, ends: tuple[Centre, Centre], value: float) -> Place:
    a, b = ends
    segment: Segment = ((a.front.x, a.front.y, HAND), (b.front.x, b.front.y, HAND))
    volume: Volume = around(segment, HAND - 50.0, HAND + 50.0)
    return Place(where, value, where.things, volume, segment)
