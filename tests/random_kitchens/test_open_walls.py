"""One to three walls of a room that goes on elsewhere."""

import pytest

from tests.random_kitchens.properties import SEEDS, drawn, everything_holds
from tests.random_kitchens.rooms import open_walls


@pytest.mark.parametrize("seed", SEEDS)
def test_all_that_holds_of_a_kitchen(seed):
    everything_holds(drawn(open_walls, seed))
