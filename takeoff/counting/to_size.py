"""To size: what is made to measure is ordered piece by piece, each with its size, mark and, if it is no rectangle,
its corners."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon, get_coordinates
from shapely.geometry.polygon import orient

from countersunk.model.geometry.identity import FACES, Role
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import least, rounded
from countersunk.model.tolerance import CONTACT

Corner = tuple[float, float]

EDGES: dict[str, str] = {
    Role.PANE: "all ground, corners taken off",
    Role.SPLASHBACK: "those in view finished as the face, the others ground",
    Role.INFILL: "the front finished as the top, the others raw and sealed",
    Role.FLOATING: "all in view as the face",
    **dict.fromkeys(FACES, "all as the face"),
}
"""How edges of what is made to measure are finished: common practice, no source; an order may say else."""


@dataclass(frozen=True)
class SizedPiece:
    """One piece to be made: by its ``mark``, ``length`` × ``width`` × ``thickness`` (mm).

    ``corners`` of one that is no rectangle, anticlockwise from its lowest left one, x along its length (mm);
    ``holes`` in words, each by its middle, and ``rings`` their outlines. ``edges`` says how they are finished.
    """

    mark: str
    length: float
    width: float
    thickness: float
    corners: tuple[Corner, ...] = ()
    holes: tuple[str, ...] = ()
    rings: tuple[tuple[Corner, ...], ...] = ()
    edges: str = ""

    @property
    def outline(self) -> tuple[Corner, ...]:
        """Its corners, those of a rectangle too."""
        x, y = self.length, self.width
        return self.corners or ((0.0, 0.0), (x, 0.0), (x, y), (0.0, y))

    @property
    def plain(self) -> str:
        """``397 × 560 × 4 mm``."""
        return f"{' × '.join(f'{rounded(side, 1):g}' for side in (self.length, self.width, self.thickness))} mm"

    @property
    def size(self) -> str:
        """``397 × 560 × 4 mm``, with its holes, and its corners where it is no rectangle."""
        plain = " × ".join(f"{rounded(side, 1):g}" for side in (self.length, self.width, self.thickness))
        corners = ", ".join(f"{rounded(x, 1):g}/{rounded(y, 1):g}" for x, y in self.corners)
        pierced = "".join(f", {hole}" for hole in self.holes)
        return f"{plain}{pierced} mm; corners at {corners} mm" if corners else f"{plain}{pierced} mm"


def sized_pieces(kitchen: Kitchen, ids: Iterable[str]) -> tuple[SizedPiece, ...]:
    """The parts of these ids as pieces to be made; what is no part has no size and is left out."""
    return tuple(_sized(kitchen.parts_by_id[id_]) for id_ in dict.fromkeys(ids) if id_ in kitchen.parts_by_id)


def size_lines(pieces: Iterable[SizedPiece]) -> Iterator[str]:
    """A line for each size, with how many and their marks: ``2 of 397 × 560 × 4 mm: A3.pane, A4.pane``."""
    marks: dict[str, list[str]] = {}
    for piece in pieces:
        marks.setdefault(piece.size, []).append(piece.mark)
    return (f"{len(some)} of {size}: {', '.join(some)}" for size, some in marks.items())


def _sized(part: Part) -> SizedPiece:
    return SizedPiece(
        part.mark, part.length, part.depth, part.thickness, tuple(_corners(part)), tuple(_holes(part)),
        tuple(_rings(part)), EDGES.get(part.role, ""),
    )  # fmt: skip


def _corners(part: Part) -> Iterator[Corner]:
    """Nothing for a rectangle that lies along its length."""
    x0, y0, x1, y1 = part.outline.bounds
    outer = Polygon(part.outline.exterior)
    if outer.area < (x1 - x0) * (y1 - y0) - CONTACT * (x1 - x0 + y1 - y0):
        yield from _turning(get_coordinates(orient(outer).exterior)[:-1] - (x0, y0))


def _rings(part: Part) -> Iterator[tuple[Corner, ...]]:
    x, y, *_ = part.outline.bounds
    for ring in part.outline.interiors:
        yield _turning(get_coordinates(ring)[:-1] - (x, y))


def _turning(points: NDArray[np.float64]) -> tuple[Corner, ...]:
    """The points of a ring at which it turns, from its lowest left one on, wherever the ring began."""
    before, after = np.roll(points, 1, axis=0), np.roll(points, -1, axis=0)
    along, off = after - before, points - before
    across = np.abs(along[:, 0] * off[:, 1] - along[:, 1] * off[:, 0])
    corners = points[across > CONTACT * np.hypot(along[:, 0], along[:, 1])]
    first = least(range(len(corners)), key=lambda i: (float(corners[i][0]), float(corners[i][1])))
    return tuple((float(x), float(y)) for x, y in np.roll(corners, -first, axis=0))


def _holes(part: Part) -> Iterator[str]:
    """Each hole by its middle from the lower left corner: ``hole 68 × 68 at 241/392``."""
    x, y, *_ = part.outline.bounds
    for ring in part.outline.interiors:
        x0, y0, x1, y1 = ring.bounds
        size = f"{rounded(x1 - x0, 1):g} × {rounded(y1 - y0, 1):g}"
        yield f"hole {size} at {rounded((x0 + x1) / 2 - x, 1):g}/{rounded((y0 + y1) / 2 - y, 1):g}"
