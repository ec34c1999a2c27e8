"""Measures of lifting: how many people a piece of worktop takes."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.checks.finding import Amount, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_length
from countersunk.model.facts.lifting import people_for, share
from countersunk.model.facts.plans import face, top_plan, upright
from countersunk.model.kitchen import Kitchen


def people(kitchen: Kitchen) -> Iterator[Place]:
    """How many people a piece of worktop takes, lifted from trestles on to its units, held by its ends.

    The least number at which nobody carries more than the equation recommends, at the start or at the end; two at
    least for one longer than `model.facts.lifting.LONG`.
    """
    for length in kitchen.lengths:
        z = face(length)
        volume, segment = upright(top_plan(length), 0.0, z)
        number = people_for(length.mass, length.part.length, z)
        figures = (Figure(Amount.MASS, length.mass), Figure(Amount.EACH, share(z)))
        where = Where(Phrase.PIECE_LIFTED, of_length(length), figures=figures)
        yield Place(where, float(number), where.things, volume, segment)
