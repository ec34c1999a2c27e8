"""Measures of tops that move up and down: what their frames carry, and what is in their way above."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.checks.finding import Amount, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_length, of_unit
from countersunk.model.facts.plans import overlap, top_plan, unit_plan, upright
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.worktops import Length

LEANS = 30.0
"""What stands and leans on a metre of a worktop in use, kg (common practice, no source)."""

LET_IN = 10.0
"""What a hob or a sink weighs of which nobody says it, kg (common practice, no source)."""


def spare(kitchen: Kitchen) -> Iterator[Place]:
    """What the frames under a top that moves carry more than the top, what is let into it and on it, kg."""
    for length in _moving(kitchen):
        over = [c.template.mass or LET_IN for c in kitchen.cutouts if c.length == length.id]
        load = length.mass + sum(over) + LEANS * length.part.length / 1000
        carried = sum(unit.family.lifts.carries for unit in length.stretch.units)
        where = Where(Phrase.MOVES, of_length(length), figures=(Figure(Amount.MASS, load),))
        volume, segment = upright(top_plan(length), 0.0, length.part.pose.origin[2])
        yield Place(where, carried - load, (of_length(length),), volume, segment)


def clear_above(kitchen: Kitchen) -> Iterator[Place]:
    """From the face of a top that moves, where it is highest, up to a unit that hangs over it, mm."""
    for length in _moving(kitchen):
        high = min(unit.family.lifts.high for unit in length.stretch.units) + length.part.thickness
        for unit in (u for u in kitchen.units if u.family.level == "upper"):
            if overlap(top_plan(length), unit_plan(unit)):
                low, top = sorted((high, unit.family.base))
                volume, segment = upright(unit_plan(unit), low, top)
                where = Where(Phrase.TO, of_length(length), against=of_unit(unit))
                yield Place(where, unit.family.base - high, where.things, volume, segment)


def _moving(kitchen: Kitchen) -> list[Length]:
    return [length for length in kitchen.lengths if length.moves]
