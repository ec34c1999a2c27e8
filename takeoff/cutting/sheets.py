"""Sheets: panels cut from sheets by cuts from edge to edge, and a bound on what any plan must cost.

First every order and rule that is known to do well, then changed copies of the best packings so far, always the
same number of them and from the same seed, until the bound is met. The bound holds for any plan, so a plan that
meets it is proven; one that does not may still be the best. Where offcuts of earlier jobs are stock as well, they
are taken first: of plans that cost the same, some of those that take most from them are sawn to the end, and the
one that leaves the fewest offcuts for those that it takes is the plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

import numpy as np

from countersunk.takeoff.cutting.area import least_cost, quick_rows, scaled_rows
from countersunk.takeoff.cutting.clock import Clock
from countersunk.takeoff.cutting.packer import Panels, Recipes, pack
from countersunk.takeoff.cutting.recipes import Tried, changed, known
from countersunk.takeoff.cutting.sawing import sawn
from countersunk.takeoff.cutting.values import Blade, Cut, CutPiece, CutPlan, CutStock, Used, fits
from countersunk.takeoff.cutting.verify import checked
from countersunk.takeoff.cutting.wasteless import wasteless

EFFORT = 250_000
"""Panels placed in all packings together before the search ends."""

SEED = 20
ENDLESS = 2**40


def cut_sheets(
    pieces: Sequence[CutPiece],
    stocks: Sequence[CutStock],
    saw: Blade,
    *,
    seconds: float = inf,
    keep: tuple[int, int] = (1, 1),
) -> CutPlan:
    """A plan for all ``pieces``, each of which fits some stock. Raises ValueError where one does not.

    A rest is an offcut from ``keep`` on, its longer and its shorter side.
    """
    for piece in pieces:
        if not any(fits(piece, stock, saw) for stock in stocks):
            raise ValueError(f"{piece.id} fits no stock")
    if not pieces:
        return CutPlan((), 0)
    clock, panels = Clock(seconds), panels_of(pieces, stocks, saw)
    prices = [s.price for s in stocks]
    rows = quick_rows(panels)
    bound = least_cost(panels, prices, rows)
    best = _tried(panels, prices, known(panels, prices), clock)
    if not best.meets(bound):
        bound = max(bound, least_cost(panels, prices, [*rows, *scaled_rows(panels)]))
        best = _without_waste(panels, prices, best, bound, clock)
        best = _searched(panels, prices, best, bound, clock, EFFORT)
    plans = [_plan(best, row, pieces, stocks, saw, bound, clock) for row in _as_good(best, panels)]
    return checked(min(plans, key=lambda plan: _more_offcuts(plan, saw, keep)), pieces, stocks, saw)


def _as_good(best: Tried, panels: Panels) -> Sequence[int]:
    """The first of the best packings, and where something is kept all that cost the same."""
    alike = (best.behind == best.behind[0]) & (best.costs == best.costs[0])
    return [int(row) for row in np.flatnonzero(alike)] if panels.kept.any() else [0]


def _more_offcuts(plan: CutPlan, saw: Blade, keep: tuple[int, int]) -> int:
    """How many more offcuts there are once it is sawn."""
    rests = (rest for used in plan.used for rest in sawn(used, saw).offcuts)
    sizes = (sorted((rest.length, rest.width), reverse=True) for rest in rests)
    left = sum(long >= max(keep) and short >= min(keep) for long, short in sizes)
    return left - sum(used.stock.kept for used in plan.used)


def pack_valuable(pieces: Sequence[CutPiece], stock: CutStock, saw: Blade, clock: Clock) -> Used:
    """Pieces of much value on one ``stock``, each of which fits it, with a quarter of the usual effort."""
    one = replace(stock, quantity=1)
    panels, prices = panels_of(pieces, [one], saw, valued=True), [stock.price]
    first = _tried(panels, prices, known(panels, prices), clock)
    best = _searched(panels, prices, first, stock.price, clock, EFFORT // 4)
    used = _plan(best, 0, pieces, [stock], saw, 0, clock).used
    return used[0] if used else Used(stock, ())


def panels_of(pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade, valued: bool = False) -> Panels:
    """One entry for each panel, as the packer and the bounds take them; every size with its kerf."""
    each = _each(pieces)
    return Panels(
        lengths=np.array([p.length + saw.kerf for p in each], np.int64),
        widths=np.array([p.width + saw.kerf for p in each], np.int64),
        turns=np.array([p.turns and p.length != p.width for p in each]),
        worth=np.array([p.value for p in each] if valued else np.ones(len(each)), np.int64),
        sheets=[_room(s, saw.on(s)) for s in stocks],
        kept=np.array([s.kept for s in stocks]),
        limits=np.array([ENDLESS if s.quantity is None else s.quantity for s in stocks], np.int64),
    )


def _room(stock: CutStock, saw: Blade) -> tuple[int, int]:
    """Inside its trim, with the kerf that every panel has beside it."""
    room = saw.kerf - 2 * saw.trim
    return max(0, stock.length + room), max(0, stock.width + room)


def _each(pieces: Sequence[CutPiece]) -> list[CutPiece]:
    return [p for p in pieces for _ in range(p.quantity)]


def _searched(panels: Panels, prices: Sequence[int], best: Tried, bound: int, clock: Clock, effort: int) -> Tried:
    """The best packings met, the best of all first."""
    luck = np.random.default_rng(SEED)
    while not best.meets(bound) and clock.steps < effort and not clock.is_over:
        best = best.joined(_tried(panels, prices, changed(best.recipes, luck), clock)).best()
    return best


def _without_waste(panels: Panels, prices: Sequence[int], best: Tried, bound: int, clock: Clock) -> Tried:
    """A packing that meets the bound where panels fill sheets of the one kind to the last corner; else ``best``."""
    sheets = bound // prices[0] if len(prices) == 1 and prices[0] else 0
    if not 0 < sheets <= panels.limits[0]:
        return best
    found = wasteless(panels, sheets, clock)
    return best if found is None else Tried.of(panels, prices, best.recipes.first, found)


def _tried(panels: Panels, prices: Sequence[int], recipes: Recipes, clock: Clock) -> Tried:
    clock.steps += recipes.orders.size
    return Tried.of(panels, prices, recipes, pack(panels, recipes)).best()


def _plan(
    best: Tried, row: int, pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade, bound: int,
    clock: Clock,
) -> CutPlan:  # fmt: skip
    """The packing of a row with the pieces' own ids, sheet by sheet."""
    each, sheets = _each(pieces), best.packings.sheet[row]
    used = [
        Used(
            stocks[kind],
            _cuts([_cut(best, row, p, each[p], saw.on(stocks[kind])) for p in np.flatnonzero(sheets == number)]),
        )
        for number, kind in enumerate(best.packings.kinds[row])
        if kind >= 0
    ]
    left = tuple(piece.id for piece, sheet in zip(each, sheets, strict=True) if sheet < 0)
    return CutPlan(tuple(used), bound, clock.steps, clock.is_over, left)


def _cuts(cuts: list[Cut]) -> tuple[Cut, ...]:
    """In rows from the corner on."""
    return tuple(sorted(cuts, key=lambda c: (c.y, c.x)))


def _cut(best: Tried, row: int, panel: np.intp, piece: CutPiece, saw: Blade) -> Cut:
    x, y = (int(place[row, panel]) + saw.trim for place in (best.packings.x, best.packings.y))
    turned = bool(best.packings.turned[row, panel])
    length, width = (piece.width, piece.length) if turned else (piece.length, piece.width)
    return Cut(piece.id, x, length, y, width, turned)
