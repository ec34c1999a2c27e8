"""Rectangular rooms: corners of every kind, islands and peninsulas."""

import pytest

from tests.random_kitchens.properties import SEEDS, drawn, everything_holds
from tests.random_kitchens.rooms import rectangles


@pytest.mark.parametrize("seed", SEEDS)
def test_all_that_holds_of_a_kitchen(seed):
    everything_holds(drawn(rectangles, seed))
