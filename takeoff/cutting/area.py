"""Area: a cost below which no plan for panels can be, whether cut edge to edge or not.

The panels' area bounds it, and so do dual feasible functions, which count a panel as more than its area where it
can share its sheet with little else (Fekete and Schepers 2004, from memory), and the scales that are the best for
these panels (`takeoff.cutting.scales`). Each says of how much a sheet holds at most; an integer programme over the
numbers of sheets says what that costs. Sizes hold their kerf. Of the two ways in which a panel that may be turned
can lie the lesser one counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, gcd, inf

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from countersunk.takeoff.cutting.packer import Ints, Panels
from countersunk.takeoff.cutting.scales import Constraint, Scales, area_row, climbed_rows, weighed

FUNCTIONS = 40
"""Thresholds tried along each side at most."""

ROUNDING = 1e-6
"""Sums of shares of a sheet are not exact; a bound is never rounded up by less than this."""

Shares = NDArray[np.float64]


def least_cost(panels: Panels, prices: Sequence[int], rows: Iterable[Constraint]) -> int:
    """No plan for all of ``panels`` costs less, as ``rows`` say."""
    rows = [*rows, Constraint(1.0, (1.0,) * len(prices))]
    limits = np.minimum(panels.limits, len(panels.lengths)).astype(float)
    result = milp(
        np.array(prices, float),
        integrality=np.ones(len(prices), np.int64),
        bounds=Bounds(0.0, limits),
        constraints=[LinearConstraint(np.array([r.holds for r in rows]), [r.need - ROUNDING for r in rows], inf)],
        options={"mip_rel_gap": 0.0},
    )
    if result.x is None:
        return int(limits @ np.array(prices, float))  # not even all there are will do
    step = max(1, gcd(*prices))
    return ceil((float(result.fun) - ROUNDING) / step) * step


def quick_rows(panels: Panels) -> list[Constraint]:
    """By area, and by the two functions that count most."""
    return [area_row(panels), weighed(panels, *_functions(panels))]


def scaled_rows(panels: Panels) -> list[Constraint]:
    """By the best scales that are reached from these functions."""
    return climbed_rows(panels, _functions(panels))


def least_sheets(panels: Panels) -> int:
    """No plan takes fewer sheets, even if all were the largest; by `quick_rows`."""
    return ceil(max(row.need / max(row.holds) for row in quick_rows(panels)) - ROUNDING)


def _largest(panels: Panels) -> tuple[int, int]:
    return max(length for length, _ in panels.sheets), max(width for _, width in panels.sheets)


def _functions(panels: Panels) -> Scales:
    """Of every pair of functions that with which the panels count most."""
    length, width = _largest(panels)
    n = len(panels.lengths)
    either = np.concatenate([panels.lengths, panels.widths])
    along, across = _shares(either, length), _shares(either, width)
    flat = along[:, None, :n] * across[None, :, n:]
    on_end = np.where(panels.turns, along[:, None, n:] * across[None, :, :n], inf)
    most = int(np.minimum(flat, on_end).sum(axis=2).argmax())
    return along[most // len(across)], across[most % len(across)]


def _shares(sizes: Ints, whole: int) -> Shares:
    """A row for each dual feasible function: shares that sum to at most 1 wherever the sizes sum to the whole."""
    halves = np.unique(sizes[sizes * 2 <= whole])
    if len(halves) > FUNCTIONS:
        halves = halves[np.linspace(0, len(halves) - 1, FUNCTIONS).astype(int)]
    rows = [sizes / whole, *(_threshold(sizes, whole, int(e)) for e in (*halves, whole // 2))]
    return np.array(rows + [_rounded(sizes, whole, k) for k in range(1, 6)])


def _threshold(sizes: Ints, whole: int, least: int) -> Shares:
    """Below ``least`` nothing; what leaves less than ``least`` takes all."""
    return np.where(sizes + least > whole, 1.0, np.where(sizes < least, 0.0, sizes / whole))


def _rounded(sizes: Ints, whole: int, k: int) -> Shares:
    """Down to whole parts of 1/k, but for sizes that are an exact part of k + 1."""
    parts = (k + 1) * sizes
    return np.where(parts % whole == 0, sizes / whole, parts // whole / k)
