"""Greedy: a plan at once, bar by bar, each filled as full as can be; and what any plan costs by length alone."""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from countersunk.takeoff.cutting.knapsack import Knapsack, Pattern, knapsack
from countersunk.takeoff.cutting.master import Column, Selection, Task

WINDOW = 120
"""Sizes looked at for one bar: the longest, and others spread over the rest."""


def greedy(task: Task) -> tuple[list[Column], Selection]:
    """Columns and how often each is cut: always the bar that costs least for what it holds."""
    left, stock = list(task.demand), list(task.limits)
    columns, times = [], []
    while any(left):
        found = _next(task, left, stock)
        if found is None:
            break
        number, pattern = found
        count = min(stock[number], *(have // n for have, n in zip(left, pattern, strict=True) if n))
        columns.append(found)
        times.append(count)
        stock[number] -= count
        left = [have - n * count for have, n in zip(left, pattern, strict=True)]
    return columns, Selection(tuple(times), tuple(left), False)


def _next(task: Task, left: list[int], stock: list[int]) -> Column | None:
    """The cheapest bar that holds all that is left; else one with the longest piece, filled up with others."""
    need = sum(s * n for s, n in zip(task.sizes, left, strict=True))
    last = [(task.prices[k], k) for k, room in enumerate(task.rooms) if stock[k] and room >= need]
    if last:
        return min(last)[1], tuple(left)
    for first in (i for i, n in enumerate(left) if n):
        found = _filled_up(task, left, stock, first)
        if found:
            return found
    return None


def _filled_up(task: Task, left: list[int], stock: list[int], first: int) -> Column | None:
    """One piece of the size ``first`` and whatever fills its bar best: that of the least cost for what it holds."""
    size = task.sizes[first]
    rooms = {k: room - size for k, room in enumerate(task.rooms) if stock[k] and room >= size}
    if not rooms:
        return None
    rest = [n - (i == first) for i, n in enumerate(left)]
    some = _window([i for i, n in enumerate(rest) if n])
    sizes = [task.sizes[i] for i in some]
    table = knapsack(sizes, [rest[i] for i in some], sizes, max(rooms.values()))
    offers = [(Fraction(task.prices[k], size + table.worth(room)), -room, k) for k, room in rooms.items()]
    best = min(offers)[2]
    pattern = _spread(table, rooms[best], some, len(left))
    return best, tuple(n + (i == first) for i, n in enumerate(pattern))


def _window(sizes: list[int]) -> list[int]:
    if len(sizes) <= WINDOW:
        return sizes
    longest, rest = sizes[: WINDOW // 3], sizes[WINDOW // 3 :]
    return longest + [rest[int(i)] for i in np.linspace(0, len(rest) - 1, WINDOW - len(longest))]


def _spread(table: Knapsack, room: int, some: list[int], count: int) -> Pattern:
    """The best pattern over some of the sizes, as one over all of them."""
    pattern = [0] * count
    for i, n in zip(some, table.best(room), strict=True):
        pattern[i] = n
    return tuple(pattern)


def least_by_length(task: Task) -> Fraction:
    """What the sum of all sizes costs at least, taken from the stock that is cheapest by length."""
    need, cost = sum(s * d for s, d in zip(task.sizes, task.demand, strict=True)), Fraction(0)
    offers = [(Fraction(p, r), r * q) for p, r, q in zip(task.prices, task.rooms, task.limits, strict=True) if r]
    for price, room in sorted(offers):
        cost += price * min(room, need)
        need -= min(room, need)
    return cost
