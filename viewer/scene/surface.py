"""Surface: what is drawn of a solid — its triangles with crisp normals and texture coordinates in real size.

A surface lies in a right-handed frame. A part whose frame is left-handed has its surface mirrored along y, so
that the pose that places it is a pure turn and no reader of the scene ever sees a mesh inside out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.geometry.solids import Mesh, local_mesh

CREASE = 35.0
"""Degrees; two faces that meet at less are one rounded face and share normals."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Surface:
    """Vertices (n, 3) in mm, unit normals (n, 3), texture coordinates (n, 2) in mm, triangles (m, 3)."""

    vertices: Floats
    normals: Floats
    uv: Floats
    faces: NDArray[np.int64]


def surface_of(part: Part) -> Surface:
    """The part's surface in its own frame; parts of one shape share one object."""
    return shape_surface(part.outline, part.thickness, part.section, is_mirrored(part.pose), part.pockets)


@lru_cache(maxsize=4096)
def shape_surface(
    outline: Polygon,
    thickness: float,
    section: Polygon | None = None,
    mirror: bool = False,
    pockets: tuple[Pocket, ...] = (),
) -> Surface:
    """The surface of what has this outline, thickness, section and pockets (see `Part`), wherever it stands."""
    return faceted(shape_mesh(outline, thickness, section, pockets), mirror)


def shape_mesh(
    outline: Polygon, thickness: float, section: Polygon | None = None, pockets: tuple[Pocket, ...] = ()
) -> Mesh:
    """The mesh of that shape, from z = 0 up, as the model's kernel makes and checks it."""
    part = Part(
        PartKey("", Role.PANEL), Layer.CARCASS, "", outline, thickness, Pose(), section=section, pockets=pockets
    )
    return local_mesh(part)


def is_mirrored(pose: Pose) -> bool:
    """Whether the frame is left-handed: its axes span a volume below zero."""
    (a, b, c), (d, e, f), (g, h, i) = pose.x, pose.y, pose.z
    return a * (e * i - f * h) + b * (f * g - d * i) + c * (d * h - e * g) < 0


@lru_cache(maxsize=8192)
def placing(pose: Pose) -> Floats:
    """(4, 4) pure turn and move that puts a surface into the room; shared, so it cannot be written to."""
    matrix = np.eye(4)
    matrix[:3] = pose.matrix
    if is_mirrored(pose):
        matrix[:3, 1] *= -1.0
    matrix.flags.writeable = False
    return matrix


def faceted(mesh: Mesh, mirror: bool = False) -> Surface:
    """Split the mesh's corners where faces meet in a crease; ``mirror`` turns y about as well as the faces."""
    points, faces = mesh[0], mesh[1].astype(np.int64)
    flat, areas = _face_normals(points, faces)
    normals = _corner_normals(faces.ravel(), np.repeat(flat, 3, axis=0), np.repeat(areas, 3))
    ends = np.repeat(_is_end(flat), 3)
    first, corner = _distinct(faces.ravel(), normals, ends)
    chosen = faces.ravel()[first]
    uv = _unwrapped(points[chosen], ends[first])
    split = Surface(points[chosen], normals[first], uv, corner.reshape(-1, 3))
    return _mirrored(split) if mirror else split


def _face_normals(points: Floats, faces: NDArray[np.int64]) -> tuple[Floats, Floats]:
    """Unit normals (m, 3) and areas (m,), zero where a triangle has no area."""
    a, b, c = (points[faces[:, i]] for i in range(3))
    cross = np.cross(b - a, c - a)
    size = np.linalg.norm(cross, axis=1)
    return cross / np.maximum(size, 1e-12)[:, None], size / 2


def _corner_normals(vertex: NDArray[np.int64], normals: Floats, areas: Floats) -> Floats:
    """For each corner the mean normal of the faces about its vertex that bend less than `CREASE` from its own."""
    order = np.argsort(vertex, kind="stable")
    groups = np.split(order, np.flatnonzero(np.diff(vertex[order])) + 1)
    result = np.empty_like(normals)
    for group in groups:
        own = normals[group]
        near = own @ own.T > np.cos(np.radians(CREASE))
        result[group] = near @ (own * areas[group, None])
    return np.asarray(result / np.maximum(np.linalg.norm(result, axis=1), 1e-12)[:, None])


def _is_end(normals: Floats) -> NDArray[np.bool_]:
    """Faces that look along x: there the grain runs along y, as on a strip that is glued on."""
    return np.asarray(np.abs(normals[:, 0]) > np.abs(normals[:, 1:]).max(axis=1))


def _distinct(
    vertex: NDArray[np.int64], normals: Floats, ends: NDArray[np.bool_]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First corner of each distinct vertex, and for each corner which of these it is."""
    key = np.column_stack([vertex, np.rint(normals * 1e4).astype(np.int64), ends])
    _, first, corner = np.unique(key, axis=0, return_index=True, return_inverse=True)
    return first.astype(np.int64), corner.reshape(-1).astype(np.int64)


def _unwrapped(points: Floats, ends: NDArray[np.bool_]) -> Floats:
    """Texture coordinates in mm: u along the length; v runs over the front edge without a break."""
    x, y, z = points.T
    return np.column_stack([np.where(ends, y, x), np.where(ends, -z, y - z)])


def _mirrored(surface: Surface) -> Surface:
    across = np.array([1.0, -1.0, 1.0])
    return Surface(surface.vertices * across, surface.normals * across, surface.uv, surface.faces[:, ::-1])
