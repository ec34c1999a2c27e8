"""Blanks: what the saw makes of the stock that a length is cut from, so that nothing is lost or counted twice.

The blank is a piece of the stock's full depth, ``trim`` longer than the length at either end. The blade goes round
the length and round every line to cut on the waste's side and takes its kerf; what falls off is offcuts, what falls
out of lines is slugs. Factory edges are not cut.
"""

from __future__ import annotations

from dataclasses import dataclass

from shapely import LineString, Polygon, unary_union
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.tops.edges import CUT_OUTS
from countersunk.model.tops.worktops import Length


@dataclass(frozen=True)
class SawnBlank:
    """A blank and what becomes of it, in the frame of the length's part (mm)."""

    blank: Polygon
    piece: Polygon
    kerf: BaseGeometry
    slugs: tuple[Polygon, ...]
    offcuts: tuple[Polygon, ...]

    @property
    def parts(self) -> list[Polygon]:
        """Everything that the blank falls into, kerf besides."""
        return [self.piece, *self.slugs, *self.offcuts]


def sawn(length: Length, *, kerf: float, trim: float = 0.0) -> SawnBlank:
    """The blank of a length sawn with a blade ``kerf`` wide, mm."""
    part, depth = length.part, length.run.stock.depth
    x0, _, x1, _ = part.outline.bounds
    blank = rectangle(x0 - trim, 0.0, x1 + trim, depth)
    inside = [Polygon(e.path.coords) for e in part.edges if e.condition in CUT_OUTS]
    cuts = [_cut(e.path, part.outline, blank, kerf) for e in part.edges if not _is_untouched(e.path, blank, trim)]
    waste = blank.difference(part.outline)
    dust = unary_union([cut.intersection(waste) for cut in cuts])
    left = _polygons(waste.difference(dust))
    slugs = tuple(p for p in left if any(line.contains(p.representative_point()) for line in inside))
    offcuts = tuple(p for p in left if p not in slugs)
    return SawnBlank(blank, part.outline, dust, slugs, offcuts)


def _is_untouched(path: LineString, blank: Polygon, trim: float) -> bool:
    """Whether an edge lies on the blank's own boundary, where no saw goes; trimmed ends are sawn."""
    x0, _, x1, _ = blank.bounds
    ends = [LineString([(x, -1.0), (x, blank.bounds[3] + 1.0)]) for x in (x0, x1)] if trim == 0.0 else []
    along = [LineString([(x0, y), (x1, y)]) for y in (0.0, blank.bounds[3])]
    return any(line.buffer(1e-6).covers(path) for line in (*along, *ends))


def _cut(path: LineString, piece: Polygon, blank: Polygon, kerf: float) -> BaseGeometry:
    """What the blade takes along an edge, on either side of it; only its waste's side counts."""
    return path.buffer(kerf, cap_style="square", join_style="mitre").intersection(blank).difference(piece)


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    parts = getattr(shape, "geoms", [shape])
    return [p for p in parts if isinstance(p, Polygon) and not p.is_empty]
