"""Edged: pieces with a finished front from stock with one finished edge along its length, or with two.

Every set of pieces that a length can hold is listed with the least length that it takes (`stretches`), ripped and
not, and an integer programme over the list settles what is bought, so the plan is the cheapest of its kind. Where
sawing has a price, and rests a worth (`effort`), these are in it. Of plans that cost the same the one of the least
stock is taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil, gcd, inf

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array
from shapely import Polygon

from countersunk.takeoff.cutting.effort import Effort
from countersunk.takeoff.cutting.stretches import Blank, Least, numbers
from countersunk.takeoff.cutting.values import Blade, CutPlan, CutStock, Used
from countersunk.takeoff.cutting.verify_edged import checked_edged

MOST_SETS = 20_000
"""Sets of pieces listed at most; what is not listed is not considered, and the plan is not proven."""

FINE = 100
"""Steps in which the size of stock is compared where prices are the same."""

NODES = 20_000
"""Nodes of the integer programme."""


FREE = Effort(0.0, 0.0, (1, 1))
"""Sawing that costs nothing, of rests that are worth nothing."""


def cut_edged(
    blanks: Sequence[Blank], stocks: Sequence[CutStock], saw: Blade, effort: Effort = FREE
) -> CutPlan:  # fmt: skip
    """The cheapest plan for all ``blanks``. ``unplaced`` names those that the stock in hand does not hold."""
    if not blanks:
        return CutPlan((), 0)
    columns, whole = _columns(blanks, stocks, saw, effort)
    used, left, best = _chosen(blanks, stocks, columns)
    besides = sum(effort.besides(u, saw.kerf) for u in used)
    cost = sum(u.stock.price for u in used) + besides
    bound = cost if whole and best else min(cost, int(_poured(blanks, stocks) * (1.0 - effort.share)))
    return checked_edged(CutPlan(used, bound, unplaced=left, besides=besides), blanks, stocks, saw)


@dataclass(frozen=True)
class BlankSet:
    """A set of blanks, as bits, on a stock, and what that costs with all that is besides."""

    stock: int
    members: int
    used: Used
    cost: int


def _columns(
    blanks: Sequence[Blank], stocks: Sequence[CutStock], saw: Blade, effort: Effort
) -> tuple[list[BlankSet], bool]:
    """Every set on every stock that holds it, small sets first; whether these are all.

    A set that no stock holds has no larger one that any holds. Of a set on stock without limit the cheapest counts.
    """
    alike = {  # length and price aside
        (s.width, s.both_edges): [Least(blanks, s, saw.kerf, rows) for rows in {s.both_edges, False}]
        for s in stocks
    }
    leasts = [alike[s.width, s.both_edges] for s in stocks]
    columns: list[BlankSet] = []
    level = [0]
    while level and len(columns) < MOST_SETS:
        larger = [members | 1 << i for members in level for i in range(members.bit_length(), len(blanks))]
        holding = {members: _held(members, stocks, leasts, saw, effort) for members in larger}
        columns += [column for some in holding.values() for column in _worth_having(some)]
        level = [members for members, some in holding.items() if some]
    return columns, not level


def _held(
    members: int, stocks: Sequence[CutStock], leasts: Sequence[Sequence[Least]], saw: Blade, effort: Effort
) -> list[BlankSet]:
    """The set on every stock that holds it, ripped or not, as costs less."""
    found = []
    for number, (stock, ways) in enumerate(zip(stocks, leasts, strict=True)):
        laid = []
        for least in ways:
            trim = saw.on(stock).trim
            if least.suits(members) and least.of(members)[0] <= stock.length - 2 * trim:
                cuts = tuple(replace(cut, x=cut.x + trim) for cut in least.of(members)[1])
                used = Used(stock, cuts)
                laid.append(BlankSet(number, members, used, stock.price + effort.besides(used, saw.kerf)))
        found += [min(laid, key=_cost_and_end)] if laid else []
    return found


def _cost_and_end(column: BlankSet) -> tuple[int, int]:
    return column.cost, max(cut.x + cut.length for cut in column.used.cuts)


def _worth_having(columns: Sequence[BlankSet]) -> list[BlankSet]:
    """Without those of stock that costs no less than some without limit."""
    endless = [c for c in columns if c.used.stock.quantity is None]
    best = min(endless, key=lambda c: (c.cost, c.used.stock.length), default=None)
    if best is None:
        return list(columns)
    return [best, *(c for c in columns if c.used.stock.quantity and c.cost < best.cost)]


def _poured(blanks: Sequence[Blank], stocks: Sequence[CutStock]) -> int:
    """What their area costs at least, from the stock that is cheapest by area."""
    need, cost = sum(Polygon(b.corners).area for b in blanks), 0.0
    offered = [s for s in stocks if s.length and s.width]
    for stock in sorted(offered, key=lambda s: s.price / (s.length * s.width)):
        area = inf if stock.quantity is None else float(stock.length * stock.width * stock.quantity)
        cost += min(area, need) * stock.price / (stock.length * stock.width)
        need -= min(area, need)
    return int(cost)


def _chosen(
    blanks: Sequence[Blank], stocks: Sequence[CutStock], columns: Sequence[BlankSet]
) -> tuple[tuple[Used, ...], tuple[str, ...], bool]:
    """Columns that hold every blank once at the least price, the blanks that none holds, and whether that is best.

    A blank may stay behind for more than any plan costs.
    """
    count, n = len(columns), len(blanks)
    prices = _fine_prices(columns, stocks, n)
    penalty = 1 + n * max(prices, default=0)
    ones = [(i, j) for j, column in enumerate(columns) for i in (*numbers(column.members), n + column.stock)]
    ones += [(i, count + i) for i in range(n)]
    rows = csr_array((np.ones(len(ones)), np.array(ones).T), shape=(n + len(stocks), count + n))
    limits = [inf if s.quantity is None else float(s.quantity) for s in stocks]
    result = milp(
        np.array([*prices, *[penalty] * n], float),
        integrality=np.ones(count + n, np.int64),
        bounds=Bounds(0.0, 1.0),
        constraints=[LinearConstraint(rows, [*[1.0] * n, *[0.0] * len(stocks)], [*[1.0] * n, *limits])],
        options={"mip_rel_gap": 0.0, "node_limit": NODES},
    )
    if result.x is None:
        raise ArithmeticError(f"the integer programme ended with: {result.message}")
    taken = [bool(round(float(x))) for x in result.x]
    used = tuple(c.used for c, is_taken in zip(columns, taken, strict=False) if is_taken)
    left = tuple(b.id for b, stays in zip(blanks, taken[count:], strict=True) if stays)
    return used, left, result.status == 0


def _fine_prices(columns: Sequence[BlankSet], stocks: Sequence[CutStock], most: int) -> list[int]:
    """Costs so large that the sizes of ``most`` stocks, added to them, decide between equal costs only."""
    largest, coin = max(s.length * s.width for s in stocks), max(1, gcd(*(c.cost for c in columns)))
    sizes = (ceil(FINE * c.used.stock.length * c.used.stock.width / largest) for c in columns)
    return [c.cost // coin * (FINE * most + 1) + size for c, size in zip(columns, sizes, strict=True)]
