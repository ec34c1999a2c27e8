"""Measures of ways over the free floor: whoever comes in through a door and carries something, turns, or wheels.

Both are found on the true shape of the free floor, see `model.checks.floor`: a corner of an island that stands
askew to a corner of a run narrows a way, although no front faces it.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import LineString, Point

from countersunk.model.checks.centres import work_centres
from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.floor import SLACK, STEP, WIDEST, Middles, middles_in, widest_disc, widest_way
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import WHOLE, Thing, of_opening
from countersunk.model.document.schema import Opening
from countersunk.model.facts.plans import HEAD
from countersunk.model.geometry.volume import Segment, Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import least, most
from countersunk.model.tolerance import EQUAL

DOORS = ("door", "passage")


def to_work_centre(kitchen: Kitchen) -> Iterator[Place]:
    """Free width of the best way from a door to sink, hob and refrigerator, at its narrowest, mm.

    Of several doors the one with the widest way counts, the first of those that are equal to `STEP`. Not the width
    of the door itself: see `doorway`.
    """
    doors = [opening for opening in kitchen.survey.openings if opening.kind in DOORS]
    middles = middles_in(kitchen)
    for centre in work_centres(kitchen) if doors else ():
        found = [(*widest_way(middles, _sill(kitchen, door), centre.edge), door) for door in doors]
        width, pinch, door = most(found, key=lambda f: f[0], within=STEP + EQUAL)
        yield _narrow((of_opening(door), centre.thing), width, pinch, middles)


def turning_circle(kitchen: Kitchen) -> Iterator[Place]:
    """Diameter of the largest circle that is free on the floor, mm; only where the room was measured all round."""
    if kitchen.survey.outline is not None:
        size, middle = widest_disc(middles_in(kitchen))
        yield Place(Where(Phrase.CIRCLE, WHOLE, note=_more(size)), size, (), *_disc(middle, size))


def _sill(kitchen: Kitchen, opening: Opening) -> LineString:
    frame = kitchen.survey.wall(opening.wall).frame
    return LineString([frame.to_room((x, 0.0, 0.0))[:2] for x in (opening.at, opening.at + opening.width)])


def _narrow(way: tuple[Thing, Thing], width: float, pinch: Point, middles: Middles) -> Place:
    """The way from a door to a work centre, at its narrowest."""
    door, centre = way
    where = Where(Phrase.WAY_IN, door, against=centre, note=_more(width))
    if width == 0.0:
        return Place(where, 0.0, (centre,))
    at = least(middles(width - SLACK), key=lambda p: p.distance(pinch))
    middle = at.exterior.interpolate(at.exterior.project(pinch)) if width < WIDEST else at.representative_point()
    return Place(where, width, (centre,), *_disc(middle, width))


def _more(width: float) -> str:
    """What is said of a width that is none, or the widest that is told apart."""
    return ": no way through" if width == 0.0 else ", or more" if width == WIDEST else ""


def _disc(middle: Point, size: float) -> tuple[Volume, Segment]:
    x, y, r = middle.x, middle.y, size / 2
    return Volume(middle.buffer(r), 0.0, HEAD), ((x - r, y, 0.0), (x + r, y, 0.0))
