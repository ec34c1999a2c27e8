"""Rooms by lot: shapes that a survey meets, walls measured as a tape has them, and what else is in a room."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from tests.random_kitchens.lots import Lots

Data = dict[str, Any]
Corners = list[tuple[float, float]]

LETTERS = "ABCDEFGH"

LONG = 6000.0
"""Walls longer than this have many units in a row, mm."""


@dataclass(frozen=True)
class Side:
    """A wall as whoever lays out a kitchen sees it: its length (mm) and the inside angles at its ends, if known."""

    name: str
    length: float
    before: float | None
    after: float | None


def rectangles(lots: Lots) -> list[Data]:
    """Four walls, leaning by up to two degrees, closed within a few millimetres."""
    a, b = lots.whole(2400, 5600), lots.whole(2400, 5200)
    return measured(lots, [(0.0, 0.0), (a, 0.0), (a, -b), (0.0, -b)])


def long_rooms(lots: Lots) -> list[Data]:
    """Four walls, two of them longer than any worktop that is sold, so that tops are joined in line."""
    a, b = lots.whole(LONG + 100, 9000), lots.whole(2400, 3600)
    return measured(lots, [(0.0, 0.0), (a, 0.0), (a, -b), (0.0, -b)])


def l_shapes(lots: Lots) -> list[Data]:
    """Six walls round a reflex corner, in any of the four ways that an L may lie."""
    a, b = lots.whole(4000, 6000), lots.whole(4000, 6000)
    x, y = lots.whole(1900, a - 1900), lots.whole(1900, b - 1900)
    plan = [(0.0, 0.0), (a, 0.0), (a, -y), (x, -y), (x, -b), (0.0, -b)]
    first = lots.count(0, 5)
    return measured(lots, plan[first:] + plan[:first])


def cut_corners(lots: Lots) -> list[Data]:
    """Five walls: a rectangle with one corner cut off at an angle."""
    a, b = lots.whole(3600, 5600), lots.whole(3400, 4800)
    x, y = lots.whole(900, 1600), lots.whole(900, 1600)
    plan = [(0.0, 0.0), (a - x, 0.0), (a, -y), (a, -b), (0.0, -b)]
    first = lots.count(0, 4)
    return measured(lots, plan[first:] + plan[:first])


def tapers(lots: Lots) -> list[Data]:
    """Four walls of which no two need be parallel."""
    a, b = lots.whole(3400, 5400), lots.whole(3000, 4600)
    slips = [(lots.whole(-500, 500), lots.whole(-400, 400)) for _ in range(4)]
    square = [(0.0, 0.0), (a, 0.0), (a, -b), (0.0, -b)]
    return measured(lots, [(x + dx, y + dy) for (x, y), (dx, dy) in zip(square, slips, strict=True)])


def open_walls(lots: Lots) -> list[Data]:
    """One to three walls of a room that goes on elsewhere, at any angle that tops are joined at, and wider."""
    count = lots.count(1, 3)
    walls: list[Data] = [{"name": LETTERS[i], "length": lots.whole(2200, 5200)} for i in range(count)]
    for wall in walls[:-1]:
        wall["corner"] = lots.pick([90.0, lots.whole(62, 148), lots.between(85.0, 95.0)])
    return walls


def measured(lots: Lots, plan: Corners) -> list[Data]:
    """The walls round a plan, sheared a little or not, with the small errors of a tape."""
    lean = lots.pick([0.0, 0.0, 0.004, -0.009, 0.03, -0.03])
    errors = lots.pick([(0.0,), (1.0, -1.0, 0.0), (2.0, 0.0, -1.0, 1.0)])
    plan = [(x + lean * y, y) for x, y in plan]
    walls = []
    for i, name in enumerate(LETTERS[: len(plan)]):
        (x0, y0), (x1, y1), (x2, y2) = plan[i], plan[(i + 1) % len(plan)], plan[(i + 2) % len(plan)]
        turn = math.atan2(y1 - y0, x1 - x0) - math.atan2(y2 - y1, x2 - x1)
        length = round(math.hypot(x1 - x0, y1 - y0), 1) + errors[i % len(errors)]
        walls.append({"name": name, "length": length, "corner": round((180 - math.degrees(turn)) % 360, 2)})
    return walls


def sides(walls: list[Data]) -> list[Side]:
    """The walls with the angles at both their ends."""
    corners = [wall.get("corner") for wall in walls]
    return [Side(w["name"], w["length"], corners[i - 1], corners[i]) for i, w in enumerate(walls)]


def taped(lots: Lots, walls: list[Data]) -> tuple[Data, ...]:
    """Some walls bowed, and some corners taken with the tape in place of an angle."""
    return tuple({**corner(lots, wall), **bow(lots, wall["length"])} for wall in walls)


def corner(lots: Lots, wall: Data) -> Data:
    """The wall with its corner as an angle, or now and then by two legs and a diagonal."""
    if "corner" not in wall or wall["corner"] > 175 or lots.some(0.85):
        return wall
    a, b = lots.pick([(900.0, 1200.0), (600.0, 800.0), (700.0, 700.0)])
    angle = math.radians(wall["corner"])
    length = round(math.sqrt(a * a + b * b - 2 * a * b * math.cos(angle)), 1)
    return {"name": wall["name"], "length": wall["length"], "diagonal": {"legs": (a, b), "length": length}}


def bow(lots: Lots, length: float) -> Data:
    """Nothing, or offsets of a wall that is hollow, bulges or does both, the last at its end or short of it.

    Where it is short the wall is read anew in the mirror, which cuts the peaks: there it bulges by less.
    """
    if lots.some(0.8):
        return {}
    count = lots.count(3, 8)
    to_end = lots.some(0.7)
    offsets = [0.0, *(lots.whole(-8 if to_end else -4, 14) for _ in range(count - 1))]
    if to_end:
        return {"bow": {"every": length / count, "offsets": (*offsets, 0.0)}}
    return {"bow": {"every": float(math.floor(length / (count + 1))), "offsets": tuple(offsets)}}


def services(lots: Lots, walls: list[Side]) -> tuple[Data, ...]:
    """A few pipes, sockets and ducts anywhere on the walls."""
    kinds = ["water", "waste", "gas", "socket", "switch", "flue", "cooker-outlet"]
    placed = []
    for _ in range(lots.count(0, 3)):
        wall = lots.pick(walls)
        at, height = lots.whole(0, wall.length), lots.whole(100, 1900)
        placed.append({"kind": lots.pick(kinds), "wall": wall.name, "at": at, "height": height})
    return tuple(placed)
