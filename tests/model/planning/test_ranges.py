"""Layouts of a firm's own catalogue: its units are built, one that lacks what layouts are made of is refused."""

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue, inch_catalogue, load_catalogue
from countersunk.model.errors import InputError
from countersunk.model.planning.propose import propose
from countersunk.model.planning.ranges import check_range
from countersunk.takeoff.counting.unit_costs import unit_costs
from countersunk.takeoff.stock.prices import demo_prices
from tests.model.planning.rooms import NO_CLOCK, brief
from tests.model.test_checks import stocked

OWN = """\
adds_to: metric
families:
  - {code: base-drawers, name: our drawers, construction: drawers, level: floor, height: 720, depth: 560, legs: 150,
     widths: [300, 400, 450, 500, 600, 800, 900, 1000], carries_top: true, rails: flat, drawers: [360, 360]}
"""


def test_the_metric_catalogue_has_what_layouts_are_made_of():
    check_range(default_catalogue())


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"height": 780.0}, "base-hob with another height, 780"),
        ({"widths": (600.0, 900.0)}, "base-hob without a width of 800"),
    ],
)
def test_a_catalogue_of_other_sizes_is_refused_with_the_first_of_them(change, words):
    with pytest.raises(InputError, match=words):
        check_range(stocked({"base-hob": change}))


def test_layouts_in_inches_are_refused_before_anything_is_looked_for():
    with pytest.raises(InputError, match=r"catalogue: found base-drawers with another height, 762"):
        propose(brief().model_copy(update={"catalogue": "inch"}))
    with pytest.raises(InputError, match=r"and [0-9]+ more"):
        check_range(inch_catalogue())


@pytest.mark.slow
def test_a_layout_is_built_and_costed_in_a_firm_s_own_units(tmp_path):
    (tmp_path / "units.yaml").write_text(OWN)
    own, room = load_catalogue(tmp_path), brief(3600.0, 3000.0)
    costs = unit_costs(room, demo_prices(), own)
    usual = unit_costs(room, demo_prices())
    assert costs.units["base-drawers", 600.0] < usual.units["base-drawers", 600.0]  # two drawers, not three
    assert costs.units["base-hob", 600.0] == usual.units["base-hob", 600.0]
    found = propose(room, NO_CLOCK, costs=costs, catalogue=own)
    kitchen = found.shown[0].kitchen
    names = {unit.family.name for unit in kitchen.units if unit.family.code == "base-drawers"}
    assert names == {"our drawers"}
