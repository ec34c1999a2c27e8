"""Promise: what a rectangle could be worth at most if there were no end of pieces, and the sheet around it.

Both are tables over the places where cuts make sense: sums of sizes (Herz 1972, from memory), or, where these are
too many, steps of a coarser scale on which pieces are rounded down, so that a promise is never too small.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

PLACES = 300
"""Places along each side at most."""

Shape = tuple[int, int, int]
"""Length, width and value of a piece as it lies."""

Table = NDArray[np.int64]


@dataclass(frozen=True)
class Promise:
    """``inside[i, j]`` is for a rectangle up to the places i and j, ``outside[i, j]`` for the sheet around one."""

    along: list[int]
    across: list[int]
    inside: Table
    outside: Table

    def around(self, length: int, width: int) -> int:
        """What the rest of the sheet could be worth beside and above a build in its corner."""
        return int(self.outside[_at(self.along, length), _at(self.across, width)])


def promise(shapes: Sequence[Shape], sheet: tuple[int, int]) -> Promise:
    """The tables for pieces of these shapes, each of which fits the sheet."""
    along, lengths = _places([s[0] for s in shapes], sheet[0])
    across, widths = _places([s[1] for s in shapes], sheet[1])
    inside = _inside([*zip(lengths, widths, [s[2] for s in shapes], strict=True)], along, across)
    return Promise(along, across, inside, _outside(inside, along, across))


def _places(sizes: list[int], whole: int) -> tuple[list[int], list[int]]:
    """The places along a side, and the sizes as they count there."""
    sums = {0}
    for size in sizes:
        reached = sums
        while reached and len(sums) <= PLACES:
            reached = {s + size for s in reached if s + size <= whole} - sums
            sums |= reached
    if len(sums) <= PLACES:
        return sorted(sums), sizes
    step = min(-(-whole // PLACES), min(sizes))
    return list(range(0, whole + 1, step)), [size // step * step for size in sizes]


def _at(places: list[int], size: int) -> int:
    """The last place that is not beyond ``size``."""
    return bisect_right(places, size) - 1


def _inside(shapes: list[Shape], along: list[int], across: list[int]) -> Table:
    """One piece, or the best of two parts on either side of a cut, however often."""
    table = np.zeros((len(along), len(across)), np.int64)
    for length, width, value in shapes:
        corner = table[_at(along, length) :, _at(across, width) :]
        np.maximum(corner, value, out=corner)
    rests = [[_at(across, w - part) for part in across[1 : _at(across, w // 2) + 1]] for w in across]
    for i, length in enumerate(along):
        half = _at(along, length // 2)
        others = [_at(along, length - part) for part in along[1 : half + 1]]
        if others:
            np.maximum(table[i], (table[1 : half + 1] + table[others]).max(axis=0), out=table[i])
        for j, rest in enumerate(rests):
            if rest:
                table[i, j] = max(table[i, j], (table[i, 1 : len(rest) + 1] + table[i, rest]).max())
    return table


def _outside(inside: Table, along: list[int], across: list[int]) -> Table:
    """Something beside the rectangle, or above it, and then around both."""
    table = np.zeros_like(inside)
    ups = [[_at(across, w - width) for w in across[j + 1 :]] for j, width in enumerate(across)]
    for i in reversed(range(len(along))):
        beside = [_at(along, length - along[i]) for length in along[i + 1 :]]
        if beside:
            table[i] = (inside[beside] + table[i + 1 :]).max(axis=0)
        for j in reversed(range(len(across) - 1)):
            table[i, j] = max(table[i, j], (inside[i, ups[j]] + table[i, j + 1 :]).max())
    return table
