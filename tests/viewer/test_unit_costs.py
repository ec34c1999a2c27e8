"""Unit costs against the takeoff of a whole kitchen, and what a proposal tells of them."""

import pytest

from countersunk.model.catalogue.catalogue import default_catalogue
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import build
from countersunk.model.planning.propose import propose
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.unit_costs import unit_costs
from countersunk.takeoff.stock.prices import demo_prices
from tests.model.planning.rooms import NO_CLOCK, brief

ROOM = brief(3600.0, 3000.0)


@pytest.fixture(scope="module")
def costs():
    return unit_costs(ROOM, demo_prices())


@pytest.mark.slow
def test_a_unit_costs_what_the_takeoff_of_a_kitchen_with_one_more_adds(costs):
    def net(count):
        units = ({"unit": "filler", "width": 20.0}, *[{"unit": "base-drawers", "width": 600.0}] * count)
        given = ROOM.model_dump(exclude_unset=True) | {"runs": ({"wall": "A", "start": 0.0, "units": units},)}
        given.pop("wishes", None)
        kitchen = build(Document.model_validate({**given, "worktop": ROOM.worktop, "fronts": ROOM.fronts}))
        lines = estimate(kitchen, demo_prices()).materials
        own = [line for line in lines if line.price and not line.quantity.item.startswith(("pf38", "plinth"))]
        return sum(line.quantity.net * float(line.price.price / line.price.pack) for line in own)

    assert costs.units["base-drawers", 600.0] == pytest.approx(net(3) - net(2), rel=0.02)


@pytest.mark.slow
def test_a_proposal_tells_its_money(costs):
    found = propose(ROOM, NO_CLOCK, costs=costs)
    for proposal in found.shown:
        money, _ = costs.of(proposal.kitchen)
        assert any(f"cost about EUR {money:,.0f}" in line for line in proposal.why)


def test_every_width_that_layouts_use_has_a_price(costs):
    drawers = default_catalogue().families["base-drawers"].widths
    assert all(costs.units["base-drawers", width] > 0 for width in drawers)
