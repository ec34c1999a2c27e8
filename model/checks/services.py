"""Measures of sockets and switches: to sink and hob, along the worktop, above the floor.

Only what was surveyed is looked at, on walls. Where a socket may be is for the licensed electrician to say.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from shapely import Point, Polygon

from countersunk.model.checks.cooking import hobs
from countersunk.model.checks.counters import pieces
from countersunk.model.checks.finding import Amount, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.surfaces import Piece
from countersunk.model.checks.things import Thing, of_cutout, of_length, of_service, of_unit
from countersunk.model.facts.plans import (
    appliances,
    around,
    between,
    block,
    face,
    hoods,
    of_kind,
    unit_plan,
    upright,
)
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import PlacedService
from countersunk.model.ties import least, most
from countersunk.model.tolerance import CONTACT

ELECTRIC = ("socket", "switch", "cooker-outlet")

HIGHEST = 2_500.0
"""Up to here over the floor a socket counts as near a hob that has no hood, mm (AS/NZS 3000, quoted)."""

OVER_SINK = 400.0
"""Up to here over a sink a socket is in its zone, mm (AS/NZS 3000, 6.2.2, quoted)."""

LEAST_COUNTER = 305.0
"""A wall counter narrower than 12 in needs no socket of its own, mm (NEC 210.52(C)(1), seen)."""

SHOWN = 60.0
"""How large a socket is drawn, mm; it has no meaning of its own."""


def to_hob(kitchen: Kitchen) -> Iterator[Place]:
    """In the plan from a hob's rim to each socket or switch over its worktop, mm; up to the hood or `HIGHEST`."""
    for hob in hobs(kitchen):
        over = [hood.family.base for hood in hoods(kitchen) if hob.is_under(unit_plan(hood))]
        for service in _electric(kitchen):
            if hob.face < service.height < min(over, default=HIGHEST):
                yield _level(hob.about, hob.plan, hob.face, service, hob.fuel)


def to_sink(kitchen: Kitchen) -> Iterator[Place]:
    """In the plan from a sink's rim to each socket or switch over its worktop, mm."""
    return _over_sink(kitchen, HIGHEST)


def low_to_sink(kitchen: Kitchen) -> Iterator[Place]:
    """In the plan from a sink's rim to a socket or switch that is no higher over it than `OVER_SINK`, mm."""
    return _over_sink(kitchen, OVER_SINK)


def along_counter(kitchen: Kitchen) -> Iterator[Place]:
    """From the point of a wall counter that is farthest from any socket to the nearest one, along its wall, mm.

    A counter is a stretch of top at a wall that no rim breaks, `LEAST_COUNTER` long or longer. Rooms of which no
    socket was surveyed have no places.
    """
    sockets = [s for s in kitchen.survey.services if s.kind == "socket"]
    for piece in pieces(kitchen) if sockets else ():
        counter, x0, x1 = piece
        lead = counter.lead
        if lead.run.wall and x1 - x0 >= LEAST_COUNTER - CONTACT:
            here = [s.x - lead.x for s in sockets if s.wall == lead.run.wall and s.height > face(lead)]
            yield _farthest(piece, here)


def height(kitchen: Kitchen) -> Iterator[Place]:
    """From the floor to a socket or switch, mm."""
    for service in _electric(kitchen):
        if service.kind != "cooker-outlet":
            x, y, _ = service.point
            volume, segment = upright(Point(x, y).buffer(SHOWN), 0.0, service.height)
            yield Place(Where(Phrase.NAMED, of_service(service)), service.height, (), volume, segment)


def _electric(kitchen: Kitchen) -> list[PlacedService]:
    return [service for service in kitchen.survey.services if service.kind in ELECTRIC]


def _over_sink(kitchen: Kitchen, most: float) -> Iterator[Place]:
    for sink, length in of_kind(kitchen, "sink"):
        for service in _electric(kitchen):
            if 0.0 < service.height - face(length) <= most:
                yield _level((of_cutout(sink), of_length(length)), sink.rim_in_room, face(length), service)
    for unit in appliances(kitchen, "sink"):
        for service in _electric(kitchen):
            if 0.0 < service.height - unit.family.top <= most:
                yield _level((of_unit(unit),), unit_plan(unit), unit.family.top, service)


def _level(
    about: tuple[Thing, ...], rim: Polygon, z: float, service: PlacedService, fuel: str | None = None
) -> Place:
    """From the rim of what the first of ``about`` is to a service over the face at ``z``."""
    x, y, _ = service.point
    segment = between(rim, Point(x, y), service.height)
    volume, where = around(segment, z, service.height), Where(Phrase.TO, about[0], against=of_service(service))
    return Place(where, rim.distance(Point(x, y)), about, volume, segment, fuel)


def _farthest(piece: Piece, sockets: list[float]) -> Place:
    """The point of a counter that is farthest from any of the sockets, which are given along its length."""
    counter, x0, x1 = piece
    length = counter.lead
    ends = (Figure(Amount.FROM, x0), Figure(Amount.TO, x1))
    where = Where(Phrase.COUNTER, of_length(length), more=counter.tops(x0, x1), figures=ends)
    about = (where.subject,)
    if not sockets:
        return Place(where, None, about, reason=f"no socket was surveyed over it on wall {length.run.wall}")
    halves = [(a + b) / 2 for a, b in pairwise(sorted(sockets))]
    points = [x0, x1, *(x for x in halves if x0 < x < x1)]
    reach = {x: min(abs(x - s) for s in sockets) for x in points}
    x = most(points, key=reach.__getitem__)
    s = least(sockets, key=lambda s: abs(s - x))
    pose, z = length.part.pose, length.part.thickness
    low, high = sorted((x, s))
    segment = (pose.to_room((x, 0.0, z)), pose.to_room((s, 0.0, z)))
    plan = block(pose, low, 0.0, max(high, low + 1.0), length.run.stock.depth / 2)
    return Place(where, reach[x], about, upright(plan, face(length), face(length) + SHOWN)[0], segment)
