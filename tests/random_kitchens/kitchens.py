"""Kitchens by lot: documents as a designer might type them for a room, most of which can be built."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from tests.random_kitchens import rooms
from tests.random_kitchens.corners import Ends, Tops, alone, shared
from tests.random_kitchens.features import boxings, cutouts, free_corners, joins, trims, upstand, way_in
from tests.random_kitchens.free_standing import islands, peninsulas
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data, Side
from tests.random_kitchens.rows import Interval, Row, ended, filled, kit, length, minus
from tests.random_kitchens.uppers import upper_rows


def kitchens(lots: Lots, shape: Callable[[Lots], list[Data]], catalogue: str = "metric") -> dict[str, Any]:
    """The plain data of a document for a room of some shape."""
    own = kit(catalogue)
    stock, overhang = lots.pick(own.stocks), lots.pick(own.overhangs)
    tops = Tops(own, stock, overhang)
    walls = shape(lots)
    sides = rooms.sides(walls)
    used = walls_used(lots, sides)
    doors = ways_through(lots, sides, used)
    ends = ends_of(lots, tops, sides, used)
    rows = [row for side in used for row in floor_rows(lots, tops, side, ends[side.name], gaps(doors, side))]
    rows = [row for row in rows if has_neighbours(tops, row, rows, sides)]
    windows = windows_over(lots, tops, rows, sides, doors)
    uppers = upper_rows(lots, tops, rows, sides, (*doors, *windows))
    tongues = peninsulas(lots, tops, rows, sides)
    runs = [*rows, *uppers]
    holes = cutouts(lots, tops, rows, tongues)
    return {
        "kitchen": "Drawn by lot",
        "catalogue": catalogue,
        "cooks": lots.pick([1, 1, 2]),
        "regions": lots.pick([(), ("uk",), ("us",), ("au-nz",)]),
        "room": {
            "height": lots.pick([2200.0, 2400.0, 2550.0, 2900.0]),
            "walls": rooms.taped(lots, walls),
            "openings": (*doors, *windows),
            "obstacles": boxings(lots, tops, rows, uppers, sides, doors),
            "services": rooms.services(lots, sides),
            "slopes": slopes(lots, sides, rows, uppers, (*doors, *windows)),
        },
        "runs": tuple(trims(lots, tops, row).data for row in runs),
        "islands": () if tongues else islands(lots, tops, sides),
        "peninsulas": tongues,
        "worktop": {
            "stock": stock,
            "decor": "rain-slate",
            "overhang": {"front": overhang, "ends": float(lots.pick([0, 5, 10, 30]))},
            "joins": joins(lots, tops, rows, ends, sides),
            "corners": free_corners(lots, tongues),
            **upstand(lots, tops, uppers),
        },
        "fronts": {"decor": "clay"},
        "cutouts": holes,
        "access": way_in(lots),
    }


def walls_used(lots: Lots, sides: list[Side]) -> list[Side]:
    """One to three walls, side by side or not, that are long enough for a row."""
    long = [side for side in sides if side.length >= 1500.0]
    names = lots.several([s.name for s in long], 3)
    return [side for side in long if side.name in names]


def ways_through(lots: Lots, sides: list[Side], used: list[Side]) -> tuple[Data, ...]:
    """None, or a door or passage in any wall; where rows stand, most often near its middle."""
    if lots.some(0.4):
        return ()
    side = lots.pick([*(s for s in sides if s not in used), *sides])
    width = lots.whole(700, 950)
    if side.length < width + 400.0:
        return ()
    at = lots.whole(100, side.length - width - 100)
    kind, swing = (
        lots.pick(["door", "passage"]),
        lots.pick(["left", "right", "out", "none"]),
    )
    return ({"kind": kind, "wall": side.name, "at": at, "width": width, "head": 2000.0, "swing": swing},)


def ends_of(lots: Lots, tops: Tops, sides: list[Side], used: list[Side]) -> dict[str, tuple[Ends, Ends]]:
    """What both ends of every wall that is used leave to rows."""
    found: dict[tuple[str, str], Ends] = {}
    for i, side in enumerate(sides):
        after = sides[(i + 1) % len(sides)]
        if side in used and after in used and side.after is not None:
            found[side.name, "right"], found[after.name, "left"] = shared(lots, tops, side)
    for side in used:
        for hand, angle in (("left", side.before), ("right", side.after)):
            if (side.name, hand) not in found:
                found[side.name, hand] = alone(lots, angle, tops.depth)
    return {side.name: (found[side.name, "left"], found[side.name, "right"]) for side in used}


def gaps(openings: Sequence[Data], side: Side) -> list[Interval]:
    """From where to where doors and windows take the wall."""
    return [(o["at"], o["at"] + o["width"]) for o in openings if o["wall"] == side.name]


def floor_rows(lots: Lots, tops: Tops, side: Side, ends: tuple[Ends, Ends], doors: list[Interval]) -> list[Row]:
    """One or several rows along a wall, between its ends and its doors."""
    low, high = ends[0].inset, side.length - ends[1].inset
    if high - low < 300.0:
        return []
    stretches = minus([(low, high)], doors)
    rows: list[Row] = []
    for a, b in stretches:
        left = ends[0] if a == low else Ends(0.0)
        right = ends[1] if b == high else Ends(0.0)
        a, b = (a if left.units or a == low else a + 30.0), (b if right.units or b == high else b - 30.0)
        rows += stretch(lots, tops, side, (a, b), left, right)
    return rows


def stretch(lots: Lots, tops: Tops, side: Side, at: Interval, left: Ends, right: Ends) -> list[Row]:
    """A row from its left end, one to its right end, or both with a gap between; or one anywhere."""
    room = at[1] - at[0] - length(left.units) - length(right.units)
    if room < 0.0:
        return []
    most = 14 if side.length > rooms.LONG else 3
    share = lots.pick([0.5, 1.0]) if not right.meets else 0.5 if left.meets else 0.0
    first = filled(lots, tops.kit, "floor", room * share - 60.0, most) if share else ()
    if not right.meets and not left.meets:
        first = ended(lots, tops.kit, "floor", first, room - length(first), lots.pick(["left", "right"]))
    last = (
        filled(lots, tops.kit, "floor", room - length(first) - 120.0, most) if right.meets or share == 0.5 else ()
    )
    begins = (
        at[0] if left.meets or lots.some(0.5) else at[0] + lots.whole(0, max(0.0, room * share - length(first)))
    )
    begun, ended_by = (*left.units, *first), (*last, *right.units)
    rows = [Row(side.name, begins, begun, told=left.told)] if begun else []
    if ended_by:
        rows.append(Row(side.name, at[1] - length(ended_by), ended_by, told=right.told or not right.units))
    return rows


def has_neighbours(tops: Tops, row: Row, rows: list[Row], sides: list[Side]) -> bool:
    """Whether there is a row on the other wall of every corner unit."""
    at = next(i for i, side in enumerate(sides) if side.name == row.wall)
    beside = {"left": sides[at - 1].name, "right": sides[(at + 1) % len(sides)].name}
    corners = [unit for unit in row.units if tops.kit.catalogue.families[unit["unit"]].wings]
    return all(beside[unit["hand"]] in {r.wall for r in rows} for unit in corners)


def windows_over(
    lots: Lots, tops: Tops, rows: list[Row], sides: list[Side], doors: Sequence[Data]
) -> tuple[Data, ...]:
    """Windows above the tops, where no tall unit stands."""
    found = []
    for side in sides:
        tall = [at for row in rows if row.wall == side.name for unit, at in row.places() if is_tall(tops, unit)]
        free = [
            (a, b) for a, b in minus([(150.0, side.length - 150.0)], [*tall, *gaps(doors, side)]) if b - a > 500.0
        ]
        if free and lots.some(0.25):
            a, b = lots.pick(free)
            width = lots.whole(400, min(1400.0, b - a))
            at = lots.whole(a, b - width)
            sill = lots.pick([920.0, 1050.0, 1200.0])
            found.append(
                {"kind": "window", "wall": side.name, "at": at, "width": width, "sill": sill, "head": 2100.0}
            )
    return tuple(found)


def is_tall(tops: Tops, unit: Data) -> bool:
    """Whether a unit on the floor stands higher than the tops."""
    return tops.kit.catalogue.families[unit["unit"]].top > 1000.0


def slopes(
    lots: Lots, sides: list[Side], rows: list[Row], uppers: list[Row], openings: Sequence[Data]
) -> tuple[Data, ...]:
    """None, or a sloping ceiling over a wall without anything high on it."""
    taken = {*(row.wall for row in (*rows, *uppers)), *(o["wall"] for o in openings)}
    beside = zip(sides, sides[-1:] + sides[:-1], sides[1:] + sides[:1], strict=True)
    free = [a for a, b, c in beside if not taken & {a.name, b.name, c.name}]
    if not free or lots.some(0.5):
        return ()
    wall = lots.pick(free).name
    return ({"wall": wall, "eaves": lots.whole(1000, 2100), "run": lots.whole(300, 1100)},)
