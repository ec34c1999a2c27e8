"""Measures of lifting: how many people a piece of worktop takes."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.checks.finding import Place
from countersunk.model.facts.lifting import people_for, share
from countersunk.model.facts.plans import face, top_plan, upright
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import settled


def people(kitchen: Kitchen) -> Iterator[Place]:
    """How many people a piece of worktop takes, lifted from trestles on to its units, held by its ends.

    The least number at which nobody carries more than the equation recommends, at the start or at the end; two at
    least for one longer than `model.facts.lifting.LONG`.
    """
    for length in kitchen.lengths:
        z = face(length)
        volume, segment = upright(top_plan(length), 0.0, z)
        number = people_for(length.mass, length.part.length, z)
        text = f"piece {length.id}, {settled(length.mass):.1f} kg at {settled(share(z)):.1f} kg each"
        yield Place(text, float(number), (length.id,), volume, segment)
