"""Boxes: a carcass with whatever its bays hold, the blind corner, and the base unit for an oven."""

from __future__ import annotations

from collections.abc import Callable

from countersunk.model.geometry.identity import Component, Position, Role, Which
from countersunk.model.geometry.part import Part
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.appliance import built_in_fridge, built_in_microwave, built_in_oven, oven_in
from countersunk.model.units.board import Block, board, front
from countersunk.model.units.carcass import PlacedBay, carcass, legs, openings, shelves, sides
from countersunk.model.units.fronts import blank, doors, drawer, glazed, leaves, pull_out, rack
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
}


@makes("box", "drawers")
def box(unit: PlacedUnit) -> list[Part]:
    """A carcass with what its bays hold."""
    return [*carcass(unit), *(part for o in openings(unit) for part in FILLINGS[o.bay.holds](unit, o))]


@makes("blind-corner")
def blind_corner(unit: PlacedUnit) -> list[Part]:
    """A carcass that reaches into a corner: a door at the open end, a fixed front before the blind part."""
    x0, x1 = unit.opening
    blind = (x1, unit.width) if unit.hand == "right" else (0.0, x0)
    fixed = front(unit, Role.BLIND_FRONT, *blind, unit.family.base, unit.family.top, "zxy")
    (whole,) = openings(unit)
    return [*carcass(unit), *shelves(unit, whole), fixed, *leaves(unit, whole, x0, x1)]


@makes("oven")
def oven_housing(unit: PlacedUnit) -> list[Part]:
    """A base unit open at the back and the top, with a shelf that carries an oven and a blank front below it."""
    family, t, how = unit.family, unit.boards.carcass.thickness, unit.boards.method
    floor = family.top - (family.niche or 0.0)
    inside = (t, unit.width - t)
    material = unit.boards.carcass.code
    shelf = Block(*inside, 0.0, family.depth, floor - t, floor)
    rail = Block(*inside, 0.0, t, family.top - how.rail, family.top)
    return [
        *sides(unit, 0.0, grooved=False),
        board(unit, Role.BOTTOM, Block(*inside, 0.0, family.depth, family.base, family.base + t), "xyz", material),
        board(unit, Role.SHELF, shelf, "xyz", material, which=UNDER_OVEN, banded=how.bands.shelf),
        board(unit, Role.RAIL, rail, "xzy", material, which=Which(at=(Position.BACK,))),
        *legs(unit),
        front(unit, Role.BLANK_FRONT, 0.0, unit.width, family.base, floor, "xzy"),
        *oven_in(unit, floor, family.niche or 0.0, family.appliance or family.kind.built_for),
    ]
