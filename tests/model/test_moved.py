"""A kitchen that lies turned and elsewhere is the same kitchen: nothing that is named, judged or counted changes.

`MOVES` says how many ways each demo is moved, and how many random kitchens are; 200 were, each way.
"""

import pytest

from tests.lanes import LARGE, MOVES, some
from tests.moved import random_moves, told
from tests.random_kitchens import rooms
from tests.random_kitchens.properties import drawn
from tests.specimens import SOME_DEMOS, open_kitchen

KNOWN = [(0.0, 0.1, 0.2), (0.0, -7654.3, 21.0), (21.7, 300.0, -40.5), (87.8, 5360.6, 298.8)]
"""Moves that once changed what was named, in `MOVED` demos above all."""

MOVED = ("cottonwood", "prairie")

SORTS = [
    *((shape, "metric") for shape in (rooms.rectangles, rooms.long_rooms, rooms.l_shapes, rooms.cut_corners)),
    *((shape, "metric") for shape in (rooms.tapers, rooms.open_walls)),
    (rooms.rectangles, "inch"),
]


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_a_demo_that_lies_elsewhere_is_the_same(path):
    document = open_kitchen(path).document
    here = told(document)
    known = KNOWN if LARGE or path.stem in MOVED else []
    for move in [*known, *random_moves(MOVES)]:
        assert told(document, move).differs_from(here) == [], move


@pytest.mark.parametrize("seed", some(range(max(len(SORTS), MOVES)), 3))
def test_a_random_kitchen_that_lies_elsewhere_is_the_same(seed):
    shape, catalogue = SORTS[seed % len(SORTS)]
    document = drawn(shape, seed, catalogue).document
    here = told(document)
    for move in random_moves(2, seed):
        assert told(document, move).differs_from(here) == [], move
