"""Limits: how much chance alone leaves in a sound adjustment, and which errors show.

Degrees of freedom are whole numbers, so both distributions end in sums of few terms (Abramowitz and Stegun,
Handbook of Mathematical Functions, 26.4.4, 26.4.5, 26.7.3 and 26.7.4, from memory).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from statistics import NormalDist

WHOLE = 0.05
"""One sound network in so many fails the test of the whole: 5 % (usual in the textbooks)."""

SINGLE = 0.001
"""One sound observation in so many is doubted on its own: 0.1 % (Baarda's choice)."""

POWER = 0.80
"""An error of the least detectable size is found as often as this (Baarda's choice)."""

BEYOND = 700.0
"""Half a vᵀPv from which on its chance is 0: no float holds what it is multiplied by."""


@lru_cache
def chi_square_limit(freedom: int, chance: float = WHOLE) -> float:
    """What vᵀPv exceeds by chance that often, with σ known beforehand. Infinite without redundancy."""
    return _reached(lambda x: chance_of(x, freedom), chance) if freedom else math.inf


def chance_of(chi_square: float, freedom: int) -> float:
    """How often right readings leave a vᵀPv as large by chance, from 0 to 1; always, without redundancy."""
    if not freedom:
        return 1.0
    half, odd = max(chi_square, 0.0) / 2, freedom % 2
    if half > BEYOND:
        return 0.0
    term = 2 * math.sqrt(half / math.pi) if odd else 1.0
    tail = math.erfc(math.sqrt(half))
    total = 0.0
    for k in range(freedom // 2):
        total += term
        term *= half / (k + (1.5 if odd else 1.0))
    return min(1.0, odd * tail + math.exp(-half) * total)


def normal_limit(chance: float = SINGLE) -> float:
    """What a standardised residual exceeds by chance that often, either way."""
    return -NormalDist().inv_cdf(chance / 2)


@lru_cache
def tau_limit(freedom: int, chance: float = WHOLE) -> float:
    """The same for a residual standardised by the network's own s0 (Pope's τ). Above 1 degree of freedom."""
    t = _reached(lambda x: _student(x, freedom - 1), chance)
    return math.sqrt(freedom) * t / math.sqrt(freedom - 1 + t * t)


def noncentrality() -> float:
    """Baarda's δ0: the error, in standard deviations of w, that is found as often as `POWER`."""
    return normal_limit() + NormalDist().inv_cdf(POWER)


def _student(t: float, freedom: int) -> float:
    """How often |t| of Student's distribution is exceeded by chance."""
    turn = math.atan(t / math.sqrt(freedom))
    square, odd = math.cos(turn) ** 2, freedom % 2
    term, total = (math.cos(turn) if odd else 1.0), 0.0
    for k in range((freedom - odd) // 2):
        total += term
        term *= square * (2 * k + 1 + odd) / (2 * k + 2 + odd)
    return 1 - (2 / math.pi * (turn + math.sin(turn) * total) if odd else math.sin(turn) * total)


def _reached(chance_at: Callable[[float], float], chance: float) -> float:
    """Where a chance that falls from 1 has fallen to ``chance``: halving, to the last bit of a float."""
    low, high = 0.0, 1.0
    while chance_at(high) > chance:
        low, high = high, 2 * high
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if chance_at(middle) > chance else (low, middle)
    return high
