"""Handling: what lengths and the stock they are cut from weigh, and how many people lift it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from countersunk.model.facts.lifting import people_for, share
from countersunk.model.facts.plans import face
from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import ON_LINE
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.plans.tops import Bar, TopPlan
from countersunk.viewer.drawing.lettering import kg, mm


@dataclass(frozen=True)
class Handling:
    """Weights in kg as cut and of the blank that it takes alone, how many people lift either and what each of them
    then should carry at most, the blank's length and what is left of it, mm.
    """

    weight: float
    blank_weight: float
    people: int
    blank_people: int
    each: float
    blank: float
    spare: float


SINK = 10.0
"""What is allowed for a sink of unknown mass that is set in before the top is turned, kg: steel ones weigh 3 to 8,
stone composite 10 to 20 (from memory). The maker's sheet goes first, as the catalogue has it.
"""


@dataclass(frozen=True)
class Lifted:
    """A length as it is turned and lowered: kg as cut and with the sinks in it, and how many people lift that."""

    cut: float
    whole: float
    people: int


def lifted(kitchen: Kitchen, length: Length) -> Lifted:
    """What is lifted at the very step: the length as cut, and each sink that is set into it before."""
    sinks = (c.template for c in kitchen.cutouts if c.length == length.id and c.template.kind == "sink")
    whole = length.mass + sum(sink.mass or SINK for sink in sinks)
    return Lifted(length.mass, whole, people_for(whole, length.part.length, face(length)))


def people(count: int) -> str:
    """So many, in words."""
    return "1 person" if count == 1 else f"{count} people"


def handling(length: Length) -> Handling:
    """Weight cut is that of findings and takeoff, the length's own; that of a blank is as it is bought.

    People by `model.facts.lifting`, as findings count them.
    """
    stock, part = length.run.stock, length.part
    per_area = stock.thickness * stock.density / 1e9
    blank = min(size for size in stock.lengths if size >= part.length - 1e-6)
    blank_weight = blank * stock.depth * per_area
    weight, z = length.mass, face(length)
    lift, lift_blank = people_for(weight, part.length, z), people_for(blank_weight, blank, z)
    return Handling(weight, blank_weight, lift, lift_blank, share(z), blank, blank - part.length)


def bought(kitchen: Kitchen, plans: Sequence[TopPlan]) -> Iterator[str]:
    """A line for each length of stock of the order, or kept, with what is cut from it."""
    for plan in plans:
        yield from (_bar(kitchen, bar) for bar in plan.bars)
        yield from (f"{piece.id}: no length on sale holds it" for piece in plan.unplaced)


def _bar(kitchen: Kitchen, bar: Bar) -> str:
    stock, lengths = kitchen.catalogue.stocks[bar.stock], [kitchen.length(p.id) for p in bar.pieces]
    weight = bar.length * bar.depth * stock.thickness * stock.density / 1e9
    lift = max(people_for(weight, bar.length, face(length)) for length in lengths)
    name = f"offcut {bar.offcut} of {stock.name}" if bar.offcut else stock.name
    depths = {t.id: t.run.stock.depth for t in lengths}
    ripped = [f"; {id_} ripped to {mm(depth)}" for id_, depth in depths.items() if depth < bar.depth - ON_LINE]
    ids = " and ".join(t.id for t in lengths)
    return f"{ids}: {name}, {mm(bar.length)} long, {kg(weight)}, {people(lift)}{''.join(ripped)}"
