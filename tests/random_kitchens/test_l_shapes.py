"""L-shaped rooms, which have a reflex corner."""

import pytest

from tests.random_kitchens.properties import SEEDS, drawn, everything_holds
from tests.random_kitchens.rooms import l_shapes


@pytest.mark.parametrize("seed", SEEDS)
def test_all_that_holds_of_a_kitchen(seed):
    everything_holds(drawn(l_shapes, seed))
