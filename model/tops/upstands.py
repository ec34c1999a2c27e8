"""Upstands: strips that stand on the tops along the walls, in pieces no longer than they are sold.

Along one wall the backs of all tops carry one upstand, joins in the tops or not. It is straight, and where the wall
bulges it stands before the bulge. In a corner the upstand runs through on the wall whose top does, and the other
begins in front of it. Ends are cut square; silicone fills what an off-square corner or a hollow leaves.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shapely import LineString, Point, Polygon, union_all
from shapely import box as rectangle
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Catalogue, UpstandStock
from countersunk.model.document.schema import Document, UpstandHole
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import EdgeCondition, Layer, Part
from countersunk.model.geometry.profile import lines_of, one_polygon, rounded_rectangle
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.tolerance import CONTACT, FIT, OVERLAP_AREA
from countersunk.model.tops.joins import Interval
from countersunk.model.tops.worktops import Length

NEAR_WALL = 5.0
"""An edge no further from a wall than this is along it, mm: tops between two walls are cut that much short.
From its chord, or into the room from its bulges."""

PAST = 1_000.0
"""A top may stand past the end of a wall by so much, mm, where nothing is surveyed beside it: not its upstand."""

BOX_HOLE = 68.0
"""Diameter of the hole for the box of a socket or switch, mm (common practice, no source)."""

BOXED = ("socket", "switch")
"""Services that sit in a hole of what covers the wall."""

SHORTEST = 20.0
"""No upstand is cut shorter than this, mm (common practice, no source)."""


def lay_upstands(lengths: Iterable[Length], survey: Survey, document: Document, catalogue: Catalogue) -> list[Part]:
    """Every piece, called ``S1``, ``S2`` …, its key made of its wall and its place there; none on a top that moves.

    Raises InputError for an unknown stock or a hole off its piece.
    """
    wish = document.worktop.upstand
    if wish is None:
        return []
    if wish.stock not in catalogue.upstands:
        raise InputError.unknown("worktop.upstand.stock", wish.stock, catalogue.upstands)
    stock, laid = catalogue.upstands[wish.stock], [length for length in lengths if not length.moves]
    _check_of_top(stock, laid)
    face = max((length.part.pose.origin[2] + length.part.thickness for length in laid), default=0.0)
    pieces = [piece for wall in survey.walls for piece in _pieces(wall, laid, survey, stock, face)]
    parts = [_part(f"S{i}", _key(piece, pieces), piece, stock, face) for i, piece in enumerate(pieces, start=1)]
    for i, hole in enumerate(wish.holes):
        parts = _holed(parts, pieces, hole, f"worktop.upstand.holes[{i}]")
    return _boxed(parts, pieces, survey) if wish.sockets else parts


def box_holes(wall: SurveyedWall, survey: Survey) -> list[Polygon]:
    """The holes for the boxes of sockets and switches in what covers a wall, on its face."""
    boxes = (s for s in survey.services if s.wall == wall.name and s.kind in BOXED)
    return [Point(s.x, s.height).buffer(BOX_HOLE / 2, 16) for s in boxes]


def _boxed(parts: list[Part], pieces: list[_Piece], survey: Survey) -> list[Part]:
    """The pieces with holes for what is in the wall behind them. Raises InputError for one across an edge."""
    found = []
    for part, piece in zip(parts, pieces, strict=True):
        for hole in box_holes(piece.wall, survey):
            cut = translate(hole, -piece.low, -part.pose.origin[2])
            if part.outline.buffer(-CONTACT).covers(cut):
                part = _cut(part, cut)
            elif part.outline.intersection(cut).area > OVERLAP_AREA:
                x, z = hole.centroid.x, hole.centroid.y
                raise InputError.at(
                    "worktop.upstand.sockets", found=f"a box {x:.0f} along '{piece.wall.name}' and {z:.0f} high, "
                    f"across an edge of {part.mark}", allowed="boxes wholly inside an upstand, or clear of it",
                    advice="move the box, or choose a higher or a lower upstand",
                )  # fmt: skip
        found.append(part)
    return found


def _check_of_top(stock: UpstandStock, lengths: Iterable[Length]) -> None:
    """Raises InputError for an upstand of the top's slabs where a top at a wall is from none, or not as thick."""
    for top in (length.run.stock for length in lengths if length.run.wall and stock.of_top):
        if not top.made_by or top.thickness != stock.thickness:
            raise InputError.at(
                "worktop.upstand.stock",
                found=f"'{stock.code}', {stock.thickness:g} thick and of the top's slab, with a top of {top.code}",
                allowed=f"a top from slabs {stock.thickness:g} thick, or an upstand that is bought by itself",
            )


@dataclass(frozen=True)
class _Piece:
    """From where to where along a wall an upstand stands, and how far before its chord, mm."""

    wall: SurveyedWall
    low: float
    high: float
    out: float


def _pieces(
    wall: SurveyedWall, lengths: list[Length], survey: Survey, stock: UpstandStock, face: float
) -> Iterator[_Piece]:
    for stretch in stretches(wall, lengths):
        low, high = _clear_of_corners(stretch, wall, lengths, survey, stock.thickness)
        for a, b in _beside_openings(low, high, wall, survey, face + stock.height):
            count = max(1, math.ceil((b - a - FIT) / max(stock.lengths)))
            if _long_enough((a, b)):
                ends = pairwise([a + (b - a) * i / count for i in range(count + 1)])
                yield from (_Piece(wall, *at, wall.peak(*stretch)) for at in ends)


def stretches(wall: SurveyedWall, lengths: list[Length]) -> list[Interval]:
    """Unbroken stretches along which tops stand against the wall."""
    return list(joined(_backed(wall, lengths)))


def _backed(wall: SurveyedWall, lengths: list[Length]) -> list[LineString]:
    """Where tops stand against the wall, as lines along x."""
    edges = [(t, e) for t in lengths for e in t.part.edges if e.condition is EdgeCondition.WALL]
    seen = [wall.frame.plan_from_room(t.part.pose.plan_to_room(edge.path)) for t, edge in edges]
    chord = rectangle(-PAST, 0.0, wall.length + PAST, CONTACT)
    bulges = (wall.frame.plan_from_room(bulge) for bulge in wall.bulges)
    along = union_all([chord, *bulges]).buffer(NEAR_WALL + FIT, join_style="mitre")
    low, high = -NEAR_WALL, wall.length + NEAR_WALL
    spans = [(line.bounds[0], line.bounds[2]) for line in seen if along.covers(line)]
    return [LineString([(max(a, low), 0.0), (min(b, high), 0.0)]) for a, b in spans if a < high and b > low]


def joined(lines: Iterable[LineString]) -> Iterator[Interval]:
    """From where to where lines go on along x, whether they end in the same number or not."""
    spans = sorted((line.bounds[0], line.bounds[2]) for line in lines)
    begins = [i for i, (low, _) in enumerate(spans) if all(low > high + FIT for _, high in spans[:i])]
    for i, after in pairwise([*begins, len(spans)]):
        yield spans[i][0], max(high for _, high in spans[i:after])


def _clear_of_corners(
    stretch: Interval, wall: SurveyedWall, lengths: list[Length], survey: Survey, thickness: float
) -> Interval:
    """The stretch cut back at either end where it comes to a corner."""
    low, high = stretch
    before, after, front = survey.previous_wall(wall), survey.next_wall(wall), wall.peak(*stretch) + thickness
    if low < NEAR_WALL and before is not None and before.corner is not None:
        other = _at_right_end(before, lengths) if _left_runs_through(before, wall, lengths) else None
        low = max(low, cut_back(before.corner, front, _front(before, other, thickness)))
    if wall.length - high < NEAR_WALL and after is not None and wall.corner is not None:
        other = None if _left_runs_through(wall, after, lengths) else _at_left_end(after, lengths)
        high = min(high, wall.length - cut_back(wall.corner, front, _front(after, other, thickness)))
    return low, high


def cut_back(corner: float, front: float, other: float) -> float:
    """How far from a corner (degrees) an upstand ends whose face is ``front`` before its wall: where the other wall
    leans in, or the upstand there stands, its face ``other`` before it, mm."""
    angle = math.radians(corner)
    return (other + max(0.0, front * math.cos(angle))) / math.sin(angle)


def _front(wall: SurveyedWall, stretch: Interval | None, thickness: float) -> float:
    """How far before a wall the face of the upstand on a stretch is, mm; 0 where none runs through."""
    return 0.0 if stretch is None else wall.peak(*stretch) + thickness


def _at_right_end(wall: SurveyedWall, lengths: list[Length]) -> Interval | None:
    """The stretch that ends in the corner at the wall's right end; none where its upstand would be too short."""
    return next((at for at in _long(wall, lengths) if at[1] > wall.length - NEAR_WALL), None)


def _at_left_end(wall: SurveyedWall, lengths: list[Length]) -> Interval | None:
    return next((at for at in _long(wall, lengths) if at[0] < NEAR_WALL), None)


def _long(wall: SurveyedWall, lengths: list[Length]) -> list[Interval]:
    return [at for at in stretches(wall, lengths) if _long_enough(at)]


def _long_enough(at: Interval) -> bool:
    """Not told by rounding where it is just the shortest."""
    return at[1] - at[0] >= SHORTEST - FIT


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
    yield from sorted((line.bounds[0], line.bounds[2]) for line in lines_of(left) if line.length > CONTACT)


def _key(piece: _Piece, pieces: Sequence[_Piece]) -> str:
    """Its wall, which has a name of its own, and where there are several on it a number from the left."""
    number = [other for other in pieces if other.wall is piece.wall].index(piece) + 1
    return f"{piece.wall.name}:upstand" + (f"-{number}" if number > 1 else "")


def _part(name: str, key: str, piece: _Piece, stock: UpstandStock, face: float) -> Part:
    """Frame: x along the wall, y up, z out from the wall, so that its holes lie in its outline."""
    pose = piece.wall.frame.moved(piece.low, piece.out, face).reaxed(
        (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0)
    )
    return Part(
        key=PartKey(key, Role.UPSTAND), called=name, layer=Layer.WORKTOPS, material=stock.code,
        outline=rectangle(0.0, 0.0, piece.high - piece.low, stock.height), thickness=stock.thickness, pose=pose,
        grain=True,
    )  # fmt: skip


def _holed(parts: list[Part], pieces: list[_Piece], hole: UpstandHole, field: str) -> list[Part]:
    """The pieces with a hole in the one that it lies in."""
    if hole.radius > min(hole.width, hole.height) / 2:
        most = min(hole.width, hole.height) / 2
        raise InputError.at(f"{field}.radius", found=f"{hole.radius:g}", allowed=f"at most {most:g} in this hole")
    shape = translate(rounded_rectangle(hole.width, hole.height, hole.radius), hole.at, hole.up)
    for i, (part, piece) in enumerate(zip(parts, pieces, strict=True)):
        cut = translate(shape, -piece.low)
        if piece.wall.name == hole.wall and part.outline.buffer(-CONTACT).covers(cut):
            return [*parts[:i], _cut(part, cut), *parts[i + 1 :]]
    known = "; ".join(f"{p.wall.name} from {p.low:.0f} to {p.high:.0f}" for p in pieces) or "none"
    raise InputError.at(
        f"{field}.at",
        found=f"a hole {hole.width:g} x {hole.height:g} about {hole.at:g} along '{hole.wall}', {hole.up:g} up",
        allowed=f"wholly inside one upstand: {known}",
        advice="move it, make it smaller, or choose a higher upstand",
    )


def _cut(part: Part, hole: Polygon) -> Part:
    return replace(part, outline=one_polygon(part.outline.difference(hole)))
