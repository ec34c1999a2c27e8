"""What the larger families of units bring, by hand: rack, pull-out, larder, glazed door, posts, cornice, island.

Sizes follow from the unit families, worked with pencil and not read from the model; rules as in shared/rules.
"""

import math

import pytest

from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.measuring.registry import measured
from tests.specimens import document

pytestmark = pytest.mark.quick

LINES = {
    # Screwed at both ends: rails of five units and of the bar, 12 with two at each end; bottoms of nine carcasses,
    # tops of larder, rack and two wall units, five shelves of the rack, 18 with three.
    "confirmat": (12 * 2 + 18 * 3) * 2,  # 156
    # Hinges: the larder's door 1975 high has 4, five doors 717 high have 2 each: 14, four screws each. Three
    # drawers × 12, seven carcasses on 4 legs × 4, clips 3 + 2 + 2 on the plinths of 1500, 400 and 1000, two each.
    "screw.35x16": 14 * 4 + 3 * 12 + 28 * 4 + 7 * 2,  # 218
    "hinge": 14,
    # Brackets on two rails of the bar, 540 long: 440 / 350, so 3 each; four screws a bracket, four a post.
    "bracket": 6,
    "screw.4x16": 6 * 4 + 2 * 4,  # 32
    # Two rails of the glazed door with one at each end.
    "biscuit.20": 4,
    # Both faces of four biscuits, raw, at 8 m² a litre.
    "glue.pva": 4 * 2 * 56 * 23 * 2 / 8 * 1e-6,
    # Two beads half round of 8 behind 2130 of upstands, three on the island's back of 1000.
    "adhesive.mount": (2 * 2.130 + 3 * 1.000) * math.pi / 8 * 64,
    # Fillets of 18 mm²: at the larder 600, along the upstands 2130, which hide the joint behind them.
    "silicone": (600 + 2130) * 18 / 1000,
    "masking": 2 * (2.130 + 0.600),
    "upstand.100": 2.130 + 2 * 0.020,
    # 1110 from the larder to 10 past the drawers, 400 + 600 + 2 × 10 on wall B.
    "pf38.600.2400": 1.110 + 1.020,
    # 500 + 600, and 50 to mitre it.
    "cornice.50": 1.150,
    "pelmet.45": 1.150,
    # A door of 497 × 717 with stiles and rails of 70.
    "glass.4": (497 - 140) * (717 - 140) * 1e-6,
    "pull-out": 1,
    "basket": 2,
    "post.870": 2,
    "hanger": 4,
    "rail.hang": 1.100,
    # Five carcasses at walls × 2; rails of 500 and 600: 400 and 500 between the ends at most 300 apart, 3 each.
    "plug": 5 * 2 + 2 * 3,
}

# operation: how much, minutes each, people
LABOUR = {
    "carcass": (30, 4, 1),
    "back": (9, 5, 1),
    "box": (3 * 2, 5, 1),
    "frame": (2, 10, 1),
    "pull-out": (1, 20, 1),
    "face": (1, 5, 1),
    "island-back": (1.000, 10, 2),
    "post": (2, 15, 1),
    "trim": (2 * 1.100, 12, 1),
    "silicone-tall": (0.600, 4, 1),
}


@pytest.fixture(scope="module")
def kitchen():
    wall_a = (("tall-larder", 400), ("base-wine", 300), ("base-pull-out", 300), ("base-drawers", 500))
    runs = (
        {"wall": "A", "start": 100.0, "units": row(*wall_a)},
        {
            "wall": "C", "level": "upper", "start": 500.0, "cornice": True, "pelmet": True,
            "units": row(("wall-glazed", 500), ("wall-doors", 600)),
        },
        {"wall": "B", "start": 1000.0, "units": row(("base-doors", 400), ("bar-posts", 600))},
    )  # fmt: skip
    island = {
        "name": "I", "wall": "A", "along": 500.0, "out": 1600.0, "facing": "wall", "stock": "pf38.670",
        "units": row(("base-doors", 600), ("base-doors", 400)),
    }  # fmt: skip
    top = {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": "upstand.100"}}
    return build(document(runs=runs, islands=(island,), worktop=top))


def row(*units):
    return tuple({"unit": code, "width": float(width), "hand": "right"} for code, width in units)


@pytest.mark.parametrize("item", LINES)
def test_line(kitchen, item):
    found = next(q for q in estimate(kitchen).quantities if q.item == item)
    assert found.net == pytest.approx(LINES[item], rel=1e-6)
    assert found.problem == ""


@pytest.mark.parametrize("code", LABOUR)
def test_labour(kitchen, code):
    work = next(line.work for line in estimate(kitchen).labour if line.work.code == code)
    assert (float(work.amount), work.minutes_each, work.people) == LABOUR[code]


def test_upstands_are_delivered_too(kitchen):
    # 2130 × 100 × 18 at 650 kg/m³ are 2.492 kg beside tops and boards.
    shares = measured(kitchen)
    upstands = 2130 * 100 * 18 * 650e-9
    assert sum(s.amount for s in shares["upstand-mass"]) == pytest.approx(upstands)
    others = sum(s.amount for name in ("worktop-mass", "board-mass") for s in shares[name])
    delivery = next(q for q in estimate(kitchen).quantities if q.item == "delivery")
    assert delivery.net == pytest.approx(others + upstands)


def test_a_solid_top_lies_in_silicone_and_is_not_screwed_down():
    # Rails of 364, 564 and 564, two to a unit, are 2.984 m: a fifth of a bead of π·10²/8 = 39.3 mm² is 23.4 mL.
    taken = estimate(build(document(worktop={"stock": "solid30.650", "decor": "pale-oak"})))
    silicone = next(q for q in taken.quantities if q.item == "silicone")
    dabs = [c.amount for c in silicone.contributions if ".rail" in c.id]
    assert sum(dabs) == pytest.approx(2 * (364 + 564 + 564) * 0.2 * math.pi * 100 / 8 / 1000, rel=1e-3)
    screws = next(q for q in taken.quantities if q.item == "screw.4x30")
    assert not [c.id for c in screws.contributions if ".rail" in c.id]
    assert "bracket" not in {q.item for q in taken.quantities}


def test_a_solid_top_is_polished_where_it_shows():
    solid = build(document(worktop={"stock": "solid30.650", "decor": "pale-oak"}))
    work = next(line.work for line in estimate(solid).labour if line.work.code == "polish")
    assert work.formula == "2 polished edges, 1.3 m × 40 min × 1 person ÷ 60 × rate"
    assert not [line for line in estimate(solid).labour if line.work.code == "edging"]
