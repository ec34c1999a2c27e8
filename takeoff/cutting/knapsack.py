"""Knapsack: which counts of sizes fit into a room, by their value. Whole numbers only, hence exact.

A *pattern* is a count for each size, at most its demand. A *table* has a row for each size: ``table[i, c]`` is the
most value that the sizes from ``i`` on can have within ``c`` (Martello and Toth, Knapsack Problems, 1990, from
memory). One table serves every stock length at once, and it tells the search for patterns beforehand which branch
holds a good one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Pattern = tuple[int, ...]


@dataclass(frozen=True)
class Knapsack:
    """Sizes with their demand and value, and the table of what they are worth up to ``room``."""

    sizes: Sequence[int]
    demand: Sequence[int]
    values: Sequence[int]
    table: NDArray[np.int64]

    def worth(self, room: int) -> int:
        """The most value within ``room``."""
        return int(self.table[0, room])

    def best(self, room: int) -> Pattern:
        """A pattern of the most value; the first sizes are taken first."""
        pattern = []
        for i, (size, value) in enumerate(zip(self.sizes, self.values, strict=True)):
            count, worth = min(self.demand[i], room // size), int(self.table[i, room])
            while count * value + int(self.table[i + 1, room - count * size]) != worth:
                count -= 1
            pattern.append(count)
            room -= count * size
        return tuple(pattern)

    def patterns(self, room: int, least: int, size: int = 0) -> Iterator[Pattern]:
        """Every pattern within ``room`` worth ``least`` or more, of the sizes from ``size`` on."""
        if size == len(self.sizes):
            yield ()
            return
        for count in range(min(self.demand[size], room // self.sizes[size]), -1, -1):
            left, rest = room - count * self.sizes[size], least - count * self.values[size]
            if self.table[size + 1, left] >= rest:
                for tail in self.patterns(left, rest, size + 1):
                    yield (count, *tail)

    def is_full(self, pattern: Pattern, room: int) -> bool:
        """Whether no further piece fits in: any other pattern is part of such a one."""
        left = room - sum(c * s for c, s in zip(pattern, self.sizes, strict=True))
        return not any(s <= left and c < d for c, s, d in zip(pattern, self.sizes, self.demand, strict=True))


def knapsack(sizes: Sequence[int], demand: Sequence[int], values: Sequence[int], room: int) -> Knapsack:
    """The table for rooms up to ``room``."""
    table = np.zeros((len(sizes) + 1, room + 1), np.int64)
    for i in reversed(range(len(sizes))):
        table[i] = _with_size(table[i + 1], sizes[i], values[i], min(demand[i], room // sizes[i]))
    return Knapsack(sizes, demand, values, table)


def _with_size(below: NDArray[np.int64], size: int, value: int, most: int) -> NDArray[np.int64]:
    """One more size, up to ``most`` of it: in lots of 1, 2, 4, ... each taken or not."""
    row, lot = below.copy(), 1
    while most > 0 and value > 0:
        lot = min(lot, most)
        shift = lot * size
        row[shift:] = np.maximum(row[shift:], row[: len(row) - shift] + lot * value)
        most, lot = most - lot, lot * 2
    return row
