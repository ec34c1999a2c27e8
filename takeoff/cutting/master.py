"""Master: how often each pattern is cut, at the least cost, as a linear and as an integer programme (HiGHS).

A *column* is a pattern on a stock. Every size is covered, and no stock taken more often than there is of it.
Where stock may run short a piece may also stay behind, at a price above any plan (`Task.penalty`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gcd, inf

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csr_array

from countersunk.takeoff.cutting.knapsack import Pattern

Column = tuple[int, Pattern]
"""The number of a stock and a pattern on it."""


@dataclass(frozen=True)
class Task:
    """Sizes, each with the saw cut after it, and rooms, each with one cut more than it has: sums fit exactly."""

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    rooms: tuple[int, ...]
    prices: tuple[int, ...]
    limits: tuple[int, ...]
    short: bool

    @cached_property
    def coin(self) -> int:
        """What every cost is a multiple of, that of pieces left behind too."""
        return max(1, gcd(*self.prices))

    @cached_property
    def penalty(self) -> int:
        """More than any plan costs; nothing is left behind that any plan can hold."""
        return self.coin + sum(p * q for p, q in zip(self.prices, self.limits, strict=True))


@dataclass(frozen=True)
class Duals:
    """What one more of each size costs, and what one more of each stock would save (not above 0)."""

    sizes: NDArray[np.float64]
    stocks: NDArray[np.float64]


@dataclass(frozen=True)
class Selection:
    """How often each column is cut, and how many of each size stay behind; ``best`` if no choice costs less."""

    times: tuple[int, ...]
    behind: tuple[int, ...]
    best: bool


def relaxed(task: Task, columns: Sequence[Column]) -> Duals:
    """The prices of the linear programme over ``columns``, which must cover every size."""
    cover, supply = _rows(task, columns)
    result = linprog(
        _costs(task, columns),
        A_ub=np.vstack([-cover, supply]),
        b_ub=np.concatenate([-np.array(task.demand, float), np.array(task.limits, float)]),
        method="highs-ds",
    )
    if result.status != 0:
        raise ArithmeticError(f"the linear programme ended with: {result.message}")
    marginals = result.ineqlin.marginals
    n = len(task.sizes)
    return Duals(np.maximum(-marginals[:n], 0.0), np.minimum(marginals[n:], 0.0))


def chosen(
    task: Task, columns: Sequence[Column], *, least: int, nodes: int, seconds: float = inf
) -> Selection | None:
    """The best whole numbers over ``columns``, none of which costs below ``least``; None where none was found.

    How many of each stock are bought is a variable of its own, and the sum of rooms must hold the sum of sizes: on
    these few the search branches first, and they say much more than the columns do.
    """
    n, s = len(columns), len(task.rooms)
    cover, supply = _rows(task, columns)
    behind = cover.shape[1] - n
    bought = np.vstack([np.zeros((len(task.sizes), s)), -np.eye(s)])
    rows = np.hstack([np.vstack([cover, supply]), bought])
    room, cost = _sums(task, n, behind)
    need, most = float(np.dot(task.sizes, task.demand)), np.array(task.limits, float)
    costs = cost + np.concatenate([np.zeros(n), np.full(behind, float(task.penalty)), np.zeros(s)])
    result = milp(
        costs,
        integrality=np.ones(len(costs), np.int64),
        bounds=Bounds(0.0, np.concatenate([np.full(n + behind, inf), most])),
        constraints=[
            LinearConstraint(
                csr_array(np.vstack([rows, room, costs])),
                np.array([*task.demand, *[-inf] * s, need, float(least)]),
                np.array([*[inf] * len(task.demand), *[0.0] * s, inf, inf]),
            )
        ],
        options={"mip_rel_gap": 0.0, "node_limit": nodes, "time_limit": max(0.01, min(seconds, 1e6))},
    )
    if result.x is None:
        return None
    numbers = [round(float(x)) for x in result.x]
    left = numbers[n : n + behind] or [0] * len(task.sizes)
    return Selection(tuple(numbers[:n]), tuple(left), result.status == 0)


def _costs(task: Task, columns: Sequence[Column]) -> NDArray[np.float64]:
    behind = [task.penalty] * (len(task.sizes) if task.short else 0)
    return np.array([*(task.prices[s] for s, _ in columns), *behind], float)


def _rows(task: Task, columns: Sequence[Column]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """What each column covers of each size, and takes of each stock."""
    n, behind = len(task.sizes), len(task.sizes) if task.short else 0
    cover = np.zeros((n, len(columns) + behind))
    supply = np.zeros((len(task.rooms), len(columns) + behind))
    for j, (stock, pattern) in enumerate(columns):
        cover[:, j] = pattern
        supply[stock, j] = 1.0
    cover[:, len(columns) :] = np.eye(n)[:, :behind]
    return cover, supply


def _sums(task: Task, columns: int, behind: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The rows that sum up room and price of what is bought; what stays behind needs no room."""
    nothing = np.zeros(columns)
    room = np.concatenate([nothing, np.array(task.sizes, float)[:behind], np.array(task.rooms, float)])
    return room, np.concatenate([nothing, np.zeros(behind), np.array(task.prices, float)])
