"""Islands and peninsulas by lot, where a room is large enough for them."""

from __future__ import annotations

from tests.random_kitchens.corners import Tops
from tests.random_kitchens.features import returns
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data, Side
from tests.random_kitchens.rows import Row, filled, length

AISLE = 750.0
"""What is left before the fronts of a wall, mm."""

OPEN = 2600.0
"""How deep a room is taken to be before a wall with no other beside it, mm."""

FACING = {"island": ["wall", "room"], "peninsula": ["left", "right"]}


def depth_before(side: Side, sides: list[Side]) -> float:
    """How deep the room is before a wall, as the walls beside it tell."""
    i = sides.index(side)
    beside = [
        s.length for s, angle in ((sides[i - 1], side.before), (sides[(i + 1) % len(sides)], side.after)) if angle
    ]
    return min(beside, default=OPEN)


def islands(lots: Lots, tops: Tops, sides: list[Side]) -> tuple[Data, ...]:
    """None, or one in the middle of the room."""
    side = lots.pick(sides)
    stock = lots.pick(tops.kit.wide)
    deep = tops.kit.catalogue.stocks[stock].depth
    out = tops.depth + lots.whole(AISLE, 1000)
    most = depth_before(side, sides) - tops.depth - AISLE - deep
    room = side.length - 2 * (tops.depth + AISLE)
    if room < 600.0 or out > most or lots.some(0.2) or max(side.before or 0.0, side.after or 0.0) > 175.0:
        return ()
    units = filled(lots, tops.kit, "floor", room, 3, tall=0.0)
    if not carries(tops, units):
        return ()
    along = tops.depth + AISLE + lots.whole(0, room - length(units))
    return (free_standing(lots, tops, "I", side, along, out, "island", stock, units),)


def peninsulas(lots: Lots, tops: Tops, rows: list[Row], sides: list[Side]) -> tuple[Data, ...]:
    """None, or one before a row that is wide enough to take its top."""
    stock = lots.pick(tops.kit.wide)
    deep = tops.kit.catalogue.stocks[stock].depth
    wide = [(row, at) for row in rows for at in topped(tops, row) if at[1] - at[0] > deep + 60.0]
    if not wide or lots.some(0.4):
        return ()
    row, (low, high) = lots.pick(wide)
    side = next(s for s in sides if s.name == row.wall)
    keep = tops.depth + 30.0
    low, high = max(low + 20.0, keep), min(high - 20.0, side.length - keep) - deep
    out = tops.depth + lots.pick([45.0, 60.0, 120.0])
    room = min(2000.0, depth_before(side, sides) - out - tops.depth - AISLE)
    units = filled(lots, tops.kit, "floor", room, 3, tall=0.0) if low < high else ()
    if not carries(tops, units):
        return ()
    facing = lots.pick(["left", "right"])
    face, edge = tops.kit.depth() + tops.overhang, lots.whole(low, high)
    along = edge + face if facing == "left" else edge + deep - face
    return (free_standing(lots, tops, "P", side, along, out, "peninsula", stock, units, facing),)


def free_standing(
    lots: Lots, tops: Tops, name: str, side: Side, along: float, out: float, kind: str, stock: str,
    units: tuple[Data, ...], facing: str | None = None,
) -> Data:  # fmt: skip
    """An island or a peninsula as it stands in a document."""
    return {
        "name": name,
        "wall": side.name,
        "along": along,
        "out": out,
        "facing": facing or lots.pick(FACING[kind]),
        "seats": lots.pick([0, 0, 2]),
        "stock": stock,
        "units": units,
        "returns": returns(lots, tops, units),
    }


def carries(tops: Tops, units: tuple[Data, ...]) -> bool:
    """Whether the first is a unit by whose depth the row can be placed."""
    return any(tops.kit.catalogue.families[unit["unit"]].carries_top for unit in units)


def topped(tops: Tops, row: Row) -> list[tuple[float, float]]:
    """From where to where each unbroken top of a row lies, mm."""
    found: list[tuple[float, float]] = []
    for unit, (low, high) in row.places():
        if not tops.kit.catalogue.families[unit["unit"]].carries_top:
            continue
        if found and found[-1][1] == low:
            low = found.pop()[0]
        found.append((low, high))
    return found
