"""Wasteless: panels joined edge to edge into blocks without waste, and blocks that fill sheets together.

Two blocks whose sides are equal make one. So every layout that is cut edge to edge and wastes nothing is built from
its panels up, level by level, a level for each number of panels in a block. Where sizes are all different few
blocks are possible, and what there is to find is found; where many are, the largest of each level are kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import prod

import numpy as np
from numpy.typing import NDArray

from countersunk.takeoff.cutting.clock import Clock
from countersunk.takeoff.cutting.packer import Ints, Packings, Panels

MOST_PANELS = 62
"""A block's panels are the bits of a whole number."""

KEPT = 3_000
"""Blocks kept of a level, the largest."""

PAIRS = 400_000
"""Pairs of blocks with one equal side that are looked at together at most: enough for `KEPT`."""

COVERS = 20_000
"""Ways to put full sheets together that are looked at."""


@dataclass(frozen=True)
class Blocks:
    """Blocks of one level: their sides, which panels are in them, and what they are made of.

    ``first`` and ``second`` count blocks over all levels; of a single panel ``first`` is its number, ``second`` -1
    and ``axis`` whether it is turned. Else ``axis`` is 0 where they lie side by side, 1 one above the other.
    """

    length: Ints
    width: Ints
    panels: Ints
    first: Ints
    second: Ints
    axis: Ints

    def __len__(self) -> int:
        return len(self.length)

    def some(self, which: NDArray[np.bool_] | Ints) -> Blocks:
        """Those of them."""
        return Blocks(*(values[which] for values in vars(self).values()))

    @classmethod
    def joined(cls, parts: list[Blocks]) -> Blocks:
        """All of several."""
        return cls(*(np.concatenate(values) for values in zip(*(vars(p).values() for p in parts), strict=True)))


def wasteless(panels: Panels, sheets: int, clock: Clock) -> Packings | None:
    """All ``panels`` on so many sheets of the one kind that there is, in blocks without waste; None if not found.

    It is not looked for where more is left than the least of the panels.
    """
    sheet, count = panels.sheets[0], len(panels.lengths)
    areas = panels.lengths * panels.widths
    slack = sheets * prod(sheet) - int(areas.sum())
    if count > MOST_PANELS or not 0 <= slack < areas.min():
        return None
    levels = [_single(panels, sheet)]
    while len(levels) < count - sheets + 1 and not clock.is_over:
        levels.append(_level(levels, sheet))
        if _full(levels[-1], prod(sheet) - slack).any():
            every = Blocks.joined(levels)
            full = np.flatnonzero(_full(every, prod(sheet) - slack))
            found = _covering(every.panels[full], (1 << count) - 1, sheets)
            if found:
                return _packed(panels, every, [int(full[i]) for i in found])
    return None


def _full(blocks: Blocks, area: int) -> NDArray[np.bool_]:
    """Which blocks leave no more of a sheet than all sheets together may."""
    return blocks.length * blocks.width >= area


def _single(panels: Panels, sheet: tuple[int, int]) -> Blocks:
    """Every panel as it may lie."""
    n = len(panels.lengths)
    number, turned = np.tile(np.arange(n), 2), np.repeat([0, 1], n)
    length = np.where(turned, panels.widths[number], panels.lengths[number])
    width = np.where(turned, panels.lengths[number], panels.widths[number])
    bits = np.left_shift(np.ones(2 * n, np.int64), number)
    lie = ~turned.astype(bool) | panels.turns[number]
    all_ = Blocks(length, width, bits, number, np.full(2 * n, -1, np.int64), turned.astype(np.int64))
    return all_.some(lie & (length <= sheet[0]) & (width <= sheet[1]))


def _level(levels: list[Blocks], sheet: tuple[int, int]) -> Blocks:
    """Every block of one panel more than the last level has, of two blocks that there are."""
    starts = np.cumsum([0, *(len(blocks) for blocks in levels)])
    parts = [levels[0].some(np.zeros(0, np.int64))]
    for i in range((len(levels) + 1) // 2):
        j = len(levels) - 1 - i
        for axis in (0, 1):
            parts += _joins(levels[i], int(starts[i]), levels[j], int(starts[j]), axis, sheet)
    return _largest(Blocks.joined(parts))


def _joins(a: Blocks, a_start: int, b: Blocks, b_start: int, axis: int, sheet: tuple[int, int]) -> Iterator[Blocks]:
    """Blocks of ``a`` beside (axis 0) or below (1) those of ``b`` with which they have a side in common."""
    a_side, b_side = (a.width, b.width) if axis == 0 else (a.length, b.length)
    a_run, b_run = (a.length, b.length) if axis == 0 else (a.width, b.width)
    for side in np.intersect1d(a_side, b_side):
        these, those = np.flatnonzero(a_side == side), np.flatnonzero(b_side == side)
        those = those[: max(1, PAIRS // len(these))]
        apart = (a.panels[these][:, None] & b.panels[those][None, :]) == 0
        fit = a_run[these][:, None] + b_run[those][None, :] <= sheet[axis]
        p, q = np.nonzero(apart & fit)
        if len(p):
            p, q = these[p], those[q]
            run, same = a_run[p] + b_run[q], np.full(len(p), side)
            length, width = (run, same) if axis == 0 else (same, run)
            panels, which = a.panels[p] | b.panels[q], np.full(len(p), axis)
            yield Blocks(length, width, panels, a_start + p, b_start + q, which)


def _largest(blocks: Blocks) -> Blocks:
    """Each set of panels once in each shape, and the largest of these."""
    _, once = np.unique(np.array([blocks.panels, blocks.length, blocks.width]), axis=1, return_index=True)
    blocks = blocks.some(np.sort(once))
    order = np.argsort(-blocks.length * blocks.width, kind="stable")
    return blocks.some(order[:KEPT])


def _covering(full: Ints, panels: int, sheets: int) -> list[int]:
    """So many of the full blocks, by their panels, as hold all of them, each once; empty where none do."""
    where, looked = {int(held): i for i, held in enumerate(full)}, 0

    def rest(left: int, number: int) -> list[int]:
        nonlocal looked
        looked += 1
        if number == 1 or looked > COVERS:
            return [where[left]] if left in where else []
        for held in full[(full & (left & -left) != 0) & (full & ~left == 0)].tolist():
            others = rest(left & ~held, number - 1)
            if others:
                return [where[held], *others]
        return []

    return rest(panels, sheets)


def _packed(panels: Panels, blocks: Blocks, chosen: list[int]) -> Packings:
    """The panels of the chosen blocks in their places, a sheet for each block, as one packing."""
    n = len(panels.lengths)
    x, y, sheet = np.zeros((1, n), np.int64), np.zeros((1, n), np.int64), np.zeros((1, n), np.int64)
    turned, kinds = np.zeros((1, n), bool), np.full((1, n), -1, np.int64)
    kinds[0, : len(chosen)] = 0

    def lay(block: int, at: tuple[int, int], number: int) -> None:
        first, second, axis = (int(v[block]) for v in (blocks.first, blocks.second, blocks.axis))
        if second < 0:
            x[0, first], y[0, first], sheet[0, first], turned[0, first] = *at, number, bool(axis)
            return
        lay(first, at, number)
        along, across = int(blocks.length[first]), int(blocks.width[first])
        lay(second, (at[0] + along, at[1]) if axis == 0 else (at[0], at[1] + across), number)

    for number, block in enumerate(chosen):
        lay(block, (0, 0), number)
    return Packings(x, y, turned, sheet, kinds)
