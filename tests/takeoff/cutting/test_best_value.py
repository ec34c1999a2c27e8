"""The most valuable pieces of one stock: published optima, and exhaustion on small cases."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.takeoff.cutting import Blade, CutPiece, CutStock, best_value, faults_of_one
from countersunk.takeoff.cutting import promise as places
from tests.lanes import tries
from tests.takeoff.cutting.published import SHEETS, sheets
from tests.takeoff.cutting.test_sheets import fits_one

OFTEN = [name for name in SHEETS if not name.startswith(("Herz", "Oliveira"))]


@pytest.mark.parametrize(
    "name", [*OFTEN, *(pytest.param(n, marks=pytest.mark.slow) for n in SHEETS if n not in OFTEN)]
)
def test_published_optimum_is_reached_and_proven(name):
    pieces, sheet, optimum = sheets(name)
    best = best_value(pieces, sheet, Blade())
    assert (best.value, best.proven) == (optimum, True)
    assert faults_of_one(best.used, pieces, Blade()) == []
    worth = {p.id: p.value for p in pieces}
    assert sum(worth[c.id] for c in best.used.cuts) == optimum


valued = st.lists(
    st.tuples(st.integers(1, 5), st.integers(1, 5), st.booleans(), st.integers(1, 20)), min_size=1, max_size=4
)


def most(found, length, width):
    """The best of all choices of items that one sheet holds: slow and obvious."""
    choices = product([False, True], repeat=len(found))
    chosen = ([item for item, take in zip(found, taken, strict=True) if take] for taken in choices)
    return max(sum(v for *_, v in some) for some in chosen if fits_one([i[:3] for i in some], length, width))


@settings(max_examples=tries(60), deadline=None)
@given(valued)
def test_small_cases_against_exhaustion(found):
    pieces = [CutPiece(f"{i}", a, 1, b, turns, value) for i, (a, b, turns, value) in enumerate(found)]
    best = best_value(pieces, CutStock("sheet", 6, 1, 1, 5), Blade())
    assert (best.value, best.proven) == (most(found, 6, 5), True)


@settings(max_examples=tries(40), deadline=None)
@given(st.lists(st.tuples(st.integers(100, 2000), st.integers(1, 3), st.integers(0, 50)), min_size=1, max_size=4))
def test_lengths_against_exhaustion(found):
    pieces = [CutPiece(f"{i}", length, n, value=value) for i, (length, n, value) in enumerate(found)]
    saw = Blade(kerf=4, trim=5)
    best = best_value(pieces, CutStock("bar", 2400, 1, 1), saw)
    choices = product(*(range(n + 1) for _, n, _ in found))
    best_by_hand = max(
        sum(k * v for k, (_, _, v) in zip(take, found, strict=True))
        for take in choices
        if sum(k * (length + 4) for k, (length, _, _) in zip(take, found, strict=True)) <= 2400 - 10 + 4
    )
    assert (best.value, best.proven) == (best_by_hand, True)
    assert faults_of_one(best.used, pieces, saw) == []


@pytest.mark.slow
def test_coarse_places_never_promise_too_little(monkeypatch):
    name = "Christofides and Whitlock 1977, 40 x 70"
    monkeypatch.setattr(places, "PLACES", 12)
    pieces, sheet, optimum = sheets(name)
    best = best_value(pieces, sheet, Blade())
    assert best.value <= optimum <= best.bound


@pytest.mark.slow
def test_a_list_too_long_to_prove_is_packed_well_and_bounded_by_its_area():
    # 60 kinds of panel and one board: the bound is what panels poured onto it would be worth
    pieces = [
        CutPiece(f"{i}", 150 + 137 * i % 900, 2, 120 + 89 * i % 700, i % 2 == 0, 1 + 31 * i % 97) for i in range(60)
    ]
    board, saw = CutStock("board", 2800, 1, 1, 2070), Blade(4, 10)
    best = best_value(pieces, board, saw)
    assert faults_of_one(best.used, pieces, saw) == []
    assert 0.8 * best.bound <= best.value <= best.bound < sum(p.value * p.quantity for p in pieces)


def test_pieces_too_large_for_the_sheet_are_left_out():
    best = best_value([CutPiece("large", 900, 1, 900, value=5), CutPiece("small", 90, 1, 90, value=1)],
                      CutStock("sheet", 500, 1, 1, 500), Blade())  # fmt: skip
    assert (best.value, best.proven) == (1, True)


def test_time_limit_gives_something_and_says_what_nothing_exceeds():
    pieces, sheet, optimum = sheets("Christofides and Whitlock 1977, 40 x 70")
    best = best_value(pieces, sheet, Blade(), seconds=0.0)
    assert best.hurried
    assert 0 < best.value <= optimum <= best.bound
