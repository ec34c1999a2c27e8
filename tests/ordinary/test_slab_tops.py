"""What kitchens with tops that are made to measure are there to show: makers, slabs, ends, and the request."""

from pathlib import Path

import pytest

import countersunk
from countersunk.model.geometry.identity import Role
from countersunk.takeoff.plans.slabs import slab_plans
from countersunk.viewer.drawing.request_sheets import request_sheets

pytestmark = pytest.mark.slow

SHOWN = {
    "juniper": (("mason",), {"granite20": 2, "porcelain12": 2}, ["mitre", "mitre"]),
    "hawthorn": (("mason",), {"porcelain12": 1, "engineered20": 1}, ["mitre"]),
    "tamarisk": (("metalworker", "fabricator"), {"steel40": 1, "solid12": 1}, ["butt"]),
    "sorrel": (("mason",), {"granite-3cm": 2}, ["butt"]),
}


@pytest.mark.parametrize("name", SHOWN)
def test_tops_are_made_to_measure(name):
    makers, slabs, falls = SHOWN[name]
    kitchen = countersunk.open_kitchen(Path(__file__).parent / f"{name}.yaml")
    made = [length for length in kitchen.lengths if length.run.stock.made_by]
    assert tuple(dict.fromkeys(length.run.stock.made_by for length in made)) == makers
    assert {plan.stock.code: len(plan.slabs) for plan in slab_plans(kitchen)} == slabs
    down = [part for part in kitchen.parts if part.role is Role.WATERFALL]
    assert ["mitre" if part.pockets else "butt" for part in down] == falls
    sheets = list(request_sheets(kitchen))
    assert len(sheets) == len(makers) + len(made)
    assert {sheet.name for sheet in sheets} >= {f"template-request-{maker}" for maker in makers}
