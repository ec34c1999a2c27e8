"""The carcass: sides, bottom, top or rails, back, the shelves that part its bays, loose shelves, legs.

The back lies on the rear edges of the other boards, or stands in a groove of sides, bottom and top; bottom, rails,
top and shelves stand between the sides. So the boards of a carcass fill no place twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.catalogue.method import Bay, heights
from countersunk.model.geometry.identity import ONLY, PartKey, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import Block, board, disc, leg


@dataclass(frozen=True)
class PlacedBay:
    """A bay in its place: ``z0`` to ``z1`` is what its fronts cover, ``low`` to ``high`` what is free within, mm.

    ``number`` tells it from others of the unit in the keys of parts; a bay that is alone has 0. Fronts go from
    ``foot`` to ``head``, which is less where they are set in a face frame, or gripped from above.
    """

    bay: Bay
    number: int
    z0: float
    z1: float
    low: float
    high: float
    foot: float
    head: float


def openings(unit: PlacedUnit) -> tuple[PlacedBay, ...]:
    """The bays of a unit from the top."""
    t, family = unit.boards.carcass.thickness, unit.family
    bays, z1, found = family.openings, family.top, list[PlacedBay]()
    for i, (bay, height) in enumerate(zip(bays, heights(bays, family.height), strict=True), start=1):
        z0 = z1 - height if i < len(bays) else family.base
        floor = z0 + t if i == len(bays) else z0
        foot, head = _front(unit, bay, (z0, z1), i == 1, i == len(bays))
        found.append(PlacedBay(bay, _number(bays, i), z0, z1, floor, z1 - t, foot, head))
        z1 = z0
    return tuple(found)


NO_FRONT = ("open", "rack", "plates", "tambour")
"""What bays hold that no front covers."""


def _front(unit: PlacedUnit, bay: Bay, span: tuple[float, float], first: bool, last: bool) -> tuple[float, float]:
    """From where to where the front of a bay goes, mm above the floor."""
    z0, z1 = span
    if frame := unit.face_frame:
        return z0 + frame.rail / (1 if last else 2), z1 - frame.rail / (1 if first else 2)
    if unit.channel and bay.holds not in NO_FRONT:
        return z0, z1 - unit.channel.gap
    return span


def channels(unit: PlacedUnit) -> list[tuple[float, float]]:
    """From where to where a grip profile goes behind the upper edge of each front, mm above the floor."""
    channel = unit.channel
    if channel is None:
        return []
    if unit.family.kind.is_bought:
        return [(unit.family.top - channel.gap - channel.lip, unit.family.top)]
    return [(o.head - channel.lip, o.z1) for o in openings(unit) if o.bay.holds not in NO_FRONT]


def _notches(unit: PlacedUnit, side: Block) -> tuple[Pocket, ...]:
    """What is cut out of the front edge of a side for the grip profiles, in the side's own frame."""
    deep = unit.channel.depth if unit.channel else 0.0
    y, t = side.extent("y"), side.extent("x")
    past = 1.0  # past the edge, so that no skin is left
    return tuple(
        Pocket(
            rectangle(low - side.z0, y - deep, high - side.z0 + past * (high == side.z1), y + past), -past, t + past
        )
        for low, high in channels(unit)
    )


def profiles(unit: PlacedUnit) -> list[Part]:
    """The grip profiles behind the upper edges of the fronts: a web at the back with a lip at foot and head."""
    channel = unit.channel
    if channel is None:
        return []
    depth, code = unit.family.depth, unit.handle.article or "profile"
    return [
        board(unit, Role.PROFILE, Block(0.0, unit.width, depth - channel.depth, depth, low, high), "xyz", code,
              which=Which(numbers=(i,)), layer=Layer.HARDWARE, section=_trough(channel.depth, high - low))
        for i, (low, high) in enumerate(channels(unit), start=1)
    ]  # fmt: skip


WALL = 2.0
"""Thickness of a grip profile, mm (common practice, no source)."""


def _trough(deep: float, high: float) -> Polygon:
    """A section open to the front, ``deep`` by ``high``."""
    w = WALL
    return Polygon([(0, 0), (deep, 0), (deep, w), (w, w), (w, high - w), (deep, high - w), (deep, high), (0, high)])


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
    t, y0 = unit.boards.carcass.thickness, rear(unit)
    bottom = Block(t, unit.width - t, y0, unit.family.depth, unit.family.base, unit.family.base + t)
    bands = unit.boards.method.bands.bottom
    section = _grooved(unit, bottom.extent("y"), t, upper=True)
    return [
        *sides(unit, y0),
        _bottom(unit, bottom, bands, section),
        *_top(unit),
        *_backs(unit),
        *_dividers(unit),
        *profiles(unit),
        *legs(unit),
    ]


def _bottom(unit: PlacedUnit, block: Block, bands: tuple[str, ...], section: Polygon | None) -> Part:
    """The bottom, of front board where that is asked for and as thick."""
    same = unit.boards.front.thickness == unit.boards.carcass.thickness
    clad = Position.BOTTOM in unit.faced and same
    stuff = unit.boards.front if clad else unit.boards.carcass
    return board(unit, Role.BOTTOM, block, "xyz", stuff.code, banded=bands, section=section, grain=clad)


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

    def side(at: Position, block: Block) -> Part:
        stuff = unit.boards.front if at in clad else unit.boards.carcass
        section = _grooved(unit, block.extent("y"), t, at is Position.LEFT) if grooved else None
        made = board(unit, Role.SIDE, block, "zyx", stuff.code, which=Which(at=(at,)), banded=bands,
                     grain=at in clad, section=section)  # fmt: skip
        return replace(made, pockets=_notches(unit, block))

    return [side(Position.LEFT, left), side(Position.RIGHT, right)]


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

    Over a drawer the front rail on edge is no higher than what the drawer leaves free. Behind a grip profile lies a
    flat rail, and beneath it the one on edge; over a drawer the profile alone ties the sides.
    """
    t, rail, bands = unit.boards.carcass.thickness, unit.boards.method.rail, unit.boards.method.bands
    x0, x1, depth, top, material = t, unit.width - t, unit.family.depth, unit.family.top, unit.boards.carcass.code
    taken = unit.channel.depth if unit.channel else 0.0
    if unit.family.rails == "none":
        whole = Block(x0, x1, rear(unit), depth - taken, top - t, top)
        section = _grooved(unit, whole.extent("y"), t, upper=False)
        return [board(unit, Role.TOP, whole, "xyz", material, banded=bands.top, section=section)]
    lies = unit.rails == "flat"
    deep, high = (rail, t) if lies else (t, rail)
    axes, y0 = "xyz" if lies else "xzy", inner_depth(unit)
    over_drawer = not lies and unit.family.openings[0].holds == "drawer"
    low = min(high, unit.boards.method.drawer_margin - RAIL_PLAY) if over_drawer else high
    front = Block(x0, x1, depth - taken - deep, depth - taken, top - low, top)
    if taken and not lies:
        foot = channels(unit)[0][0]
        front = Block(x0, x1, depth - deep, depth, foot - low, foot)
    back = Block(x0, x1, y0, y0 + deep, top - high, top)
    rails = {Position.BACK: back} if taken and over_drawer else {Position.FRONT: front, Position.BACK: back}
    return [
        board(unit, Role.RAIL, block, axes, material, which=Which(at=(at,)),
              banded=bands.rail if at is Position.FRONT else ())
        for at, block in rails.items()
    ]  # fmt: skip


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
            y1 = unit.family.depth - (unit.channel.depth if unit.channel and below.head < below.z1 else 0.0)
            block = Block(t, unit.width - t, y0, y1, above.z0 - t, above.z0)
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


ROD = 16.0
"""Across a rod that a unit hangs by, mm (common practice, no source)."""


def hangers(unit: PlacedUnit) -> list[Part]:
    """Rods near the four corners of a unit, up to the ceiling that it hangs from; none of what hangs on a wall."""
    if unit.ceiling <= unit.family.top or not unit.family.kind.is_unit:
        return []
    inset = min(60.0, unit.width / 4)
    xs = {Position.LEFT: inset, Position.RIGHT: unit.width - inset}
    ys = {Position.BACK: 60.0, Position.FRONT: unit.family.depth - 60.0}
    return [
        Part(
            key=PartKey(unit.key, Role.HANGER, Which(at=(ky, kx))), called=unit.name, layer=Layer.HARDWARE,
            material="hanger.ceiling", outline=disc(ROD / 2), thickness=unit.ceiling - unit.family.top,
            pose=unit.frame.moved(x, y, unit.family.top),
        )
        for ky, y in ys.items() for kx, x in xs.items()
    ]  # fmt: skip


NARROW = 140.0
"""Under a unit narrower than this legs 50 from its sides would stand in each other, mm."""


def legs(unit: PlacedUnit) -> list[Part]:
    """Four legs clear of the plinth, and none under units that hang on the wall."""
    if unit.family.level == "upper":
        return []
    inset = 50.0 if unit.width >= NARROW else unit.width / 4
    xs = {Position.LEFT: inset, Position.RIGHT: unit.width - inset}
    ys = {Position.BACK: 60.0, Position.FRONT: unit.family.depth - 100.0}
    return [leg(unit, Which(at=(ky, kx)), x, y) for ky, y in ys.items() for kx, x in xs.items()]
