"""glTF: items as glTF 2.0, a tree in JSON and the pieces that it is about; both joined are one binary file.

Written here and not by a general library: that makes every mesh anew at each edit, which takes as long as it takes
to build the kitchen.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Any

import numpy as np

from countersunk.model.kept import kept
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import Finish
from countersunk.viewer.scene.pieces import WORD, Accessor, Json, Piece, packed_mesh, padded, texture
from countersunk.viewer.scene.surface import Surface

ROOT = "kitchen"
"""Name of the node under which everything stands."""

TO_GLTF = np.array([[1.0, 0, 0, 0], [0, 0, 1.0, 0], [0, -1.0, 0, 0], [0, 0, 0, 1000.0]]) / 1000.0
"""Room frame (mm, z up) to glTF (m, y up): x stays, y goes away from the viewer, that is to −z."""

UNMOVED = np.eye(4).ravel().tolist()
"""What the standard wants left out."""

MAGIC, VERSION, JSON_CHUNK, BINARY_CHUNK = b"glTF", 2, b"JSON", b"BIN\0"


@dataclass(frozen=True, eq=False)
class Gltf:
    """A scene. In ``tree`` each piece is a buffer of its own, in their order."""

    tree: bytes
    pieces: tuple[Piece, ...]

    @cached_property
    def glb(self) -> bytes:
        """The scene as one binary file, in which the pieces follow each other in one buffer."""
        whole = [padded(piece.raw) for piece in self.pieces]
        tree, starts = json.loads(self.tree), list(accumulate(map(len, whole), initial=0))
        for view in tree["bufferViews"]:
            view["byteOffset"] += starts[view["buffer"]]
            view["buffer"] = 0
        tree["buffers"] = [{"byteLength": starts[-1]}]
        return _file(_json(tree), b"".join(whole))


def gltf(items: Iterable[Item]) -> Gltf:
    """Items of the room frame (mm, z up) as nodes; equal shapes of one finish share a mesh."""
    lists = _Lists()
    nodes = [lists.node(item) for item in items]
    root = {"name": ROOT, "matrix": TO_GLTF.T.ravel().tolist(), "children": list(range(1, len(nodes) + 1))}
    tree = {
        "asset": {"version": "2.0", "generator": "countersunk"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": [root, *nodes],
        **lists.written(),
    }
    return Gltf(_json(tree), tuple(lists.pieces.values))


def _json(tree: Json) -> bytes:
    return json.dumps(tree, separators=(",", ":")).encode()


def _file(text: bytes, binary: bytes) -> bytes:
    chunks = _chunk(JSON_CHUNK, padded(text, b" ")) + _chunk(BINARY_CHUNK, padded(binary))
    return MAGIC + _word(VERSION) + _word(3 * WORD + len(chunks)) + chunks


def _chunk(kind: bytes, raw: bytes) -> bytes:
    return _word(len(raw)) + kind + raw


def _word(number: int) -> bytes:
    return number.to_bytes(WORD, "little")


class _Numbered:
    """Things in the order in which they were first asked for, each once."""

    def __init__(self) -> None:
        self.values: list[Any] = []
        self._places: dict[Hashable, int] = {}

    def at(self, key: Hashable, make: Callable[[], object]) -> int:
        """The place of what has this key; it is made and put last if it is new."""
        if key not in self._places:
            made = make()
            self._places[key] = len(self.values)
            self.values.append(made)
        return self._places[key]


@kept(4_000)
def _matrix(raw: bytes) -> list[float]:
    """The bytes of a (4, 4) float matrix as glTF lists it: by columns, rounded."""
    listed: list[float] = np.round(np.frombuffer(raw).reshape(4, 4).T.ravel(), 9).tolist()
    return listed


class _Lists:
    """The lists of one file as they grow, node by node."""

    def __init__(self) -> None:
        self.pieces, self.meshes, self.materials, self.images = _Numbered(), _Numbered(), _Numbered(), _Numbered()
        self.accessors, self.views = _Numbered(), _Numbered()

    def written(self) -> Json:
        """Everything but the nodes. The standard allows no empty list, so one without textures has none of them."""
        count = len(self.images.values)
        textures = {"images": self.images.values, "textures": [{"source": i} for i in range(count)]}
        return {
            "meshes": self.meshes.values,
            "materials": self.materials.values,
            **(textures if count else {}),
            "accessors": self.accessors.values,
            "bufferViews": self.views.values,
            "buffers": [{"byteLength": len(piece.raw)} for piece in self.pieces.values],
        }

    def node(self, item: Item) -> Json:
        """A node and whatever it needs that is not there yet."""
        mesh = self.meshes.at((item.surface, item.finish.name), lambda: self._mesh(item.surface, item.finish))
        matrix = _matrix(item.placing.tobytes())
        moved = {"matrix": matrix} if matrix != UNMOVED else {}
        return {"name": item.id, "mesh": mesh, **moved, "extras": item.extras}

    def _mesh(self, surface: Surface, finish: Finish) -> Json:
        mesh = packed_mesh(surface, finish.tile if finish.textured else None)
        at = {name: self._accessor(mesh.piece, block) for name, block in mesh.blocks.items()}
        indices, material = at.pop("indices"), self.materials.at(finish.name, lambda: self._material(finish))
        primitive = {"attributes": at, "indices": indices, "material": material}
        return {"primitives": [primitive], "extras": {"shape": mesh.piece.name}}

    def _accessor(self, piece: Piece, block: Accessor) -> int:
        view = self._view(piece, block.view)
        return self.accessors.at(view, lambda: {"bufferView": view, **block.accessor})

    def _view(self, piece: Piece, where: Json) -> int:
        buffer = self.pieces.at(piece.name, lambda: piece)
        return self.views.at((buffer, where["byteOffset"]), lambda: {"buffer": buffer, **where})

    def _material(self, finish: Finish) -> Json:
        look = {
            "baseColorFactor": list(finish.linear),
            "metallicFactor": finish.metallic,
            "roughnessFactor": finish.roughness,
            **({"baseColorTexture": {"index": self._image(finish)}} if finish.textured else {}),
        }
        blend = {"alphaMode": "BLEND"} if finish.opacity < 1.0 else {}
        return {"name": finish.name, "pbrMetallicRoughness": look, **blend}

    def _image(self, finish: Finish) -> int:
        piece = texture(finish)
        return self.images.at(piece.name, lambda: self._picture(piece))

    def _picture(self, piece: Piece) -> Json:
        view = self._view(piece, {"byteOffset": 0, "byteLength": len(piece.raw)})
        return {"bufferView": view, "mimeType": "image/jpeg"}
