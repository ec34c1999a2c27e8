"""The seam to the geometry kernel: the only module of the model that knows Manifold.

Every solid that leaves here is closed, not empty, and has the volume that its dimensions say;
otherwise `SolidError` is raised, since a plausible wrong number is worse than none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import combinations, product

import numpy as np
from manifold3d import CrossSection, Error, FillRule, JoinType, Manifold, OpType
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.polygon import orient

from countersunk.model.errors import SolidError
from countersunk.model.geometry.part import Part, Pocket
from countersunk.model.geometry.profile import quarter_segments
from countersunk.model.tolerance import CONTACT, OVERLAP_VOLUME, VOLUME_LEAST, VOLUME_RELATIVE

BEYOND = 1.0
"""How far a section is swept past the outline that it is cut by, mm."""

Mesh = tuple[NDArray[np.float64], NDArray[np.uint64]]


def solid(part: Part) -> Manifold:
    """The part's solid in the room frame, mm. Derived on demand; parts of one shape share the work."""
    return _shape(part.outline, part.thickness, part.section, part.pockets).transform(part.pose.matrix)


def volume(part: Part) -> float:
    """The solid's volume, mm³, as the kernel integrates it; compare `Part.area` × thickness less the pockets."""
    return float(_shape(part.outline, part.thickness, part.section, part.pockets).volume())


def mesh(part: Part) -> Mesh:
    """Vertices (n, 3) in room coordinates, mm, and triangles (m, 3) that turn outward."""
    return _arrays(solid(part))


def local_mesh(part: Part) -> Mesh:
    """The same in the part's own frame, where parts of one shape give the same arrays."""
    return _arrays(_shape(part.outline, part.thickness, part.section, part.pockets))


def bounds(part: Part) -> tuple[float, float, float, float, float, float]:
    """Smallest x, y, z and largest x, y, z in the room, mm."""
    x0, y0, z0, x1, y1, z1 = solid(part).bounding_box()
    return (x0, y0, z0, x1, y1, z1)


def overlap(a: Part, b: Part) -> float:
    """The volume that two parts share, mm³; 0 where they only touch."""
    return max(0.0, float((solid(a) ^ solid(b)).volume()))


def inset(plan: Polygon | MultiPolygon, distance: float) -> list[Polygon]:
    """What of a plan is no nearer than ``distance`` (mm) to its edge, piece by piece.

    Round corners are off by `ARC` at most. Not `shapely.buffer`, which first drops corners of the plan that stand
    out by less than a hundredth of the distance, others in a plan that is turned.
    """
    pieces = _cross_section(plan).offset(
        -distance, JoinType.Round, circular_segments=4 * quarter_segments(distance)
    )
    return [_polygon(piece) for piece in pieces.decompose() if not piece.is_empty()]


def clashes(parts: Sequence[Part]) -> list[tuple[Part, Part, float]]:
    """Every pair of parts that share more than `OVERLAP_VOLUME`, with the volume shared."""
    return _sharing(combinations(parts, 2), {p.id: bounds(p) for p in parts})


def clashes_between(some: Sequence[Part], others: Sequence[Part]) -> list[tuple[Part, Part, float]]:
    """Like `clashes`, but only between a part of the one and a part of the other."""
    return _sharing(product(some, others), {p.id: bounds(p) for p in (*some, *others)})


def _sharing(
    pairs: Iterable[tuple[Part, Part]], boxes: Mapping[str, tuple[float, ...]]
) -> list[tuple[Part, Part, float]]:
    near = ((a, b) for a, b in pairs if _boxes_overlap(boxes[a.id], boxes[b.id]))
    shared = [(a, b, overlap(a, b)) for a, b in near]
    return [(a, b, v) for a, b, v in shared if v > OVERLAP_VOLUME]


def _boxes_overlap(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    """Whether two boxes share more than a touch along all three axes."""
    return all(a[i] < b[i + 3] - CONTACT and b[i] < a[i + 3] - CONTACT for i in range(3))


def _arrays(body: Manifold) -> Mesh:
    raw = body.to_mesh64()
    return np.asarray(raw.vert_properties[:, :3]), np.asarray(raw.tri_verts)


@lru_cache(maxsize=4096)
def _shape(outline: Polygon, thickness: float, section: Polygon | None, pockets: tuple[Pocket, ...]) -> Manifold:
    body = _prism(outline, thickness)
    if section is not None:
        x0, _, x1, _ = outline.bounds
        # Swept past both ends: at a sharp corner the section's own end would part one edge into two a hair apart.
        body = _checked(_swept(section, x0 - BEYOND, x1 + BEYOND) ^ body, "the profile does not meet the outline")
    if pockets:
        cutters = [_cutter(pocket) for pocket in pockets]
        body = _checked(body - Manifold.batch_boolean(cutters, OpType.Add), "nothing is left beside the pockets")
    return body


def _cutter(pocket: Pocket) -> Manifold:
    """What a pocket takes out, leaning along x as it goes up."""
    upright = _prism(pocket.outline, pocket.high - pocket.low)
    leant = np.array([[1.0, 0.0, pocket.leans, 0.0], [0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, pocket.low]])
    return upright.transform(leant) if pocket.leans else upright.translate([0.0, 0.0, pocket.low])


def _prism(outline: Polygon, thickness: float) -> Manifold:
    if not outline.is_valid or outline.is_empty or thickness <= 0:
        raise SolidError(f"outline {outline.wkt[:120]} with thickness {thickness} encloses no solid")
    body = _checked(Manifold.extrude(_cross_section(outline), thickness), "extruding failed")
    expected = outline.area * thickness
    if abs(body.volume() - expected) > max(VOLUME_RELATIVE * expected, VOLUME_LEAST):
        raise SolidError(f"volume {body.volume()} mm³ where area × thickness is {expected} mm³")
    return body


def _swept(section: Polygon, x0: float, x1: float) -> Manifold:
    """The section, given as (y, z), swept along x from ``x0`` to ``x1``."""
    axes = [[0.0, 0.0, 1.0, x0], [1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0]]
    return _prism(section, x1 - x0).transform(np.array(axes))


def _cross_section(plan: Polygon | MultiPolygon) -> CrossSection:
    turned = [orient(polygon) for polygon in getattr(plan, "geoms", [plan])]
    rings = [ring for polygon in turned for ring in (polygon.exterior, *polygon.interiors)]
    return CrossSection([np.asarray(ring.coords)[:-1, :2] for ring in rings], FillRule.Positive)


def _polygon(piece: CrossSection) -> Polygon:
    outer, *holes = piece.to_polygons()
    return Polygon(outer, holes)


def _checked(body: Manifold, what: str) -> Manifold:
    if body.status() != Error.NoError or body.is_empty() or body.volume() <= 0:
        raise SolidError(f"{what}: status {body.status()}, volume {body.volume()} mm³")
    return body
