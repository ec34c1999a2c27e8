"""Islands: as long as the floor allows, with true aisles; measured on the floor that is left, not on the grid."""

import pytest
from shapely import box

from countersunk.model.checks import default_rules
from countersunk.model.facts.plans import top_plan
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.islands import WALKWAY, work_aisle
from countersunk.model.planning.propose import propose
from tests.model.planning.rooms import NO_CLOCK, brief

WINDOW = {"kind": "window", "wall": "A", "at": 2000.0, "width": 1400.0, "sill": 1050.0, "head": 2100.0}
DOOR = {"kind": "door", "wall": "C", "at": 2300.0, "width": 850.0, "swing": "left"}


@pytest.fixture(scope="module")
def spacious():
    return propose(brief(5200.0, 4600.0, {"island": True}, openings=(WINDOW, DOOR)), seconds=NO_CLOCK)


@pytest.mark.slow
def test_an_island_stands_where_one_is_wished(spacious):
    assert spacious.shown[0].document.islands
    for proposal in spacious.shown:
        assert bool(proposal.document.islands) == ("island" in proposal.name)


@pytest.mark.slow
def test_aisles_are_true(spacious):
    """NKBA: 42 in before a row where one cooks, 36 in to pass (seen), measured from top to top and to the walls."""
    room = box(0.0, -4600.0, 5200.0, 0.0)
    for proposal in (p for p in spacious.shown if p.document.islands):
        tops = {top.run.name: top_plan(top) for top in proposal.kitchen.lengths}
        island = tops.pop("Island")
        assert min(island.distance(top) for top in tops.values()) >= 1066.8
        assert island.distance(room.exterior) >= WALKWAY - 0.1


def test_aisles_are_as_wide_as_the_findings_ask():
    # 36 in are 914.4 mm: at 914 an island was proposed that its own findings called too near.
    limit = {rule.id: rule.limit for rule in default_rules().rules}
    asked = limit["walkway-around-island"], limit["aisle-one-cook"], limit["aisle-several-cooks"]
    assert (WALKWAY, work_aisle(1), work_aisle(2)) == asked


@pytest.mark.slow
def test_a_room_too_narrow_says_that_it_has_none():
    # 600 of row, 1067 of aisle, 670 of top and 915 behind are 3252, more than 3240 and 3200
    found = propose(brief(3200.0, 3240.0, {"island": True}, openings=(DOOR | {"at": 1200.0},)), seconds=NO_CLOCK)
    assert not any(p.document.islands for p in found.shown)
    assert all(any(t.startswith("no island") for t in p.trades) for p in found.shown)


def test_an_open_survey_has_no_floor_for_one():
    walls = ({"name": "A", "length": 4800.0},)
    alone = Brief.model_validate({"kitchen": "Trial", "room": {"walls": walls}, "wishes": {"island": True}})
    assert not any(p.document.islands for p in propose(alone, seconds=NO_CLOCK).shown)
