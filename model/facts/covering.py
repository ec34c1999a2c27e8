"""Covering: how far the tops stand past what is beneath them, and what of it they leave bare.

Everything under a top counts, to whichever run it belongs: in a corner out of square the wing of a square corner
unit belongs to the run on the other wall, and leans out from under the front edge of this one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from shapely import MultiLineString, Polygon, union_all
from shapely import Point as PlanPoint
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from countersunk.model.facts.once import once
from countersunk.model.facts.plans import overlap, run_of, top_plan, unit_plan
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.identity import ISLAND_BACK, Role
from countersunk.model.geometry.part import EdgeCondition, Layer, Part
from countersunk.model.geometry.profile import united
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.corners import LOOSE
from countersunk.model.layout.placed import PlacedUnit
from countersunk.model.survey import SurveyedWall
from countersunk.model.ties import most
from countersunk.model.tolerance import CONTACT, ON_LINE, OVERLAP_AREA
from countersunk.model.tops.free_ends import Side
from countersunk.model.tops.rows import CORNER_GAP, End
from countersunk.model.tops.worktops import Length

COVERS = (Role.WORKTOP, Role.INFILL, Role.JOINT_STRIP)
"""What lies over units."""

SOLID = (Layer.CARCASS, Layer.FRONTS)
"""Layers of what must be covered: handles stand out before the top."""


@dataclass(frozen=True)
class Past:
    """How far an edge of a top stands past one thing beneath it, mm; less than 0 where that stands past the top.

    Measured from ``start``, of the thing, to ``end``, on the edge or its line; both in the top's frame.
    """

    unit: PlacedUnit
    overhang: float
    start: Point
    end: Point


def front_overhangs(kitchen: Kitchen, length: Length) -> Iterator[Past]:
    """How far the front edge of a top stands past each thing beneath it; nothing where others take all of it."""
    front = _front(kitchen, length)
    return (_past(kitchen, unit, length, front) for unit in beneath(kitchen, length) if not front.is_empty)


def end_overhangs(kitchen: Kitchen, length: Length) -> Iterator[tuple[Side, Past]]:
    """How far the free ends of a top stand past each thing beneath it, clipped and rounded corners included."""
    for side, end in _free_ends(length):
        yield from ((side, _past(kitchen, unit, length, end)) for unit in beneath(kitchen, length))


@dataclass(frozen=True)
class Wedge:
    """The wedge between the wing of a corner unit and the unit ``beside`` it on the other wall.

    ``gap`` is its width at the front of that unit, mm, from ``start`` to ``end`` in the room's plan; ``behind`` at
    the back of the wing.
    """

    corner: PlacedUnit
    beside: PlacedUnit
    gap: float
    behind: float
    start: Point
    end: Point

    @property
    def widest(self) -> float:
        """As wide as it is anywhere, mm: what a filler must be to keep the unit beside it clear of the wing."""
        return max(self.gap, self.behind)


def wedges(kitchen: Kitchen) -> Iterator[Wedge]:
    """The wedge beside each wing.

    None to a unit that is meant to stand apart: on the wall, as beside a window, and on the floor where no top goes
    on from the one to the other.
    """
    for corner in (unit for unit in kitchen.units if unit.wing):
        wall = _wall_beside(kitchen, corner)
        rows = [r for r in kitchen.runs if wall and r.wall == wall.name and r.level == corner.family.level]
        found = [_wedge(corner, run.units[0 if corner.hand == "right" else -1]) for run in rows]
        apart = CORNER_GAP if corner.family.level == "floor" else LOOSE
        yield from (wedge for wedge in found if min(wedge.gap, wedge.behind) <= apart)


def _wall_beside(kitchen: Kitchen, corner: PlacedUnit) -> SurveyedWall | None:
    """The wall along which the wing of a corner unit goes."""
    own = kitchen.survey.wall(run_of(kitchen, corner).name)
    return kitchen.survey.next_wall(own) if corner.hand == "right" else kitchen.survey.previous_wall(own)


def _wedge(corner: PlacedUnit, beside: PlacedUnit) -> Wedge:
    """Measured along the other wall."""
    ends = [(corner.width, corner.wing), (corner.width - corner.face, corner.wing)]
    mine = ends if corner.hand == "right" else [(corner.width - x, y) for x, y in ends]
    (x0, y0), (x1, y1) = (beside.frame.from_room(corner.frame.to_room((*p, 0.0)))[:2] for p in mine)
    side, out = (0.0, 1.0) if corner.hand == "right" else (beside.width, -1.0)
    y = min(y1, beside.face)
    x = x0 + (x1 - x0) * (y - y0) / (y1 - y0)
    start, end = (beside.frame.to_room((at, y, 0.0))[:2] for at in (x, side))
    return Wedge(corner, beside, max(0.0, (side - x) * out), max(0.0, (side - x0) * out), start, end)


def beneath(kitchen: Kitchen, length: Length) -> list[PlacedUnit]:
    """What lies under a top and is meant to: its own row, and what of other rows reaches under it."""
    own, under, plan = {unit.key for unit in length.stretch.units}, length.part.pose.origin[2], top_plan(length)
    low = (u for u in kitchen.units if u.family.carries_top and u.family.top <= under + CONTACT)
    return [u for u in low if u.key in own or overlap(unit_plan(u), plan)]


def _front(kitchen: Kitchen, length: Length) -> BaseGeometry:
    """The front edge of a top as it is bought, in its frame, except where a peninsula or an infill lies."""
    bought = (edge for edge in length.part.edges if edge.condition is EdgeCondition.FACTORY)
    edges = MultiLineString([edge.path for edge in bought if edge.lies_at(length.run.stock.depth)])
    others = (plan for part, plan in _covers(kitchen) if part.owner != length.key)
    return edges.difference(united(map(length.part.pose.plan_from_room, others), ON_LINE))


def _free_ends(length: Length) -> Iterator[tuple[Side, BaseGeometry]]:
    """The free ends of a top with their edges, in its frame; the raw back of an island is none."""
    exposed = [e.path for e in length.part.edges if e.condition is EdgeCondition.EXPOSED and not e.lies_at(0.0)]
    middle = length.part.outline.centroid.x
    ends: tuple[tuple[Side, End], ...] = (("left", length.left), ("right", length.right))
    for side, end in ends:
        edges = [path for path in exposed if (path.centroid.x < middle) == (side == "left")]
        if end.kind == "free" and edges:
            yield side, MultiLineString(edges)


def _past(kitchen: Kitchen, unit: PlacedUnit, length: Length, edge: BaseGeometry) -> Past:
    """How far an edge of a top stands past a thing: of what stands out bare, past the point farthest from any top.

    Between two front edges that meet, that point is not at a corner, so the boundary of what is bare is looked at
    at every millimetre.
    """
    pose, outline, own = length.part.pose, length.part.outline, top_plan(length)
    others = [top_plan(other) for other in kitchen.lengths if other is not length]
    bare = [PlanPoint(p) for piece in _bare(kitchen)[unit.key] for p in piece.exterior.segmentize(1.0).coords]
    mine = [p for p in bare if all(p.distance(own) <= p.distance(other) + ON_LINE for other in others)]
    past = [p for p in map(pose.plan_from_room, mine) if p.distance(edge) <= p.distance(outline) + ON_LINE]
    if past:
        return _from_to(unit, -1.0, most(past, key=edge.distance), edge)
    return _from_to(unit, 1.0, pose.plan_from_room(_shapes(kitchen)[unit.key]), edge)


def _from_to(unit: PlacedUnit, sign: float, thing: BaseGeometry, edge: BaseGeometry) -> Past:
    start, end = nearest_points(thing, edge)
    return Past(unit, sign * float(start.distance(end)), (start.x, start.y), (end.x, end.y))


@once
def _bare(kitchen: Kitchen) -> Mapping[str, list[Polygon]]:
    """What no top covers of each unit that is meant to lie under one, by its key, in the room's plan."""
    shapes = _shapes(kitchen)
    return {u.key: _rest(u, shapes[u.key], _covers(kitchen)) for u in kitchen.units if u.family.carries_top}


def _rest(unit: PlacedUnit, shape: BaseGeometry, covers: Iterable[tuple[Part, Polygon]]) -> list[Polygon]:
    over = [plan for part, plan in covers if part.pose.origin[2] >= unit.family.top - CONTACT]
    bare = shape.difference(united(over, ON_LINE))
    return [piece for piece in getattr(bare, "geoms", [bare]) if piece.area > OVERLAP_AREA]


@once
def _covers(kitchen: Kitchen) -> list[tuple[Part, Polygon]]:
    """Whatever lies over units, with its plan in the room."""
    return [(part, _plan(part)) for part in kitchen.parts if part.role in COVERS]


@once
def _shapes(kitchen: Kitchen) -> Mapping[str, BaseGeometry]:
    """The plan of each unit that is meant to lie under a top: of what closes a row, that of its boards.

    An open end may have a corner cut off, and between the posts of a bar is air. With the first unit of an island
    goes the panel behind all of it.
    """
    return {u.key: _shape(u, kitchen.parts_of.get(u.key, ())) for u in kitchen.units if u.family.carries_top}


def _shape(unit: PlacedUnit, parts: Iterable[Part]) -> BaseGeometry:
    boards = [p for p in parts if p.role is not Role.PLINTH and (p.role is Role.POST or p.layer in SOLID)]
    if unit.family.kind.closes_row and not unit.family.kind.moves_top:  # its frame has arms under the top
        return union_all([_plan(part) for part in boards])
    return union_all([unit_plan(unit), *(_plan(part) for part in boards if part.which == ISLAND_BACK)])


def _plan(part: Part) -> Polygon:
    """The plan of a part in the room, holes filled."""
    return part.pose.plan_to_room(Polygon(part.outline.exterior)) if part.lies_flat else part.standing_plan
