"""Upstands: strips that stand on the tops along the walls, in pieces no longer than they are sold.

Along one wall the backs of all tops carry one upstand, joins in the tops or not. In a corner the upstand runs
through on the wall whose top does, and the other begins in front of it. Ends are cut square; silicone fills what
an off-square corner leaves.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from shapely import LineString, Point, Polygon
from shapely import box as rectangle
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from model.catalogue import Catalogue, UpstandStock
from model.document import Document, UpstandHole
from model.errors import InputError
from model.joins import Interval
from model.part import EdgeCondition, Layer, Part
from model.profile import lines_of, one_polygon, plan_points, rounded_rectangle
from model.survey import Survey, SurveyedWall
from model.tolerance import CONTACT, FIT
from model.worktops import Length

NEAR_WALL = 5.0
"""An edge no further from a wall than this is along it, mm: tops between two walls are cut that much short."""

SHORTEST = 20.0
"""No upstand is cut shorter than this, mm (common practice, no source)."""


def lay_upstands(lengths: Iterable[Length], survey: Survey, document: Document, catalogue: Catalogue) -> list[Part]:
    """Every piece, named ``S1``, ``S2`` …. Raises InputError for an unknown stock or a hole off its piece."""
    wish = document.worktop.upstand
    if wish is None:
        return []
    if wish.stock not in catalogue.upstands:
        raise InputError.unknown("worktop.upstand.stock", wish.stock, catalogue.upstands)
    stock, laid = catalogue.upstands[wish.stock], list(lengths)
    face = max((length.part.pose.origin[2] + length.part.thickness for length in laid), default=0.0)
    pieces = [(wall, at) for wall in survey.walls for at in _pieces(wall, laid, survey, stock, face)]
    parts = [_part(f"S{i}", wall, at, stock, face) for i, (wall, at) in enumerate(pieces, start=1)]
    for i, hole in enumerate(wish.holes):
        parts = _holed(parts, pieces, hole, f"worktop.upstand.holes[{i}]")
    return parts


def _pieces(
    wall: SurveyedWall, lengths: list[Length], survey: Survey, stock: UpstandStock, face: float
) -> Iterator[Interval]:
    """From where to where along the wall each piece stands."""
    for line in _stretches(wall, lengths):
        low, high = _clear_of_corners(line.bounds[0], line.bounds[2], wall, lengths, survey, stock.thickness)
        for a, b in _beside_openings(low, high, wall, survey, face + stock.height):
            count = max(1, math.ceil((b - a - FIT) / max(stock.lengths)))
            if b - a >= SHORTEST:
                yield from pairwise([a + (b - a) * i / count for i in range(count + 1)])


def _stretches(wall: SurveyedWall, lengths: list[Length]) -> list[LineString]:
    """Unbroken stretches along which tops stand against the wall."""
    return [LineString([(a, 0.0), (b, 0.0)]) for a, b in joined(_backed(wall, lengths))]


def _backed(wall: SurveyedWall, lengths: list[Length]) -> list[LineString]:
    """Where tops stand against the wall, as lines along x."""
    edges = [(t, e) for t in lengths for e in t.part.edges if e.condition is EdgeCondition.WALL]
    seen = [wall.frame.plan_from_room(t.part.pose.plan_to_room(edge.path)) for t, edge in edges]
    near = NEAR_WALL + FIT
    along = rectangle(-near, -near, wall.length + near, near)
    on_wall = [sorted(x for x, _ in plan_points(line)) for line in seen if along.covers(line)]
    return [LineString([(xs[0], 0.0), (xs[-1], 0.0)]) for xs in on_wall]


def joined(lines: Iterable[LineString]) -> Iterator[Interval]:
    """From where to where lines go on along x, whether they end in the same number or not."""
    spans = sorted((line.bounds[0], line.bounds[2]) for line in lines)
    begins = [i for i, (low, _) in enumerate(spans) if all(low > high + FIT for _, high in spans[:i])]
    for i, after in pairwise([*begins, len(spans)]):
        yield spans[i][0], max(high for _, high in spans[i:after])


def _clear_of_corners(
    low: float, high: float, wall: SurveyedWall, lengths: list[Length], survey: Survey, thickness: float
) -> Interval:
    """The piece cut back at either end where it comes to a corner."""
    before, after = survey.previous_wall(wall), survey.next_wall(wall)
    if low < NEAR_WALL and before is not None and before.corner is not None:
        gives_way = _meet(before, wall, lengths) and _left_runs_through(before, wall, lengths)
        low = max(low, _cut_back(before.corner, gives_way, thickness))
    if wall.length - high < NEAR_WALL and after is not None and wall.corner is not None:
        gives_way = _meet(wall, after, lengths) and not _left_runs_through(wall, after, lengths)
        high = min(high, wall.length - _cut_back(wall.corner, gives_way, thickness))
    return low, high


def _cut_back(corner: float, gives_way: bool, thickness: float) -> float:
    """How far from a corner (degrees) an upstand ends: where the other wall leans in, or its upstand stands, mm."""
    angle = math.radians(corner)
    lean = max(0.0, thickness * math.cos(angle))
    return (thickness + lean if gives_way else lean) / math.sin(angle)


def _meet(left: SurveyedWall, right: SurveyedWall, lengths: list[Length]) -> bool:
    """Whether upstands stand on both walls in the corner between them, none shorter than the shortest."""
    ends = any(line.bounds[2] > left.length - NEAR_WALL for line in _long(left, lengths))
    return ends and any(line.bounds[0] < NEAR_WALL for line in _long(right, lengths))


def _long(wall: SurveyedWall, lengths: list[Length]) -> list[LineString]:
    return [line for line in _stretches(wall, lengths) if line.length >= SHORTEST]


def _left_runs_through(left: SurveyedWall, right: SurveyedWall, lengths: list[Length]) -> bool:
    """Whether the top that fills the corner of two walls is laid along the left one, and its upstand with it."""
    corner = Point(left.end)
    tops = ((t.run.wall, t.part.pose.plan_to_room(t.part.outline)) for t in lengths)
    walls = {wall for wall, plan in tops if plan.distance(corner) < 2 * NEAR_WALL}
    return left.name in walls or right.name not in walls


def _beside_openings(low: float, high: float, wall: SurveyedWall, survey: Survey, top: float) -> Iterator[Interval]:
    """What is left of the stretch beside doors, and windows that begin lower than the upstand ends."""
    left: BaseGeometry = LineString([(low, 0.0), (high, 0.0)])
    for opening in survey.openings:
        if opening.wall == wall.name and opening.sill < top:
            left = left.difference(rectangle(opening.at, -1.0, opening.at + opening.width, 1.0))
    yield from ((line.bounds[0], line.bounds[2]) for line in lines_of(left) if line.length > CONTACT)


def _part(name: str, wall: SurveyedWall, at: Interval, stock: UpstandStock, face: float) -> Part:
    """Frame: x along the wall, y up, z out from the wall, so that its holes lie in its outline."""
    pose = wall.frame.moved(at[0], 0.0, face).reaxed((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
    return Part(
        id=name, kind="upstand", layer=Layer.WORKTOPS, material=stock.code,
        outline=rectangle(0.0, 0.0, at[1] - at[0], stock.height), thickness=stock.thickness, pose=pose,
        owner=name, grain=True,
    )  # fmt: skip


def _holed(
    parts: list[Part], pieces: list[tuple[SurveyedWall, Interval]], hole: UpstandHole, field: str
) -> list[Part]:
    """The pieces with a hole in the one that it lies in."""
    if hole.radius > min(hole.width, hole.height) / 2:
        most = min(hole.width, hole.height) / 2
        raise InputError.at(f"{field}.radius", found=f"{hole.radius:g}", allowed=f"at most {most:g} in this hole")
    shape = translate(rounded_rectangle(hole.width, hole.height, hole.radius), hole.at, hole.up)
    for i, (part, (wall, at)) in enumerate(zip(parts, pieces, strict=True)):
        cut = translate(shape, -at[0])
        if wall.name == hole.wall and part.outline.buffer(-CONTACT).covers(cut):
            return [*parts[:i], _cut(part, cut), *parts[i + 1 :]]
    known = "; ".join(f"{w.name} from {a:.0f} to {b:.0f}" for w, (a, b) in pieces) or "none"
    raise InputError.at(
        f"{field}.at",
        found=f"a hole {hole.width:g} x {hole.height:g} about {hole.at:g} along '{hole.wall}', {hole.up:g} up",
        allowed=f"wholly inside one upstand: {known}",
        advice="move it, make it smaller, or choose a higher upstand",
    )


def _cut(part: Part, hole: Polygon) -> Part:
    return replace(part, outline=one_polygon(part.outline.difference(hole)))
