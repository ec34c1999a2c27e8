"""Panels that stand alone: fillers, end panels, the back of an island, and the plinth along a run."""

from __future__ import annotations

from itertools import groupby

from model.layout import PlacedRun, PlacedUnit
from model.part import Layer, Part
from model.units.board import Block, board

PLINTH_SETBACK = 50.0
PLINTH_GAP = 3.0
"""Between plinth and carcass, so that an uneven floor does not lift the units (common practice, no source)."""


def filler(unit: PlacedUnit) -> list[Part]:
    """A strip in the plane of the fronts."""
    family = unit.family
    block = Block(
        0.0, unit.width, family.depth, family.depth + unit.boards.front.thickness, family.base, family.top
    )
    sides = ("front", "back", "left", "right")
    return [
        board(unit, "filler", block, "zxy", unit.boards.front.code, layer=Layer.FRONTS, banded=sides, grain=True)
    ]


def end_panel(unit: PlacedUnit) -> list[Part]:
    """A panel from the floor to the top, flush with the fronts."""
    family = unit.family
    block = Block(0.0, unit.width, 0.0, family.depth + unit.boards.front.thickness, 0.0, family.top)
    return [
        board(
            unit,
            "panel",
            block,
            "zyx",
            unit.boards.front.code,
            layer=Layer.FRONTS,
            banded=("front", "left", "right"),
            grain=True,
        )
    ]


def plinths(run: PlacedRun) -> list[Part]:
    """One plinth before every stretch of units on legs; end panels and free-standing appliances part them."""
    if run.level != "floor":
        return []
    stretches = [list(group) for on_legs, group in groupby(run.units, _has_plinth) if on_legs]
    return [_plinth(stretch) for stretch in stretches]


def island_back(run: PlacedRun) -> list[Part]:
    """The panel that closes an island behind its units, floor to top."""
    if run.wall is not None:
        return []
    first, last = run.units[0], run.units[-1]
    stuff = first.boards.front
    block = Block(0.0, last.right - first.x, -stuff.thickness, 0.0, 0.0, first.family.top)
    ends = ("left", "right")
    panel = board(
        first, "panel", block, "xzy", stuff.code, mark="back", layer=Layer.FRONTS, banded=ends, grain=True
    )
    return [panel]


def _has_plinth(unit: PlacedUnit) -> bool:
    family = unit.family
    free_standing = family.construction == "appliance" and not family.front
    return not free_standing and family.construction != "panel"


def _plinth(stretch: list[PlacedUnit]) -> Part:
    """Named after the first unit behind it."""
    first, last = stretch[0], stretch[-1]
    depth, legs = first.family.depth, first.family.legs
    y1 = depth - PLINTH_SETBACK + first.boards.front.thickness
    block = Block(0.0, last.right - first.x, y1 - first.boards.front.thickness, y1, 0.0, legs - PLINTH_GAP)
    return board(
        first, "plinth", block, "xzy", first.boards.front.code, layer=Layer.FRONTS, banded=("front", "back")
    )
