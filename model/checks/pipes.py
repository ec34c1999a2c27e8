"""Measures of pipes and hoses: how far what needs water, waste, gas or a cooker's outlet stands from where that is.

Lengths are those of a pipe along walls and square to them, in the plan: along the wall of the connection and out
from it. Of a unit they are taken from the middle of its back, of a sink or hob from the middle of its line. What
was not surveyed has no places. Where pipes may run, and by whom, is for local codes and licensed people.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Thing, of_cutout, of_service, of_unit
from countersunk.model.facts.plans import appliances, around, between, face, of_kind, unit_plan
from countersunk.model.geometry.frames import Vector
from countersunk.model.geometry.identity import Component
from countersunk.model.geometry.volume import Segment
from countersunk.model.kinds.appliances import CONNECTIONS
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import PlacedService
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT

TRAP = 150.0
"""From the underside of a bowl down to the outlet of its trap, mm (common practice, no source)."""

METRE = 1000.0


class _End(NamedTuple):
    """Where a pipe begins: what it serves, a point in the room (mm), and the kinds of services that it needs."""

    thing: Thing
    point: Vector
    needs: tuple[str, ...]


def waste_run(kitchen: Kitchen) -> Iterator[Place]:
    """Length of the waste pipe from a sink, a dishwasher or a washing machine to the nearest waste, mm."""
    for end in (*_sinks(kitchen), *_units(kitchen)):
        if "waste" in end.needs and "flue" not in end.needs:  # a boiler's condensate is its maker's concern
            yield from _run(kitchen, end, "waste")


def waste_fall(kitchen: Kitchen) -> Iterator[Place]:
    """What a sink's waste pipe can fall on each metre of its way to the nearest waste, mm.

    From the outlet of its trap, `TRAP` under the bowl, to the height at which the waste was surveyed; negative
    where that is higher. A machine pumps, and is not looked at.
    """
    for end in _sinks(kitchen):
        for place in _run(kitchen, end, "waste"):
            assert place.segment is not None
            drop = end.point[2] - TRAP - place.segment[1][2]
            fall = drop * METRE / max(place.value or 0.0, CONTACT)
            yield Place(place.where, fall, place.about, place.volume, place.segment)


def hose(kitchen: Kitchen) -> Iterator[Place]:
    """From a dishwasher or washing machine to the nearest water, or to a sink if that is nearer, mm."""
    sinks = list(of_kind(kitchen, "sink"))
    units = {of_unit(unit): unit for unit in kitchen.units}
    for end in _units(kitchen):
        if "water" in end.needs and "waste" in end.needs and "flue" not in end.needs:
            plan = unit_plan(units[end.thing])
            near = [(of_cutout(sink), between(plan, sink.line_in_room, face(top))) for sink, top in sinks]
            near += [(of_unit(u), between(plan, unit_plan(u), u.family.top)) for u in appliances(kitchen, "sink")]
            found = list(_run(kitchen, end, "water"))
            for thing, segment in near:
                where, value = Where(Phrase.TO, end.thing, against=thing), _length(segment)
                found.append(Place(where, value, where.things, around(segment, 0.0, segment[0][2]), segment))
            if found:
                yield least(found, key=lambda place: place.value or 0.0)


def to_connection(kitchen: Kitchen) -> Iterator[Place]:
    """From a cooker, a hob or an oven to the nearest gas or cooker outlet, whichever it needs, mm."""
    for end in (*_units(kitchen), *_hobs(kitchen)):
        for kind in ("gas", "cooker-outlet"):
            if kind in end.needs and "flue" not in end.needs:
                yield from _run(kitchen, end, kind)


def _units(kitchen: Kitchen) -> Iterator[_End]:
    for unit in kitchen.units:
        needs = tuple(dict.fromkeys(kind for own in unit.family.appliances for kind in own.services))
        if needs and not unit.family.holds("sink"):
            yield _End(of_unit(unit), unit.frame.to_room((unit.width / 2, 0.0, unit.family.base)), needs)


def _sinks(kitchen: Kitchen) -> Iterator[_End]:
    for sink, _ in of_kind(kitchen, "sink"):
        middle, low = sink.line_in_room.centroid, sink.frame.origin[2] - sink.template.depth
        yield _End(of_cutout(sink), (middle.x, middle.y, low), ("water", "waste"))
    for unit in appliances(kitchen, "sink"):
        bowl = next(p for p in kitchen.parts_of[unit.key] if p.which.component is Component.BASE)
        middle = unit_plan(unit).centroid
        yield _End(of_unit(unit), (middle.x, middle.y, bowl.pose.origin[2]), ("water", "waste"))


def _hobs(kitchen: Kitchen) -> Iterator[_End]:
    for hob, _ in of_kind(kitchen, "hob"):
        middle, kind = hob.line_in_room.centroid, hob.template.fuel
        if kind:
            yield _End(of_cutout(hob), (middle.x, middle.y, hob.frame.origin[2]), (CONNECTIONS[kind],))


def _run(kitchen: Kitchen, end: _End, kind: str) -> Iterator[Place]:
    """The pipe to the nearest service of a kind; none where nobody surveyed one."""
    services = [service for service in kitchen.survey.services if service.kind == kind]
    if services:
        nearest = least(services, key=lambda service: _pipe(end.point, service))
        where = Where(Phrase.TO_KIND, end.thing, against=of_service(nearest), note=kind.replace("-", " "))
        segment = (end.point, nearest.point)
        low, high = sorted((end.point[2], nearest.point[2]))
        volume = around(segment, low, max(high, low + CONTACT))
        yield Place(where, _pipe(end.point, nearest), (end.thing,), volume, segment)


def _pipe(point: Vector, service: PlacedService) -> float:
    """How far a point is along the wall of a service and out from it, mm."""
    x, y, _ = service.frame.from_room(point)
    return abs(x - service.x) + abs(y)


def _length(segment: Segment) -> float:
    (x0, y0, _), (x1, y1, _) = segment
    return float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
