"""Stations: where biscuits and bolts sit along a join, clear of the sides of the units below it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from shapely import LineString, Polygon
from shapely.geometry import Point

from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.profile import one_polygon, plan_points
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.joins import BOLT_CHANNEL, BOLT_CLEAR, BOLT_POCKET, Interval, Joint, stations_along
from countersunk.model.tops.rows import Stretch
from countersunk.model.units import unit_parts

PartsOf = Callable[[PlacedUnit], Iterable[Part]]

UPRIGHT = 1e-3
"""A board whose thickness points up by no more than this (cosine) stands."""


def stations(joint: Joint, rows: Iterable[Stretch]) -> tuple[float, ...]:
    """Biscuits and bolts in turn, mm along the joint's straight side; none where no bolts draw it together."""
    if not joint.has_bolts:
        return ()
    return stations_along(joint.straight_side.length, blocked(joint, rows))


def blocked(joint: Joint, rows: Iterable[Stretch], parts_of: PartsOf = unit_parts) -> list[Interval]:
    """From where to where along the joint's straight side the units below leave no place for a bolt, mm.

    ``parts_of`` gives the parts of a unit, which are made anew where nobody has them yet.
    """
    side = joint.straight_side
    boards = (board for row in rows for unit in row.units for board in _sides(unit, side, parts_of))
    return list(blocked_along(side, boards))


def blocked_along(side: LineString, boards: Iterable[Polygon]) -> Iterator[Interval]:
    """From where to where along ``side`` a bolt's middle must not lie, as a board would be in its pocket's way."""
    band = side.buffer(BOLT_CHANNEL[1], cap_style="flat")
    spread = BOLT_POCKET[0] / 2 + BOLT_CLEAR
    for board in boards:
        struck = board.intersection(band)
        if not struck.is_empty and struck.area > CONTACT:
            along = [side.project(Point(p)) for p in plan_points(one_polygon(struck.convex_hull).exterior)]
            yield (min(along) - spread, max(along) + spread)


def _sides(unit: PlacedUnit, near: LineString, parts_of: PartsOf) -> Iterator[Polygon]:
    """The plans of the boards of a unit that stand up to the top above it, where the unit is near the joint."""
    reach = unit.width + unit.family.depth
    if near.distance(Point(unit.frame.origin[:2])) > reach + BOLT_CHANNEL[1]:
        return
    for part in parts_of(unit):
        if part.layer is Layer.CARCASS and _stands_to(part, unit.family.top):
            yield part.standing_plan


def _stands_to(part: Part, top: float) -> bool:
    """Whether a board stands on edge and reaches the underside of the top."""
    corners = [part.pose.to_room((x, y, 0.0)) for x, y in part.outline.exterior.coords]
    return abs(part.pose.z[2]) <= UPRIGHT and max(z for _, _, z in corners) > top - 1.0
