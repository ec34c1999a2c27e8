"""Boards and bought pieces as boxes and plane shapes in a unit's frame, turned into parts."""

from __future__ import annotations

import math
from typing import NamedTuple

from shapely import Polygon
from shapely import box as rectangle
from shapely.affinity import translate

from countersunk.model.catalogue.catalogue import Board
from countersunk.model.geometry.frames import Pose, Vector
from countersunk.model.geometry.identity import ONLY, Hinge, PartKey, Role, Which
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.layout.placing import PlacedUnit

AXES: dict[str, Vector] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}

ALL_ROUND = ("front", "back", "left", "right")
"""The edges of a front: each gets band."""


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
    role: Role,
    block: Block,
    axes: str,
    material: str,
    *,
    which: Which = ONLY,
    layer: Layer = Layer.CARCASS,
    banded: tuple[str, ...] = (),
    grain: bool = False,
    section: Polygon | None = None,
    hinge: Hinge | None = None,
) -> Part:
    """A board that fills ``block``. ``axes`` names what its length, depth and thickness lie along in the unit.

    A side panel is ``zyx``: its length stands up, its depth goes to the front, its thickness to the right.
    """
    along, across, through = tuple(axes)
    pose = unit.frame.moved(block.x0, block.y0, block.z0).reaxed(AXES[along], AXES[across], AXES[through])
    outline = rectangle(0.0, 0.0, block.extent(along), block.extent(across))
    return Part(
        key=PartKey(unit.key, role, which),
        called=unit.name,
        layer=layer,
        material=material,
        outline=outline,
        thickness=block.extent(through),
        pose=pose,
        section=section,
        banded=banded,
        grain=grain or _has_grain(unit, material),
        hinge=hinge,
    )


def flat(
    unit: PlacedUnit, role: Role, plan: Polygon, z: float, stuff: Board, *,
    which: Which = ONLY, banded: tuple[str, ...] = (),
) -> Part:  # fmt: skip
    """A board that lies flat with its underside at ``z``; ``plan`` is its shape in the unit's frame."""
    x0, y0, *_ = plan.bounds
    return Part(
        key=PartKey(unit.key, role, which),
        called=unit.name,
        layer=Layer.CARCASS,
        material=stuff.code,
        outline=translate(plan, -x0, -y0),
        thickness=stuff.thickness,
        pose=unit.frame.moved(x0, y0, z),
        banded=banded,
        grain=_has_grain(unit, stuff.code),
    )


def _has_grain(unit: PlacedUnit, material: str) -> bool:
    b = unit.boards
    return any(stuff.grain and stuff.code == material for stuff in (b.carcass, b.back, b.drawer, b.front))


def front(
    unit: PlacedUnit, role: Role, x0: float, x1: float, z0: float, z1: float, axes: str, *,
    which: Which = ONLY, hinge: Hinge | None = None,
) -> Part:  # fmt: skip
    """A front before the carcass with its reveal all round, or within its face frame; edge band on all four edges.

    In a decor with a figure it is sawn upright, whatever ``axes`` says, so that drawers match doors.
    """
    y0, stuff, gap = unit.family.depth, unit.boards.front, reveal(unit)
    (x0, x1) = within_frame(unit, x0, x1)
    block = Block(x0 + gap, x1 - gap, y0, y0 + stuff.thickness, z0 + gap, z1 - gap)
    return board(
        unit, role, block, "zxy" if unit.figured else axes, stuff.code, which=which, layer=Layer.FRONTS,
        banded=ALL_ROUND, grain=True, hinge=hinge,
    )  # fmt: skip


def leg(unit: PlacedUnit, which: Which, x: float, y: float) -> Part:
    """A plastic leg, 40 across, from the floor to the carcass, with its axis at x, y of the unit."""
    return Part(
        key=PartKey(unit.key, Role.LEG, which),
        called=unit.name,
        layer=Layer.HARDWARE,
        material=f"leg.{unit.family.legs:g}",
        outline=disc(20.0),
        thickness=unit.family.legs,
        pose=unit.frame.moved(x, y),
    )


def disc(radius: float, hole: float = 0.0) -> Polygon:
    """A circle about the origin, as a polygon of 16 sides for what is small, more for what is large; mm."""
    sides = 16 if radius < 50 else 48
    return Polygon(_ring(radius, sides), [_ring(hole, sides)] if hole else [])


def _ring(radius: float, sides: int) -> list[tuple[float, float]]:
    turns = [2 * math.pi * i / sides for i in range(sides)]
    return [(radius * math.cos(t), radius * math.sin(t)) for t in turns]


def reveal(unit: PlacedUnit) -> float:
    """What stays free round a front, mm."""
    return unit.face_frame.gap if unit.face_frame else unit.boards.method.reveal


def within_frame(unit: PlacedUnit, x0: float, x1: float) -> tuple[float, float]:
    """From where to where a front goes that would fill ``x0`` to ``x1`` without a face frame."""
    stile = unit.face_frame.stile if unit.face_frame else 0.0
    return max(x0, stile), min(x1, unit.width - stile)


def turned_block(unit: PlacedUnit, block: Block) -> Block:
    """A block given for a unit of the right hand as the unit has it: mirrored about its middle for the left."""
    if unit.hand == "right":
        return block
    return block._replace(x0=unit.width - block.x1, x1=unit.width - block.x0)


def upright_pose(unit: PlacedUnit, start: tuple[float, float], end: tuple[float, float], z: float) -> Pose:
    """The frame of a front that stands in plan from ``start`` to ``end``, both of the unit's own frame.

    Its length goes up, its depth along the line, its thickness to the left of the line as seen from above the
    unit's frame with y to the top.
    """
    (x0, y0), (x1, y1) = start, end
    length = math.hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    return unit.frame.moved(x0, y0, z).reaxed(AXES["z"], (ux, uy, 0.0), (-uy, ux, 0.0))
