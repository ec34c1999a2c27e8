"""A whole small kitchen taken off by hand. The arithmetic stands beside each line; rules as in shared/rules.

Sizes of boards follow from the unit families (carcass 720 × 560, boards 18, backs 10, shelf 20 behind the front and
1 of play all round, reveal 1.5 round each front): worked with pencil from those, not read from the model.
"""

import math
from decimal import Decimal

import pytest

from takeoff.takeoff import take_off
from tests.takeoff.by_hand import small_kitchen

# Round corners of the lines to cut, sink 480 × 480 r 20 and hob 560 × 490 r 5; arcs are chords within 0.02 mm.
SINK = 4 * 480 - 8 * 20 + 2 * math.pi * 20  # 1885.66
HOB = 2 * (560 + 490) - 8 * 5 + 2 * math.pi * 5  # 2091.42
RIM = 4 * 500

# item: measured, unit, packs
LINES = {
    # 1620 and 10 to square its ends need 1630: the 2400 stock.
    "pf38.600.2400": (1.620, "m", 1),
    # back 1620, ends 2 × 600, sink 1885.66, hob 2091.42; × 38 × 2 coats × 2 as raw board drinks double ÷ 10 m²/L.
    "sealer": ((1620 + 1200 + SINK + HOB) * 38 * 2 * 2 / 10 * 1e-6, "L", 1),  # 0.1033 L
    # two ends of 600, 50 more each.
    "edging.38": (1.300, "m", 1),
    # two ends 600 × 38 on both faces ÷ 5 m²/L.
    "adhesive.contact": (2 * 600 * 38 * 2 / 5 * 1e-6, "L", 1),  # 0.01824 L
    "tape.heat": ((HOB + 50) / 1000, "m", 1),
    # wall 1620 × fillet 6·6/2 = 18 mm²; rim 2000 × half round π/8·36 = 14.14 mm².
    "silicone": ((1620 * 18 + RIM * math.pi / 8 * 36) / 1000, "mL", 1),  # 57.43 mL
    # rails on edge of sink and hob unit, 564 long: (564 - 100) / 350 = 1.3, so 2 spaces and 3 brackets; four rails.
    "bracket": (12, "each", 2),
    "screw.4x16": (48, "each", 1),
    # flat rails of the 400, 364 long: 264 / 350, so 1 space and 2 screws, two rails; two pairs of neighbours × 4.
    "screw.4x30": (2 * 2 + 2 * 4, "each", 1),
    # sides 6 × 720 × 550; bottoms (364 + 564 + 564) × 550; rails 2 × (364 + 564 + 564) × 100;
    # shelves (362 + 562) × 529 in the 400 and the hob unit.
    "pb18": ((6 * 720 * 550 + 1492 * 550 + 2 * 1492 * 100 + 924 * 529) * 1e-6, "m2", 1),  # 3.984 m²
    "pb10": (720 * 1600 * 1e-6, "m2", 1),
    # doors 397, 597, 597 wide and 717 high.
    "front18": (1591 * 717 * 1e-6, "m2", 1),
    # fronts of 6 sides, 3 bottoms, 3 front rails, 2 shelves: 4320 + 1492 + 1492 + 924, 14 edges × 30 more.
    "band.pb18": ((4320 + 2 * 1492 + 924 + 14 * 30) / 1000, "m", 1),  # 8.648 m
    # all round 3 doors, 12 edges × 30 more.
    "band.front18": ((2 * 1591 + 6 * 717 + 12 * 30) / 1000, "m", 1),  # 7.844 m
    "plinth.147": (1.600, "m", 1),
    # 1600 - 200 = 1400, so 2 spaces of at most 800 and 3 clips.
    "clip.plinth": (3, "each", 1),
    "leg.150": (12, "each", 3),
    # three doors 717 high, 2 hinges each, sold in twos.
    "hinge": (6, "each", 3),
    "handle.bar": (3, "each", 3),
    # one shelf in the 400 and one under the hob.
    "pin.shelf": (8, "each", 1),
    "sink.one-bowl": (1, "each", 1),
    "hob.electric-60": (1, "each", 1),
    "tap": (1, "each", 1),
}

# operation: minutes in all, and cents at 48.00 an hour.
LABOUR = {
    "survey": (4 * 12, "38.40"),
    "place": (3 * 25, "60.00"),
    "door": (3 * 8, "19.20"),
    "length": (60 * 2, "96.00"),
    "cutout": (2 * 45, "72.00"),
    "edging": (1.2 * 20, "19.20"),
    "silicone": (1.62 * 4, "5.18"),  # 6.48 min = 5.184
    "plinth": (1.6 * 6, "7.68"),
    "clean": (30, "24.00"),
}


@pytest.fixture(scope="module")
def taken():
    return take_off(small_kitchen())


def test_nothing_is_on_the_list_but_what_was_counted_by_hand(taken):
    assert sorted(q.item for q in taken.quantities) == sorted(LINES)


@pytest.mark.parametrize("item", LINES)
def test_line(taken, item):
    measured, unit, packs = LINES[item]
    found = next(q for q in taken.quantities if q.item == item)
    assert found.net == pytest.approx(measured, rel=5e-5)
    assert (found.unit, found.packs, found.problem) == (unit, packs, "")


def test_labour(taken):
    found = {line.work.code: (float(line.work.minutes), str(line.charge.cost)) for line in taken.labour}
    assert found == {code: (pytest.approx(minutes), cost) for code, (minutes, cost) in LABOUR.items()}


def test_formula_has_its_numbers_filled_in(taken):
    formulas = {q.item: q.formula for q in taken.quantities}
    assert formulas["sealer"] == (
        "5 raw edges, 6.797 m × 38 mm × 2 coats × 2 for a raw face ÷ 10 m²/L = 0.103 L → 1 × tin of 0.5 L"
    )
    assert formulas["silicone"] == (
        "1 wall edge, 1.62 m × fillet 6 × 6 mm (18 mm²) and 1 sink rim, 2 m × half-round 6 mm (14.14 mm²)"
        " = 57.434 mL + 15 % = 66.049 mL → 1 × cartridge of 310 mL"
    )
    assert formulas["screw.4x30"] == (
        "2 flat rails at most 350 mm apart, 50 from the ends: 2 × 2 and 2 unit joints by size: 2 × 4"
        " = 12 + 10 % = 13.2 → 1 × box of 200"
    )
    assert formulas["pf38.600.2400"] == (
        "T1 1620 + trim 10 on 2400 (bought 2.4 m; no purchase can be below 2.4 m, which is reached)"
    )


def test_measured_and_ordered_are_two_columns(taken):
    strip = next(q for q in taken.quantities if q.item == "edging.38")
    assert (strip.net, strip.ordered, strip.surplus) == pytest.approx((1.3, 5.0, 3.7))
    top = next(q for q in taken.quantities if q.item == "pf38.600.2400")
    assert (top.net, top.allowance, top.ordered, top.surplus) == pytest.approx((1.62, 0.01, 2.4, 0.77))


def test_totals_by_hand(taken):
    # Labour is the sum of the table above. Materials: prices of the invented book × packs, added up by hand.
    assert taken.totals.labour == Decimal("341.66")
    prices = {
        "pf38.600.2400": "68.40", "sealer": "14.80", "edging.38": "17.50", "adhesive.contact": "9.60",
        "tape.heat": "8.40", "silicone": "7.95", "bracket": "4.60", "screw.4x16": "3.45", "screw.4x30": "6.85",
        "pb18": "41.50", "pb10": "29.80", "front18": "68.40", "band.pb18": "21.00", "band.front18": "34.00",
        "plinth.147": "27.40", "clip.plinth": "3.80", "leg.150": "6.60", "hinge": "5.30", "handle.bar": "4.85",
        "pin.shelf": "1.95", "sink.one-bowl": "139.00", "hob.electric-60": "315.00", "tap": "118.00",
    }  # fmt: skip
    cost = sum(Decimal(price) * LINES[item][2] for item, price in prices.items())
    assert taken.totals.materials == cost == Decimal("996.25")
    assert taken.totals.complete
