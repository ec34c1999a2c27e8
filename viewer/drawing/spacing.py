"""Spacing: labels kept apart, and free places found for words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shapely import STRtree
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.ties import ranked, rounded_down
from countersunk.model.tolerance import CONTACT
from countersunk.viewer.drawing.shapes import Point


def spread(wishes: Sequence[float], pitch: float) -> list[float]:
    """Places at least ``pitch`` apart, in the order of the wishes, and as near to them as can be.

    Neighbours that crowd are joined into a block about the mean of their wishes (pool adjacent violators, a
    standard algorithm of isotonic regression).

    >>> spread([0.0, 10.0, 11.0, 30.0], 4.0)
    [0.0, 8.5, 12.5, 30.0]
    """
    order = ranked(range(len(wishes)), key=lambda i: wishes[i], within=CONTACT)
    blocks: list[tuple[float, int]] = []
    for rank, i in enumerate(order):
        blocks.append((wishes[i] - rank * pitch, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (a, n), (b, m) = blocks[-2:]
            blocks[-2:] = [((a * n + b * m) / (n + m), n + m)]
    starts = [mean for mean, n in blocks for _ in range(n)]
    places = [0.0] * len(wishes)
    for rank, i in enumerate(order):
        places[i] = starts[rank] + rank * pitch
    return places


class Taken:
    """What a view has already been given to: shapes that no words may touch."""

    def __init__(self) -> None:
        self._shapes: list[BaseGeometry] = []

    def add(self, *shapes: BaseGeometry) -> None:
        """Keep these clear."""
        self._shapes.extend(shapes)

    def is_free(self, place: BaseGeometry) -> bool:
        """Whether nothing is there yet."""
        return not any(shape.intersects(place) for shape in self._shapes)

    def room_for(
        self, size: Point, candidates: Iterable[Point], within: BaseGeometry | None = None
    ) -> Point | None:
        """The first candidate about which a rectangle of ``size`` is free, and inside ``within`` if given."""
        tree = STRtree(self._shapes)
        w, h = size
        for x, y in candidates:
            place = rectangle(x - w / 2, y - h / 2, x + w / 2, y + h / 2)
            if within is not None and not within.covers(place):
                continue
            if not len(tree.query(place, predicate="intersects")):
                return (x, y)
        return None


def lattice(bounds: tuple[float, float, float, float], step: float, near: Point) -> list[Point]:
    """Points all over a rectangle, ``step`` apart, the nearest to ``near`` first."""
    x0, y0, x1, y1 = bounds
    columns, rows = (max(1, rounded_down((hi - lo) / step)) for lo, hi in ((x0, x1), (y0, y1)))
    across = [x0 + (x1 - x0) * i / columns for i in range(columns + 1)]
    points = [(x, y0 + (y1 - y0) * j / rows) for x in across for j in range(rows + 1)]
    return ranked(points, key=lambda p: (p[0] - near[0]) ** 2 + (p[1] - near[1]) ** 2)
