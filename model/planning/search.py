"""Search: the plan of a shape with the fewest points, by constraint programming (CP-SAT).

A shape is searched order by order: on which arms sink and hob stand, which of them is on the left, and on which
side of the sink the dishwasher is. What is left to find are cells: of sink, hob, and the ends of each row. What
a cell costs by itself is read from the tables of `model.planning.score`. One worker and a fixed seed, limited by
the solver's own count of work and not by the clock: the same room gives the same plans.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Any

from ortools.sat.python import cp_model
from ortools.util.python.sorted_interval_list import Domain

from countersunk.model.planning.arms import CELL, Arm, Shape, Side
from countersunk.model.planning.costs import cheapest
from countersunk.model.planning.orders import ArmOrder, orders
from countersunk.model.planning.plan import AWAY, HobAt, RoomPlan, SinkAt, end_gap, fillable, sink_unit, washer
from countersunk.model.planning.score import (
    FRIDGE_SIDE,
    HOB_SIDE,
    LEG,
    PREPARE,
    SINK_SIDE,
    STAND,
    WEIGHT,
    Judge,
    frontage_needed,
    points,
)

FAR = 100_000
WORK = 2.0
"""The solver's own measure of work for one order, about seconds on a slow machine."""

Expr = Any
"""Variables and linear expressions of the solver, which has no common type for them."""


@dataclass(frozen=True)
class Found:
    """A plan with its points; ``proven`` where the solver showed that none of its shape has fewer."""

    plan: RoomPlan
    points: int
    proven: bool


def best_plan(
    shape: Shape, judge: Judge, below: int | None = None, among: Iterable[ArmOrder] | None = None
) -> Found | None:
    """The plan of ``shape`` with the fewest points, or None where none keeps the hard rules below ``below``.

    Only of the orders ``among`` those of the shape, where they are given.
    """
    best, proven, limit = None, True, FAR * FAR if below is None else below
    alone = _Alone(shape, judge)
    for order in orders(shape, judge) if among is None else among:
        search = _Search(alone, order, limit)
        found = search.solved()
        proven = proven and search.is_over
        if found:
            best, limit = found, found.points
    return Found(best.plan, best.points, proven) if best else None


def _least(shape: Shape, judge: Judge) -> int:
    """Points that no plan of a shape can do without: the shape, a row long enough, legs not too short."""
    legs = 3 if shape.fridge_end else 1
    row = int(frontage_needed(shape) * min(1.0, cheapest(judge.costs)))
    bare = WEIGHT["cost"] * row + WEIGHT["way between the centres"] * legs * LEG[0]
    return points(judge.shape_terms(shape)) + bare


def has_plan(shape: Shape, judge: Judge) -> bool:
    """Whether any plan of ``shape`` keeps the hard rules, however many points it has."""
    alone = _Alone(shape, judge)
    return any(_Search(alone, order, FAR * FAR).is_possible() for order in orders(shape, judge))


class _Alone:
    """What places of sink and hob in a shape cost by themselves: points by cell, without those that cannot be."""

    def __init__(self, shape: Shape, judge: Judge) -> None:
        self.shape, self.judge = shape, judge
        self.sinks, self.hobs = lru_cache(maxsize=None)(self._sinks), lru_cache(maxsize=None)(self._hobs)

    def _sinks(self, arm: int, side: Side) -> dict[int, int]:
        places = (SinkAt(arm, k, side) for k in range(self.shape.arms[arm].cells))
        found = ((at.cell, self.judge.sink_terms(self.shape, at)) for at in places)
        return {cell: points(terms) for cell, terms in found if terms is not None}

    def _hobs(self, arm: int) -> dict[int, int]:
        places = (HobAt(arm, k) for k in range(self.shape.arms[arm].cells))
        found = ((at.cell, self.judge.hob_terms(self.shape, at)) for at in places)
        return {cell: points(terms) for cell, terms in found if terms is not None}


class _Search:
    """The model of one order in one shape, for less than ``below`` points."""

    def __init__(self, alone: _Alone, order: ArmOrder, below: int) -> None:
        self.shape, self.judge, self.order = alone.shape, alone.judge, order
        self.sizes, self.below = self.judge.sizes, below
        spare = below - _least(self.shape, self.judge)
        self.washer = washer(SinkAt(0, 0, order.side), self.sizes)
        self.cost, self.is_over = list[Expr](), True
        self.sinks = {k: cost for k, cost in alone.sinks(order.sink, order.side).items() if cost < spare}
        self.hobs = {k: cost for k, cost in alone.hobs(order.hob).items() if cost < spare}

    def is_possible(self) -> bool:
        """Whether any plan of this order keeps the hard rules."""
        if not self.sinks or not self.hobs:
            return False
        self.model = cp_model.CpModel()
        self._place()
        self._fill_rows()
        return self._solver().solve(self.model) in (cp_model.OPTIMAL, cp_model.FEASIBLE)

    def solved(self) -> Found | None:
        """The best plan of this order with less than the limit."""
        if not self.sinks or not self.hobs:
            return None
        self.model = cp_model.CpModel()
        self._place()
        self.cost = [self._table(self.block[0], self.sinks.get), self._table(self.hob[0], self.hobs.get)]
        self._fill_rows()
        self._landings()
        self._triangle()
        self._length()
        total = sum(self.cost) + points(self.judge.shape_terms(self.shape))
        self.model.add(total < self.below)
        self.model.minimize(total)
        return self._answer()

    def _solver(self) -> cp_model.CpSolver:
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        solver.parameters.max_deterministic_time = WORK
        return solver

    def _answer(self) -> Found | None:
        solver = self._solver()
        status = solver.solve(self.model)
        self.is_over = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        spans = tuple((solver.value(a), solver.value(b)) for a, b in zip(self.lo, self.hi, strict=True))
        sink = SinkAt(self.order.sink, solver.value(self.block[0]), self.order.side)
        hob = HobAt(self.order.hob, solver.value(self.hob[0]))
        plan = RoomPlan(self.shape, self.sizes, sink, hob, spans)
        return Found(plan, round(solver.objective_value), self.is_over)

    def _place(self) -> None:
        """The cells to be found."""
        first, at = self._cell(self.sinks), self._cell(self.hobs)
        unit = sink_unit(SinkAt(0, 0, self.order.side), self.sizes)
        self.sink = (first + unit[0], first + unit[1])
        self.block = (first, first + self.sizes.sink + self.sizes.dishwasher)
        self.hob = (at, at + self.sizes.hob)
        self.lo = [self._cell(dict.fromkeys(arm.starts, 0)) for arm in self.shape.arms]
        self.hi = [self._cell(dict.fromkeys(arm.stops, 0)) for arm in self.shape.arms]

    def _cell(self, cells: dict[int, int]) -> Expr:
        return self.model.new_int_var_from_domain(Domain.from_values(sorted(cells)), "")

    def _table(self, cell: Expr, value: Callable[[int], int | None]) -> Expr:
        """What a table says for a cell."""
        most = max(arm.cells for arm in self.shape.arms)
        values = [value(k) or 0 for k in range(most + 1)]
        found = self.model.new_int_var(min(values), max(values), "")
        self.model.add_element(cell, values, found)
        return found

    def _fill_rows(self) -> None:
        """What lies between on each arm must be filled by units, and sink and hob keep off the ends."""
        for i, arm in enumerate(self.shape.arms):
            begin, end = self.lo[i] + arm.corner_cells[0], self.hi[i] - arm.corner_cells[1]
            blocks = self._blocks(i)
            if not blocks:
                self.model.add(self.hi[i] - self.lo[i] >= 12)
            edges = [begin, *(x for block, _ in blocks for x in block), end]
            least = [0] * (len(blocks) + 1)
            if blocks:
                least[0] = end_gap(arm, "left", blocks[0][1], self.washer)
                least[-1] = end_gap(arm, "right", blocks[-1][1], self.washer)
            for k, needed in enumerate(least):
                self._fill(edges[2 * k + 1] - edges[2 * k], needed, arm)
        if self.order.sink == self.order.hob:
            left, right = (self.sink, self.hob) if self.order.sink_first else (self.hob, self.sink)
            self.model.add(right[0] - left[1] >= AWAY // CELL)

    def _blocks(self, i: int) -> list[tuple[tuple[Expr, Expr], str]]:
        """Sink with dishwasher and hob as they stand on an arm, from left to right."""
        sink = [(self.block, "sink")] * (self.order.sink == i)
        hob = [(self.hob, "hob")] * (self.order.hob == i)
        return sink + hob if self.order.sink_first else hob + sink

    def _fill(self, gap: Expr, least: int, arm: Arm) -> None:
        domain = Domain.from_values([k for k in fillable(arm.cells) if k >= least])
        self.model.add_linear_expression_in_domain(gap, domain)
        if self.judge.costs:
            costs = {k: self.judge.row_cost(k) - CELL * k for k in fillable(arm.cells)}
            self.cost.append(WEIGHT["cost"] * self._table(gap, costs.get))

    def _lack(self, name: str, *falls: Expr) -> None:
        """A shortfall in mm, which minimising keeps at the greatest of ``falls``, or at 0."""
        lack = self.model.new_int_var(0, FAR, name)
        for fall in falls:
            self.model.add(lack >= fall)
        self.cost.append(WEIGHT[name] * lack)

    def _sides(
        self, i: int, cells: tuple[Expr, Expr], other: tuple[Expr, Expr], is_first: bool
    ) -> tuple[Expr, Expr]:
        """Worktop to the left and the right of a unit on arm ``i``, in cells."""
        arm, shared = self.shape.arms[i], self.order.sink == self.order.hob
        left = other[1] if shared and not is_first else self.lo[i] + arm.stops_inside[0]
        right = other[0] if shared and is_first else self.hi[i] - arm.stops_inside[1]
        return cells[0] - left, right - cells[1]

    def _landings(self) -> None:
        order = self.order
        for side in self._sides(order.hob, self.hob, self.sink, not order.sink_first):
            self._lack("worktop beside the hob", HOB_SIDE - CELL * side)
        sides = self._sides(order.sink, self.sink, self.hob, order.sink_first)
        longer = self.model.new_int_var(-FAR, FAR, "")
        self.model.add_max_equality(longer, sides)
        self._lack("worktop to prepare food", PREPARE - CELL * longer)
        self._lack("worktop beside the sink", *(SINK_SIDE - CELL * side for side in sides))
        self._stand()
        self._at_talls()

    def _stand(self) -> None:
        """Standing room between the dishwasher and a row round the corner."""
        i, side = self.order.sink, self.order.side
        arm = self.shape.arms[i]
        if self.sizes.dishwasher and arm.end(side).is_corner:
            left, right = self.lo[i] + arm.stops_inside[0], self.hi[i] - arm.stops_inside[1]
            cells = self.block[0] - left if side == "left" else right - self.block[1]
            self._lack("standing room at the dishwasher", STAND - CELL * cells)

    def _at_talls(self) -> None:
        gaps = []
        for i, side, _ in self.shape.tall_ends:
            units = [self.sink] * (self.order.sink == i) + [self.hob] * (self.order.hob == i)
            gaps += [x0 - self.lo[i] if side == "left" else self.hi[i] - x1 for x0, x1 in units]
            away = self.lo[i] if side == "left" else self.shape.arms[i].cells - self.hi[i]
            self.cost.append(WEIGHT["tall units at the wall's end"] * CELL * away)
        self._lack("worktop beside the tall units", *(FRIDGE_SIDE - CELL * gap for gap in gaps))

    def _triangle(self) -> None:
        """Legs of the triangle from the middles of the fronts, in mm."""
        arms, order = self.shape.arms, self.order
        half = sum(sink_unit(SinkAt(0, 0, order.side), self.sizes)) / 2
        at = [
            self._front(self.block[0], lambda k: arms[order.sink].front(k + half)),
            self._front(self.hob[0], lambda k: arms[order.hob].front(k + self.sizes.hob / 2)),
        ]
        if self.shape.fridge_end:
            i, side, _ = self.shape.fridge_end
            end = (self.lo if side == "left" else self.hi)[i]
            at.append(self._front(end, lambda k: self.judge.fridge_front(self.shape, k)))
        for a, b in combinations(at, 2):
            self._leg(a, b)

    def _front(self, cell: Expr, front: Callable[[int], tuple[int, int]]) -> tuple[Expr, Expr]:
        return self._table(cell, lambda k: front(k)[0]), self._table(cell, lambda k: front(k)[1])

    def _leg(self, a: tuple[Expr, Expr], b: tuple[Expr, Expr]) -> None:
        parts = [self.model.new_int_var(0, FAR, "") for _ in a]
        for part, p, q in zip(parts, a, b, strict=True):
            self.model.add_abs_equality(part, p - q)
        leg = sum(parts)
        self._lack("legs of the triangle", LEG[0] - leg, leg - LEG[1])
        self.cost.append(WEIGHT["way between the centres"] * leg)

    def _length(self) -> None:
        total = CELL * sum(hi - lo for lo, hi in zip(self.lo, self.hi, strict=True))
        self._lack("enough worktop", frontage_needed(self.shape) - total)
        self._lack("storage", self.judge.storage_needed(self.shape) - total)
        self.cost.append(WEIGHT["cost"] * total)
