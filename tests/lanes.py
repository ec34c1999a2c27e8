"""How much each lane asks: the one place that reads it from the environment.

Every test asserts the same in every lane; what a lane decides is of how many kitchens, sheets and examples.

quick    ``pytest -m quick``: the core of the model, without a browser, in seconds
default  ``pytest``: every test, on some of the examples
large    ``COUNTERSUNK_LANE=large pytest``: every test on all of them

``COUNTERSUNK_EXAMPLES=3000`` draws so many random kitchens of each sort instead, and others than the usual ones.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")

LARGE = os.environ.get("COUNTERSUNK_LANE", "default") == "large"

ASKED = os.environ.get("COUNTERSUNK_EXAMPLES")
"""The number of examples that somebody asks for by hand."""

KITCHENS = int(ASKED or (250 if LARGE else 20))
"""Random kitchens of each sort."""


def some(items: Sequence[T], one_in: int) -> list[T]:
    """One in so many of a list, always the same ones, beginning with the first; in the large lane all of it."""
    return list(items if LARGE else items[::one_in])


def examples(large: int, default: int) -> int:
    """How many examples a property of random input is tried on."""
    return large if LARGE or ASKED else default
