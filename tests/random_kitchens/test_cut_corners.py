"""Rooms with one corner cut off, so that tops meet at wide angles."""

import pytest

from tests.random_kitchens.properties import SEEDS, drawn, everything_holds
from tests.random_kitchens.rooms import cut_corners


@pytest.mark.parametrize("seed", SEEDS)
def test_all_that_holds_of_a_kitchen(seed):
    everything_holds(drawn(cut_corners, seed))
