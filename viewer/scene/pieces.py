"""Pieces: the bytes of which glTF files and messages are made, one for each mesh and texture, made once.

What has not changed since the last kitchen is the same piece, so it is neither made nor sent again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from hashlib import blake2b
from typing import Any

import numpy as np

from countersunk.viewer.scene.materials import Finish
from countersunk.viewer.scene.surface import Surface
from countersunk.viewer.scene.textures import jpeg

WORD = 4
"""Everything in a file or a message begins at a multiple of so many bytes."""

# Numbers of the standard: glTF 2.0, buffer views and accessors (from memory; its validator reads every demo).
ARRAY, ELEMENT_ARRAY = 34962, 34963
FLOAT, UNSIGNED_INT, UNSIGNED_SHORT = 5126, 5125, 5123
SHAPES = {1: "SCALAR", 2: "VEC2", 3: "VEC3"}

Json = dict[str, Any]
Tile = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Piece:
    """Bytes with a name by which equal ones are known."""

    name: str
    raw: bytes


@dataclass(frozen=True)
class Accessor:
    """A stretch of a mesh's piece: how glTF says where it is, and how it is to be read."""

    view: Json
    accessor: Json


@dataclass(frozen=True, eq=False)
class PackedMesh:
    """A surface as one piece. ``blocks`` are by glTF's name of what they hold, ``indices`` the first."""

    piece: Piece
    blocks: Mapping[str, Accessor]


def padded(raw: bytes, filler: bytes = b"\0") -> bytes:
    """Filled up to whole words."""
    return raw + filler * (-len(raw) % WORD)


def piece_of(raw: bytes) -> Piece:
    """A piece named by what is in it."""
    return Piece(blake2b(raw, digest_size=12).hexdigest(), raw)


@lru_cache(maxsize=256)
def texture(finish: Finish) -> Piece:
    """The texture of a look, as JPEG."""
    return piece_of(jpeg(finish.figure, finish.colour, finish.vein))


@lru_cache(maxsize=4096)
def packed_mesh(surface: Surface, tile: Tile | None) -> PackedMesh:
    """The surface in mm; with a ``tile`` also texture coordinates, in repeats of what covers so many mm."""
    arrays = {"indices": _indices(surface), "POSITION": surface.vertices, "NORMAL": surface.normals}
    if tile:
        arrays["TEXCOORD_0"] = surface.uv / tile
    blocks, raw = {}, b""
    for name, values in arrays.items():
        blocks[name], stretch = _block(values, len(raw))
        raw += stretch
    low, high = (f(surface.vertices.astype(np.float32), axis=0).tolist() for f in (np.min, np.max))
    blocks["POSITION"].accessor.update(min=low, max=high)  # asked for by the standard, of positions alone
    return PackedMesh(piece_of(raw), blocks)


def _indices(surface: Surface) -> np.ndarray:
    """Short ones where they can number every vertex; the last short number is reserved."""
    kind = np.uint16 if len(surface.vertices) < np.iinfo(np.uint16).max else np.uint32
    return surface.faces.astype(kind).reshape(-1, 1)


def _block(values: np.ndarray, start: int) -> tuple[Accessor, bytes]:
    whole = np.issubdtype(values.dtype, np.integer)
    packed = values if whole else values.astype(np.float32)
    kind = {2: UNSIGNED_SHORT, 4: UNSIGNED_INT}[packed.itemsize] if whole else FLOAT
    view = {
        "byteOffset": start,
        "byteLength": packed.nbytes,
        "target": ELEMENT_ARRAY if whole else ARRAY,
    }
    accessor = {"componentType": kind, "count": len(packed), "type": SHAPES[packed.shape[1]]}
    return Accessor(view, accessor), padded(packed.tobytes())
