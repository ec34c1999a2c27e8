"""Scene: the kitchen as items to draw, and those as one glTF scene.

Frames: items are in the room frame (mm, z up); glTF is y-up and in metres, which the root node sees to.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.scene.extras import part_extras
from countersunk.viewer.scene.gltf import Gltf, gltf
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.joinery import joinery_items
from countersunk.viewer.scene.labels import part_label
from countersunk.viewer.scene.materials import finish_of
from countersunk.viewer.scene.room import room_items
from countersunk.viewer.scene.surface import Surface, placing, surface_of
from countersunk.viewer.scene.tiling import grout_items, tiles_by_part

__all__ = ["items", "part_label", "scene"]


def items(kitchen: Kitchen) -> tuple[Item, ...]:
    """One item for each part, and those of the room."""
    more, tiled = part_extras(kitchen), tiles_by_part(kitchen)
    return (
        *(_item(part, kitchen, more[part.id], tiled.get(part.id)) for part in kitchen.parts),
        *grout_items(kitchen),
        *room_items(kitchen),
    )


def scene(kitchen: Kitchen, more: Iterable[Item] = ()) -> Gltf:
    """Return a kitchen as glTF: every part, and what is hidden inside the tops' joins.

    ``more`` is drawn as well, such as a clearance. Metres and y up, as glTF has it.

    >>> from countersunk import open_kitchen, scene
    >>> scene(open_kitchen("straight")).glb[:4]
    b'glTF'
    """
    return gltf((*items(kitchen), *joinery_items(kitchen), *more))


def _item(part: Part, kitchen: Kitchen, more: Mapping[str, object], seen: Surface | None) -> Item:
    return Item(
        id=part.id,
        kind=part.role.value,
        layer=part.layer.value,
        label=part_label(part, kitchen),
        surface=surface_of(part) if seen is None else seen,
        placing=placing(part.pose),
        finish=finish_of(part, kitchen),
        more=more,
    )
