"""Steps: sizes as whole steps, in which plans are reckoned: up for what is cut, down for what it is cut from."""

from __future__ import annotations

import math

FINE = 100
"""Steps to the millimetre for worktops and other lengths."""

COARSE = 10
"""Steps to the millimetre for panels on sheets."""

CLOSE = 1e-4
"""Of a step, below which a size is whole."""


def up(mm: float, steps: int) -> int:
    """Steps that hold this much, but for what rounding of decimals adds.

    >>> up(12.34, COARSE), down(12.34, COARSE), up(0.1 + 0.2, COARSE)
    (124, 123, 3)
    """
    return math.ceil(mm * steps - CLOSE)


def down(mm: float, steps: int) -> int:
    """Steps within this much."""
    return math.floor(mm * steps + CLOSE)
