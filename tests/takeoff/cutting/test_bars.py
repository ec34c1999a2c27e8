"""Pieces on lengths: published optima, exhaustion on small cases, and what must hold for any plan."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.takeoff.cutting import Blade, Cut, CutPiece, CutStock, Used, cut_lengths, faults
from countersunk.takeoff.cutting import bars as solver
from tests.lanes import tries
from tests.takeoff.cutting.published import LENGTHS, lengths

SAW = Blade(kerf=4, trim=5)
STOCKS = [CutStock("short", 2400, 684), CutStock("middle", 3000, 835), CutStock("long", 4100, 1124)]


@pytest.mark.parametrize("name", LENGTHS)
def test_published_optimum_is_reached_and_proven(name):
    pieces, stocks, optimum, linear = lengths(name)
    plan = cut_lengths(pieces, stocks, Blade())
    assert (plan.cost, plan.proven) == (optimum, True)
    assert faults(plan, pieces, stocks, Blade()) == []
    assert linear <= plan.lower_bound


SEVERAL = {
    "three stocks at their prices": ((72, 28), (48, 19), (36, 15)),
    "three stocks by length": ((100, 100), (80, 80), (55, 55)),
    "kerf and trim": ((2000, 68), (3000, 100), (4100, 136)),
}
DEMANDS = {
    "three stocks at their prices": ("60:500 56:400 42:300 38:450 34:350 24:100 15:800 10:1000", Blade(), 46602),
    "three stocks by length": ("45:150 30:200 18:175", Blade(), 16575),
    "kerf and trim": ("1985:2 1480:3 1350:2 905:4 610:5", Blade(4, 10), 608),
}
"""Optima by an integer programme over all patterns; the first two with data of textbooks, from memory."""


@pytest.mark.parametrize("name", SEVERAL)
def test_optimum_over_several_stocks_is_reached_and_proven(name):
    text, saw, optimum = DEMANDS[name]
    stocks = [CutStock(f"{length}", length, price) for length, price in SEVERAL[name]]
    pieces = [CutPiece(size, *map(int, size.split(":"))) for size in text.split()]
    plan = cut_lengths(pieces, stocks, saw)
    assert (plan.cost, plan.proven) == (optimum, True)
    assert faults(plan, pieces, stocks, saw) == []


def test_a_millimetre_decides_whether_four_fit():
    # 4 x 607 + 3 x 4 = 2440; 4 x 608 + 12 = 2444
    bar = [CutStock("bar", 2440, 1)]
    assert [cut_lengths([CutPiece("a", n, 4)], bar, Blade(4)).cost for n in (607, 608)] == [1, 2]


@pytest.mark.slow
@pytest.mark.parametrize("count", [20, 40])
def test_bars_sawn_into_three_at_random_are_put_together_again(count):
    luck = Random(count)
    sizes = []
    for _ in range(count):
        a, b = luck.randrange(250, 375), luck.randrange(250, 375)
        sizes += [a, b, 1000 - a - b]
    plan = cut_lengths([CutPiece(f"{i}", n) for i, n in enumerate(sizes)], [CutStock("bar", 1000, 1)], Blade())
    assert (plan.cost, plan.proven) == (count, True)


def cheapest(pieces, stocks, saw):
    """Every way to part the pieces and every stock for each part: slow, obvious, proven by exhaustion."""
    items = [p.length for p in pieces for _ in range(p.quantity)]
    costs = [
        sum(least(group, stocks, saw) for group in groups_of(items, labels))
        for labels in product(range(len(items)), repeat=len(items))
    ]
    return min(costs, default=0)


def groups_of(items, labels):
    return [[i for i, k in zip(items, labels, strict=True) if k == label] for label in set(labels)]


def least(group, stocks, saw):
    need = sum(group) + saw.kerf * (len(group) - 1) + 2 * saw.trim
    return min((s.price for s in stocks if need <= s.length), default=float("inf"))


def pieces_up_to(most, count):
    sizes = st.tuples(st.integers(200, most), st.integers(1, 2))
    return st.lists(sizes, min_size=1, max_size=count).map(
        lambda found: [CutPiece(f"T{i}", length, quantity) for i, (length, quantity) in enumerate(found)]
    )


@settings(max_examples=tries(60), deadline=None)
@given(pieces_up_to(2300, 3), st.sets(st.sampled_from(STOCKS), min_size=1), st.integers(0, 8), st.integers(0, 12))
def test_no_cheaper_plan_exists(pieces, stocks, kerf, trim):
    saw, stocks = Blade(kerf, trim), sorted(stocks, key=lambda s: s.length)
    plan = cut_lengths(pieces, stocks, saw)
    assert (plan.cost, plan.proven) == (cheapest(pieces, stocks, saw), True)
    assert faults(plan, pieces, stocks, saw) == []


@settings(max_examples=tries(60), deadline=None)
@given(pieces_up_to(4090, 9), st.integers(0, 3), st.integers(0, 3))
def test_plan_can_be_sawn_and_its_bound_is_not_above_its_cost(pieces, short, middle):
    stocks = [replace(STOCKS[0], quantity=short), replace(STOCKS[1], quantity=middle), STOCKS[2]]
    plan = cut_lengths(pieces, stocks, SAW)
    assert faults(plan, pieces, stocks, SAW) == []
    assert plan.lower_bound <= plan.cost
    assert not plan.unplaced


@settings(max_examples=tries(40), deadline=None)
@given(pieces_up_to(2390, 6), st.integers(200, 2390))
def test_more_to_choose_from_never_costs_more_and_more_to_cut_never_less(pieces, length):
    plan = cut_lengths(pieces, STOCKS[:1], SAW)
    wider, longer = (
        cut_lengths(pieces, STOCKS, SAW),
        cut_lengths([*pieces, CutPiece("more", length)], STOCKS[:1], SAW),
    )
    assert plan.proven
    assert wider.proven
    assert longer.proven
    assert wider.cost <= plan.cost <= longer.cost


@settings(max_examples=tries(40), deadline=None)
@given(pieces_up_to(2390, 4), st.integers(0, 3))
def test_what_scarce_stock_does_not_hold_is_named_and_nothing_else(pieces, quantity):
    stocks = [replace(STOCKS[0], quantity=quantity)]
    plan = cut_lengths(pieces, stocks, SAW)
    assert faults(plan, pieces, stocks, SAW) == []
    enough = cut_lengths(pieces, STOCKS[:1], SAW)
    assert bool(plan.unplaced) == (len(enough.used) > quantity)


def test_scarce_stock_leaves_no_more_behind_than_it_must():
    # by hand: one of 7 takes a 7, the other both of 3; the second 7 stays behind, whatever the stock costs
    for price in (1, 7, 70):
        plan = cut_lengths([CutPiece("a", 7, 2), CutPiece("b", 3, 2)], [CutStock("s", 7, price, 2)], Blade())
        assert (plan.unplaced, plan.cost) == (("a",), 2 * price)


def test_cheap_offcuts_are_used_first():
    # worked by hand: one offcut of 1000 for nothing takes 990 and its trim; 2300 takes a 2400 for 684.
    offcut = CutStock("offcut", 1000, 0, 1)
    plan = cut_lengths([CutPiece("a", 990), CutPiece("b", 2300)], [offcut, *STOCKS], SAW)
    assert (plan.cost, plan.bought) == (684, {"offcut": 1, "short": 1})


def test_pieces_lie_a_saw_cut_apart_from_the_trimmed_end():
    # 5 + 1193 + 4 + 1193 + 5 = 2400 fills it
    plan = cut_lengths([CutPiece("a", 1193, 2)], STOCKS, SAW)
    assert plan.used == (Used(STOCKS[0], (Cut("a", 5, 1193), Cut("a", 1202, 1193))),)


@pytest.mark.slow
def test_the_same_pieces_give_the_same_plan():
    pieces = [CutPiece(f"T{i}", 397 + 83 * i % 2100, 1 + i % 3) for i in range(14)]
    assert cut_lengths(pieces, STOCKS, SAW) == cut_lengths(pieces, STOCKS, SAW)


def test_time_limit_gives_a_plan_and_says_what_is_proven():
    pieces, stocks, optimum, _ = lengths("Falkenauer, t60_00 (OR-Library)")
    plan = cut_lengths(pieces, stocks, Blade(), seconds=0.0)
    assert faults(plan, pieces, stocks, Blade()) == []
    assert plan.hurried
    assert plan.lower_bound <= optimum <= plan.cost


def test_coarser_steps_keep_plan_and_bound_honest(monkeypatch):
    pieces = [CutPiece(f"T{i}", 401 + 97 * i) for i in range(8)] + [CutPiece("tight", 4090)]
    exact = cut_lengths(pieces, STOCKS, SAW)
    monkeypatch.setattr(solver, "CELLS", 2_000)
    rough = cut_lengths(pieces, STOCKS, SAW)
    assert faults(rough, pieces, STOCKS, SAW) == []
    assert not rough.unplaced
    assert rough.lower_bound <= exact.cost <= rough.cost


@pytest.mark.slow
def test_more_sizes_than_a_table_holds_are_planned_too():
    # 1500 lengths, all different; the bound is by length alone, and the plan within a hundredth of it
    pieces = [CutPiece(f"T{i}", 300 + i) for i in range(1500)]
    plan = cut_lengths(pieces, STOCKS, SAW)
    assert faults(plan, pieces, STOCKS, SAW) == []
    assert plan.lower_bound <= plan.cost <= plan.lower_bound * 1.01


def test_nothing_to_cut_costs_nothing():
    plan = cut_lengths([], STOCKS, SAW)
    assert (plan.cost, plan.proven, plan.used) == (0, True, ())


def test_piece_that_fits_no_stock_is_refused():
    with pytest.raises(ValueError, match="long fits no stock"):
        cut_lengths([CutPiece("long", 4091)], STOCKS, SAW)
