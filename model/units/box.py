"""Boxes: a carcass with whatever its bays hold, the blind corner, and the base unit for an oven."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from countersunk.model.geometry.identity import Component, Position, Role, Which
from countersunk.model.geometry.part import Part
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.appliance import (
    boiler_in,
    built_in_fridge,
    built_in_hood,
    built_in_machine,
    built_in_microwave,
    built_in_oven,
    ceramic_sink,
    oven_in,
)
from countersunk.model.units.board import Block, board, front
from countersunk.model.units.carcass import PlacedBay, carcass, legs, openings, shelves, sides
from countersunk.model.units.fronts import (
    bins,
    blank,
    doors,
    drawer,
    glazed,
    leaves,
    plates,
    pull_out,
    rack,
    tambour,
)
from countersunk.model.units.makers import makes

UNDER_OVEN = Which(component=Component.OVEN)
"""Of shelves, that which carries an oven."""

FILLINGS: dict[str, Callable[[PlacedUnit, PlacedBay], list[Part]]] = {
    "doors": doors,
    "glazed": glazed,
    "open": shelves,
    "drawer": drawer,
    "pull-out": pull_out,
    "rack": rack,
    "blank": blank,
    "oven": built_in_oven,
    "microwave": built_in_microwave,
    "fridge": built_in_fridge,
    "warming-drawer": built_in_oven,
    "washer": built_in_machine,
    "dryer": built_in_machine,
    "hood": built_in_hood,
    "bins": bins,
    "plates": plates,
    "tambour": tambour,
}


@makes("box", "drawers")
def box(unit: PlacedUnit) -> list[Part]:
    """A carcass with what its bays hold."""
    return [*carcass(unit), *(part for o in openings(unit) for part in FILLINGS[o.bay.holds](unit, o))]


@makes("blind-corner")
def blind_corner(unit: PlacedUnit) -> list[Part]:
    """A carcass that reaches into a corner: a door at the open end, a fixed front before the blind part."""
    x0, x1 = unit.opening
    (whole,) = openings(unit)
    blind = (x1, unit.width) if unit.hand == "right" else (0.0, x0)
    fixed = front(unit, Role.BLIND_FRONT, *blind, whole.foot, whole.head, "zxy")
    return [*carcass(unit), *shelves(unit, whole), fixed, *leaves(unit, whole, x0, x1)]


@makes("oven")
def oven_housing(unit: PlacedUnit) -> list[Part]:
    """A base unit open at the back and the top, with a shelf that carries an oven and a blank front below it.

    What fills the carcass stands on its bottom, without either.
    """
    family, t, how = unit.family, unit.boards.carcass.thickness, unit.boards.method
    floor = max(family.top - (family.niche or 0.0), family.base + t)
    inside = (t, unit.width - t)
    material = unit.boards.carcass.code
    low, parts = floor - t > family.base + t, list[Part]()
    if low:
        shelf = Block(*inside, 0.0, family.depth, floor - t, floor)
        which = UNDER_OVEN
        parts.append(board(unit, Role.SHELF, shelf, "xyz", material, which=which, banded=how.bands.shelf))
        parts.append(front(unit, Role.BLANK_FRONT, 0.0, unit.width, family.base, floor, "xzy"))
    rail = Block(*inside, 0.0, t, family.top - how.rail, family.top)
    return [
        *sides(unit, 0.0, grooved=False),
        board(unit, Role.BOTTOM, Block(*inside, 0.0, family.depth, family.base, family.base + t), "xyz", material),
        *parts[:1],
        board(unit, Role.RAIL, rail, "xzy", material, which=Which(at=(Position.BACK,))),
        *legs(unit),
        *parts[1:],
        *oven_in(unit, floor, family.top - floor, family.appliance or family.kind.built_for),
    ]


BOILER = (400.0, 300.0, 700.0)
"""Width, depth and height of a boiler for a housing, mm (common practice, no source)."""


@makes("boiler-housing")
def boiler_housing(unit: PlacedUnit) -> list[Part]:
    """Two sides with a door before a boiler; open above, below and behind, for its air, its pipes and its flue."""
    family, t, how = unit.family, unit.boards.carcass.thickness, unit.boards.method
    rails = {Position.UPPER: family.top - how.rail, Position.LOWER: family.base}
    (whole,) = openings(unit)
    return [
        *sides(unit, 0.0, grooved=False),
        *(board(unit, Role.RAIL, Block(t, unit.width - t, 0.0, t, z, z + how.rail), "xzy",
                unit.boards.carcass.code, which=Which(at=(at,))) for at, z in rails.items()),
        *leaves(unit, whole, 0.0, unit.width),
        *boiler_in(unit, BOILER),
    ]  # fmt: skip


CERAMIC = 255.0
"""Height of a ceramic sink, mm (common practice, no source)."""


@makes("front-sink")
def front_sink(unit: PlacedUnit) -> list[Part]:
    """A carcass cut away under a ceramic sink that lies on its sides, with doors as high as what is left."""
    low = unit.family.top - CERAMIC
    cut = replace(unit, family=unit.family.model_copy(update={"height": low - unit.family.base}))
    (whole,) = openings(cut)
    return [*carcass(cut), *leaves(cut, whole, 0.0, unit.width), *ceramic_sink(unit, low)]
