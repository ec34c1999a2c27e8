"""Area: a cost below which no plan for panels can be, whether cut edge to edge or not.

Two bounds meet in one: the panels' area, and the number of sheets by dual feasible functions, which count a panel
as more than its area where it can share its sheet with little else (Fekete and Schepers 2004, from memory). Sizes
hold their kerf. Of the two ways in which a panel that may be turned can lie the lesser one counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, gcd, inf

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from takeoff.cutting.packer import Ints, Panels

FUNCTIONS = 40
"""Thresholds tried along each side at most."""

ROUNDING = 1e-6
"""Sums of shares of a sheet are not exact; a bound is never rounded up by less than this."""

Shares = NDArray[np.float64]


def least_cost(panels: Panels, prices: Sequence[int]) -> int:
    """No plan for all of ``panels`` costs less."""
    areas = [length * width for length, width in panels.sheets]
    need = int((panels.lengths * panels.widths).sum())
    count = least_sheets(panels)
    limits = np.minimum(panels.limits, len(panels.lengths)).astype(float)
    if min(limits @ np.array(areas, float) - need, limits.sum() - count) < 0:
        return int(limits @ np.array(prices, float))  # not even all there are will do
    result = milp(
        np.array(prices, float),
        integrality=np.ones(len(areas), np.int64),
        bounds=Bounds(0.0, limits),
        constraints=[LinearConstraint(np.array([np.array(areas) / need, np.ones(len(areas))]), [1.0, count], inf)],
        options={"mip_rel_gap": 0.0},
    )
    step = max(1, gcd(*prices))
    return ceil((float(result.fun or 0.0) - ROUNDING) / step) * step


def least_sheets(panels: Panels) -> int:
    """No plan takes fewer sheets, even if all were the largest."""
    length = max(length for length, _ in panels.sheets)
    width = max(width for _, width in panels.sheets)
    n = len(panels.lengths)
    either = np.concatenate([panels.lengths, panels.widths])
    along, across = _shares(either, length)[:, None], _shares(either, width)[None]
    flat = along[..., :n] * across[..., n:]
    on_end = np.where(panels.turns, along[..., n:] * across[..., :n], inf)
    return ceil(float(np.minimum(flat, on_end).sum(axis=2).max()) - ROUNDING)


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
