"""Ties: noise far below any tape chooses nothing, wherever it falls."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk.model.ties import least, most, ranked, rounded_down, rounded_up, settled
from countersunk.model.tolerance import EQUAL

NOISE = st.floats(-1e-9, 1e-9)
PLACES = st.lists(st.integers(0, 4), min_size=1, max_size=8)
"""Measures in steps of 12.7 mm, so that half of them end in .05 and several are alike."""


@st.composite
def twice(draw):
    """The same measures, as two processors reckon them, each with its place."""
    steps = draw(PLACES)
    return [[(i, step * 12.7 + draw(NOISE)) for i, step in enumerate(steps)] for _ in range(2)]


def place(one):
    return one[0]


def measure(one):
    return one[1]


@given(twice())
def test_noise_chooses_nothing(both):
    for choose in (least, most, ranked):
        for tie in (None, place, lambda one: -one[0]):
            ours, theirs = (choose(items, measure, tie) for items in both)
            ours, theirs = ([place(one) for one in (got if choose is ranked else [got])] for got in (ours, theirs))
            assert ours == theirs


@given(twice())
def test_noise_chooses_nothing_by_a_second_measure(both):
    ours, theirs = (least(items, lambda one: (one[0] % 2, one[1])) for items in both)
    assert place(ours) == place(theirs)


@given(st.lists(st.integers(0, 9), max_size=9))
def test_what_is_told_apart_is_ranked_as_it_is_sorted(values):
    assert ranked(values, key=float) == sorted(values)
    if values:
        assert least(values, key=float) == min(values)
        assert most(values, key=float) == max(values)


def test_what_is_less_by_more_than_the_tolerance_is_less():
    items = [("first", 10.0), ("second", 10.0 - 2 * EQUAL)]
    assert least(items, measure) == items[1]
    assert most(items, measure) == items[0]
    assert ranked(items, measure) == items[::-1]


def test_equals_are_those_of_the_best_and_not_of_one_another():
    steps = [("far", 2 * EQUAL), ("near", 0.9 * EQUAL), ("least", 0.0)]
    assert least(steps, measure)[0] == "near"
    assert [name for name, _ in ranked(steps, measure)] == ["near", "least", "far"]


def test_a_later_measure_counts_only_among_equals():
    items = [(1.0, 5.0), (1.0 + 1e-9, 3.0), (2.0, 0.0)]
    assert least(items, lambda one: one) == items[1]
    assert ranked(items, lambda one: one) == [items[1], items[0], items[2]]


def test_there_is_no_best_of_nothing():
    with pytest.raises(ValueError, match="nothing to choose from"):
        least([], float)
    assert ranked([], float) == []


@given(st.integers(-50, 50), NOISE)
def test_what_is_whole_but_for_noise_stays(whole, noise):
    assert rounded_up(whole + noise) == rounded_down(whole + noise) == whole
    assert rounded_up(whole + 0.01) == whole + 1
    assert rounded_down(whole - 0.01) == whole - 1


@given(st.integers(-5000, 5000), NOISE)
def test_a_half_is_shown_the_same_whatever_its_noise(halves, noise):
    assert round(settled(halves / 2 + noise)) == round(halves / 2)
    assert round(settled(halves / 20 + noise), 1) == round(halves / 20, 1)
