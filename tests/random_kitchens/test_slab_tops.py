"""Kitchens by lot whose tops are made to measure: other stocks in place of those drawn, ends down to the floor."""

from typing import Any

import pytest

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.takeoff import take_off
from tests.lanes import LARGE
from tests.random_kitchens import rooms
from tests.random_kitchens.kitchens import kitchens
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.properties import SEEDS, built, everything_holds
from tests.random_kitchens.rows import kit
from tests.takeoff.ledger import open_lines

SLABS = (
    "granite20",
    "granite30",
    "engineered20",
    "low-silica20",
    "porcelain12",
    "solid12",
    "steel40",
    "compact12.650",
)
TRIES = 12


def with_slabs(lots: Lots, data: dict[str, Any]) -> dict[str, Any]:
    """The same kitchen under other tops, each as deep as that which was drawn if it may be."""
    stocks, top = kit("metric").catalogue.stocks, data["worktop"]

    def other(code: str) -> tuple[str, float | None]:
        chosen = lots.pick(SLABS)
        slab = stocks[chosen].slab
        return chosen, min(stocks[code].depth, *slab) if slab else None

    stock, depth = other(top["stock"])
    joins = tuple({k: v for k, v in join.items() if k in ("corner", "female")} for join in top["joins"])
    upstand = {"stock": "upstand.slab20"} if stocks[stock].slab and stocks[stock].thickness == 20.0 else None
    worktop = {**top, "stock": stock, "depth": depth, "joins": joins, "corners": (), "upstand": upstand}
    islands = []
    for island in data["islands"]:
        own, deep = other(island.get("stock") or top["stock"])
        islands.append({**island, "stock": own, "top_depth": deep})
        down = {"over": f"{island['name']}1", "end": "left", "waterfall": lots.pick(["mitre", "butt"])}
        worktop["corners"] = (*worktop["corners"], down)
    tongues = tuple({k: v for k, v in tongue.items() if k != "stock"} for tongue in data["peninsulas"])
    return {**data, "worktop": worktop, "islands": tuple(islands), "peninsulas": tongues}


def drawn(shape: Any, seed: int) -> Kitchen:
    """The first kitchen of a seed that can be built."""
    lots = Lots(f"slabs {shape.__name__} {seed}")
    tries = (kitchens(lots, shape) for _ in range(TRIES))
    found = (built(with_slabs(lots, data)) for data in tries if data["runs"])
    kitchen = next((one for one in found if one is not None), None)
    assert kitchen is not None, f"{TRIES} were refused one after the other"
    return kitchen


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS if LARGE else SEEDS[:1])
@pytest.mark.parametrize("shape", [rooms.rectangles, rooms.cut_corners], ids=lambda shape: shape.__name__)
def test_everything_holds_under_tops_that_are_made_to_measure(shape, seed):
    everything_holds(drawn(shape, seed))


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS if LARGE else SEEDS[:1])
def test_the_ledger_closes_under_tops_that_are_made_to_measure(seed):
    kitchen = drawn(rooms.l_shapes, seed)
    assert open_lines(kitchen, take_off(kitchen)) == []
