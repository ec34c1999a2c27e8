"""Rooms to plan in, invented."""

from __future__ import annotations

import math
import random
from typing import Any

from countersunk.model.planning.brief import Brief

NO_CLOCK = math.inf
"""Seconds for a search that ends by the steps that it counts, on a busy machine as on an idle one."""


def brief(a: float = 3600.0, b: float = 3000.0, wishes: dict[str, Any] | None = None, **room: Any) -> Brief:
    """A rectangular room with walls A and C of length ``a``, and what is given."""
    lengths = {"A": a, "B": b, "C": a, "D": b}
    walls = tuple({"name": n, "length": mm, "corner": 90.0} for n, mm in lengths.items())
    return Brief.model_validate({"kitchen": "Trial", "room": {"walls": walls, **room}, "wishes": wishes or {}})


def by_lot(seed: int) -> Brief:
    """A room, its openings, services and wishes drawn by lot."""
    lot = random.Random(seed)
    a, b = lot.randrange(3000, 5200, 10), lot.randrange(2400, 4200, 10)
    window = {"kind": "window", "wall": "A", "at": float(lot.randrange(600, 1200)), "width": 1000.0, "sill": 1050.0}
    door = {
        "kind": "door",
        "wall": lot.choice("BCD"),
        "at": 900.0,
        "width": 850.0,
        "swing": lot.choice(["left", "out"]),
    }
    at = window["at"] + 400.0
    services = [
        {"kind": "water", "wall": "A", "at": at, "height": 500.0},
        {"kind": "waste", "wall": "A", "at": at + 150.0, "height": 300.0},
    ]
    wishes = {
        "dishwasher": lot.choice(["none", "450", "600"]),
        "larders": lot.choice([0, 0, 1]),
        "oven": lot.choice(["none", "under-hob", "tall"]),
        "sink": lot.choice(["one-bowl", "bowl-drainer"]),
        "hob": {"fuel": lot.choice(["electric", "gas"])},
    }
    openings = ({**window, "head": 2100.0}, door)
    return brief(float(a), float(b), wishes, openings=openings, services=tuple(services))
