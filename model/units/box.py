"""Carcasses: the box with doors, the box with drawers, the blind corner and the housing for an oven.

The back lies behind the other boards over the whole carcass; bottom, rails, top and shelves stand between the
sides. So the boards of a carcass fill no place twice, and no groove is needed.
"""

from __future__ import annotations

from model.layout import PlacedUnit
from model.part import Layer, Part
from model.units.board import REVEAL, Block, board, handle, leg

RAIL = 100.0
SHELF_SETBACK = 20.0
SHELF_PLAY = 1.0
DRAWER_DEPTH = 500.0
RUNNER_GAP = 13.0
"""Room that a runner takes on each side of a drawer (common practice, no source)."""
DRAWER_MARGIN = 35.0
WIDEST_DOOR = 600.0
"""Fronts wider than this are made as two doors (common practice, no source)."""


def box(unit: PlacedUnit) -> list[Part]:
    """A carcass with shelves and one or two doors."""
    doors = _doors(unit, 0.0, unit.width) if unit.family.doors else []
    return [*_carcass(unit), *_shelves(unit), *doors]


def blind_corner(unit: PlacedUnit) -> list[Part]:
    """A carcass that reaches into a corner: a door at the open end, a fixed front before the blind part."""
    door = unit.family.door_width or unit.width / 2
    right = unit.hand == "right"
    opening = (0.0, door) if right else (unit.width - door, unit.width)
    blind = (door, unit.width) if right else (0.0, unit.width - door)
    fixed = _front(unit, "front.blind", *blind, unit.family.base, unit.family.top, "zxy")
    return [*_carcass(unit), *_shelves(unit), fixed, *_doors(unit, *opening)]


def drawers(unit: PlacedUnit) -> list[Part]:
    """A carcass with drawers one above the other, heights of the fronts from the top as the family says."""
    parts, top = _carcass(unit), unit.family.top
    for i, height in enumerate(unit.family.drawers, start=1):
        parts += _drawer(unit, str(i), top - height, top)
        top -= height
    return parts


def oven_housing(unit: PlacedUnit) -> list[Part]:
    """A base unit open at the back and the top, with a shelf that carries an oven and a blank front below it."""
    family, t = unit.family, unit.boards.carcass.thickness
    floor = family.top - (family.niche or 0.0)
    inside = (t, unit.width - t)
    material = unit.boards.carcass.code
    shelf = Block(*inside, 0.0, family.depth, floor - t, floor)
    rail = Block(*inside, 0.0, t, family.top - RAIL, family.top)
    return [
        *_sides(unit, 0.0),
        board(unit, "bottom", Block(*inside, 0.0, family.depth, family.base, family.base + t), "xyz", material),
        board(unit, "shelf", shelf, "xyz", material, mark="oven", banded=("front",)),
        board(unit, "rail", rail, "xzy", material, mark="back"),
        *_legs(unit),
        _front(unit, "front.blank", 0.0, unit.width, family.base, floor, "xzy"),
        *_oven(unit, floor),
    ]


def _oven(unit: PlacedUnit, floor: float) -> list[Part]:
    middle, depth, height = unit.width / 2, unit.family.depth, (unit.family.niche or 0.0) - 4.0
    body = Block(middle - 278, middle + 278, 25.0, depth, floor, floor + height - 10)
    face = Block(middle - 297.5, middle + 297.5, depth, depth + 20.0, floor + 1, floor + height)
    grip = Block(middle - 220, middle + 220, depth + 20, depth + 50, floor + height - 90, floor + height - 74)
    code = unit.family.appliance or "oven"
    return [
        board(unit, "appliance", body, "xyz", code, mark="body", layer=Layer.APPLIANCES),
        board(unit, "appliance", face, "xzy", f"{code}.face", mark="face", layer=Layer.APPLIANCES),
        board(unit, "appliance", grip, "xzy", f"{code}.grip", mark="grip", layer=Layer.APPLIANCES),
    ]


def _carcass(unit: PlacedUnit) -> list[Part]:
    """Sides, bottom, rails or top, back and legs."""
    family, material = unit.family, unit.boards.carcass.code
    t, back = unit.boards.carcass.thickness, unit.boards.back
    inside = (t, unit.width - t)
    bottom = Block(*inside, back.thickness, family.depth, family.base, family.base + t)
    rear = Block(0.0, unit.width, 0.0, back.thickness, family.base, family.top)
    return [
        *_sides(unit, back.thickness),
        board(unit, "bottom", bottom, "xyz", material, banded=("front",)),
        *_rails(unit, t, back.thickness, material),
        board(unit, "back", rear, "zxy", back.code),
        *_legs(unit),
    ]


def _sides(unit: PlacedUnit, y0: float) -> list[Part]:
    family, stuff = unit.family, unit.boards.carcass
    left = Block(0.0, stuff.thickness, y0, family.depth, family.base, family.top)
    right = left._replace(x0=unit.width - stuff.thickness, x1=unit.width)
    return [
        board(unit, "side", left, "zyx", stuff.code, mark="left", banded=("front",)),
        board(unit, "side", right, "zyx", stuff.code, mark="right", banded=("front",)),
    ]


def _rails(unit: PlacedUnit, t: float, back: float, material: str) -> list[Part]:
    """Two rails lying flat, or standing on edge where a sink or hob hangs between them; else a whole top."""
    x0, x1, depth, top = t, unit.width - t, unit.family.depth, unit.family.top
    if unit.family.rails == "none":
        whole = Block(x0, x1, back, depth, top - t, top)
        return [board(unit, "top", whole, "xyz", material, banded=("front",))]
    flat = unit.family.rails == "flat"
    deep, high = (RAIL, t) if flat else (t, RAIL)
    axes = "xyz" if flat else "xzy"
    front = Block(x0, x1, depth - deep, depth, top - high, top)
    rear = Block(x0, x1, back, back + deep, top - high, top)
    return [
        board(unit, "rail", front, axes, material, mark="front", banded=("front",)),
        board(unit, "rail", rear, axes, material, mark="back"),
    ]


def _shelves(unit: PlacedUnit) -> list[Part]:
    family, stuff, back = unit.family, unit.boards.carcass, unit.boards.back
    low, high = family.base + stuff.thickness, family.top - stuff.thickness
    step = (high - low - family.shelves * stuff.thickness) / (family.shelves + 1)
    x0, x1 = stuff.thickness + SHELF_PLAY, unit.width - stuff.thickness - SHELF_PLAY
    y0, y1 = back.thickness + SHELF_PLAY, family.depth - SHELF_SETBACK
    heights = [low + step + i * (step + stuff.thickness) for i in range(family.shelves)]
    return [
        board(
            unit,
            "shelf",
            Block(x0, x1, y0, y1, z, z + stuff.thickness),
            "xyz",
            stuff.code,
            mark=str(i),
            banded=("front",),
        )
        for i, z in enumerate(heights, start=1)
    ]


def _legs(unit: PlacedUnit) -> list[Part]:
    """Four legs clear of the plinth, and none under units that hang on the wall."""
    if unit.family.level == "upper":
        return []
    xs = {"left": 50.0, "right": unit.width - 50.0}
    ys = {"back": 60.0, "front": unit.family.depth - 100.0}
    return [leg(unit, f"{ky}.{kx}", x, y) for ky, y in ys.items() for kx, x in xs.items()]


def _front(unit: PlacedUnit, kind: str, x0: float, x1: float, z0: float, z1: float, axes: str) -> Part:
    """A front with its reveal all round; edge band on all four edges."""
    y0 = unit.family.depth
    block = Block(x0 + REVEAL, x1 - REVEAL, y0, y0 + unit.boards.front.thickness, z0 + REVEAL, z1 - REVEAL)
    all_round = ("front", "back", "left", "right")
    return board(unit, kind, block, axes, unit.boards.front.code, layer=Layer.FRONTS, banded=all_round, grain=True)


def _doors(unit: PlacedUnit, x0: float, x1: float) -> list[Part]:
    """One door hinged on the unit's hand, or two that meet in the middle, with handles away from the hinges."""
    middle = (x0 + x1) / 2
    if x1 - x0 > WIDEST_DOOR:
        return [*_door(unit, "left", x0, middle, "left"), *_door(unit, "right", middle, x1, "right")]
    return _door(unit, "", x0, x1, "left" if unit.hand == "left" else "right")


def _door(unit: PlacedUnit, mark: str, x0: float, x1: float, hinge: str) -> list[Part]:
    family = unit.family
    x = x1 - 40.0 if hinge == "left" else x0 + 40.0
    low, high = family.base + 140.0, family.top - 140.0
    z = low if family.level == "upper" else min(high, 1_050.0)
    kind = f"door.{mark}" if mark else "door"
    return [
        _front(unit, kind, x0, x1, family.base, family.top, "zxy"),
        handle(unit, kind, x, z, upright=True),
    ]


def _drawer(unit: PlacedUnit, mark: str, z0: float, z1: float) -> list[Part]:
    """A drawer: front with handle, and a box of five boards between the runners."""
    stuff, t = unit.boards.drawer, unit.boards.carcass.thickness
    b, depth = stuff.thickness, unit.family.depth
    x0, x1 = t + RUNNER_GAP, unit.width - t - RUNNER_GAP
    y0, low, high = depth - DRAWER_DEPTH, z0 + DRAWER_MARGIN, z1 - DRAWER_MARGIN
    boards = {
        "left": (Block(x0, x0 + b, y0, depth, low, high), "yzx"),
        "right": (Block(x1 - b, x1, y0, depth, low, high), "yzx"),
        "front": (Block(x0 + b, x1 - b, depth - b, depth, low, high), "xzy"),
        "back": (Block(x0 + b, x1 - b, y0, y0 + b, low, high), "xzy"),
        "bottom": (Block(x0 + b, x1 - b, y0 + b, depth - b, low, low + b), "xyz"),
    }
    upright = ("front",)  # the bottom's edges are hidden between the other four
    sides = [
        board(unit, "drawer", block, axes, stuff.code, mark=f"{mark}.{name}", banded=upright * (name != "bottom"))
        for name, (block, axes) in boards.items()
    ]
    front = _front(unit, f"drawer-front.{mark}", 0.0, unit.width, z0, z1, "xzy")
    return [front, *sides, handle(unit, f"drawer.{mark}", unit.width / 2, z1 - 45.0, upright=False)]
