"""Measures of seats at the back of an island or peninsula: how wide, how deep for knees, and the room behind them.

The document tells how many sit there. Tops that overhang so far must be carried: see `worktop.back_overhang`.
"""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.checks.finding import Amount, Aspect, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_length
from countersunk.model.checks.walkways import around_island
from countersunk.model.facts.plans import behind_units, block, face
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.worktops import Length


def width_each(kitchen: Kitchen) -> Iterator[Place]:
    """The top's length along the seats, shared between them, mm."""
    for length, seats in _seated(kitchen):
        each, depth = length.part.length / seats, length.run.stock.depth
        pose, z = length.part.pose, length.part.thickness
        volume = Volume(block(pose, 0.0, 0.0, each, min(depth, behind_units(length))), 0.0, face(length))
        segment = (pose.to_room((0.0, 0.0, z)), pose.to_room((each, 0.0, z)))
        where = _at(Phrase.SEATS, length, seats)
        yield Place(where, each, where.things, volume, segment, top=face(length))


def knee_depth(kitchen: Kitchen) -> Iterator[Place]:
    """From the top's back edge to the panel behind the units, mm: where knees go, at the height of the top."""
    for length, seats in _seated(kitchen):
        pose, knees, x = length.part.pose, behind_units(length), length.part.length / 2
        volume = Volume(block(pose, 0.0, 0.0, length.part.length, max(knees, 1.0)), 0.0, pose.origin[2])
        segment = (pose.to_room((x, 0.0, 0.0)), pose.to_room((x, knees, 0.0)))
        where = _at(Phrase.KNEES, length, seats)
        yield Place(where, knees, where.things, volume, segment, top=face(length))


def behind(kitchen: Kitchen) -> Iterator[Place]:
    """Free width from the top's back edge to whatever faces it, mm, where there are seats."""
    seated = {of_length(length) for length, _ in _seated(kitchen)}
    for place in around_island(kitchen) if seated else ():
        if place.where.subject in seated and place.where.side is Aspect.BACK:
            yield place


def _at(phrase: Phrase, length: Length, seats: int) -> Where:
    return Where(phrase, of_length(length), figures=(Figure(Amount.COUNT, float(seats)),))


def _seated(kitchen: Kitchen) -> list[tuple[Length, int]]:
    document = kitchen.document
    islands = {island.name: island.seats for island in document.islands}
    seats = islands | {peninsula.name: peninsula.seats for peninsula in document.peninsulas}
    return [(length, seats[length.run.name]) for length in kitchen.lengths if seats.get(length.run.name)]
