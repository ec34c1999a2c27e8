"""Stretches: the free lengths of a wall between what stands on or before it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from shapely import Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.room import spoken
from countersunk.model.ties import ranked
from countersunk.model.tolerance import CONTACT, OVERLAP_AREA

BEFORE_DOOR = 900.0
"""How far out from the wall a way in is kept free of units, mm; for a leaf that opens inwards, its width
(common practice, no source)."""

BESIDE_SLOPE = 100.0
"""A row that runs at a low slope ends at least so far before its wall, or its top would be cut to the wall, mm."""

Thing = tuple[str, Polygon]
"""What it is in words, and its plan in the room."""


@dataclass(frozen=True)
class FreeStretch:
    """From ``x0`` to ``x1`` along a wall (mm), and what ends it on either side: ``wall B``, ``the door``."""

    wall: str
    x0: float
    x1: float
    left: str
    right: str

    @property
    def length(self) -> float:
        """mm."""
        return self.x1 - self.x0


def free_stretches(
    survey: Survey, wall: SurveyedWall, depth: float, low: float, high: float, things: Iterable[Thing] = ()
) -> tuple[FreeStretch, ...]:
    """Where bodies ``depth`` mm deep can stand along ``wall`` between two heights, from left to right.

    ``things`` are what else stands there, such as other runs.
    """
    taken = ranked(_taken(survey, wall, depth, low, high, things), key=lambda one: one[0])
    found, x, what = [], 0.0, _neighbour(survey, wall, left=True)
    for start, end, name in [*taken, (wall.length, wall.length, _neighbour(survey, wall, left=False))]:
        if start > x + CONTACT:
            found.append(FreeStretch(wall.name, x, start, what, name))
        if end > x + CONTACT:
            x, what = end, name
    return tuple(found)


def ways_in(survey: Survey) -> Iterator[Thing]:
    """The floor before every door and passage, kept free."""
    for door in survey.openings:
        if door.kind != "window":
            reach = max(BEFORE_DOOR, door.width) if door.swing in ("left", "right") else BEFORE_DOOR
            plan = rectangle(door.at, 0.0, door.at + door.width, reach)
            frame = survey.wall(door.wall).frame
            yield f"the {door.kind} in wall {door.wall}", frame.plan_to_room(plan)


def _taken(
    survey: Survey, wall: SurveyedWall, depth: float, low: float, high: float, things: Iterable[Thing]
) -> Iterator[tuple[float, float, str]]:
    band = rectangle(0.0, 0.0, wall.length, depth)
    yield from _outside(survey, wall, band)
    obstacles = [(f"the {spoken(o.kind)}", o.plan) for o in survey.obstacles if o.bottom < high and o.top > low]
    slopes = [
        (
            f"the slope over wall {s.wall}",
            s.frame.plan_to_room(rectangle(s.x, 0.0, s.x + s.length, max(BESIDE_SLOPE, s.out_at(high)))),
        )
        for s in survey.slopes
        if s.height_at(0.0) < high
    ]
    for name, plan in [*obstacles, *slopes, *things]:
        yield from ((x0, x1, name) for x0, x1 in _spans(wall.frame.plan_from_room(plan).intersection(band)))
    for gap in survey.openings:
        if gap.wall == wall.name and gap.sill < high and gap.head > low:
            yield gap.at, gap.at + gap.width, f"the {gap.kind}"


def _outside(survey: Survey, wall: SurveyedWall, band: Polygon) -> Iterator[tuple[float, float, str]]:
    """What of the band lies outside a closed room, or in a bulge of this wall's neighbours."""
    if survey.outline is not None:
        for x0, x1 in _spans(band.difference(wall.frame.plan_from_room(survey.outline))):
            yield x0, x1, _neighbour(survey, wall, left=x0 + x1 < wall.length)
    for other in survey.walls:
        for bulge in other.bulges if other is not wall else ():
            for x0, x1 in _spans(wall.frame.plan_from_room(bulge).intersection(band)):
                yield x0, x1, f"wall {other.name}"


def _spans(shape: BaseGeometry) -> Iterator[tuple[float, float]]:
    for part in getattr(shape, "geoms", [shape]):
        if part.area > OVERLAP_AREA:
            yield part.bounds[0], part.bounds[2]


def _neighbour(survey: Survey, wall: SurveyedWall, *, left: bool) -> str:
    other = survey.previous_wall(wall) if left else survey.next_wall(wall)
    return f"wall {other.name}" if other else f"the end of wall {wall.name}"
