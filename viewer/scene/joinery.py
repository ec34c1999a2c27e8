"""Joinery: the bolts and biscuits that hold a join, to be seen where its lengths are shown apart.

They sit inside the tops, so no picture but that one shows them; they are counted in the takeoff from the same
stations (`model.tops.stations`). Frame of a piece: x along the joint, y across it, z up.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import LineString, Point, Polygon
from shapely import box as rectangle
from shapely.affinity import scale

from countersunk.model.geometry.frames import Pose, Vector
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.joins import BOLT_CHANNEL, Join
from countersunk.model.tops.slots import BISCUIT_THICK, BOLT_DEPTH
from countersunk.viewer.scene.extras import metres, ways
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.materials import PALETTE
from countersunk.viewer.scene.surface import placing, shape_surface

LAYER = "joins"
BISCUIT = scale(Point(0.0, 0.0).buffer(1.0, 16), 28.0, 11.5)
"""No. 20, 56 x 23 (from memory)."""
ROD, PLATE = 8.0, (36.0, 5.0)
"""Thickness of a bolt's rod, and of the plates that draw it tight, mm (common practice, no source)."""


def joinery_items(kitchen: Kitchen) -> Iterator[Item]:
    """Every bolt and biscuit of every join; a butt or a bonded one has none."""
    found = ways(kitchen)
    for join in kitchen.joins:
        for i, station in enumerate(join.stations):
            yield _item(join, "bolt" if i % 2 else "biscuit", i // 2 + 1, station, kitchen, found[join.key])


def _item(join: Join, kind: str, number: int, station: float, kitchen: Kitchen, way: Vector) -> Item:
    outline, thickness, look = PIECES[kind]
    top = kitchen.length(join.female).part
    rise = BOLT_DEPTH / 2 if kind == "bolt" else top.thickness / 2
    pose = _pose(join.straight_side, station, top.pose.origin[2] + rise - thickness / 2)
    return Item(
        id=f"{join.key}.{kind}.{number}",
        kind=kind,
        layer=LAYER,
        label=f"{NAMES[kind]} of join {join.id}",
        surface=shape_surface(outline, thickness),
        placing=placing(pose),
        finish=PALETTE[look],
        more={"owner": join.id, "apart": metres(way)},
    )


def _pose(side: LineString, station: float, z: float) -> Pose:
    at = side.interpolate(station)
    (ax, ay), (bx, by) = side.coords
    ux, uy = (bx - ax) / side.length, (by - ay) / side.length
    return Pose((at.x, at.y, z), (ux, uy, 0.0), (-uy, ux, 0.0), (0.0, 0.0, 1.0))


def _bolt() -> Polygon:
    """A rod across the joint, from pocket to pocket, with a plate at either end."""
    (_, reach), (wide, thick) = BOLT_CHANNEL, PLATE
    half = reach - thick
    plates = [rectangle(-wide / 2, y, wide / 2, y + thick) for y in (-half, half - thick)]
    rod = rectangle(-ROD / 2, -reach, ROD / 2, reach)
    return one_polygon(rod.union(plates[0]).union(plates[1]))


PIECES = {"bolt": (_bolt(), ROD, "steel"), "biscuit": (BISCUIT, BISCUIT_THICK, "beech")}
"""Outline, thickness and look."""
NAMES = {"bolt": "connecting bolt", "biscuit": "biscuit"}
