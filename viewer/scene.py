"""Scene: the kitchen as items to draw, as a scene in the room frame, and as one glTF file.

Frames: items and `scene` are in the room frame (mm, z up). `glb` is y-up and in metres, as glTF has it; the
change is made once, at the root node.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import Any

import numpy as np
import trimesh
from PIL import Image
from trimesh.exchange.gltf import export_glb
from trimesh.visual import TextureVisuals
from trimesh.visual.material import PBRMaterial

from model.kitchen import Kitchen
from model.part import Part
from viewer.extras import part_extras
from viewer.items import Item
from viewer.joinery import joinery_items
from viewer.labels import part_label
from viewer.materials import Finish, finish_of
from viewer.room import room_items
from viewer.surface import Surface, placing, surface_of
from viewer.textures import jpeg

__all__ = ["ROOT", "glb", "items", "part_label", "scene"]

ROOT = "kitchen"
"""Name of the node under which everything stands."""

TO_GLTF = np.array([[1.0, 0, 0, 0], [0, 0, 1.0, 0], [0, -1.0, 0, 0], [0, 0, 0, 1000.0]]) / 1000.0
"""Room frame (mm, z up) to glTF (m, y up): x stays, y goes away from the viewer, that is to −z."""

ARRAY, ELEMENT_ARRAY = 34962, 34963
"""What a view of the buffer is for, as glTF numbers it: vertices, or indices."""


def items(kitchen: Kitchen) -> tuple[Item, ...]:
    """One item for each part, and those of the room."""
    more = part_extras(kitchen)
    return (*(_item(part, kitchen, more[part.id]) for part in kitchen.parts), *room_items(kitchen))


def scene(kitchen: Kitchen) -> trimesh.Scene:
    """Every item as a node under `ROOT`, in the room frame (mm, z up); equal shapes of one finish share a mesh."""
    return _scene(items(kitchen), np.eye(4))


def glb(kitchen: Kitchen, more: Iterable[Item] = ()) -> bytes:
    """The scene as glTF 2.0, binary; y up, metres. It also has what is hidden inside the tops' joins.

    ``more`` is drawn besides, such as a clearance.
    """
    drawn = (*items(kitchen), *joinery_items(kitchen), *more)
    finishes = {item.finish.name: item.finish for item in drawn}

    def finish(tree: dict[str, Any]) -> None:
        _finished(tree, finishes)

    whole = _scene(drawn, TO_GLTF)
    return bytes(export_glb(whole, include_normals=True, tree_postprocessor=finish))  # type: ignore[no-untyped-call]


def _item(part: Part, kitchen: Kitchen, more: Mapping[str, object]) -> Item:
    return Item(
        id=part.id,
        kind=part.kind,
        layer=part.layer.value,
        label=part_label(part, kitchen),
        surface=surface_of(part),
        placing=placing(part.pose),
        finish=finish_of(part, kitchen),
        more=more,
    )


def _scene(drawn: tuple[Item, ...], root: np.ndarray) -> trimesh.Scene:
    result = trimesh.Scene()
    place: Callable[..., None] = result.graph.update
    place(frame_to=ROOT, matrix=root)
    names: dict[tuple[int, str], str] = {}
    for item in drawn:
        key = (id(item.surface), item.finish.name)
        if key not in names:
            names[key] = f"mesh {len(names) + 1}"
            result.geometry[names[key]] = _mesh(item.surface, item.finish)
        place(item.id, ROOT, matrix=item.placing, geometry=names[key], metadata=item.extras)
    return result


def _mesh(surface: Surface, finish: Finish) -> trimesh.Trimesh:
    uv = surface.uv / finish.tile if finish.textured else None
    return trimesh.Trimesh(
        surface.vertices,
        surface.faces,
        vertex_normals=surface.normals,
        visual=TextureVisuals(uv=uv, material=_material(finish)),  # type: ignore[no-untyped-call]
        process=False,
        validate=False,
    )


@lru_cache(maxsize=256)
def _material(finish: Finish) -> PBRMaterial:
    return PBRMaterial(  # type: ignore[no-untyped-call]
        name=finish.name,
        baseColorFactor=finish.linear,
        metallicFactor=finish.metallic,
        roughnessFactor=finish.roughness,
        baseColorTexture=_image(finish) if finish.textured else None,
        alphaMode="BLEND" if finish.opacity < 1.0 else None,
    )


def _image(finish: Finish) -> Image.Image:
    return Image.open(io.BytesIO(jpeg(finish.figure, finish.colour, finish.vein)))


def _finished(tree: dict[str, Any], finishes: dict[str, Finish]) -> None:
    """What trimesh leaves out: colours unrounded, since 8 bits are too few for darks, and what a buffer is for."""
    tree["asset"]["generator"] = "countersunk"
    for material in tree["materials"]:
        material["pbrMetallicRoughness"]["baseColorFactor"] = list(finishes[material["name"]].linear)
    for primitive in (p for mesh in tree["meshes"] for p in mesh["primitives"]):
        _aimed(tree, primitive["indices"], ELEMENT_ARRAY)
        for accessor in primitive["attributes"].values():
            _aimed(tree, accessor, ARRAY)


def _aimed(tree: dict[str, Any], accessor: int, target: int) -> None:
    tree["bufferViews"][tree["accessors"][accessor]["bufferView"]]["target"] = target
