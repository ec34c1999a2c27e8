"""Rooms of four walls of which no two need be parallel."""

import pytest

from tests.random_kitchens.properties import SEEDS, drawn, everything_holds
from tests.random_kitchens.rooms import tapers


@pytest.mark.parametrize("seed", SEEDS)
def test_all_that_holds_of_a_kitchen(seed):
    everything_holds(drawn(tapers, seed))
