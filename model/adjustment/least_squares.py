"""Least squares: a network of points, adjusted by Gauss-Newton, and what is known of every observation."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from countersunk.model.adjustment.limits import noncentrality
from countersunk.model.adjustment.observations import Key, Observation

Array = NDArray[np.float64]

SINGULAR = 1e-9
"""A direction of the unknowns that is this much weaker than the strongest moves no observation."""

UNCHECKED = 1e-7
"""With a redundancy number below this nothing checks an observation."""

STEPS = 60
STEPS_NEAR = 12
HALVINGS = 12
SETTLED = 1e-11
"""Steps that move nothing by more than this share of the network's size end the search."""

STUCK = 1e-7
"""A step longer than this that fits no better, however often it is halved, is no rounding."""


class UndeterminedError(ValueError):
    """A network that its observations do not hold: ``points`` are those that can still move."""

    def __init__(self, points: tuple[str, ...]) -> None:
        super().__init__(f"nothing holds {', '.join(points)}" if points else "no network fits these readings")
        self.points = points


@dataclass(frozen=True)
class Network:
    """Where points are thought to be, which of their coordinates are fixed, and what was observed."""

    start: Mapping[Key, float]
    fixed: frozenset[Key]
    observations: tuple[Observation, ...]

    @cached_property
    def free(self) -> tuple[Key, ...]:
        """The coordinates that are sought."""
        return tuple(key for key in self.start if key not in self.fixed)

    @property
    def freedom(self) -> int:
        """Observations more than needed."""
        return len(self.observations) - len(self.free)

    def without(self, i: int) -> Network:
        """The same without one observation."""
        return replace(self, observations=(*self.observations[:i], *self.observations[i + 1 :]))

    def misfits(self, at: Mapping[Key, float]) -> Array:
        """(observations,) what was read less what the coordinates make of it, in standard deviations."""
        return np.array([o.misfit(at) / o.sigma for o in self.observations])

    def design(self, at: Mapping[Key, float]) -> Array:
        """(observations, free) by how much each observation changes with each coordinate, in deviations."""
        column = {key: j for j, key in enumerate(self.free)}
        matrix = np.zeros((len(self.observations), len(self.free)))
        for i, o in enumerate(self.observations):
            for key, slope in zip(o.keys, o.slopes(at), strict=True):
                if key in column:
                    matrix[i, column[key]] += slope / o.sigma
        return matrix


@dataclass(frozen=True)
class Adjustment:
    """A network with its points ``at`` their most likely places."""

    network: Network
    at: Mapping[Key, float]

    @cached_property
    def residuals(self) -> Array:
        """v of every observation: adjusted less read, in its own unit."""
        return -self.network.misfits(self.at) * self._sigmas

    @cached_property
    def chi_square(self) -> float:
        """vᵀPv: the sum of squared residuals, each in standard deviations."""
        return float(np.sum(self.network.misfits(self.at) ** 2))

    @property
    def freedom(self) -> int:
        """Observations more than needed."""
        return self.network.freedom

    @property
    def s0(self) -> float:
        """How large errors were, in shares of what was allowed for; 1 without redundancy."""
        return math.sqrt(self.chi_square / self.freedom) if self.freedom else 1.0

    @cached_property
    def redundancy(self) -> Array:
        """r of every observation; they add up to the freedom."""
        left, _, _ = self._parts
        raw = 1.0 - np.sum(left**2, axis=1)
        return np.where(raw < UNCHECKED, 0.0, raw)

    @cached_property
    def standardised(self) -> Array:
        """w of every observation; not a number where nothing checks it."""
        spread = self._sigmas * np.sqrt(self.redundancy)
        return np.divide(self.residuals, spread, out=np.full_like(spread, np.nan), where=spread > 0)

    @cached_property
    def cofactor(self) -> Array:
        """(observations, observations) of the residuals, in standard deviations, with redundancy numbers along its
        diagonal. Of two for which it is as large as the root of their product nothing tells which is wrong
        (Förstner, from memory).
        """
        left, _, _ = self._parts
        return np.asarray(np.eye(len(left)) - left @ left.T)

    @cached_property
    def least_detectable(self) -> Array:
        """The error of every observation that is found four times in five; infinite where nothing checks it."""
        root = np.sqrt(self.redundancy)
        return np.divide(noncentrality() * self._sigmas, root, out=np.full_like(root, np.inf), where=root > 0)

    @cached_property
    def covariance(self) -> Array:
        """(free, free) of the coordinates, from the stated σ alone."""
        _, strengths, right = self._parts
        return np.asarray((right.T / strengths**2) @ right)

    def deviation(self, key: Key) -> float:
        """The standard deviation of a coordinate, from the stated σ alone; 0 where it is fixed."""
        if key in self.network.fixed:
            return 0.0
        i = self.network.free.index(key)
        return math.sqrt(self.covariance[i, i])

    @cached_property
    def weakest(self) -> tuple[tuple[str, ...], float]:
        """The points that move most in the way that the observations hold least, and its standard deviation."""
        _, strengths, right = self._parts
        if not len(strengths):
            return (), 0.0
        return _moving(self.network.free, right[-1]), float(1.0 / strengths[-1])

    @cached_property
    def gain(self) -> Array:
        """(free, observations) by how much each coordinate moves with each reading, in its deviations."""
        left, strengths, right = self._parts
        return np.asarray((right.T / strengths) @ left.T)

    @cached_property
    def _sigmas(self) -> Array:
        return np.array([o.sigma for o in self.network.observations])

    @cached_property
    def _parts(self) -> tuple[Array, Array, Array]:
        left, strengths, right = np.linalg.svd(self.network.design(self.at), full_matrices=False)
        return left, strengths, right


def adjust(network: Network) -> Adjustment:
    """The network at its most likely places. Raises UndeterminedError where its observations do not hold it.

    Gauss-Newton; a step that would fit worse is halved.
    """
    at, size = dict(network.start), _size(network)
    cost = float(np.sum(network.misfits(at) ** 2))
    for _ in range(STEPS):
        step = _step(network, at)
        at, cost, moved = _walked(network, at, step, cost)
        if moved <= SETTLED * size:
            return Adjustment(network, at)
    raise UndeterminedError(())


def adjust_near(network: Network, known: Adjustment) -> Adjustment:
    """The same for the readings of an adjusted network changed a little: quicker, by the slopes that it had."""
    at, size = dict(known.at), _size(network)
    for _ in range(STEPS_NEAR):
        step = known.gain @ network.misfits(at)
        at.update((key, at[key] + by) for key, by in zip(network.free, step.tolist(), strict=True))
        if np.max(np.abs(step), initial=0.0) <= SETTLED * size:
            return Adjustment(replace(network, start=known.at), at)
    return adjust(replace(network, start=known.at))


def _size(network: Network) -> float:
    return max(1.0, max((abs(value) for value in network.start.values()), default=1.0))


def _step(network: Network, at: Mapping[Key, float]) -> Array:
    """What to add to the free coordinates, by the singular values of the design."""
    if network.freedom < 0 or not network.free:
        if not network.free:
            return np.zeros(0)
        raise UndeterminedError(_loose(network, at))
    left, strengths, right = np.linalg.svd(network.design(at), full_matrices=False)
    if strengths[-1] <= SINGULAR * strengths[0]:
        raise UndeterminedError(_moving(network.free, right[-1]))
    return np.asarray(right.T @ ((left.T @ network.misfits(at)) / strengths))


def _loose(network: Network, at: Mapping[Key, float]) -> tuple[str, ...]:
    """The points that move where there are fewer observations than unknowns."""
    _, _, right = np.linalg.svd(network.design(at), full_matrices=True)
    return _moving(network.free, right[-1])


def _moving(free: tuple[Key, ...], way: Array) -> tuple[str, ...]:
    """The points that move at least half as much as the one that moves most."""
    most = float(np.max(np.abs(way)))
    return tuple(dict.fromkeys(key[0] for key, by in zip(free, way, strict=True) if abs(by) >= most / 2))


def _walked(
    network: Network, at: dict[Key, float], step: Array, cost: float
) -> tuple[dict[Key, float], float, float]:
    """The coordinates after the step, halved until it fits no worse; their cost; how far it was."""
    share = 1.0
    for _ in range(HALVINGS):
        moved = {**at, **{k: at[k] + share * float(d) for k, d in zip(network.free, step, strict=True)}}
        now = float(np.sum(network.misfits(moved) ** 2))
        if now <= cost:
            return moved, now, share * float(np.max(np.abs(step), initial=0.0))
        share /= 2
    far = float(np.max(np.abs(step), initial=0.0))
    return at, cost, far if far > STUCK * _size(network) else 0.0
