"""Meshes: how a solid leaves the library, as trimesh has it, and as a file for other programs.

STL and PLY have no units: theirs are millimetres, z up, the room's frame. OBJ and 3MF name every part.
"""

from __future__ import annotations

from collections.abc import Iterable

import trimesh
from trimesh.parent import Geometry

from countersunk.model.geometry import solids
from countersunk.model.geometry.part import Part

FORMATS = ("stl", "obj", "ply", "3mf")
"""Kinds of file that `meshes_file` writes."""


def mesh(part: Part) -> trimesh.Trimesh:
    """Return the solid of a part in the room's frame, mm, with the exact vertices of the kernel."""
    vertices, faces = solids.mesh(part)
    return trimesh.Trimesh(vertices, faces, process=False, metadata={"name": part.id})


def meshes_file(parts: Iterable[Part], kind: str) -> bytes:
    """Return parts as one file of a kind of `FORMATS`; STL and PLY as one mesh, OBJ and 3MF part by part."""
    named: dict[str, Geometry] = {part.id: mesh(part) for part in parts}
    scene = trimesh.Scene(named)
    scene.units = "mm"
    whole = kind in ("stl", "ply")
    data = (scene.to_mesh() if whole else scene).export(file_type=kind)
    return data.encode() if isinstance(data, str) else bytes(data)
