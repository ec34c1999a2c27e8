"""Panels that stand alone: fillers, end panels, and the back of an island."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from shapely import Polygon

from countersunk.model.geometry.identity import ISLAND_BACK, Role, Which
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import rounded_up
from countersunk.model.units.board import ALL_ROUND, Block, board
from countersunk.model.units.makers import makes


@makes("filler")
def filler(unit: PlacedUnit) -> list[Part]:
    """A strip in the plane of the fronts."""
    family, stuff = unit.family, unit.boards.front
    block = Block(0.0, unit.width, family.depth, unit.face, family.base, family.top)
    return [board(unit, Role.FILLER, block, "zxy", stuff.code, layer=Layer.FRONTS, banded=ALL_ROUND, grain=True)]


@makes("panel")
def end_panel(unit: PlacedUnit) -> list[Part]:
    """A panel flush with the fronts, from the floor to the top; one between wall units is as high as these.

    At an end of its run it goes on to the wall, so that nobody looks in behind the units.
    """
    family, sides = unit.family, ("front", "left", "right")
    low = 0.0 if family.level == "floor" else family.base
    block = Block(0.0, unit.width, -unit.reach, unit.face, low, family.top)
    code = unit.boards.front.code
    return [board(unit, Role.PANEL, block, "zyx", code, layer=Layer.FRONTS, banded=sides, grain=True)]


def arms(run: PlacedRun) -> list[Part]:
    """The arms under the back of an island's or a peninsula's top, each a leg and a foot of one flat bar."""
    arm, closed = run.arm, [unit for unit in run.units if not unit.family.kind.has_knees]
    if arm is None or not closed:
        return []
    first, t, reach, leg = closed[0], arm.thickness, arm.reach, arm.leg
    start, end = arm.from_end, closed[-1].right - first.x - arm.from_end
    gaps = max(1, rounded_up((end - start) / arm.every))
    places = [start + (end - start) * i / gaps for i in range(gaps + 1)] if end > start else [(start + end) / 2]
    section = Polygon([(0, leg - t), (reach - t, leg - t), (reach - t, 0), (reach, 0), (reach, leg), (0, leg)])
    half = arm.width / 2
    y, z = -first.boards.front.thickness - reach, first.family.top - leg
    return [
        board(first, Role.ARM, Block(x - half, x + half, y, y + reach, z, z + leg), "xyz", arm.code,
              which=Which(numbers=(i,)), layer=Layer.HARDWARE, section=section)
        for i, x in enumerate(places, start=1)
    ]  # fmt: skip


def island_back(run: PlacedRun) -> list[Part]:
    """The panel that closes an island behind its units, floor to top; room for knees at its ends stays open.

    One that is longer than a sheet is parted where units meet. What hangs from the ceiling is closed as high as its
    units are, between hoods by a panel for each stretch.
    """
    if run.hangs:
        return [part for units in _alike(run) for part in _backs_of(units, units[0].family.base)]
    closed = [unit for unit in run.units if not unit.family.kind.has_knees]
    if run.wall is not None or not closed:
        return []
    return _backs_of(closed, 0.0)


def _alike(run: PlacedRun) -> Iterator[list[PlacedUnit]]:
    """Neighbours of a row that hang between the same heights, hoods left out."""
    heights = groupby(run.units, lambda u: not u.family.kind.is_bought and (u.family.base, u.family.top))
    return (list(units) for alike, units in heights if alike)


def _backs_of(units: Sequence[PlacedUnit], low: float) -> list[Part]:
    """Panels behind units from a height to their top, as few as sheets allow, banded where the row ends."""
    longest = units[0].boards.front.sheet[0] - SQUARED
    spans = _spans(units, longest)
    return [
        _back_of(span, low, tuple(side for side, at in (("left", 0), ("right", len(spans) - 1)) if i == at))
        for i, span in enumerate(spans)
    ]


SQUARED = 40.0
"""What squaring takes off a sheet's length, mm: common practice, no source."""


def _spans(units: Sequence[PlacedUnit], longest: float) -> list[list[PlacedUnit]]:
    """Neighbours that reach no further together than ``longest``, mm; one that does alone is by itself."""
    spans = [[units[0]]]
    for unit in units[1:]:
        if unit.right - spans[-1][0].x > longest:
            spans.append([])
        spans[-1].append(unit)
    return spans


def _back_of(units: Sequence[PlacedUnit], low: float, banded: tuple[str, ...]) -> Part:
    first, last = units[0], units[-1]
    stuff = first.boards.front
    block = Block(0.0, last.right - first.x, -stuff.thickness, 0.0, low, first.family.top)
    return board(
        first,
        Role.PANEL,
        block,
        "xzy",
        stuff.code,
        which=ISLAND_BACK,
        layer=Layer.FRONTS,
        banded=banded,
        grain=True,
    )
