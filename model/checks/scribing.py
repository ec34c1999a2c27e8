"""Measures of tops against bowed walls."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Point

from countersunk.model.checks.finding import Amount, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_length, of_wall
from countersunk.model.facts.plans import around, between, face
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import least, settled
from countersunk.model.tops.scribe import Scribe, scribes


def gap_behind(kitchen: Kitchen) -> Iterator[Place]:
    """The widest gap behind a top that lies on the chord of a hollow wall, mm."""
    for scribe in scribes(kitchen.survey, kitchen.lengths):
        length = kitchen.length(scribe.length)
        x, y = least(scribe.face, key=lambda point: point[1])
        back, wall = (length.part.pose.plan_to_room(Point(x, at)) for at in (0.0, min(y, 0.0)))
        segment = between(back, wall, face(length))
        volume = around(segment, length.part.pose.origin[2], face(length))
        at, behind = (Figure(Amount.AT, x),), of_wall(kitchen.survey.wall(scribe.wall))
        where = Where(Phrase.AGAINST_WALL, of_length(length), against=behind, figures=at)
        yield Place(where, scribe.gap, (where.subject,), volume, segment, advice=_advice(scribe))


def _advice(scribe: Scribe) -> str:
    """How the back is scribed."""
    taken = ", ".join(f"{settled(off):.0f} at {settled(x):.0f}" for x, off in scribe.take_off)
    back = f"push {scribe.length} back by {settled(scribe.gap):.0f}"
    return f"{back} and scribe off {taken}; or cover it with an upstand"
