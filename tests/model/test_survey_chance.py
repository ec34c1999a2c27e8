"""Chance: blunders that are found and named, and whether tops are as sure as is promised."""

import numpy as np
import pytest

from tests.lanes import examples
from tests.model.surveys_by_lot import PLANS, ROWS, outcome, tops_off

BLUNDERS = (
    *(("wall", by) for by in (10.0, 15.0, 20.0, 30.0, 50.0)), *(("corner", by) for by in (1.0, 2.0, 3.0)),
)  # fmt: skip
"""What is off, and by how much: mm, or degrees."""

FOUND = {
    ("four", False): ((11, 8), (24, 19), (40, 34), (71, 66), (98, 98), (100, 100), (100, 100), (100, 100)),
    ("four", True): ((48, 38), (88, 82), (98, 92), (100, 99), (100, 100), (100, 100), (100, 100), (100, 100)),
    ("six", False): ((14, 6), (22, 14), (35, 24), (60, 52), (100, 96), (91, 88), (100, 99), (100, 100)),
    ("six", True): ((28, 23), (59, 54), (77, 70), (98, 96), (100, 100), (99, 98), (100, 100), (100, 100)),
    ("eight", False): ((7, 4), (14, 10), (25, 22), (50, 46), (88, 84), (89, 82), (100, 99), (100, 100)),
    ("eight", True): ((47, 36), (80, 71), (94, 92), (100, 100), (100, 100), (100, 99), (100, 100), (100, 100)),
}  # fmt: skip
"""Of 100 surveys with each of the blunders, how many are found (a must or a should) and how many have the mistake
among the suspects; of rooms of four, six and eight walls, with diagonals (2, 3 and 6) and without. 200 of each were
drawn once. What the table shows is what a tape can: without diagonals corners read to 0.3° hide 20 mm of a wall.
"""

CASES = [
    (*room, *blunder, *shares)
    for room, found in FOUND.items()
    for blunder, shares in zip(BLUNDERS, found, strict=True)
]


@pytest.mark.slow
@pytest.mark.parametrize(("name", "braced", "what", "by", "found", "named"), CASES)
def test_blunders_are_found_and_named_as_often_as_the_table_says(name, braced, what, by, found, named):
    of = outcome(PLANS[name] if braced else PLANS[name].bare, 40, **{what: by}, seed=2)
    assert of.found >= of.count * found / 100 - 3.5 * spread(of.count, found)
    assert of.named >= of.count * named / 100 - 3.5 * spread(of.count, named)


def spread(count, percent):
    """The standard deviation of how many of so many surveys do something, at least of one."""
    return max(1.0, np.sqrt(count * percent / 100 * (1 - percent / 100)))


@pytest.mark.slow
@pytest.mark.parametrize("name", ROWS)
def test_tops_are_off_as_often_as_their_deviations_say(name):
    """Of normal errors 68.3 % lie within one deviation and 95.4 % within two."""
    off = np.abs(tops_off(name, examples(400, 8)))
    within = 4.0 * np.sqrt(0.683 * 0.317 / len(off))
    assert np.mean(off <= 1.0, axis=0) == pytest.approx(np.full(off.shape[1], 0.683), abs=within)
    assert np.mean(off <= 2.0, axis=0) == pytest.approx(np.full(off.shape[1], 0.954), abs=within / 2)
    assert np.max(off) < 5.0
