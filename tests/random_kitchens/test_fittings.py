"""Kitchens by lot with what is fitted to them: lights, arms, shaped ends, tops in reveals, boxes in upstands."""

from typing import Any

import pytest

from countersunk.model.kitchen import Kitchen
from tests.lanes import LARGE
from tests.random_kitchens import rooms
from tests.random_kitchens.kitchens import kitchens
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.properties import SEEDS, built, everything_holds
from tests.random_kitchens.rows import kit

TRIES = 24
SHAPED = ({"bow": 60.0}, {"edge": "both", "clip": 120.0}, {"edge": "both", "radius": 200.0}, {})


def with_fittings(lots: Lots, data: dict[str, Any]) -> dict[str, Any]:
    """The same kitchen with more to it; some of it may be refused, as what stands in the way has it."""
    top = kit("metric").families("floor", "box")[0].top
    room, stocks = data["room"], kit("metric").catalogue.stocks
    kinds = [{}, {"kind": "solid"}, {"kind": "stud"}, {"kind": "boarded"}]
    walls = tuple({**wall, **lots.pick(kinds)} for wall in room["walls"])
    into = {"sill": top - 20.0, "reveal": 150.0, "top_in": True}
    windows = tuple({**o, **(into if o["kind"] == "window" and lots.some(0.5) else {})} for o in room["openings"])
    lit = [{}, {"lights": "led"}]
    runs = tuple({**run, **(lots.pick(lit) if run.get("level") == "upper" else {})} for run in data["runs"])
    islands, corners = [], list(data["worktop"]["corners"])
    for island in data["islands"]:
        deep = stocks[island.get("stock") or data["worktop"]["stock"]].depth >= 890.0
        islands.append({**island, **({"arms": "arm.180"} if deep else {})})
        wish = {"over": f"{island['name']}1", "end": "left", "past": 260.0, "post": True}
        corners.append({**wish, **lots.pick(SHAPED)})
    upstand = {**data["worktop"]["upstand"], "sockets": True} if data["worktop"].get("upstand") else None
    plain = ["plain", "fronts"]
    fronts = {**data["fronts"], "sides": lots.pick(plain), "bottoms": lots.pick(plain),
              "style": lots.pick(["slab", "framed", "face-frame"]),
              "handle": lots.pick(["bar", "channel"])}  # fmt: skip
    worktop = {**data["worktop"], "corners": tuple(corners), "upstand": upstand}
    return {**data, "room": {**room, "walls": walls, "openings": windows}, "runs": runs, "islands": tuple(islands),
            "worktop": worktop, "fronts": fronts}  # fmt: skip


def drawn(shape: Any, seed: int) -> Kitchen:
    """The first kitchen of a seed that can be built."""
    lots = Lots(f"fittings {shape.__name__} {seed}")
    tries = (kitchens(lots, shape) for _ in range(TRIES))
    found = (built(with_fittings(lots, data)) for data in tries if data["runs"])
    kitchen = next((one for one in found if one is not None), None)
    assert kitchen is not None, f"{TRIES} were refused one after the other"
    return kitchen


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS if LARGE else SEEDS[:1])
@pytest.mark.parametrize("shape", [rooms.rectangles, rooms.l_shapes], ids=lambda shape: shape.__name__)
def test_everything_holds_with_what_is_fitted(shape, seed):
    everything_holds(drawn(shape, seed))
