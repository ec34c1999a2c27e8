"""What random kitchens of the plain kind do not have: bought units, odd widths, two depths, styles, cookers in
breasts, boxes up to a ceiling that falls, and rows that hang off their wall.

Each is a change of the plain data of a kitchen, made or not by lot; what then cannot be built is refused in words.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from countersunk.model.catalogue.catalogue import default_catalogue
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data
from tests.random_kitchens.rows import length

CHANGES = 3
"""So many changes are made of a kitchen at most."""


def varied(lots: Lots, data: dict[str, Any]) -> dict[str, Any]:
    """The data of a kitchen in the metric catalogue with one to `CHANGES` new kinds."""
    kinds = (
        bought,
        odd_widths,
        two_depths,
        dressed,
        drawers_under_hobs,
        fuelled,
        cooker_in_breast,
        hung,
        to_ceiling,
    )
    for change in lots.several(kinds, CHANGES):
        data = change(lots, data)
    return data


def bought(lots: Lots, data: Data) -> Data:
    """Carcasses that are bought, in the whole kitchen or in one row."""
    if lots.some(0.5):
        return {**data, "supply": "bought"}
    return _in_a_row(lots, data, lambda row: {**row, "supply": lots.pick(["bought", "made"])})


def odd_widths(lots: Lots, data: Data) -> Data:
    """Carcasses narrower than their grid, by whole millimetres."""

    def narrower(unit: Data) -> Data:
        width = max(100.0, unit["width"] - lots.count(1, 40))
        return {**unit, "to_size": True, "width": width} if _to_size(unit) and lots.some(0.5) else unit

    return _in_units(data, narrower)


def two_depths(lots: Lots, data: Data) -> Data:
    """Units less deep than their row, with their fronts in line or not."""

    def shallower(unit: Data) -> Data:
        family = default_catalogue().families[unit["unit"]]
        if not _to_size(unit) or any(bay.holds in ("drawer", "pull-out") for bay in family.openings):
            return unit
        less = lots.pick([40.0, 120.0, 200.0]) if family.level == "floor" else 40.0
        forward = {"forward": less} if lots.some(0.7) else {}
        return {**unit, "to_size": True, "depth": family.depth - less, **forward} if lots.some(0.5) else unit

    return _in_units(data, shallower)


def dressed(lots: Lots, data: Data) -> Data:
    """Fronts of a style and with handles that the catalogue has, for all or for one row."""
    style, handle = lots.pick(list(default_catalogue().styles)), lots.pick(list(default_catalogue().handles))
    if lots.some(0.5):
        return {**data, "fronts": {**data["fronts"], "style": style, "handle": handle, "sides": "fronts"}}
    return _in_a_row(lots, data, lambda row: {**row, "style": style, "handle": handle})


def drawers_under_hobs(_: Lots, data: Data) -> Data:
    """Drawers in place of the unit under a hob."""

    def changed(unit: Data) -> Data:
        return {**unit, "unit": "base-drawers"} if unit["unit"] == "base-hob" else unit

    return _in_units(data, changed)


def fuelled(lots: Lots, data: Data) -> Data:
    """Cookers with a fuel."""

    def changed(unit: Data) -> Data:
        cooks = default_catalogue().families[unit["unit"]].cooks_with
        return {**unit, "fuel": lots.pick(["electric", "gas", "dual"])} if cooks else unit

    return _in_units(data, changed)


def cooker_in_breast(lots: Lots, data: Data) -> Data:
    """A range cooker in a breast on a wall without a row, with a shelf over it or not."""
    taken = {row["wall"] for row in data["runs"]} | {o["wall"] for o in _fixed(data)}
    bare = [w for w in data["room"]["walls"] if w["name"] not in taken and w["length"] > 3400.0]
    if not bare:
        return data
    wall, high = lots.pick(bare), lots.pick([1500.0, 1700.0])
    at = lots.whole(800, wall["length"] - 2500.0)
    opening = {"from_left": 250.0, "width": 1100.0, "height": high}
    breast = {"kind": "chimney-breast", "wall": wall["name"], "at": at, "width": 1600.0, "depth": 350.0,
              "opening": opening}  # fmt: skip
    cooker = {"wall": wall["name"], "start": at + 295.0, "units": ({"unit": "range-cooker", "width": 1010.0},)}
    shelf = {"wall": wall["name"], "level": "upper", "start": at, "out": 350.0,
             "units": ({"unit": "floating-shelf", "width": 1600.0, "bottom": high + 30.0},)}  # fmt: skip
    room = {**data["room"], "obstacles": (*data["room"]["obstacles"], breast)}
    return {**data, "room": room, "runs": (*data["runs"], cooker, *([shelf] if lots.some(0.6) else []))}


def hung(lots: Lots, data: Data) -> Data:
    """Wall units, with a hood between them or not, that hang from the ceiling and face any way."""
    wall = lots.pick(data["room"]["walls"])
    sides = [{"unit": lots.pick(["wall-doors", "wall-open", "wall-glazed"]), "width": 400.0} for _ in range(2)]
    hood = [{"unit": "hood-island", "width": 900.0, "bottom": 1500.0}] if lots.some(0.5) else []
    faces = lots.pick(["room", "wall", "left", "right"])
    row = {"wall": wall["name"], "level": "upper", "start": lots.whole(900, 1600), "out": lots.whole(900, 1400),
           "facing": faces, "units": (sides[0], *hood, sides[1])}  # fmt: skip
    return {**data, "runs": (*data["runs"], row)}


def to_ceiling(lots: Lots, data: Data) -> Data:
    """Boxes on tall units, and a filler up to a ceiling that was read lower than the room is high, or not."""
    high, rows, read = data["room"]["height"], list[Data](), list[Data]()
    falls = lots.pick([0.0, 0.0, 12.0, 30.0])
    for row in data["runs"]:
        for units, x in _tall(row) if "start" in row and row.get("level") != "upper" else ():
            if high - falls - 2128.0 >= 180.0:
                size = {"to_size": True, "height": high - falls - 2128.0 - lots.pick([20.0, 45.0])}
                boxes = tuple({"unit": "top-box", "width": u["width"], **size} for u in units)
                hung = {"wall": row["wall"], "level": "upper", "start": x, "to_ceiling": True}
                rows.append({**hung, "units": boxes})
                ends = ((x, high - falls), (x + length(units), high))
                read += [{"wall": row["wall"], "at": at, "height": height} for at, height in ends]
    room = {**data["room"], "ceiling": tuple(read)} if falls else data["room"]
    return {**data, "room": room, "runs": (*data["runs"], *rows)}


def _tall(row: Data) -> Iterator[tuple[list[Data], float]]:
    """Each unit of a row that is as high as a tall unit of the grid, with where it begins, mm."""
    x = row["start"]
    for unit in row["units"]:
        family = default_catalogue().families[unit["unit"]]
        if family.top == 2128.0 and family.construction == "box" and family.depth == 560.0:
            yield [unit], x
        x += unit["width"]


def _fixed(data: Data) -> Iterator[Data]:
    for kind in ("openings", "obstacles", "slopes"):
        yield from data["room"][kind]


def _to_size(unit: Data) -> bool:
    family = default_catalogue().families[unit["unit"]]
    return family.kind.to_size and not family.appliances and family.construction in ("box", "drawers")


def _in_units(data: Data, change: Any) -> Data:
    runs = tuple({**row, "units": tuple(map(change, row["units"]))} for row in data["runs"])
    return {**data, "runs": runs}


def _in_a_row(lots: Lots, data: Data, change: Any) -> Data:
    at = lots.count(0, len(data["runs"]) - 1)
    return {**data, "runs": tuple(change(row) if i == at else row for i, row in enumerate(data["runs"]))}
