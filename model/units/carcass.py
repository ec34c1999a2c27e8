"""The carcass: sides, bottom, top or rails, back, the shelves that part its bays, loose shelves, legs.

The back lies on the rear edges of the other boards, or stands in a groove of sides, bottom and top; bottom, rails,
top and shelves stand between the sides. So the boards of a carcass fill no place twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from shapely import Polygon

from countersunk.model.catalogue.method import Bay, heights
from countersunk.model.geometry.identity import ONLY, Position, Role, Which
from countersunk.model.geometry.part import Part
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import Block, board, leg


@dataclass(frozen=True)
class PlacedBay:
    """A bay in its place: ``z0`` to ``z1`` is what its fronts cover, ``low`` to ``high`` what is free within, mm.

    ``number`` tells it from others of the unit in the keys of parts; a bay that is alone has 0.
    """

    bay: Bay
    number: int
    z0: float
    z1: float
    low: float
    high: float


def openings(unit: PlacedUnit) -> tuple[PlacedBay, ...]:
    """The bays of a unit from the top."""
    t, family = unit.boards.carcass.thickness, unit.family
    bays, z1, found = family.openings, family.top, list[PlacedBay]()
    for i, (bay, height) in enumerate(zip(bays, heights(bays, family.height), strict=True), start=1):
        z0 = z1 - height if i < len(bays) else family.base
        floor = z0 + t if i == len(bays) else z0
        found.append(PlacedBay(bay, _number(bays, i), z0, z1, floor, z1 - t))
        z1 = z0
    return tuple(found)


def _number(bays: tuple[Bay, ...], number: int) -> int:
    """Drawers are counted by themselves from the top; other bays by their place, if there are several."""
    drawers = [bay for bay in bays[:number] if bay.holds == "drawer"]
    if bays[number - 1].holds == "drawer":
        return len(drawers)
    return 0 if len(bays) == 1 else number


def inner_depth(unit: PlacedUnit) -> float:
    """Where the front face of the back lies, y in the unit's frame: shelves and dividers begin there, mm."""
    back, how = unit.boards.back.thickness, unit.boards.method
    return back if how.back == "on" else how.inset + back


def carcass(unit: PlacedUnit) -> list[Part]:
    """Everything of a box but what its bays hold."""
    t, material = unit.boards.carcass.thickness, unit.boards.carcass.code
    y0 = rear(unit)
    bottom = Block(t, unit.width - t, y0, unit.family.depth, unit.family.base, unit.family.base + t)
    bands = unit.boards.method.bands.bottom
    section = _grooved(unit, bottom.extent("y"), t, upper=True)
    return [
        *sides(unit, y0),
        board(unit, Role.BOTTOM, bottom, "xyz", material, banded=bands, section=section),
        *_top(unit),
        *_backs(unit),
        *_dividers(unit),
        *legs(unit),
    ]


def rear(unit: PlacedUnit) -> float:
    """Where the rear edges of the carcass boards lie, y in the unit's frame, mm."""
    return unit.boards.back.thickness if unit.boards.method.back == "on" else 0.0


def sides(unit: PlacedUnit, y0: float, grooved: bool = True) -> list[Part]:
    """The two sides, from ``y0`` to the front, ``grooved`` where the method has it so.

    One that is faced is of front board, if that is as thick as the carcass's.
    """
    family, t, bands = unit.family, unit.boards.carcass.thickness, unit.boards.method.bands.side
    left = Block(0.0, t, y0, family.depth, family.base, family.top)
    right = left._replace(x0=unit.width - t, x1=unit.width)
    clad = unit.faced if unit.boards.front.thickness == t else frozenset()
    return [
        board(unit, Role.SIDE, block, "zyx", (unit.boards.front if at in clad else unit.boards.carcass).code,
              which=Which(at=(at,)), banded=bands, grain=at in clad,
              section=_grooved(unit, block.extent("y"), t, at is Position.LEFT) if grooved else None)
        for at, block in ((Position.LEFT, left), (Position.RIGHT, right))
    ]  # fmt: skip


def _grooved(unit: PlacedUnit, depth: float, thickness: float, upper: bool) -> Polygon | None:
    """The section of a board, ``depth`` by ``thickness``, with the back's groove in its upper or lower face."""
    how, back = unit.boards.method, unit.boards.back.thickness
    if how.back == "on":
        return None
    a, b = how.inset, how.inset + back
    floor = thickness - how.groove if upper else how.groove
    face, other = (thickness, 0.0) if upper else (0.0, thickness)
    notch = [(0.0, face), (a, face), (a, floor), (b, floor), (b, face), (depth, face)]
    return Polygon([*notch, (depth, other), (0.0, other)])


RAIL_PLAY = 3.0
"""What stays free between a rail on edge and the drawer beneath it, mm: common practice, no source."""


def _top(unit: PlacedUnit) -> list[Part]:
    """Two rails lying flat, or standing on edge where a sink or hob hangs between them; else a whole top.

    Over a drawer the front rail on edge is no higher than what the drawer leaves free.
    """
    t, rail, bands = unit.boards.carcass.thickness, unit.boards.method.rail, unit.boards.method.bands
    x0, x1, depth, top, material = t, unit.width - t, unit.family.depth, unit.family.top, unit.boards.carcass.code
    if unit.family.rails == "none":
        whole = Block(x0, x1, rear(unit), depth, top - t, top)
        section = _grooved(unit, whole.extent("y"), t, upper=False)
        return [board(unit, Role.TOP, whole, "xyz", material, banded=bands.top, section=section)]
    lies = unit.rails == "flat"
    deep, high = (rail, t) if lies else (t, rail)
    axes, y0 = "xyz" if lies else "xzy", inner_depth(unit)
    over_drawer = not lies and unit.family.openings[0].holds == "drawer"
    low = min(high, unit.boards.method.drawer_margin - RAIL_PLAY) if over_drawer else high
    front = Block(x0, x1, depth - deep, depth, top - low, top)
    back = Block(x0, x1, y0, y0 + deep, top - high, top)
    return [
        board(unit, Role.RAIL, front, axes, material, which=Which(at=(Position.FRONT,)), banded=bands.rail),
        board(unit, Role.RAIL, back, axes, material, which=Which(at=(Position.BACK,))),
    ]


def _backs(unit: PlacedUnit) -> list[Part]:
    """A back behind every row of bays that have one; what is built in stands open at the back."""
    groups = [(bare, list(group)) for bare, group in groupby(openings(unit), lambda o: o.bay.backless)]
    backed = [group for bare, group in groups if not bare]
    if len(groups) == 1:
        return [_back(unit, group, ONLY) for group in backed]
    return [_back(unit, group, Which(numbers=(i,))) for i, group in enumerate(backed, start=1)]


def _back(unit: PlacedUnit, group: list[PlacedBay], which: Which) -> Part:
    stuff, how, t = unit.boards.back, unit.boards.method, unit.boards.carcass.thickness
    z0, z1 = group[-1].z0, group[0].z1
    z0 -= t if z0 > unit.family.base else 0.0  # it reaches down over the board on which the bay stands
    if how.back == "on":
        on = Block(0.0, unit.width, 0.0, stuff.thickness, z0, z1)
        return board(unit, Role.BACK, on, "zxy", stuff.code, which=which)
    x, low, high = t - how.groove, z0 + (t - how.groove) * (z0 == unit.family.base), z1
    high -= (t - how.groove) * (z1 == unit.family.top and unit.family.rails == "none")
    block = Block(x, unit.width - x, how.inset, how.inset + stuff.thickness, low, high)
    return board(unit, Role.BACK, block, "zxy", stuff.code, which=which)


def _dividers(unit: PlacedUnit) -> Iterator[Part]:
    """A fixed shelf between two bays, but none between two drawers."""
    stuff, t = unit.boards.carcass, unit.boards.carcass.thickness
    y0, bands = inner_depth(unit), unit.boards.method.bands.shelf
    for i, (above, below) in enumerate(pairwise(openings(unit)), start=1):
        if above.bay.holds != "drawer" or below.bay.holds != "drawer":
            block = Block(t, unit.width - t, y0, unit.family.depth, above.z0 - t, above.z0)
            yield board(unit, Role.DIVIDER, block, "xyz", stuff.code, which=Which(numbers=(i,)), banded=bands)


def shelves(unit: PlacedUnit, opening: PlacedBay) -> list[Part]:
    """The bay's loose shelves, evenly between its floor and its roof."""
    stuff, how, count = unit.boards.carcass, unit.boards.method, opening.bay.shelves
    t, play = stuff.thickness, how.shelf_play
    step = (opening.high - opening.low - count * t) / (count + 1)
    x0, x1 = t + play, unit.width - t - play
    y0, y1 = inner_depth(unit) + play, unit.family.depth - how.shelf_setback
    places = [opening.low + step + i * (step + t) for i in range(count)]
    return [
        board(unit, Role.SHELF, Block(x0, x1, y0, y1, z, z + t), "xyz", stuff.code,
              which=Which(bay=opening.number, numbers=(i,)), banded=how.bands.shelf)
        for i, z in enumerate(places, start=1)
    ]  # fmt: skip


def legs(unit: PlacedUnit) -> list[Part]:
    """Four legs clear of the plinth, and none under units that hang on the wall."""
    if unit.family.level == "upper":
        return []
    xs = {Position.LEFT: 50.0, Position.RIGHT: unit.width - 50.0}
    ys = {Position.BACK: 60.0, Position.FRONT: unit.family.depth - 100.0}
    return [leg(unit, Which(at=(ky, kx)), x, y) for ky, y in ys.items() for kx, x in xs.items()]
