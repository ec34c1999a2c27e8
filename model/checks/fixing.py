"""Measures of what holds a top: screws from below, bolts and biscuits in a join, rims over their lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from countersunk.model.checks.finding import Amount, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_cutout, of_join, of_length
from countersunk.model.facts.plans import around, face, top_plan, upright, weakenings
from countersunk.model.facts.screws import UNDER_FACE, longest_in
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import CONTACT, EQUAL
from countersunk.model.tops.bands import where_else
from countersunk.model.tops.joins import Join
from countersunk.model.tops.stations import blocked

FULL_DEPTH = 600.0
"""Bolts and biscuits are asked for a join this deep, mm."""


def longest_screw(kitchen: Kitchen) -> Iterator[Place]:
    """The longest screw through a rail into the top that ends `UNDER_FACE` under the face, mm, for each length.

    The thinnest board that lies flat under the top counts; where none does, nothing is screwed through one.
    """
    for length in kitchen.lengths:
        longest, thick = longest_in(kitchen, length), length.part.thickness
        if longest is not None:
            board = longest + UNDER_FACE - thick
            volume, segment = upright(top_plan(length), length.part.pose.origin[2] - board, face(length))
            figures = (Figure(Amount.BOARD, board), Figure(Amount.THICKNESS, thick))
            where = Where(Phrase.RAIL, of_length(length), figures=figures)
            yield Place(where, longest, where.things, volume, segment)


def join_bolts(kitchen: Kitchen) -> Iterator[Place]:
    """Bolts in a join of tops `FULL_DEPTH` deep or more; one with a strip or bonded has none."""
    return (_in_join(kitchen, join, join.bolts, Phrase.BOLTS) for join in _drawn(kitchen))


def join_biscuits(kitchen: Kitchen) -> Iterator[Place]:
    """Biscuits in a join of tops `FULL_DEPTH` deep or more, drawn together by bolts."""
    return (_in_join(kitchen, join, join.biscuits, Phrase.BISCUITS) for join in _drawn(kitchen))


def bolts_under_units(kitchen: Kitchen) -> Iterator[Place]:
    """Bolts of a join whose pocket lies over the side of a unit, where no spanner reaches them."""
    for join in (j for j in kitchen.joins if j.has_bolts):
        rows = [kitchen.length(id_).stretch for id_ in (join.female, join.male)]
        out_of_reach = blocked(join, rows, lambda unit: kitchen.parts_of[unit.key])
        clear = [(low + CONTACT, high - CONTACT) for low, high in out_of_reach]
        struck = sum(any(low < x < high for low, high in clear) for x in join.stations[1::2])
        yield replace(_in_join(kitchen, join, struck, Phrase.OUT_OF_REACH), advice=where_else(join))


def rim_cover(kitchen: Kitchen) -> Iterator[Place]:
    """By how much the rim of a sink or hob covers its line to cut, on the side where that is least, mm.

    A sink that is mounted under the top has no rim over its line.
    """
    for cutout in (c for c in weakenings(kitchen) if c.template.mount == "inset"):
        (w, d), (rim_w, rim_d) = cutout.template.line, cutout.template.rim
        z, where = cutout.frame.origin[2], Where(Phrase.RIM, of_cutout(cutout))
        about = (where.subject, of_length(kitchen.length(cutout.length)))
        volume, value = Volume(cutout.rim_in_room, z, z + cutout.template.rim_height), min(rim_w - w, rim_d - d) / 2
        aside = rim_w - w <= rim_d - d + EQUAL
        along = ((w / 2, 0.0), (rim_w / 2, 0.0)) if aside else ((0.0, d / 2), (0.0, rim_d / 2))
        a, b = (cutout.frame.to_room((*point, 0.0)) for point in along)
        yield Place(where, value, about, volume, (a, b), cutout.template.fuel)


def _drawn(kitchen: Kitchen) -> list[Join]:
    deep = {length.id for length in kitchen.lengths if length.run.stock.depth >= FULL_DEPTH}
    return [join for join in kitchen.joins if join.has_bolts and join.female in deep]


def _in_join(kitchen: Kitchen, join: Join, count: int, phrase: Phrase) -> Place:
    top = kitchen.length(join.female)
    (x0, y0, *_), *_, (x1, y1, *_) = join.line.coords
    segment = ((x0, y0, face(top)), (x1, y1, face(top)))
    volume = around(segment, top.part.pose.origin[2], face(top))
    about = (of_length(top), of_length(kitchen.length(join.male)))
    return Place(Where(phrase, of_join(join)), float(count), about, volume, segment)
