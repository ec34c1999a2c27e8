"""Free ends: the line along which a top ends where it meets nothing, its corners square, rounded or clipped."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from shapely import LineString, Polygon
from shapely import box as rectangle

from countersunk.model.document.schema import Document, FreeCorner
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.identity import PartKey, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.profile import quarter, quarter_segments
from countersunk.model.layout.placed import called
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.tops.joins import REACH
from countersunk.model.tops.rows import End, Stretch

Side = Literal["left", "right"]


@dataclass(frozen=True)
class EndShape:
    """The corners of one free end, by edge; square unless the file says else. ``bow`` makes an arc of all of it."""

    front: FreeCorner | None = None
    back: FreeCorner | None = None
    bow: float = 0.0
    mitred: bool = False


Shapes = Mapping[tuple[str, Side], EndShape]
"""By the key of the last unit under the end, and the side of it."""


def end_shapes(document: Document, units: Sequence[PlacedUnit]) -> dict[tuple[str, Side], EndShape]:
    """The wished corners by end; ``units`` are all of the kitchen.

    Raises InputError for one that says nothing, says it twice, or says two things.
    """
    shaped: dict[tuple[str, Side], dict[str, FreeCorner]] = {}
    for i, wish in enumerate(document.worktop.corners):
        field = f"worktop.corners[{i}]"
        said = [name for name in ("radius", "clip", "bow", "waterfall") if getattr(wish, name) is not None]
        if len(said) > 1 or not (said or wish.past is not None or wish.post):
            found = f"{' and '.join(said) or 'none'} of radius, clip, bow and waterfall"
            raise InputError.at(field, found=found, allowed="one of them", advice="radius: 50")
        corners = shaped.setdefault((wish.over, wish.end), {})
        for edge in _edges(wish):
            if edge in corners:
                found = f"the {edge} corner of {called(wish.over, units)} twice"
                raise InputError.at(field, found=found, allowed="each corner once")
            corners[edge] = wish
    return {end: _shape(corners) for end, corners in shaped.items()}


def _edges(wish: FreeCorner) -> tuple[str, ...]:
    """The corners of its end that a wish shapes."""
    return ("front", "back") if wish.edge == "both" or wish.bow else (wish.edge,)


def _shape(corners: Mapping[str, FreeCorner]) -> EndShape:
    """The shape of an end by the wishes for its corners."""
    bow = next((wish.bow for wish in corners.values() if wish.bow), 0.0)
    down = any(wish.waterfall == "mitre" for wish in corners.values())
    return EndShape(bow=bow) if bow else EndShape(corners.get("front"), corners.get("back"), mitred=down)


def waterfall_of(row: Stretch, side: Side, corners: Iterable[FreeCorner]) -> str:
    """How the top over a row goes down to the floor at one end: ``mitre``, ``butt``, or not, which is empty."""
    at = (_last(row, side).key, side)
    return next((w.waterfall for w in corners if (w.over, w.end) == at and w.waterfall), "")


POST, POST_IN = 60.0, 150.0
"""Across a post under an end, and from its middle to the end's tip, mm (common practice, no source)."""


def end_posts(document: Document, ends: Iterable[tuple[Stretch, Side, End]]) -> Iterator[Part]:
    """The posts that carry free ends, each under the middle of its end's depth."""
    posts = {(wish.over, wish.end) for wish in document.worktop.corners if wish.post}
    for row, side, end in ends:
        unit, out = _last(row, side), -1.0 if side == "left" else 1.0
        if end.kind == "free" and (unit.key, side) in posts:
            x, y, high = end.x - out * POST_IN - POST / 2, (row.run.stock.depth - POST) / 2, unit.family.top
            yield Part(
                key=PartKey(unit.key, Role.POST, Which(at=(Position(side),))), called=unit.name,
                layer=Layer.HARDWARE, material=f"post.{high:g}", outline=rectangle(0.0, 0.0, POST, POST),
                thickness=high, pose=row.run.frame.moved(x, y),
            )  # fmt: skip


def check_shapes(
    document: Document, ends: Iterable[tuple[Stretch, Side, End]], units: Sequence[PlacedUnit]
) -> None:
    """Raises InputError for a wished corner that is not at a free end, or larger than the end has room for."""
    free = {(_last(row, side).key, side): row for row, side, end in ends if end.kind == "free"}
    names = sorted((called(key, units), side) for key, side in free)
    known = ", ".join(f"{side} of {name}" for name, side in names) or "none, since no top ends free"
    taken: dict[tuple[str, Side], float] = {}
    for i, wish in enumerate(document.worktop.corners):
        field, end = f"worktop.corners[{i}]", (wish.over, wish.end)
        if end not in free:
            found = f"the {wish.end} of '{called(wish.over, units)}'"
            raise InputError.at(f"{field}.over", found=found, allowed=f"a free end: {known}")
        if "back" in _edges(wish) and free[end].run.wall is not None:
            raise InputError.at(f"{field}.edge", found="a back corner, which is on the wall", allowed="front")
        if wish.waterfall:
            _check_waterfall(wish, free[end].run, field)
        size, row = wish.radius or wish.clip or wish.bow or 0.0, free[end]
        size *= len(_edges(wish))
        taken[end] = taken.get(end, 0.0) + size
        room = min(row.run.stock.depth, row.right - row.left)
        if taken[end] > room:
            most = max(0.0, room - taken[end] + size) / len(_edges(wish))
            raise InputError.at(
                f"{field}.{'radius' if wish.radius else 'clip' if wish.clip else 'bow'}",
                found=f"{size / len(_edges(wish)):g}",
                allowed=f"at most {most:g} at this end, which is {row.run.stock.depth:g} deep",
            )


def _check_waterfall(wish: FreeCorner, run: PlacedRun, field: str) -> None:
    """Raises InputError for an end that cannot go down to the floor as is wished."""
    stock = run.stock
    if stock.nose:
        allowed = "a top with square edges, since a rounded front cannot be turned down"
        raise InputError.at(f"{field}.waterfall", found=f"{stock.code}, whose edge is rounded", allowed=allowed)
    if wish.waterfall == "mitre" and stock.material.edges == "sealed":
        allowed = "butt: the core of laminate would show in a mitre that is not folded by a maker"
        raise InputError.at(f"{field}.waterfall", found=f"mitre in {stock.code}", allowed=allowed)
    if wish.post:
        raise InputError.at(f"{field}.post", found="a post under an end that stands on the floor", allowed="false")
    if wish.past is not None and wish.past < stock.thickness:
        allowed = f"{stock.thickness:g} or more, since the piece stands beside the unit"
        raise InputError.at(f"{field}.past", found=f"{wish.past:g}", allowed=allowed, advice="leave it out")


def shape_of(row: Stretch, side: Side, shapes: Shapes) -> EndShape:
    """The shape of a row's free end."""
    return shapes.get((_last(row, side).key, side), EndShape())


def end_line(depth: float, end: End, side: Side, shape: EndShape) -> LineString:
    """The end from the back edge to the front edge, in the run's frame."""
    out = -1.0 if side == "left" else 1.0
    if shape.bow:
        return LineString([(end.x + out * x, y) for x, y in _arc(depth, shape.bow)])
    back = [(out * x, y) for x, y in _corner(shape.back)]
    front = [(out * x, depth - y) for x, y in reversed(_corner(shape.front))]
    return LineString([(end.x + x, y) for x, y in [*back, *front]])


def beyond(line: LineString, side: Side) -> Polygon:
    """All of the run's plan past an end."""
    far = -REACH if side == "left" else REACH
    (x0, y0), (x1, y1) = line.coords[0], line.coords[-1]
    return Polygon([(x0, y0 - 1.0), *line.coords, (x1, y1 + 1.0), (x1 + far, y1 + 1.0), (x0 + far, y0 - 1.0)])


def _last(row: Stretch, side: Side) -> PlacedUnit:
    return row.units[0] if side == "left" else row.units[-1]


def _arc(depth: float, bow: float) -> list[Point]:
    """One arc from the back of an end up to its front, its middle at x = 0 and its ends ``bow`` behind that."""
    radius = (depth**2 / 4 + bow**2) / (2 * bow)
    half = math.asin(min(1.0, depth / 2 / radius))
    count = max(4, math.ceil(2 * half / (math.pi / 2) * quarter_segments(radius)))
    turns = [-half + 2 * half * i / count for i in range(count + 1)]
    inner = [(radius * (math.cos(t) - 1.0), depth / 2 + radius * math.sin(t)) for t in turns[1:-1]]
    return [(-bow, 0.0), *inner, (-bow, depth)]


def _corner(wish: FreeCorner | None) -> list[Point]:
    """A corner at (0, 0) of an end that runs up y at x = 0, the top being at negative x: from edge to end."""
    if wish is None or not (wish.clip or wish.radius):
        return [(0.0, 0.0)]
    if wish.clip:
        return [(-wish.clip, 0.0), (0.0, wish.clip)]
    r = wish.radius or 0.0
    return quarter((-r, r), r, -90.0)
