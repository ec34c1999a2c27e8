"""Bevels: boards with their arrises taken off, so that edges catch the light as real ones do.

Only flat shapes without a section are treated; the two faces get a small slope whose normals turn from the face to
the side, which looks round. Lengths in mm, in the part's frame, as `viewer.scene.surface` has them.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from shapely import Polygon, constrained_delaunay_triangles, get_coordinates
from shapely.geometry.polygon import orient

from countersunk.model.geometry.part import Layer, Part
from countersunk.viewer.scene.surface import Floats, Surface, is_mirrored, surface_of

ARRIS, TOP_ARRIS = 1.2, 2.5
"""Width of the slope at boards, and at worktops, mm (common practice, no source)."""
THINNEST = 8.0
"""What is thinner keeps its edges, mm."""


def bevelled(part: Part) -> Surface:
    """The part's surface with its arrises taken off, or as it is where that has no meaning."""
    if part.section is not None or part.pockets or part.thickness < THINNEST:
        return surface_of(part)
    size = TOP_ARRIS if part.layer is Layer.WORKTOPS else ARRIS
    made = _prism(part.outline, part.thickness, size, is_mirrored(part.pose))
    return made or surface_of(part)


@lru_cache(maxsize=4096)
def _prism(outline: Polygon, thick: float, size: float, mirror: bool) -> Surface | None:
    """None where an outline is too narrow to be set in, or changes its shape when it is."""
    whole = orient(outline)
    rings = [np.array(ring.coords)[:-1] for ring in (whole.exterior, *whole.interiors)]
    inner = [_set_in(ring, size) for ring in rings]
    face = Polygon(inner[0], inner[1:])
    if not face.is_valid or face.area < 0.5 * outline.area:
        return None
    parts = [_cap(face, thick, True), _cap(face, 0.0, False)]
    for ring, within in zip(rings, inner, strict=True):
        parts += [_band(ring, within, thick, size)]
    vertices, normals, uv, faces, start = [], [], [], [], 0
    for v, n, t, f in parts:
        vertices.append(v)
        normals.append(n)
        uv.append(t)
        faces.append(f + start)
        start += len(v)
    v, n, t, f = map(np.concatenate, (vertices, normals, uv, faces))
    if mirror:
        across = np.array([1.0, -1.0, 1.0])
        return Surface(v * across, n * across, t, f[:, ::-1])
    return Surface(v, n, t, f)


def _set_in(ring: Floats, size: float) -> Floats:
    """The ring moved to its left, which is inside, with mitred corners."""
    ahead = np.roll(ring, -1, axis=0) - ring
    ahead /= np.maximum(np.linalg.norm(ahead, axis=1, keepdims=True), 1e-9)
    left = np.column_stack([-ahead[:, 1], ahead[:, 0]])
    before = np.roll(left, 1, axis=0)
    mid = left + before
    return np.asarray(ring + size * mid / np.maximum(1.0 + (left * before).sum(axis=1, keepdims=True), 0.3))


def _cap(face: Polygon, z: float, up: bool) -> tuple[Floats, Floats, Floats, Any]:
    """A face of the prism as triangles."""
    triangles = constrained_delaunay_triangles(face)
    corners = np.concatenate([_anticlockwise(get_coordinates(t)[:3]) for t in triangles.geoms])
    points, which = np.unique(corners, axis=0, return_inverse=True)
    vertices = np.column_stack([points, np.full(len(points), z)])
    normals = np.tile([0.0, 0.0, 1.0 if up else -1.0], (len(points), 1))
    faces = which.reshape(-1, 3)
    return vertices, normals, _uv(vertices, normals), faces if up else faces[:, ::-1]


def _anticlockwise(corners: Floats) -> Floats:
    (a, b), (c, d) = corners[1] - corners[0], corners[2] - corners[0]
    return corners if a * d - b * c > 0 else corners[::-1]


def _band(ring: Floats, inner: Floats, thick: float, size: float) -> tuple[Floats, Floats, Floats, Any]:
    """Side and slopes along a ring, side by side, with a normal of its own for each."""
    a, b, ia, ib = ring, np.roll(ring, -1, axis=0), inner, np.roll(inner, -1, axis=0)
    ahead = b - a
    ahead = ahead / np.maximum(np.linalg.norm(ahead, axis=1, keepdims=True), 1e-9)
    side = np.column_stack([ahead[:, 1], -ahead[:, 0], np.zeros(len(a))])
    up, down = np.tile([0.0, 0.0, 1.0], (len(a), 1)), np.tile([0.0, 0.0, -1.0], (len(a), 1))
    low, high = min(size, thick / 3), thick - min(size, thick / 3)
    levels = [(ia, ib, 0.0, down), (a, b, low, side), (a, b, high, side), (ia, ib, thick, up)]
    points = [np.stack([_at(p, z), _at(q, z)]) for p, q, z, _ in levels]
    vertices = np.stack(points).reshape(-1, 3)
    normals = np.stack([np.stack([n, n]) for *_, n in levels]).reshape(-1, 3)
    count, faces = len(a), []
    for level in range(3):
        p, q = (2 * level * count + np.arange(count)), ((2 * level + 1) * count + np.arange(count))
        r, s = q + 2 * count, p + 2 * count
        faces += [np.column_stack([p, q, r]), np.column_stack([p, r, s])]
    ends = np.tile(side, (8, 1)) if len(side) else side
    return vertices, normals, _uv(vertices, ends), np.concatenate(faces)


def _at(ring: Floats, z: float) -> Floats:
    return np.column_stack([ring, np.full(len(ring), z)])


def _uv(points: Floats, normals: Floats) -> Floats:
    """As `viewer.scene.surface` lays them: u along the length, on ends along y."""
    x, y, z = points.T
    ends = np.abs(normals[:, 0]) > np.abs(normals[:, 1:]).max(axis=1)
    return np.column_stack([np.where(ends, y, x), np.where(ends, -z, y - z)])
