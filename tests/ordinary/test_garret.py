"""A stove, meters and an inward sash beside a kitchen under a roof, worked by hand."""

import math
from pathlib import Path

import pytest

from countersunk.model.checks import check
from countersunk.model.kitchen import open_kitchen
from countersunk.viewer.scene.room import room_items


@pytest.fixture(scope="module")
def kitchen():
    return open_kitchen(Path(__file__).parent / "garret.yaml")


# The tall panel on wall B ends 620 + 50 + 600 + 900 + 400 + 600 + 18 = 3188 along it, 612 before wall C, and stands
# 580 out; the stove is 450 deep and begins 1450 along wall C. The meters stand on either side of the room's corner
# C-D: from 2600 on along C, 4400 long, and from 350 on along D.
def test_what_stands_nearby_is_said_with_its_distance(kitchen):
    near = {f.rule: f.value for f in check(kitchen) if f.rule in ("stove-to-units", "gas-meter-to-electricity")}
    assert near["stove-to-units"] == pytest.approx(math.hypot(1450 - 580, 612 - 450), abs=0.05)
    aside, out = 4400 - 2600 - 200, 350 - 150
    assert near["gas-meter-to-electricity"] == pytest.approx(math.hypot(aside, out), abs=0.05)


# The gas meter ends 350 + 250 = 600 along wall D, 400 before the hinges of the sash; no unit stands near it.
def test_the_sash_swings_free_and_the_round_door_opens(kitchen):
    free = {f.rule: f.value for f in check(kitchen) if f.rule in ("sash-opens", "machine-opens")}
    assert free["sash-opens"] == 400.0
    assert free["machine-opens"] > 0.0


def test_a_stove_has_its_pane_and_its_flue_up_to_the_ceiling(kitchen):
    drawn = {item.id: item for item in room_items(kitchen, math.inf)}
    flue = drawn["room.stove.1.flue"].points
    assert (flue[:, 2].min(), flue[:, 2].max()) == (850.0, 2500.0)
    assert drawn["room.stove.1.glass"].points[:, 2].max() < 850
