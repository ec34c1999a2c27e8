"""Bars: pieces cut from lengths at the least cost, with proof.

A greedy plan comes first, and the length that is needed bounds it; often that is all. Else column generation
(Gilmore and Gomory 1961, from memory) gives patterns and a better bound, and an integer programme over the patterns
a better plan. Where bound and plan still differ, the patterns that waste next to nothing are tried together; then
every pattern that a cheaper plan could hold is listed by its reduced cost, and the integer programme over all of
these settles it. The bound is worked in whole numbers from the rounded dual prices, so it holds whatever the linear
programme rounded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice
from math import ceil, floor, gcd, inf

import numpy as np

from countersunk.takeoff.cutting.clock import Clock
from countersunk.takeoff.cutting.greedy import greedy, least_by_length
from countersunk.takeoff.cutting.knapsack import Knapsack, knapsack
from countersunk.takeoff.cutting.master import Column, Duals, Selection, Task, chosen, relaxed
from countersunk.takeoff.cutting.values import Blade, Cut, CutPiece, CutPlan, CutStock, Used, fits
from countersunk.takeoff.cutting.verify import checked

ROUNDS = 20_000
"""Rounds of column generation, shared among the sizes: few where there are many."""

PATTERNS = 12_000
"""Patterns listed for the proof."""

NODES = 6_000
"""Nodes of an integer programme, shared among the sizes; `MOST_NODES` at most."""

MOST_NODES = 60

FILLING_NODES = 200
"""Nodes where every pattern is full."""

MOST_SIZES = 400
"""With more different sizes than this the plan is the greedy one and the bound that by length."""

CELLS = 6_000_000
"""Cells of the table; where more were needed, sizes are rounded up to a coarser step."""

SCALE = 2**50
"""Dual prices are rounded to whole numbers not above this."""


@dataclass(frozen=True)
class Priced:
    """The table of the dual prices, in ``unit`` to the coin; `bound` is what every plan costs at least."""

    knapsack: Knapsack
    unit: int
    bound: Fraction
    excess: tuple[int, ...]


def cut_lengths(
    pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade, *, seconds: float = inf
) -> CutPlan:
    """The cheapest plan for all ``pieces``, each of which fits some stock. Raises ValueError where one does not."""
    _check(pieces, stocks, saw)
    if not pieces:
        return CutPlan((), 0)
    clock = Clock(seconds)
    step = _exact_step(pieces, stocks, saw)
    task = _task(pieces, stocks, saw, step, ceil)
    loose = _task(pieces, stocks, saw, step, floor)
    columns, choice, bound = _solved(task, loose, clock)
    plan = _plan(columns, choice, pieces, stocks, saw)
    plan = replace(plan, lower_bound=bound, effort=clock.steps, hurried=clock.is_over)
    return checked(plan, pieces, stocks, saw)


def _solved(task: Task, loose: Task, clock: Clock) -> tuple[list[Column], Selection, int]:
    """Columns, how often each is cut, and the bound. ``loose`` has sizes rounded down, so that its bound holds."""
    columns, choice = greedy(task)
    bound = _above(least_by_length(loose), task.coin)
    if _cost(task, columns, choice) <= bound or len(task.sizes) > MOST_SIZES or clock.is_over:
        return columns, choice, bound
    columns, priced = _generated(task, columns, clock)
    choice = Selection((*choice.times, *[0] * (len(columns) - len(choice.times))), choice.behind, False)
    sure = priced if loose == task else _priced(loose, relaxed(task, columns))
    bound = max(bound, _above(sure.bound, task.coin))
    choice = _better(task, columns, choice, bound, clock)
    if _cost(task, columns, choice) > bound:
        columns, choice = _filled(task, columns, choice, bound, clock)
    cost = _cost(task, columns, choice)
    if cost > bound and loose == task:
        columns, choice, settled = _settled(task, columns, choice, priced, bound, clock)
        bound = _cost(task, columns, choice) if settled else bound
    return columns, choice, bound


def _check(pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade) -> None:
    for piece in pieces:
        if not any(fits(piece, stock, saw) for stock in stocks):
            raise ValueError(f"{piece.id} fits no stock")


def _exact_step(pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade) -> int:
    """The coarsest step in which all sizes are whole; a coarser one where the table would be too large."""
    step = gcd(*(p.length + saw.kerf for p in pieces))
    longest = max(s.length for s in stocks)
    while (len({p.length for p in pieces}) + 1) * (longest // step + 1) > CELLS:
        step *= 2
    return step


def _task(
    pieces: Sequence[CutPiece],
    stocks: Sequence[CutStock],
    saw: Blade,
    step: int,
    rounded: Callable[[Fraction], int],
) -> Task:
    """The pieces as sizes, longest first, in steps; none is rounded beyond the largest room."""
    lengths = sorted({p.length for p in pieces}, reverse=True)
    rooms = tuple(max(0, s.length - 2 * saw.on(s).trim + saw.kerf) // step for s in stocks)
    sizes = tuple(min(max(rooms), max(1, rounded(Fraction(length + saw.kerf, step)))) for length in lengths)
    demand = tuple(sum(p.quantity for p in pieces if p.length == length) for length in lengths)
    limits = tuple(min(sum(demand), sum(demand) if s.quantity is None else s.quantity) for s in stocks)
    endless = max((r for r, s in zip(rooms, stocks, strict=True) if s.quantity is None), default=0)
    return Task(sizes, demand, rooms, tuple(s.price for s in stocks), limits, sizes[0] > endless)


def _generated(task: Task, known: list[Column], clock: Clock) -> tuple[list[Column], Priced]:
    """Columns until none improves the linear programme, and the best bound met on the way."""
    columns = list(dict.fromkeys([*known, *_first_columns(task)]))
    best = priced = _priced(task, relaxed(task, columns))
    for _ in range(ROUNDS // len(task.sizes)):
        new = [c for c in _improving(task, priced) if c not in columns]
        if not new or clock.is_over:
            break
        columns += new
        clock.step()
        priced = _priced(task, relaxed(task, columns))
        best = max(best, priced, key=lambda p: p.bound)
    return columns, best


def _first_columns(task: Task) -> Iterator[Column]:
    """As many of each size alone as each stock holds."""
    for stock, room in enumerate(task.rooms):
        for i, size in enumerate(task.sizes):
            if task.limits[stock] and size <= room:
                count = min(task.demand[i], room // size)
                yield stock, tuple(count if j == i else 0 for j in range(len(task.sizes)))


def _priced(task: Task, duals: Duals) -> Priced:
    """Duals as whole numbers. What a pattern is worth above its stock's price, the stock itself must save."""
    dearest = max(task.penalty if task.short else 0, *task.prices, 1)
    unit = max(1, SCALE // dearest)
    values = [min(int(d * unit), dearest * unit) for d in duals.sizes]
    table = knapsack(task.sizes, task.demand, values, max(task.rooms))
    worth = [table.worth(room) for room in task.rooms]
    excess = tuple(max(0, w - p * unit) for w, p in zip(worth, task.prices, strict=True))
    total = sum(v * d for v, d in zip(values, task.demand, strict=True))
    saved = sum(e * q for e, q in zip(excess, task.limits, strict=True))
    ratios = [Fraction(p * unit, w) for p, w in zip(task.prices, worth, strict=True) if w > p * unit]
    bound = max(Fraction(total - saved, unit), min([Fraction(1), *ratios]) * Fraction(total, unit))
    return Priced(table, unit, bound, excess)


def _improving(task: Task, priced: Priced) -> Iterator[Column]:
    """The best pattern on each stock."""
    for stock, room in enumerate(task.rooms):
        if task.limits[stock] and priced.knapsack.worth(room):
            yield stock, priced.knapsack.best(room)


def _better(task: Task, columns: Sequence[Column], choice: Selection, bound: int, clock: Clock) -> Selection:
    """The better of ``choice`` and what the integer programme over the columns finds."""
    clock.step()
    found = chosen(task, columns, least=bound, nodes=_nodes(task), seconds=clock.left)
    return choice if found is None else min(choice, found, key=lambda c: _cost(task, columns, c))


def _nodes(task: Task) -> int:
    return min(MOST_NODES, max(1, NODES // len(task.sizes)))


def _settled(
    task: Task, columns: list[Column], choice: Selection, priced: Priced, bound: int, clock: Clock
) -> tuple[list[Column], Selection, bool]:
    """The best choice over every column that a cheaper plan could hold; whether that settles it."""
    cheaper = _cost(task, columns, choice) - task.coin
    allowance = (cheaper - priced.bound) * priced.unit
    listed, whole = _listed(task, priced, int(allowance))
    used = [c for c, n in zip(columns, choice.times, strict=True) if n]
    every = list(dict.fromkeys([*used, *listed, *([] if whole else columns)]))
    clock.step()
    better = chosen(task, every, least=bound, nodes=_nodes(task), seconds=clock.left)
    if better is None or _cost(task, every, better) > _cost(task, columns, choice):
        return columns, choice, False
    return every, better, whole and better.best


def _filled(
    task: Task, columns: list[Column], choice: Selection, bound: int, clock: Clock
) -> tuple[list[Column], Selection]:
    """The better of ``choice`` and one of the patterns that waste no more than a plan at the bound may waste.

    Where pieces fill every length exactly these are few, while the linear programme tells none from the others.
    """
    prices = [Fraction(p, r) for p, r, n in zip(task.prices, task.rooms, task.limits, strict=True) if r and n]
    by_length = _priced(task, Duals(np.array(task.sizes) * float(min(prices)), np.zeros(len(task.rooms))))
    listed, whole = _listed(task, by_length, int((bound - by_length.bound) * by_length.unit))
    if not listed or not whole or clock.is_over:
        return columns, choice
    clock.step()
    found = chosen(task, listed, least=bound, nodes=FILLING_NODES, seconds=clock.left)
    if found is None or _cost(task, listed, found) >= _cost(task, columns, choice):
        return columns, choice
    return listed, found


def _listed(task: Task, priced: Priced, allowance: int) -> tuple[list[Column], bool]:
    """Every full pattern whose reduced cost is within ``allowance``; whether these are all."""
    found: list[Column] = []
    for stock, room in enumerate(task.rooms):
        if not task.limits[stock]:
            continue
        least = task.prices[stock] * priced.unit + priced.excess[stock] - allowance
        patterns = priced.knapsack.patterns(room, max(1, least))
        some = list(islice(patterns, PATTERNS + 1))
        if len(some) > PATTERNS:
            return found, False
        found += [(stock, p) for p in some if priced.knapsack.is_full(p, room)]
    return found, True


def _cost(task: Task, columns: Sequence[Column], choice: Selection) -> int:
    bought = sum(task.prices[stock] * n for (stock, _), n in zip(columns, choice.times, strict=True))
    return bought + task.penalty * sum(choice.behind)


def _above(bound: Fraction, step: int) -> int:
    """The least multiple of ``step`` that a cost at or above ``bound`` can be."""
    return ceil(bound / step) * step


def _plan(
    columns: Sequence[Column], choice: Selection, pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade
) -> CutPlan:
    """The chosen columns with the pieces' own ids, longest first; what is covered twice is cut once."""
    lengths = sorted({p.length for p in pieces}, reverse=True)
    waiting = [[p.id for p in pieces if p.length == length for _ in range(p.quantity)] for length in lengths]
    used = []
    for (stock, pattern), times in zip(columns, choice.times, strict=True):
        for _ in range(times):
            taken = [(ids.pop(0), length) for ids, length, n in zip(waiting, lengths, pattern, strict=True)
                     for _ in range(min(n, len(ids)))]  # fmt: skip
            if taken:
                used.append(Used(stocks[stock], _laid(taken, saw.on(stocks[stock]))))
    used.sort(key=lambda u: stocks.index(u.stock))
    return CutPlan(tuple(used), 0, unplaced=tuple(i for ids in waiting for i in ids))


def _laid(taken: Sequence[tuple[str, int]], saw: Blade) -> tuple[Cut, ...]:
    """Pieces one after another from the trimmed end, a saw cut between two."""
    cuts, at = [], saw.trim
    for id_, length in taken:
        cuts.append(Cut(id_, at, length))
        at += length + saw.kerf
    return tuple(cuts)
