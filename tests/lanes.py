"""How much each lane asks, and every variable of the environment that tests look at.

A test asserts the same in every lane; a lane decides which tests run, and on how many kitchens and examples.

quick    ``pytest -m quick``: the core of the model, without a browser, in half a minute
default  ``pytest``: all but the slowest tests (marked ``slow``), on some of the examples
slow     ``COUNTERSUNK_LANE=slow pytest``: every test, on some of the examples
large    ``COUNTERSUNK_LANE=large pytest``: every test on all of them

``COUNTERSUNK_EXAMPLES=3000`` draws so many random kitchens of each sort, and others than usual.
``COUNTERSUNK_MOVES=200`` moves every demo so many ways.
``COUNTERSUNK_KILLS=200`` kills each command so many times.
``COUNTERSUNK_SKIP_NOTHING=1`` makes a test fail that else is skipped for want of a browser or LibreOffice.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")

LANE = os.environ.get("COUNTERSUNK_LANE", "default")
if LANE not in ("default", "slow", "large"):
    raise ValueError(f"COUNTERSUNK_LANE: found {LANE}; allowed: default, slow, large")
LARGE = LANE == "large"
SLOW = LANE in ("slow", "large")

EXAMPLES = os.environ.get("COUNTERSUNK_EXAMPLES")
SKIP_NOTHING = bool(os.environ.get("COUNTERSUNK_SKIP_NOTHING"))

KITCHENS = int(EXAMPLES or (60 if LARGE else 2))
"""Random kitchens of each sort."""

KILLS = int(os.environ.get("COUNTERSUNK_KILLS") or (50 if LARGE else 6))
"""How many times each command is killed at a random moment."""

MOVES = int(os.environ.get("COUNTERSUNK_MOVES") or (5 if LARGE else 1))
"""How many ways a kitchen is turned and moved that must stay the same."""


def some(items: Sequence[T], one_in: int) -> list[T]:
    """One in so many of a list, always the same ones, beginning with the first; in the large lane all of it."""
    return list(items if LARGE else items[::one_in])


def examples(large: int, default: int) -> int:
    """On how many examples a property is tried in the large lane and by default."""
    return large if LARGE or EXAMPLES else default


def tries(most: int) -> int:
    """On how many examples a property is tried: all in the large lane, by default a tenth, at least 5."""
    return examples(most, min(most, max(5, most // 10)))
