"""Tiling: the tiles of splashbacks as they are set out, over their grout."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shapely import GeometryCollection
from shapely.affinity import translate

from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.splashbacks import PlacedSplashback, polygons
from countersunk.viewer.scene.fixtures import extruded, facts
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import PALETTE
from countersunk.viewer.scene.surface import Surface, faceted, is_mirrored, placing, shape_surface

BEHIND = 1.0
"""Grout lies so far behind the faces of tiles, mm."""


def tiles_by_part(kitchen: Kitchen) -> Mapping[str, Surface]:
    """What is seen of each tiled piece, by its id: its tiles with open joints."""
    return {part.id: _tiles(s, part) for s in kitchen.splashbacks if s.is_tiled for part in s.parts}


def grout_items(kitchen: Kitchen) -> Iterator[Item]:
    """What lies in the joints of each tiled piece."""
    for s in (s for s in kitchen.splashbacks if s.is_tiled):
        for part in s.parts:
            body = shape_surface(part.outline, part.thickness - BEHIND, None, is_mirrored(part.pose))
            yield Item(
                f"{part.id}.grout", "grout", part.layer.value, f"grout of {part.called}", body, placing(part.pose),
                PALETTE["grout"], facts(s.wall),
            )  # fmt: skip


def _tiles(splashback: PlacedSplashback, part: Part) -> Surface:
    """In the part's frame."""
    area = splashback.on_wall(part)
    x, z, _, _ = area.bounds
    seen = [p for t in splashback.tiles for p in polygons(t.shape.intersection(area))]
    shapes = GeometryCollection([translate(p, -x, -z) for p in seen])
    return faceted(extruded(shapes, 0.0, part.thickness), is_mirrored(part.pose))
