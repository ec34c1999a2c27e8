"""Rectangular rooms with kinds of units, rows and ceilings that the plain ones do not have."""

import pytest

from tests.lanes import KITCHENS
from tests.random_kitchens.new_kinds import varied
from tests.random_kitchens.properties import drawn, everything_holds
from tests.random_kitchens.rooms import rectangles


@pytest.mark.parametrize("seed", range(max(1, KITCHENS // 2)))
def test_all_that_holds_of_a_kitchen(seed):
    everything_holds(drawn(rectangles, seed, change=varied))
