"""Lots: what rooms and kitchens are drawn by. The same seed draws the same kitchen everywhere."""

from __future__ import annotations

import math
from collections.abc import Sequence
from random import Random
from typing import TypeVar

T = TypeVar("T")


class Lots:
    """A source of lots that begins at a seed."""

    def __init__(self, seed: str) -> None:
        self._random = Random(seed)

    def some(self, chance: float) -> bool:
        """True about so often."""
        return self._random.random() < chance

    def pick(self, items: Sequence[T]) -> T:
        """One of them."""
        return self._random.choice(items)

    def several(self, items: Sequence[T], most: int) -> list[T]:
        """One or more of them, all different."""
        return self._random.sample(items, self.count(1, min(most, len(items))))

    def count(self, low: int, high: int) -> int:
        """A whole number between two, either of them too."""
        return self._random.randint(low, high)

    def whole(self, low: float, high: float) -> float:
        """A whole number of millimetres between two, or the first where there is none."""
        return float(self.count(math.ceil(low), math.floor(high))) if math.ceil(low) <= high else low

    def between(self, low: float, high: float) -> float:
        """Any number between two."""
        return self._random.uniform(low, high)
