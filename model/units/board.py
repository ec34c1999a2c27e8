"""Boards and bought pieces as boxes in a unit's frame, turned into parts."""

from __future__ import annotations

import math
from typing import NamedTuple

from shapely import Polygon
from shapely import box as rectangle

from model.frames import Vector
from model.layout import PlacedUnit
from model.part import Layer, Part

AXES: dict[str, Vector] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}


class Block(NamedTuple):
    """A box in the unit's frame, mm: from and to along x (right), y (to the front) and z (up)."""

    x0: float
    x1: float
    y0: float
    y1: float
    z0: float
    z1: float

    def extent(self, axis: str) -> float:
        """Its size along ``x``, ``y`` or ``z``."""
        i = "xyz".index(axis) * 2
        return self[i + 1] - self[i]


def board(
    unit: PlacedUnit,
    kind: str,
    block: Block,
    axes: str,
    material: str,
    *,
    mark: str = "",
    layer: Layer = Layer.CARCASS,
    banded: tuple[str, ...] = (),
    grain: bool = False,
) -> Part:
    """A board that fills ``block``. ``axes`` names what its length, depth and thickness lie along in the unit.

    A side panel is ``zyx``: its length stands up, its depth goes to the front, its thickness to the right.
    """
    along, across, through = tuple(axes)
    pose = unit.frame.moved(block.x0, block.y0, block.z0).reaxed(AXES[along], AXES[across], AXES[through])
    outline = rectangle(0.0, 0.0, block.extent(along), block.extent(across))
    return Part(
        id=f"{unit.name}.{kind}{mark and '.'}{mark}",
        kind=kind,
        layer=layer,
        material=material,
        outline=outline,
        thickness=block.extent(through),
        pose=pose,
        owner=unit.name,
        banded=banded,
        grain=grain,
    )


def leg(unit: PlacedUnit, mark: str, x: float, y: float) -> Part:
    """A plastic leg, 40 across, from the floor to the carcass, with its axis at x, y of the unit."""
    sides = 16
    turns = [2 * math.pi * i / sides for i in range(sides)]
    outline = Polygon([(20 * math.cos(t), 20 * math.sin(t)) for t in turns])
    return Part(
        id=f"{unit.name}.leg.{mark}",
        kind="leg",
        layer=Layer.HARDWARE,
        material=f"leg.{unit.family.legs:g}",
        outline=outline,
        thickness=unit.family.legs,
        pose=unit.frame.moved(x, y),
        owner=unit.name,
    )


def handle(unit: PlacedUnit, mark: str, x: float, z: float, upright: bool) -> Part:
    """A bar handle, 160 long, on the front's face; its middle at x, z of the unit."""
    half_x, half_z = (6.0, 80.0) if upright else (80.0, 6.0)
    face = unit.family.depth + unit.boards.front.thickness
    block = Block(x - half_x, x + half_x, face, face + 28.0, z - half_z, z + half_z)
    axes = "zxy" if upright else "xzy"
    return board(unit, "handle", block, axes, "handle.bar", mark=mark, layer=Layer.HARDWARE)


REVEAL = 1.5
"""Half the gap between two fronts (common practice, no source)."""
