"""Free ends: the line along which a top ends where it meets nothing, its corners square, rounded or clipped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from shapely import LineString, Polygon

from countersunk.model.document.schema import Document, FreeCorner
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.profile import quarter
from countersunk.model.layout.placed import called
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.tops.joins import REACH
from countersunk.model.tops.rows import End, Stretch

Side = Literal["left", "right"]


@dataclass(frozen=True)
class EndShape:
    """The corners of one free end, by edge; square where nothing is wished."""

    front: FreeCorner | None = None
    back: FreeCorner | None = None


Shapes = Mapping[tuple[str, Side], EndShape]
"""By the key of the last unit under the end, and the side of it."""


def end_shapes(document: Document, units: Sequence[PlacedUnit]) -> dict[tuple[str, Side], EndShape]:
    """The wished corners by end; ``units`` are all of the kitchen.

    Raises InputError for one that says nothing, says it twice, or says two things.
    """
    shaped: dict[tuple[str, Side], dict[str, FreeCorner]] = {}
    for i, wish in enumerate(document.worktop.corners):
        field = f"worktop.corners[{i}]"
        if (wish.radius is None) == (wish.clip is None):
            said = "neither" if wish.radius is None else "both"
            raise InputError.at(
                field, found=f"{said} of radius and clip", allowed="one of them", advice="radius: 50"
            )
        corners = shaped.setdefault((wish.over, wish.end), {})
        if wish.edge in corners:
            found = f"the {wish.edge} corner of {called(wish.over, units)} twice"
            raise InputError.at(field, found=found, allowed="each corner once")
        corners[wish.edge] = wish
    return {end: EndShape(**corners) for end, corners in shaped.items()}


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
        if wish.edge == "back" and free[end].run.wall is not None:
            raise InputError.at(f"{field}.edge", found="a back corner, which is on the wall", allowed="front")
        size, row = wish.radius or wish.clip or 0.0, free[end]
        taken[end] = taken.get(end, 0.0) + size
        room = min(row.run.stock.depth, row.right - row.left)
        if taken[end] > room:
            most = max(0.0, room - taken[end] + size)
            raise InputError.at(
                f"{field}.{'radius' if wish.radius else 'clip'}",
                found=f"{size:g}",
                allowed=f"at most {most:g} at this end, which is {row.run.stock.depth:g} deep",
            )


def shape_of(row: Stretch, side: Side, shapes: Shapes) -> EndShape:
    """The shape of a row's free end."""
    return shapes.get((_last(row, side).key, side), EndShape())


def end_line(depth: float, end: End, side: Side, shape: EndShape) -> LineString:
    """The end from the back edge to the front edge, in the run's frame."""
    out = -1.0 if side == "left" else 1.0
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


def _corner(wish: FreeCorner | None) -> list[Point]:
    """A corner at (0, 0) of an end that runs up y at x = 0, the top being at negative x: from edge to end."""
    if wish is None:
        return [(0.0, 0.0)]
    if wish.clip:
        return [(-wish.clip, 0.0), (0.0, wish.clip)]
    r = wish.radius or 0.0
    return quarter((-r, r), r, -90.0)
