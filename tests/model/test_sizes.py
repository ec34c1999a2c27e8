"""Sizes against published ones.

EN 1116:2018, Kitchen furniture - coordinating sizes for kitchen furniture and kitchen appliances. Quoted: the
figures were seen in secondary pages that quote the standard, the standard itself was not read.
"""

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue
from countersunk.model.certainty.certainty import run_fits
from countersunk.model.edit.mirror import mirrored
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.units.carcass import openings
from tests.specimens import SOME_DEMOS, SQUARE_ROOM, alone, demo, document, open_kitchen

FAMILIES = default_catalogue().families.values()
STOCKS = default_catalogue().stocks.values()
EN_1116_BASE_HEIGHTS = (820, 870, 920)
EN_1116_PLINTH_AT_LEAST = 100
EN_1116_TOP_DEPTH_AT_LEAST = 600
EN_1116_WALL_UNIT_DEPTH_AT_MOST = 400
EN_1116_OVEN_NICHE = {"width": (560, 568), "height": (585, 600), "depth": 550}
GRIDS = {200, 300, 400, 500, 600, 1000} | {300, 450, 600, 900, 1200}  # quoted: two grids of unit widths in use


@pytest.mark.parametrize("family", [f for f in FAMILIES if f.carries_top], ids=lambda f: f.code)
def test_base_units_reach_a_coordinating_height(family):
    assert family.top in EN_1116_BASE_HEIGHTS
    assert family.legs >= EN_1116_PLINTH_AT_LEAST


@pytest.mark.parametrize(
    "family",
    [
        f for f in FAMILIES if f.level == "upper" and f.kind.is_unit and not f.on_tall
    ],  # which is as deep as a tall unit
    ids=lambda f: f.code,
)
def test_wall_units_are_no_deeper_than_the_standard_says(family):
    assert family.depth + 18 <= EN_1116_WALL_UNIT_DEPTH_AT_MOST


@pytest.mark.parametrize("stock", STOCKS, ids=lambda s: s.code)
def test_worktops_are_as_deep_as_the_standard_says(stock):
    assert stock.depth >= EN_1116_TOP_DEPTH_AT_LEAST


def test_most_widths_stand_on_one_of_the_two_grids():
    # 150, 800 and 1100 are neither: they are sold everywhere, so they are here too (common practice, no source).
    # Wide cookers and fridges stand in places 10 or 20 wider than they are, machines of 600 in a housing of 650.
    widths = {w for f in FAMILIES for w in f.widths}
    assert widths - GRIDS == {150, 800, 1100} | {650, 910, 920, 1010, 1110}


def test_oven_niche_takes_a_built_in_oven():
    kitchen = demo("straight")
    unit = next(u for u in kitchen.units if u.family.code == "base-oven")
    sides = [p for p in kitchen.parts_of[unit.key] if p.role == "side"]
    low, high = EN_1116_OVEN_NICHE["width"]
    assert low <= unit.width - sum(p.thickness for p in sides) <= high
    low, high = EN_1116_OVEN_NICHE["height"]
    assert low <= unit.family.niche <= high
    assert unit.family.depth >= EN_1116_OVEN_NICHE["depth"]


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_worktops_end_at_a_usual_height(path):
    # Tops at about 850, 900 or 950, and at 36 in where kitchens are in inches (from memory).
    for length in open_kitchen(path).lengths:
        top = length.part.pose.origin[2] + length.part.thickness
        assert min(abs(top - h) for h in (850, 900, 914.4, 950)) <= 10


class TestNiches:
    """Built-in appliances (niche of an oven quoted as above; compact appliances from memory)."""

    @pytest.mark.parametrize("code", ["tall-oven", "tall-oven-microwave"])
    def test_a_bay_for_an_oven_takes_one(self, code):
        kitchen = build(alone(default_catalogue().families[code]))
        unit = next(u for u in kitchen.units if u.family.code == code)
        bay = next(o for o in openings(unit) if o.bay.holds == "oven")
        low, high = EN_1116_OVEN_NICHE["height"]
        assert low <= bay.high - bay.low <= high
        low, high = EN_1116_OVEN_NICHE["width"]
        assert low <= unit.width - 2 * unit.boards.carcass.thickness <= high
        assert unit.family.depth >= EN_1116_OVEN_NICHE["depth"]

    def test_a_microwave_needs_380(self):
        # Built-in microwaves of the low class want 380 to 382 clear (from memory).
        kitchen = build(alone(default_catalogue().families["tall-oven-microwave"]))
        unit = next(u for u in kitchen.units if u.family.code == "tall-oven-microwave")
        bay = next(o for o in openings(unit) if o.bay.holds == "microwave")
        assert 380 <= bay.high - bay.low <= 382

    def test_appliances_under_a_top_stand_in_600_by_820_to_870(self):
        # Niche of a dishwasher: 600 (slim 450) × 820 to 870 × 550 (from memory).
        for code in ("dishwasher", "base-fridge", "base-washer", "washer"):
            family = default_catalogue().families[code]
            assert set(family.widths) <= {450, 600}
            assert 820 <= family.top <= 870
            assert family.depth >= 550

    def test_a_cooker_is_flush_with_the_worktop(self):
        # Tops of 38 on units of 870, within the levelling of a cooker's feet (common practice, no source).
        assert abs(default_catalogue().families["cooker"].top - 908) <= 10


class TestInches:
    """Units in inches are sold in steps of 3 in, 34½ in high with their toe space and 24 in deep (from memory)."""

    FAMILIES = tuple(inch_catalogue().families.values())

    @pytest.mark.parametrize("family", FAMILIES, ids=lambda f: f.code)
    def test_widths_are_multiples_of_three_inches(self, family):
        for width in family.widths:
            assert (width / 76.2) == pytest.approx(round(width / 76.2), abs=1e-9)

    @pytest.mark.parametrize("family", [f for f in FAMILIES if f.carries_top], ids=lambda f: f.code)
    def test_base_boxes(self, family):
        assert family.top == pytest.approx(34.5 * 25.4)
        assert family.depth == pytest.approx(24 * 25.4)

    def test_tops_end_at_36_inches_and_wall_units_18_above(self):
        top = 34.5 * 25.4 + next(iter(inch_catalogue().stocks.values())).thickness
        assert top == pytest.approx(36 * 25.4)
        assert inch_catalogue().families["wall-doors"].bottom - top == pytest.approx(18 * 25.4)

    def test_a_document_says_which_catalogue_its_codes_are_of(self):
        run = ({"wall": "A", "start": 500.0, "units": ({"unit": "base-doors", "width": 457.2},)},)
        inches = {"runs": run, "worktop": {"stock": "sq-26in", "decor": "pale-oak"}}
        assert build(document(catalogue="inch", **inches)).units[0].family.top == pytest.approx(876.3)
        with pytest.raises(InputError, match=r"allowed: pf38\.600"):
            build(document(**inches))


@pytest.mark.parametrize("width", [5.0, 266.7, 450.0])
def test_a_filler_is_as_wide_as_it_is(width):
    doors, filler = {"unit": "base-doors", "width": 600.0}, {"unit": "filler", "width": width}
    kitchen = build(document(runs=({"wall": "A", "start": 500.0, "units": (doors, filler, doors)},)))
    assert kitchen.runs[0].units[1].width == width
    (fit,) = run_fits(kitchen)
    assert fit.fillers == max(0.0, width - 20.0)


@pytest.mark.parametrize("names", ["NESW", "SNEW", "TJSU"])
def test_walls_may_be_called_by_any_letter(names):
    # T1, J1 and S1 are a top, a join and an upstand: units on such walls are TB1, JB1 and SB1.
    walls = tuple({**w, "name": n} for w, n in zip(SQUARE_ROOM, names, strict=True))
    doors = {"unit": "base-doors", "width": 600.0}
    runs = tuple({"wall": n, "start": 900.0, "units": (doors, doors)} for n in names)
    worktop = {"stock": "pf38.600", "decor": "pale-oak", "upstand": {"stock": "upstand.100"}}
    kitchen = build(document(room={"walls": walls}, runs=runs, worktop=worktop))
    assert len({part.id for part in kitchen.parts}) == len(kitchen.parts)
    assert [build(mirrored(kitchen.document)).runs[0].units[0].name[0]] == [names[0]]
