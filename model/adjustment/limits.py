"""Limits: how much chance alone leaves in a sound adjustment, and which errors show."""

from __future__ import annotations

import math

from scipy.special import chdtrc, chdtri, ndtri, stdtrit

WHOLE = 0.05
"""One sound network in so many fails the test of the whole: 5 % (usual in the textbooks)."""

SINGLE = 0.001
"""One sound observation in so many is doubted on its own: 0.1 % (Baarda's choice)."""

POWER = 0.80
"""An error of the least detectable size is found as often as this (Baarda's choice)."""


def chi_square_limit(freedom: int, chance: float = WHOLE) -> float:
    """What vᵀPv exceeds by chance that often, with σ known beforehand. Infinite without redundancy."""
    return float(chdtri(freedom, chance)) if freedom else math.inf


def chance_of(chi_square: float, freedom: int) -> float:
    """How often right readings leave a vᵀPv as large by chance, from 0 to 1; always, without redundancy."""
    return float(chdtrc(freedom, chi_square)) if freedom else 1.0


def normal_limit(chance: float = SINGLE) -> float:
    """What a standardised residual exceeds by chance that often, either way."""
    return -float(ndtri(chance / 2))


def tau_limit(freedom: int, chance: float = WHOLE) -> float:
    """The same for a residual standardised by the network's own s0 (Pope's τ). Above 1 degree of freedom."""
    t = -float(stdtrit(freedom - 1, chance / 2))
    return math.sqrt(freedom) * t / math.sqrt(freedom - 1 + t * t)


def noncentrality() -> float:
    """Baarda's δ0: the error, in standard deviations of w, that is found as often as `POWER`."""
    return normal_limit() + float(ndtri(POWER))
