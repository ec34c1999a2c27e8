"""Scales: what no sheet can hold more of, and how much of it the panels need.

A *scale* gives each size a share of a side, such that sizes that lie across the side one behind the other never
have more than the side's own share. The products of a scale along and one across are then a weight for panels of
which a sheet holds no more than the product of its two shares (conservative scales; Fekete and Schepers 2004, from
memory). The best scale across for a given one along is the price of a linear programme: panels parted into slices,
slices put across the sheet (bar relaxation; Belov, Kartak, Rohling and Scheithauer 2009, from memory). Each side in
turn gets the best scale for the other's. It holds for any plan, whether cut edge to edge or not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import gcd

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from countersunk.takeoff.cutting.knapsack import Knapsack, knapsack
from countersunk.takeoff.cutting.packer import Ints, Panels

Shares = NDArray[np.float64]
Scales = tuple[Shares, Shares]
"""Along and across."""

TURNS = 6
"""Times that a side gets its best scale."""

PATTERNS = 60
"""Patterns added for one scale at most; with fewer it is a little worse, and holds as well."""

WHOLE = 2**40
"""Shares are whole numbers of which this is one side, so that what holds is not rounded."""


@dataclass(frozen=True)
class Constraint:
    """The panels ``need`` so much of something of which one sheet of each kind ``holds`` at most so much."""

    need: float
    holds: tuple[float, ...]


def area_row(panels: Panels) -> Constraint:
    """The panels' area and that of the sheets."""
    areas = [float(length * width) for length, width in panels.sheets]
    need = float((panels.lengths * panels.widths).sum())
    return Constraint(need / max(areas), tuple(a / max(areas) for a in areas))


def weighed(panels: Panels, along: Shares, across: Shares) -> Constraint:
    """What a pair of scales says, given as the shares of every length and then every width."""
    ways = _Ways.of(panels)
    return _row(panels, ways, _sides(panels, ways), (_per_size(along, ways), _per_size(across, ways)))


def climbed_rows(panels: Panels, scales: Scales) -> list[Constraint]:
    """The best that is reached from a pair of scales, from either side."""
    ways = _Ways.of(panels)
    sides, first = _sides(panels, ways), [_per_size(scale, ways) for scale in scales]
    return [_row(panels, ways, sides, _climbed(ways, sides, first[axis], 1 - axis)) for axis in (0, 1)]


def _sides(panels: Panels, ways: _Ways) -> list[_Side]:
    return [_Side(ways, axis, max(sheet[axis] for sheet in panels.sheets)) for axis in (0, 1)]


def _row(panels: Panels, ways: _Ways, sides: Sequence[_Side], scales: Scales) -> Constraint:
    along, across = (sides[a].holds(scales[a], [sheet[a] for sheet in panels.sheets]) for a in (0, 1))
    return Constraint(ways.need(*scales), tuple(a * b for a, b in zip(along, across, strict=True)))


@dataclass(frozen=True)
class _Ways:
    """Each different panel, how many there are, and how it may lie: two indices into ``sizes`` each."""

    sizes: Ints
    counts: Ints
    panel: Ints
    along: Ints
    across: Ints
    where: Ints

    @classmethod
    def of(cls, panels: Panels) -> _Ways:
        sizes, where = np.unique(np.concatenate([panels.lengths, panels.widths]), return_inverse=True)
        n = len(panels.lengths)
        kinds, counts = np.unique(np.array([where[:n], where[n:], panels.turns]), axis=1, return_counts=True)
        turned = np.flatnonzero(kinds[2])
        panel = np.concatenate([np.arange(len(counts)), turned])
        along = np.concatenate([kinds[0], kinds[1, turned]])
        across = np.concatenate([kinds[1], kinds[0, turned]])
        fits = np.zeros(len(panel), bool)
        for length, width in panels.sheets:
            fits |= (sizes[along] <= length) & (sizes[across] <= width)
        return cls(sizes, counts, panel[fits], along[fits], across[fits], where)

    def need(self, along: Shares, across: Shares) -> float:
        """What all panels weigh at least, each lying as it weighs less."""
        least = np.full(len(self.counts), np.inf)
        np.minimum.at(least, self.panel, along[self.along] * across[self.across])
        return float(least @ self.counts)


def _per_size(shares: Shares, ways: _Ways) -> Shares:
    """The shares of lengths and widths as those of sizes."""
    found = np.zeros(len(ways.sizes))
    found[ways.where] = shares
    return found


def _climbed(ways: _Ways, sides: Sequence[_Side], scale: Shares, axis: int) -> Scales:
    """From the ``scale`` of the other side, each side in turn, until that gains nothing."""
    scales, last = {1 - axis: scale}, 0.0
    for _ in range(TURNS):
        scales[axis] = sides[axis].best(scales[1 - axis])
        need = ways.need(scales[0], scales[1])
        if need < last * (1 + 1e-4):
            break
        last, axis = need, 1 - axis
    return scales[0], scales[1]


@dataclass
class _Side:
    """A side of the largest sheet: the sizes that may lie along it, and the patterns known there."""

    ways: _Ways
    axis: int
    room: int
    used: Ints = field(init=False)
    demand: list[int] = field(init=False)
    patterns: list[NDArray[np.float64]] = field(init=False)

    def __post_init__(self) -> None:
        lying = self.ways.along if self.axis == 0 else self.ways.across
        many = np.zeros(len(self.ways.sizes), np.int64)
        np.add.at(many, lying, self.ways.counts[self.ways.panel])
        self.used = np.flatnonzero(many)
        self.demand = [int(n) for n in many[self.used]]
        self.step = gcd(*(int(s) for s in self.ways.sizes))
        self.sizes = [int(s) // self.step for s in self.ways.sizes[self.used]]
        most = [min(n, self.room // self.step // s) for n, s in zip(self.demand, self.sizes, strict=True)]
        self.patterns = list(np.diag(np.array(most, float)))

    def best(self, other: Shares) -> Shares:
        """The scale with which panels weigh most, for the ``other`` side's scale; nothing sums above 1."""
        room, found = self.room // self.step, np.zeros(len(self.ways.sizes))
        for _ in range(PATTERNS):
            priced = self._priced(other)
            table = self._table(priced)
            if table.worth(room) <= WHOLE * (1 + 1e-4):
                break
            self.patterns.append(np.array(table.best(room), float))
        found[self.used] = priced * (WHOLE / max(1, table.worth(room)))
        return found

    def holds(self, scale: Shares, rooms: Sequence[int]) -> list[float]:
        """The most that sizes within each of ``rooms`` have together."""
        table = self._table(scale[self.used])
        return [(table.worth(room // self.step) + len(self.used)) / WHOLE for room in rooms]

    def _table(self, shares: Shares) -> Knapsack:
        whole = [int(share * WHOLE) for share in shares]
        return knapsack(self.sizes, self.demand, whole, self.room // self.step)

    def _priced(self, other: Shares) -> Shares:
        """The linear programme over the patterns: shares of sizes, and what each panel weighs."""
        ways, count = self.ways, len(self.used)
        mine, theirs = (ways.along, ways.across) if self.axis == 0 else (ways.across, ways.along)
        place = np.zeros(len(ways.sizes), np.int64)
        place[self.used] = np.arange(count)
        lying = np.zeros((len(ways.panel), count + len(ways.counts)))
        rows = np.arange(len(ways.panel))
        lying[rows, place[mine]] = -other[theirs]
        lying[rows, count + ways.panel] = 1.0
        sums = np.hstack([np.array(self.patterns), np.zeros((len(self.patterns), len(ways.counts)))])
        result = linprog(
            np.concatenate([np.zeros(count), -ways.counts.astype(float)]),
            A_ub=np.vstack([lying, sums]),
            b_ub=np.concatenate([np.zeros(len(lying)), np.ones(len(sums))]),
            method="highs-ds",
        )
        if result.status != 0:
            raise ArithmeticError(f"the linear programme ended with: {result.message}")
        return np.clip(np.asarray(result.x, np.float64)[:count], 0.0, 1.0)
