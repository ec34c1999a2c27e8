"""A whole small kitchen taken off by hand. The arithmetic stands beside each line; rules as in shared/rules.

Sizes of boards follow from the unit families (carcass 720 × 560, boards 18, backs 10, shelf 20 behind the front and
1 of play all round, reveal 1.5 round each front): worked with pencil from those, not read from the model.
"""

import math
from dataclasses import replace
from decimal import Decimal

import pytest

from countersunk.takeoff.counting.takeoff import estimate
from tests.takeoff.by_hand import small_kitchen

pytestmark = pytest.mark.quick

# Round corners of the lines to cut, sink 480 × 480 r 20 and hob 560 × 490 r 5; arcs are chords within 0.02 mm.
SINK = 4 * 480 - 8 * 20 + 2 * math.pi * 20  # 1885.66
HOB = 2 * (560 + 490) - 8 * 5 + 2 * math.pi * 5  # 2091.42
RIM = 4 * 500
# Areas: the rectangle less (4 - π) r² at its corners.
SINK_AREA = 480**2 - (4 - math.pi) * 20**2
HOB_AREA = 560 * 490 - (4 - math.pi) * 5**2
# Sides 6 × 720 × 550, bottoms (364 + 564 + 564) × 550, rails 2 × as long × 100, shelves (362 + 562) × 529.
CARCASS = 6 * 720 * 550 + 1492 * 550 + 2 * 1492 * 100 + 924 * 529
# Round each of the same boards, the backs (2240 + 2 × 2640) and the doors 397, 597, 597 × 717.
OUTLINES = (
    6 * 2 * (720 + 550) + 2 * (1492 + 3 * 550) + 2 * 2 * (1492 + 3 * 100) + 2 * (924 + 2 * 529)
    + 2240 + 2 * 2640 + 2 * (1591 + 3 * 717)
)  # fmt: skip

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
    # flat rails of the 400, 364 long: 264 / 350, so 1 space and 2 screws, two rails; two pairs of neighbours × 4;
    # backs 720 high round 2 × (720 + 400) = 2240 and twice 2640: 12 and 14 spaces of 200, a screw more each;
    # two wall brackets a unit, a screw each.
    "screw.4x30": (2 * 2 + 2 * 4 + 13 + 2 * 15 + 3 * 2, "each", 1),  # 61
    # both sides of 1620 along the wall.
    "masking": (2 * 1.620, "m", 1),
    # six rails with 2 at each end, three bottoms 550 deep with 3: (12 + 9) × 2.
    "confirmat": ((6 * 2 + 3 * 3) * 2, "each", 1),
    # six hinges × 4, twelve legs × 4, three clips × 2.
    "screw.35x16": (6 * 4 + 12 * 4 + 3 * 2, "each", 1),  # 78
    "bracket.wall": (3 * 2, "each", 1),
    "plug": (3 * 2, "each", 1),
    # shelves in the 400 and the hob unit.
    "pb18": (CARCASS * 1e-6, "m2", 1),  # 3.984 m²
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
    "trap": (1, "each", 1),
    "packer": (3 * 2 + 4, "each", 1),
    "bag.waste": (3 * 0.1 + 0.2, "each", 1),
    # carcass, fronts and plinth of 18 at 650 kg/m³, the back of 10 at 700;
    # the top 600 × 1620 less its cut-outs, 38 thick, less its rounded nose, at 600.
    "delivery": (
        ((CARCASS + 1591 * 717 + 1600 * 147) * 18 * 650 + 720 * 1600 * 10 * 700) * 1e-9
        + ((1620 * 600 - SINK_AREA - HOB_AREA) * 38 - 1620 * 2 * 36 * (1 - math.pi / 4)) * 600e-9,
        "kg",
        1,
    ),
    # ends 2 × 600 and both lines to cut.
    "wear.blade": ((1200 + SINK + HOB) / 1000, "m", 6),
    # half of all outlines: six sides, three bottoms, six rails, two shelves, the backs, three doors.
    "wear.panel": (OUTLINES / 2 / 1000, "m", 24),
}

# operation: minutes in all, and cents at 48.00 an hour.
LABOUR = {
    "survey": (4 * 12, "38.40"),
    "saw": (OUTLINES / 1000 * 0.25, "9.53"),  # 47.66 m, 9.532
    # bands of 8.228 m on the carcass and 7.484 m on the doors, as above without what is added to each edge.
    "band": (15.712, "12.57"),  # 12.5696
    # six rails and three bottoms, 4 minutes each; three backs, 5 each.
    "carcass": (9 * 4, "28.80"),
    "back": (3 * 5, "12.00"),
    "place": (3 * 25, "60.00"),
    "door": (3 * 8, "19.20"),
    "length": (60 * 2, "96.00"),
    "cutout": (2 * 45, "72.00"),
    "tap": (15, "12.00"),
    "edging": (1.2 * 20, "19.20"),
    "silicone": (1.62 * 4, "5.18"),  # 6.48 min = 5.184
    "plinth": (1.6 * 6, "7.68"),
    "clean": (30, "24.00"),
    "travel": (3 * 35, "84.00"),
    "distance": (0, "39.60"),  # 3 × 24 km at 0.55
}


@pytest.fixture(scope="module")
def taken():
    return estimate(small_kitchen())


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
        " and 3 backs at most 200 mm apart, 0 from the ends: 1 × 13 + 2 × 15 and 3 units at a wall × 2 each"
        " = 61 + 10 % = 67.1 → 1 × box of 200"
    )
    assert formulas["pf38.600.2400"] == (
        # 2400 - 10 - 1620 - 4 = 766 is kept: a tenth of 68.40 x 766 / 2390 = 2.19
        "T1 1620 + trim 10 on 2400 (worktops 68.40 before discounts, offcuts kept worth 2.19; "
        "cheaper is impossible)"
    )


def test_measured_and_ordered_are_two_columns(taken):
    strip = next(q for q in taken.quantities if q.item == "edging.38")
    assert (strip.net, strip.ordered, strip.surplus) == pytest.approx((1.3, 5.0, 3.7))
    top = next(q for q in taken.quantities if q.item == "pf38.600.2400")
    assert (top.net, top.allowance, top.ordered, top.surplus) == pytest.approx((1.62, 0.01, 2.4, 0.77))


def test_totals_by_hand(taken):
    # Labour is the sum of the table above.
    assert taken.totals.labour == sum(Decimal(cost) for _, cost in LABOUR.values()) == Decimal("540.16")
    assert taken.totals.complete


# Listed prices of the invented book; one pack of each but those that say so.
PRICES = {
    "Fallow Board Yard, 5 % off": {
        "pf38.600.2400": "68.40", "edging.38": "17.50", "pb18": "41.50", "pb10": "29.80", "front18": "68.40",
        "band.pb18": "21.00", "band.front18": "34.00", "plinth.147": "27.40", "bag.waste": "12.00",
        "delivery": "65.00",
    },
    "Tern Street Hardware, 2.5 % off": {
        "sealer": "14.80", "adhesive.contact": "9.60", "tape.heat": "8.40", "silicone": "7.95", "bracket": "4.60",
        "screw.4x16": "3.45", "screw.4x30": "6.85", "masking": "3.10", "confirmat": "5.90", "screw.35x16": "4.95",
        "bracket.wall": "5.20", "plug": "8.75", "clip.plinth": "3.80", "leg.150": "6.60", "hinge": "5.30",
        "handle.bar": "4.85", "pin.shelf": "1.95", "packer": "4.40",
    },
    "Kettle Lane Appliances": {
        "sink.one-bowl": "139.00", "hob.electric-60": "315.00", "tap": "118.00", "trap": "18.50",
    },
    "": {"wear.blade": "0.65", "wear.panel": "0.12"},
}  # fmt: skip


def test_materials_by_hand(taken):
    # Fallow 385.00 listed; its cents of discount by line: 3.42 + 0.88 + 2.08 + 1.49 + 3.42 + 1.05 + 1.70 + 1.37
    # + 0.60 + 3.25 = 19.26. Tern 148.55 listed (two bags of brackets, three legs, hinges and handles); off it 0.37
    # + 0.24 + 0.21 + 0.20 + 0.23 + 0.09 + 0.17 + 0.08 + 0.15 + 0.12 + 0.13 + 0.22 + 0.10 + 0.50 + 0.40 + 0.36
    # + 0.05 + 0.11 = 3.73. Kettle 590.50. Wear 6 × 0.65 + 24 × 0.12 = 6.78.
    listed = {s: sum(Decimal(p) * LINES[i][2] for i, p in rows.items()) for s, rows in PRICES.items()}
    assert list(map(str, listed.values())) == ["385.00", "148.55", "590.50", "6.78"]
    assert taken.totals.discount == Decimal("19.26") + Decimal("3.73") == Decimal("22.99")
    assert taken.totals.materials == sum(listed.values()) - Decimal("22.99")


def test_every_line_has_the_price_that_stands_here(taken):
    found = {line.quantity.item: str(line.price.price) for line in taken.materials}
    assert found == {item: price for rows in PRICES.values() for item, price in rows.items()}


@pytest.mark.parametrize(
    ("length", "said", "over", "note"),
    [
        (1630.0, "T1 1620 + trim 10 on 1630", 0.0, ""),
        (1625.0, "T1 1620 on 1625", 0.005, "T1: on 1625 less is left than the trim of 10"),
        (1620.0, "T1 1620 on 1620", 0.0, "T1: on 1620 less is left than the trim of 10"),
    ],
)
def test_a_top_as_long_as_its_stock_is_not_said_to_be_trimmed(length, said, over, note):
    kitchen = small_kitchen()
    stock = kitchen.catalogue.stocks["pf38.600"].model_copy(update={"lengths": (length,)})
    kitchen = replace(kitchen, catalogue=replace(kitchen.catalogue, stocks={"pf38.600": stock}))
    line = estimate(kitchen).quantities[0]
    assert (line.formula.split(" (")[0], line.surplus, line.note) == (said, pytest.approx(over), note)


def test_an_upstand_by_hand():
    # Along the back of the top, 1620; 20 more to cut it, from one length of 3000. Two beads half round of 8 behind
    # it: 1620 × π/8·64 × 2 = 81.43 mL; a fillet of silicone along it and none behind it, where nobody sees, so as
    # much silicone and masking as without it; 1.62 m × 15 min at 48.00, in which the filling is.
    top = {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": "upstand.100"}}
    without, taken = estimate(small_kitchen()), estimate(small_kitchen(worktop=top))
    found = {q.item: q for q in taken.quantities}
    assert (found["upstand.100"].net, found["upstand.100"].packs) == (pytest.approx(1.640), 1)
    assert found["adhesive.mount"].net == pytest.approx(1.620 * math.pi / 8 * 64 * 2)
    before = {q.item: q for q in without.quantities}
    for item in ("silicone", "masking"):
        assert found[item].net == pytest.approx(before[item].net)
    done = {w.work.code: str(w.charge.cost) for w in taken.labour}
    assert (done["upstand"], "silicone" in done) == ("19.44", False)
    assert taken.totals.complete
