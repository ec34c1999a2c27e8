"""Sizes against published ones.

EN 1116:2018, Kitchen furniture - coordinating sizes for kitchen furniture and kitchen appliances. Quoted: the
figures were seen in secondary pages that quote the standard, the standard itself was not read.
"""

import pytest

from model.catalogue import default_catalogue
from model.kitchen import open_kitchen
from tests.specimens import DEMOS

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


@pytest.mark.parametrize("family", [f for f in FAMILIES if f.level == "upper"], ids=lambda f: f.code)
def test_wall_units_are_no_deeper_than_the_standard_says(family):
    assert family.depth + 18 <= EN_1116_WALL_UNIT_DEPTH_AT_MOST


@pytest.mark.parametrize("stock", STOCKS, ids=lambda s: s.code)
def test_worktops_are_as_deep_as_the_standard_says(stock):
    assert stock.depth >= EN_1116_TOP_DEPTH_AT_LEAST


def test_most_widths_stand_on_one_of_the_two_grids():
    # 800 and 1100 are neither: they are sold everywhere, so the catalogue has them (common practice, no source).
    widths = {w for f in FAMILIES for w in f.widths}
    assert widths - GRIDS == {800, 1100}


def test_oven_niche_takes_a_built_in_oven():
    kitchen = next(k for k in map(open_kitchen, DEMOS) if any(u.family.niche for u in k.units))
    unit = next(u for u in kitchen.units if u.family.niche)
    sides = [p for p in kitchen.parts_of[unit.name] if p.kind == "side"]
    low, high = EN_1116_OVEN_NICHE["width"]
    assert low <= unit.width - sum(p.thickness for p in sides) <= high
    low, high = EN_1116_OVEN_NICHE["height"]
    assert low <= unit.family.niche <= high
    assert unit.family.depth >= EN_1116_OVEN_NICHE["depth"]


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_worktops_end_at_a_usual_height(path):
    # Tops at about 850, 900 or 950 (from memory).
    for length in open_kitchen(path).lengths:
        top = length.part.pose.origin[2] + length.part.thickness
        assert min(abs(top - h) for h in (850, 900, 950)) <= 10
