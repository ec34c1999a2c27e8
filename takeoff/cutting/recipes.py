"""Recipes: which packings are tried, and which of them are the best so far."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, TypeVar

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from countersunk.takeoff.cutting.packer import FITS, SPLITS, Ints, Packings, Panels, Recipes

COPIES = 128
"""Packings made at once from the best ones."""

FIRST = 200_000
"""Panels placed in the packings tried first; of long lists not every recipe is tried."""

PARENTS = 8
"""The best packings, which are copied and changed."""

CANDIDATES = 32
"""The best where something is kept, which are sawn to the end."""

CHANGES = (0.01, 0.04, 0.15, 0.5)
"""How far a panel moves in the order, as a share of their number."""


def known(panels: Panels, prices: Sequence[int]) -> Recipes:
    """Every order, fit and split that is known to do well, with every kind of sheet first."""
    orders, prefers = _orders(panels), _prefers(panels, prices)
    choices = [(o, f, s, p) for o in range(len(orders)) for f in range(len(FITS)) for s in range(SPLITS)
               for p in range(len(prefers))]  # fmt: skip
    step = max(1, len(choices) * len(panels.lengths) // FIRST)
    order, fit, split, prefer = np.array(choices[::step], np.int64).T
    return Recipes(orders[order], fit, split, prefers[prefer])


def _orders(panels: Panels) -> Ints:
    """Largest first, by eight measures of size, and by worth where that differs."""
    length, width = panels.lengths, panels.widths
    longer, shorter = np.maximum(length, width), np.minimum(length, width)
    measures = [
        (length * width, longer), (longer, shorter), (shorter, longer), (length, width), (width, length),
        (length + width, longer), (longer * longer * shorter, longer), (longer - shorter, longer),
    ]  # fmt: skip
    if len(np.unique(panels.worth)) > 1:
        measures += [(panels.worth / (length * width), longer), (panels.worth, longer)]
    return np.array([np.lexsort((-second, -first)) for first, second in measures], np.int64)


def _prefers(panels: Panels, prices: Sequence[int]) -> Ints:
    """Sheets by their price for the area, of what is kept the smallest first; and the same with each of the others
    before them.
    """
    areas = [max(1, length * width) for length, width in panels.sheets]
    dear = [(p / a, a if kept else 0) for p, a, kept in zip(prices, areas, panels.kept, strict=True)]
    order = sorted(range(len(dear)), key=lambda k: dear[k])
    return np.array([[k, *(j for j in order if j != k)] for k in order], np.int64)


def changed(best: Recipes, luck: Generator) -> Recipes:
    """Copies of the best recipes, each with some panels moved, some with another rule."""
    parent = luck.integers(0, len(best), COPIES)
    count = best.orders.shape[1]
    reach = luck.choice(CHANGES, COPIES) * count
    moved = np.arange(count) + luck.normal(0.0, 1.0, (COPIES, count)) * reach[:, None]
    orders = np.take_along_axis(best.orders[parent], np.argsort(moved, axis=1, kind="stable"), axis=1)
    other = luck.integers(0, len(best), COPIES)
    return Recipes(
        orders,
        _some(best.fit[parent], luck.integers(0, len(FITS), COPIES), luck),
        _some(best.split[parent], luck.integers(0, SPLITS, COPIES), luck),
        best.prefer[other],
    )


def _some(old: Ints, new: Ints, luck: Generator) -> Ints:
    return np.where(luck.random(len(old)) < 0.2, new, old)


@dataclass(frozen=True)
class Tried:
    """Recipes and the packings that they made, with what these leave behind, cost, take from what is kept, and how
    well they are filled.
    """

    recipes: Recipes
    packings: Packings
    behind: Ints
    costs: Ints
    taken: NDArray[np.float64]
    filled: NDArray[np.float64]

    @classmethod
    def of(cls, panels: Panels, prices: Sequence[int], recipes: Recipes, packings: Packings) -> Tried:
        """With every sheet changed for the cheapest that holds what lies on it."""
        packings = _on_cheapest(panels, prices, packings)
        there = packings.kinds >= 0
        costs = np.where(there, np.array(prices, np.int64)[packings.kinds], 0).sum(axis=1)
        areas = _summed(packings, panels.lengths * panels.widths)
        filled = ((areas / max(1.0, areas.max())) ** 2).sum(axis=1)
        taken = np.where(there & panels.kept[packings.kinds], areas, 0.0).sum(axis=1)
        behind = np.where(packings.sheet < 0, panels.worth, 0).sum(axis=1)
        return cls(recipes, packings, behind, costs, taken, filled)

    def best(self) -> Tried:
        """The best few, best first: least left behind, cheapest, then what takes most from what is kept, then the
        most uneven, whose last is emptiest.
        """
        few = CANDIDATES if self.taken.any() else PARENTS
        order = np.lexsort((-self.filled, -self.taken, self.costs, self.behind))[:few]
        return _each_array([self], lambda arrays: arrays[0][order])

    def joined(self, other: Tried) -> Tried:
        """Both."""
        return _each_array([self, other], np.concatenate)

    def meets(self, bound: int) -> bool:
        """Whether the first holds everything for no more than ``bound``."""
        return not self.behind[0] and bool(self.costs[0] <= bound)


Record = TypeVar("Record", Recipes, Packings, Tried)


def _each_array(records: Sequence[Record], make: Callable[[list[NDArray[Any]]], NDArray[Any]]) -> Record:
    """A record of the same kind, with every array made from those of ``records``."""
    made: dict[str, Any] = {}
    for field in fields(records[0]):
        values = [getattr(record, field.name) for record in records]
        made[field.name] = make(values) if isinstance(values[0], np.ndarray) else _each_array(values, make)
    return type(records[0])(**made)


def _summed(packings: Packings, amounts: Ints) -> NDArray[np.float64]:
    """The sum of the panels' ``amounts`` on each sheet of each packing."""
    sums = np.zeros(packings.kinds.shape)
    rows, panels = np.nonzero(packings.sheet >= 0)
    np.add.at(sums, (rows, packings.sheet[rows, panels]), amounts[panels])
    return sums


def _on_cheapest(panels: Panels, prices: Sequence[int], packings: Packings) -> Packings:
    """Every sheet changed for the cheapest kind that is left and holds what lies on it."""
    if len(prices) == 1:
        return packings
    kinds = packings.kinds.copy()
    reach = _reach(panels, packings)
    bought = np.array([(kinds == k).sum(axis=1) for k in range(len(prices))])
    for sheet in range(int((kinds >= 0).any(axis=0).sum())):
        for kind in sorted(range(len(prices)), key=lambda k: -prices[k]):
            length, width = panels.sheets[kind]
            old = kinds[:, sheet]
            holds = (reach[0, :, sheet] <= length) & (reach[1, :, sheet] <= width)
            cheaper = np.array(prices)[old] > prices[kind]
            rows = np.flatnonzero((old >= 0) & holds & cheaper & (bought[kind] < panels.limits[kind]))
            np.add.at(bought, (old[rows], rows), -1)
            bought[kind, rows] += 1
            kinds[rows, sheet] = kind
    return replace(packings, kinds=kinds)


def _reach(panels: Panels, packings: Packings) -> Ints:
    """How far the panels reach along and across each sheet of each packing."""
    reach = np.zeros((2, *packings.kinds.shape), np.int64)
    rows, index = np.nonzero(packings.sheet >= 0)
    sheet, turned = packings.sheet[rows, index], packings.turned[rows, index]
    along = np.where(turned, panels.widths[index], panels.lengths[index])
    across = np.where(turned, panels.lengths[index], panels.widths[index])
    np.maximum.at(reach[0], (rows, sheet), packings.x[rows, index] + along)
    np.maximum.at(reach[1], (rows, sheet), packings.y[rows, index] + across)
    return reach
