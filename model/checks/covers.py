"""Measures of what covers a wall: slivers of tiles, and holes near the edges of glass."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from shapely import Point, Polygon
from shapely import box as rectangle

from countersunk.model.checks.finding import Amount, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_part, of_wall
from countersunk.model.facts.plans import upright
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import least
from countersunk.model.tops.upstands import box_holes


def slivers(kitchen: Kitchen) -> Iterator[Place]:
    """Cut tiles of a splashback that are narrower or lower than a third of a whole one, counted."""
    for splashback in (s for s in kitchen.splashbacks if s.is_tiled and s.parts):
        found = splashback.slivers
        narrowest = min((min(tile.size) for tile in found), default=0.0)
        where = Where(
            Phrase.TILES, of_part(splashback.parts[0]), against=of_wall(splashback.wall),
            figures=(Figure(Amount.SIZE, narrowest),),
        )  # fmt: skip
        x0, y0, x1, y1 = splashback.zone.bounds
        frame = splashback.wall.frame
        plan = Polygon([frame.to_room((x, y, 0.0))[:2] for x, y in ((x0, 0.0), (x1, 0.0), (x1, 20.0), (x0, 20.0))])
        volume, segment = upright(plan, y0, y1)
        yield Place(where, len(found), (of_part(splashback.parts[0]),), volume, segment)


def hole_spare(kitchen: Kitchen) -> Iterator[Place]:
    """What holes in a pane keep off its edges, its corners and each other more than is asked of glass, mm.

    That is twice its thickness to an edge and to another hole, six times to a corner.
    """
    for splashback in (s for s in kitchen.splashbacks if s.stock.kind == "glass"):
        holes, t = box_holes(splashback.wall, kitchen.survey), splashback.stock.thickness
        for part in splashback.parts:
            pane = rectangle(*splashback.on_wall(part).bounds)
            here = [hole for hole in holes if hole.intersects(pane)]
            if here:
                spare = least([_spare(hole, pane, t) for hole in here] + _apart(here, t), key=float)
                low, high = pane.bounds[1], pane.bounds[3]
                volume, segment = upright(part.standing_plan, low, high)
                yield Place(Where(Phrase.HOLES, of_part(part)), spare, (of_part(part),), volume, segment)


def _spare(hole: Polygon, pane: Polygon, t: float) -> float:
    """Of a hole to the edges and corners of its pane; one across an edge is no distance from it."""
    corners = [Point(xy).distance(hole) for xy in pane.exterior.coords]
    return min(float(pane.exterior.distance(hole)) - 2 * t, min(corners) - 6 * t)


def _apart(holes: list[Polygon], t: float) -> list[float]:
    return [float(a.distance(b)) - 2 * t for a, b in combinations(holes, 2)]
