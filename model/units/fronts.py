"""What bays hold: doors, glazed doors, drawers, pull-outs, racks, and the fronts that nothing opens."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shapely import box as rectangle
from shapely import union_all

from countersunk.model.geometry.identity import Component, Hinge, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import ALL_ROUND, Block, board, front, reveal, within_frame
from countersunk.model.units.carcass import PlacedBay, inner_depth, shelves
from countersunk.model.units.handles import grip_height, handle, on_door, on_drawer

GLASS = 4.0


def doors(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """Shelves behind one or two doors."""
    if unit.style.glazed:
        return glazed(unit, o)
    return [*shelves(unit, o), *leaves(unit, o, 0.0, unit.width)]


def glazed(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """Shelves behind doors with a pane in a frame."""
    return [*shelves(unit, o), *(p for which, x0, x1, hinge in _leaves(unit, o, 0.0, unit.width)
                                 for p in _glazed(unit, o, which, x0, x1, hinge))]  # fmt: skip


def leaves(unit: PlacedUnit, o: PlacedBay, x0: float, x1: float) -> list[Part]:
    """One door hinged on the unit's hand, or two that meet in the middle, with handles away from the hinges."""
    found = list[Part]()
    for which, left, right, hinge in _leaves(unit, o, x0, x1):
        found.append(front(unit, Role.DOOR, left, right, o.foot, o.head, "zxy", which=which, hinge=hinge))
        found += _grip(unit, o, which, left, right, hinge)
    return found


def _leaves(unit: PlacedUnit, o: PlacedBay, x0: float, x1: float) -> list[tuple[Which, float, float, Hinge]]:
    """Which one, left, right and hinge side of every door before the opening."""
    (x0, x1), middle = within_frame(unit, x0, x1), (x0 + x1) / 2
    if x1 - x0 > unit.boards.method.widest_door:
        left, right = (Which(bay=o.number, leaf=side) for side in (Position.LEFT, Position.RIGHT))
        return [(left, x0, middle, "left"), (right, middle, x1, "right")]
    return [(Which(bay=o.number), x0, x1, unit.hand)]


def _grip(unit: PlacedUnit, o: PlacedBay, door: Which, x0: float, x1: float, hinge: Hinge) -> list[Part]:
    return on_door(unit, replace(door, grips=Role.DOOR), o, x0, x1, hinge)


def _glazed(unit: PlacedUnit, o: PlacedBay, which: Which, x0: float, x1: float, hinge: Hinge) -> Iterator[Part]:
    """Two stiles, two rails and a pane; the stile that hangs on the hinges is the door as far as these count."""
    whole = front(unit, Role.DOOR, x0, x1, o.foot, o.head, "zxy")
    gap, stile, y0 = reveal(unit), unit.boards.method.stile, unit.family.depth
    stuff = unit.boards.front
    a, b, low, high = x0 + gap, x1 - gap, o.foot + gap, o.head - gap
    upright = Block(a, a + stile, y0, y0 + whole.thickness, low, high)
    across = Block(a + stile, b - stile, y0, y0 + whole.thickness, low, low + stile)
    pieces = {
        (Component.STILE, Position.LEFT): (upright, "zxy"),
        (Component.STILE, Position.RIGHT): (upright._replace(x0=b - stile, x1=b), "zxy"),
        (Component.RAIL, Position.LOWER): (across, "xzy"),
        (Component.RAIL, Position.UPPER): (across._replace(z0=high - stile, z1=high), "xzy"),
    }
    for (component, at), (block, axes) in pieces.items():
        hangs = at == Position(hinge)
        yield board(
            unit, Role.DOOR if hangs else Role.FRAME, block, axes, stuff.code,
            which=replace(which, component=component, at=(at,)), layer=Layer.FRONTS, banded=ALL_ROUND, grain=True,
            hinge=hinge if hangs else None,
        )  # fmt: skip
    y = y0 + (whole.thickness - GLASS) / 2
    pane = Block(a + stile, b - stile, y, y + GLASS, low + stile, high - stile)
    yield board(unit, Role.PANE, pane, "zxy", f"glass.{GLASS:g}", which=which, layer=Layer.FRONTS)
    yield from _grip(unit, o, which, x0, x1, hinge)


def drawer(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A drawer: front with handle, and a box of five boards between the runners."""
    stuff, how, t = unit.boards.drawer, unit.boards.method, unit.boards.carcass.thickness
    b, depth = stuff.thickness, unit.family.depth
    x0, x1 = within_frame(unit, t, unit.width - t)
    x0, x1 = x0 + how.runner_gap, x1 - how.runner_gap
    y0, low, high = depth - how.drawer_depth, o.foot + how.drawer_margin, o.head - how.drawer_margin
    boards = {
        Position.LEFT: (Block(x0, x0 + b, y0, depth, low, high), "yzx"),
        Position.RIGHT: (Block(x1 - b, x1, y0, depth, low, high), "yzx"),
        Position.FRONT: (Block(x0 + b, x1 - b, depth - b, depth, low, high), "xzy"),
        Position.BACK: (Block(x0 + b, x1 - b, y0, y0 + b, low, high), "xzy"),
        Position.BOTTOM: (Block(x0 + b, x1 - b, y0 + b, depth - b, low, low + b), "xyz"),
    }
    upright = ("front",)  # the bottom's edges are hidden between the other four
    box = [
        board(unit, Role.DRAWER, block, axes, stuff.code, which=Which(bay=o.number, at=(at,)),
              banded=upright * (at is not Position.BOTTOM))
        for at, (block, axes) in boards.items()
    ]  # fmt: skip
    face = front(unit, Role.DRAWER_FRONT, 0.0, unit.width, o.foot, o.head, "xzy", which=Which(bay=o.number))
    return [face, *box, *on_drawer(unit, Which(Role.DRAWER, o.number), o.head)]


def pull_out(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A front that draws a frame with baskets after it, one basket for each of the bay's shelves."""
    t, middle, depth = unit.boards.carcass.thickness, unit.width / 2, unit.family.depth
    bay, hardware = Which(bay=o.number), Layer.HARDWARE
    y0, low, high = depth - unit.boards.method.drawer_depth, o.low + 20.0, _under_grip(unit, o, 40.0)
    mast = Block(middle - 15.0, middle + 15.0, depth - 30.0, depth, low, high)
    step = (high - low) / max(1, o.bay.shelves)
    tray = Block(t + 20.0, unit.width - t - 20.0, y0, depth - 30.0, low, low + 40.0)
    baskets = [tray._replace(z0=low + i * step, z1=low + i * step + 40.0) for i in range(o.bay.shelves)]
    return [
        *_pulled(unit, o),
        board(unit, Role.PULL_OUT, mast, "zxy", "pull-out", which=replace(bay, component=Component.FRAME),
              layer=hardware),
        *(board(unit, Role.BASKET, b, "xyz", "basket", which=replace(bay, numbers=(i,)), layer=hardware)
          for i, b in enumerate(baskets, start=1)),
    ]  # fmt: skip


def _under_grip(unit: PlacedUnit, o: PlacedBay, room: float) -> float:
    """How high what a front draws after it may be: ``room`` below the top of its bay, mm, under a grip profile."""
    channel = unit.channel
    return min(o.high - room, o.head - channel.lip if channel else o.high)


def _pulled(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """The front of a pull-out with its handle."""
    bay = Which(bay=o.number)
    facing = replace(bay, component=Component.FRONT)
    face = front(unit, Role.PULL_OUT, 0.0, unit.width, o.foot, o.head, "zxy", which=facing)
    gripped, high = replace(bay, grips=Role.PULL_OUT), grip_height(unit, o)
    return [face, *handle(unit, gripped, unit.width / 2, high, upright=unit.handle.kind == "bar")]


BIN_HIGH = 380.0
"""A bin is no higher than this, mm: 30 to 40 litres (common practice, no source)."""


def bins(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A front that draws a tray with bins after it, as many beside each other as the bay has columns."""
    t, depth, bay = unit.boards.carcass.thickness, unit.family.depth, Which(bay=o.number)
    x0, x1 = t + 20.0, unit.width - t - 20.0
    y0, low, high = depth - unit.boards.method.drawer_depth, o.low + 20.0, _under_grip(unit, o, 60.0)
    tray = Block(x0, x1, y0, depth, low, low + 20.0)
    wide, gap = (x1 - x0) / o.bay.columns, 5.0
    top = min(high, tray.z1 + BIN_HIGH)
    cans = [Block(x0 + i * wide + gap, x0 + (i + 1) * wide - gap, y0 + gap, depth - 30.0, tray.z1, top)
            for i in range(o.bay.columns)]  # fmt: skip
    return [
        *_pulled(unit, o),
        board(unit, Role.PULL_OUT, tray, "xyz", "pull-out.bins", which=replace(bay, component=Component.FRAME),
              layer=Layer.HARDWARE),
        *(board(unit, Role.BIN, can, "xyz", "bin", which=replace(bay, numbers=(i,)), layer=Layer.HARDWARE)
          for i, can in enumerate(cans, start=1)),
    ]  # fmt: skip


SLAT, GROOVE = 25.0, 2.0
"""Height of a slat, and what parts it from the next, mm (common practice, no source)."""


def tambour(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A curtain of slats between the sides, with shelves behind it if it has any."""
    t, depth = unit.boards.carcass.thickness, unit.family.depth
    thick = 8.0
    block = Block(t, unit.width - t, depth - 10.0 - thick, depth - 10.0, o.low, o.high)
    wide, high = block.extent("x"), block.extent("z")
    seams = [SLAT * i for i in range(1, int(high / SLAT))]
    lines = tuple(Pocket(rectangle(-1.0, z - GROOVE / 2, wide + 1.0, z + GROOVE / 2), thick - 3.0, thick + 1.0)
                  for z in seams)  # fmt: skip
    curtain = board(unit, Role.TAMBOUR, block, "xzy", "tambour", which=Which(bay=o.number), layer=Layer.FRONTS)
    return [*shelves(unit, o), replace(curtain, pockets=lines)]


RAIL, DOWEL, APART = 22.0, 8.0, 45.0
"""Of a rack for plates: height of its rails, width of its dowels, from one of these to the next, mm (common
practice, no source).
"""


def plates(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """Two frames, each of a lower and an upper rail with dowels between them, so that plates stand on edge."""
    t, depth, low = unit.boards.carcass.thickness, unit.family.depth, o.low + 12.0
    high = min(o.high, low + 320.0)
    wide = unit.width - 2 * t
    step = wide / int(wide / APART)
    gaps = [rectangle(i * step + DOWEL / 2, RAIL, (i + 1) * step - DOWEL / 2, high - low - RAIL)
            for i in range(int(wide / APART))]  # fmt: skip
    ladder = rectangle(0.0, 0.0, wide, high - low).difference(union_all(gaps))
    found = []
    for at, y in {Position.BACK: inner_depth(unit) + 40.0, Position.FRONT: depth - 60.0}.items():
        block = Block(t, unit.width - t, y, y + RAIL / 2, low, high)
        frame = board(unit, Role.PLATE_RACK, block, "xzy", "rack.plates", which=Which(bay=o.number, at=(at,)),
                      layer=Layer.HARDWARE)  # fmt: skip
        found.append(replace(frame, outline=one_polygon(ladder)))
    return found


def blank(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """A front that is fixed."""
    return [front(unit, Role.BLANK_FRONT, 0.0, unit.width, o.foot, o.head, "xzy", which=Which(bay=o.number))]


def rack(unit: PlacedUnit, o: PlacedBay) -> list[Part]:
    """Shelves and uprights that part the bay into equal cells, for bottles that lie or trays that stand."""
    stuff, t, bands = unit.boards.carcass, unit.boards.carcass.thickness, unit.boards.method.bands.shelf
    x0, x1, y0, y1 = t, unit.width - t, inner_depth(unit), unit.family.depth
    rows, columns = o.bay.rows, o.bay.columns
    high, wide = (o.high - o.low - (rows - 1) * t) / rows, (x1 - x0 - (columns - 1) * t) / columns
    found = list[Part]()
    for row in range(rows):
        z = o.low + row * (high + t)
        if row:
            level = Block(x0, x1, y0, y1, z - t, z)
            which = Which(bay=o.number, numbers=(row,))
            found.append(board(unit, Role.RACK, level, "xyz", stuff.code, which=which, banded=bands))
        for column in range(1, columns):
            x = x0 + column * (wide + t) - t
            stile = Block(x, x + t, y0, y1, z, z + high)
            which = Which(bay=o.number, numbers=(row + 1, column))
            found.append(board(unit, Role.RACK, stile, "zyx", stuff.code, which=which, banded=bands))
    return found
