"""Pieces with a finished front: worked by hand, by exhaustion, and plans that the verifier must refuse."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.takeoff.cutting import (
    Blade,
    Blank,
    Cut,
    CutPiece,
    CutPlan,
    CutStock,
    Effort,
    Used,
    cut_edged,
    cut_lengths,
    faults_of_edged,
    rests,
    ripped,
)
from countersunk.takeoff.cutting import edged as solver
from tests.lanes import tries

SAW = Blade(kerf=4)
SHORT = CutStock("short", 2400, 684, None, 600)
LONG = CutStock("long", 4100, 1124, None, 600)
DOUBLE = CutStock("double", 4100, 2000, None, 1204, both_edges=True)


def square(id_, length, depth=600):
    return Blank(id_, ((0, 0), (length, 0), (length, depth), (0, depth)))


def right_mitre(id_):
    """2000 along the back and 1400 along the front, as at an inside corner on its right."""
    return Blank(id_, ((0, 0), (2000, 0), (1400, 600), (0, 600)))


def left_mitre_out(id_):
    """1400 along the back and 2000 along the front, as at an outside corner on its left."""
    return Blank(id_, ((600, 0), (2000, 0), (2000, 600), (0, 600)))


def planned(blanks, stocks, saw=SAW):
    plan = cut_edged(blanks, stocks, saw)
    assert faults_of_edged(plan, blanks, stocks, saw) == []
    return plan


def test_two_narrow_pieces_come_from_a_double_edged_depth_with_a_front_each():
    # 600 + 4 + 600 = 1204: one length of 2000 instead of two of 1124
    plan = planned([square("a", 4000), square("b", 3800)], [LONG, DOUBLE])
    assert (plan.cost, plan.proven, plan.bought) == (2000, True, {"double": 1})
    assert plan.used[0].cuts == (Cut("a", 0, 4000, 604, 600), Cut("b", 0, 3800, 0, 600, True))


def test_a_saw_cut_too_much_takes_two_lengths():
    plan = planned([square("a", 4000), square("b", 3800)], [LONG, replace(DOUBLE, width=1203)])
    assert (plan.cost, plan.bought) == (2248, {"long": 2})


def test_a_deep_piece_and_two_rows_share_a_double_edged_length():
    # by hand: 1000 and a cut, then 3000 beside 1500 + 4 + 1490 = 2994: 4004 of 4100
    blanks = [square("deep", 1000, 1200), square("a", 3000), square("b", 1500), square("c", 1490)]
    plan = planned(blanks, [SHORT, LONG, DOUBLE])
    assert (plan.cost, plan.bought) == (2000, {"double": 1})


def test_mitres_of_inside_corners_nest_by_half_a_turn_where_there_are_two_edges():
    # by hand: ends at 45 degrees, a cut of 4 across them takes 4 x 1.4142 = 5.66 along: 1406 + 2000 = 3406
    both = CutStock("both", 3406, 900, None, 600, both_edges=True)
    blanks = [right_mitre("a"), right_mitre("b")]
    plan = planned(blanks, [LONG, both])
    assert (plan.cost, plan.bought) == (900, {"both": 1})
    assert sorted((c.x, c.rotated) for c in plan.used[0].cuts) == [(0, False), (1406, True)]
    short = planned(blanks, [LONG, replace(both, length=3405)])
    assert short.bought == {"long": 1}  # 2000 + 4 + 2000 side by side


def test_with_one_finished_edge_inside_corners_never_nest():
    blanks = [right_mitre("a"), right_mitre("b")]
    assert planned(blanks, [CutStock("s", 4004, 1, None, 600)]).cost == 1
    assert planned(blanks, [CutStock("s", 4003, 1, None, 600)]).cost == 2


def test_an_inside_and_an_outside_corner_nest_without_a_turn():
    blanks = [left_mitre_out("b"), right_mitre("a")]
    plan = planned(blanks, [CutStock("s", 3406, 1, None, 600)])
    assert [(c.id, c.x) for c in plan.used[0].cuts] == [("a", 0), ("b", 1406)]
    assert planned(blanks, [CutStock("s", 3405, 1, None, 600)]).cost == 2


def test_a_piece_with_two_finished_edges_takes_stock_of_its_own_depth():
    island = replace(square("island", 2000, 900), both_edges=True)
    own, deep = CutStock("own", 2400, 900, None, 900, both_edges=True), replace(DOUBLE, price=1)
    assert planned([island], [own, deep]).bought == {"own": 1}
    assert planned([island], [deep]).unplaced == ("island",)


def test_offcuts_for_nothing_are_used_first_and_the_smallest_that_will_do():
    kept = [CutStock("kept long", 3000, 0, 1, 600), CutStock("kept short", 2100, 0, 1, 600)]
    plan = planned([square("a", 2000)], [LONG, *kept])
    assert (plan.cost, plan.bought) == (0, {"kept short": 1})
    plan = planned([square("a", 2000), square("b", 2000), square("c", 2000)], [LONG, *kept])
    # two of them on a long one, 2000 + 4 + 2000, and the better offcut is saved
    assert (plan.cost, plan.bought) == (1124, {"kept short": 1, "long": 1})


def test_dearer_but_longer_is_taken_only_where_it_saves():
    assert planned([square("a", 1900), square("b", 2100)], [SHORT, LONG]).bought == {"long": 1}
    assert planned([square("a", 2300), square("b", 2100)], [SHORT, LONG]).bought == {"short": 2}


# A length of 2400 x 1204 at 100.00 holds 2000 beside 1500; two of 2400 x 600 at 52.00 cost 104.00. In coins of
# 0.01 and steps of 1 mm, sawing at 4.80 a metre (5 minutes, 0.96 a minute): the rip of 2000 costs 9.60.
WIDE = CutStock("wide", 2400, 10_000, None, 1204, both_edges=True)
PLAIN = CutStock("plain", 2400, 5_200, None, 600)
RIPPING = Effort(rip=0.48, share=0.25, keep=(600, 300))


def test_a_rip_is_not_worth_what_it_saves():
    blanks = [square("a", 2000), square("b", 1500)]
    plan = planned(blanks, [WIDE, PLAIN])
    assert (plan.cost, plan.bought) == (10_000, {"wide": 1})
    dear = cut_edged(blanks, [WIDE, PLAIN], SAW, RIPPING)
    # Two plain ones; behind b 2400 - 1500 - 4 = 896 x 600 is kept: a quarter of 52.00 x 896 / 2400 = 4.8533.
    assert (dear.bought, dear.besides, dear.cost, dear.proven) == ({"plain": 2}, -485, 10_400 - 485, True)
    # The wide one would cost 100.00 + 9.60, less a quarter of 100.00 x 496 x 600 / (2400 x 1204); 496 is not kept.
    (used,) = plan.used
    assert (ripped(used, 4), list(rests(used, 4)), RIPPING.besides(used, 4)) == (
        2000,
        [(396, 1204), (496, 600)],
        960,
    )


def test_a_good_offcut_is_not_given_away_for_little():
    # 1700 from 2400 leaves 696 x 600; from 2300, 0.10 cheaper, 596, which is too short to keep.
    short = CutStock("short", 2300, 5_190, None, 600)
    assert planned([square("a", 1700)], [PLAIN, short]).bought == {"short": 1}
    kept = cut_edged([square("a", 1700)], [PLAIN, short], SAW, RIPPING)
    assert (kept.bought, kept.besides) == ({"plain": 1}, -round(0.25 * 5_200 * 696 / 2400))


def test_what_is_ripped_by_hand():
    # 600 + 4 + 600 of 1204: one cut for both rows, as long as the longer. Of 1220 each row has a cut of its own.
    front, back = Cut("a", 0, 2000, 604, 600), Cut("b", 0, 1500, 0, 600, True)
    assert ripped(Used(WIDE, (front, back)), 4) == 2000
    deep = replace(WIDE, width=1220)
    assert ripped(Used(deep, (replace(front, y=620), back)), 4) == 3500
    assert ripped(Used(PLAIN, (Cut("a", 0, 2000, 0, 600),)), 4) == 0


@settings(max_examples=tries(25), deadline=None)
@given(st.lists(st.integers(300, 2390), min_size=1, max_size=3), st.floats(0.0, 1.0), st.floats(0.0, 0.5))
def test_no_parting_into_lengths_costs_less(found, rip, share):
    """Every way to part the pieces over the stocks, each part planned alone, with the same effort."""
    effort = Effort(rip, share, (600, 300))
    blanks = [square(f"{i}", length) for i, length in enumerate(found)]
    plan = cut_edged(blanks, [PLAIN, WIDE], SAW, effort)
    assert faults_of_edged(plan, blanks, [PLAIN, WIDE], SAW) == []
    assert plan.proven
    for labels in product(range(len(found)), repeat=len(found)):
        groups = [[b for b, k in zip(blanks, labels, strict=True) if k == label] for label in set(labels)]
        apart = sum(cut_edged(group, [PLAIN, WIDE], SAW, effort).cost for group in groups)
        assert plan.cost <= apart


squares = st.lists(st.integers(300, 2390), min_size=1, max_size=6)


@settings(max_examples=tries(40), deadline=None)
@given(squares, st.integers(0, 3))
def test_square_pieces_cost_what_lengths_cost(found, kerf):
    blanks = [square(f"{i}", length) for i, length in enumerate(found)]
    plan = planned(blanks, [SHORT, LONG], Blade(kerf, 5))
    plain = [replace(stock, width=0) for stock in (SHORT, LONG)]
    other = cut_lengths([CutPiece(f"{i}", n) for i, n in enumerate(found)], plain, Blade(kerf, 5))
    assert (plan.cost, plan.proven, other.proven) == (other.cost, True, True)


@settings(max_examples=tries(25), deadline=None)
@given(st.lists(st.integers(300, 2390), min_size=1, max_size=5))
def test_two_rows_against_exhaustion(found):
    blanks = [square(f"{i}", length) for i, length in enumerate(found)]
    plan = planned(blanks, [SHORT, LONG, DOUBLE])
    assert (plan.cost, plan.proven) == (cheapest(found), True)


def cheapest(lengths):
    """Every way to part the pieces, and every stock for each part."""
    costs = []
    for labels in product(range(len(lengths)), repeat=len(lengths)):
        groups = [[n for n, k in zip(lengths, labels, strict=True) if k == label] for label in set(labels)]
        costs.append(sum(least(group) for group in groups))
    return min(costs)


def least(group):
    row = sum(group) + 4 * (len(group) - 1)
    splits = product((0, 1), repeat=len(group))
    longer = min(max(taken(group, split, 0), taken(group, split, 1)) for split in splits)
    offers = [(row <= 2400, 684), (row <= 4100, 1124), (longer <= 4100, 2000)]
    return min((price for holds, price in offers if holds), default=10**6)


def taken(group, split, row):
    some = [n for n, k in zip(group, split, strict=True) if k == row]
    return sum(some) + 4 * (len(some) - 1)


@settings(max_examples=tries(30), deadline=None)
@given(st.lists(st.tuples(st.integers(700, 2000), st.integers(-400, 400), st.integers(-400, 400),
                          st.sampled_from([450, 600])), min_size=1, max_size=5), st.integers(0, 6))  # fmt: skip
def test_slanting_ends_never_cost_more_than_square_ones_and_can_be_sawn(found, kerf):
    blanks = [Blank(f"{i}", slanting(*ends)) for i, ends in enumerate(found)]
    stocks = [SHORT, LONG, replace(DOUBLE, width=950)]
    plan = planned(blanks, stocks, Blade(kerf, 5))
    boxes = planned([square(b.id, b.length, b.depth) for b in blanks], stocks, Blade(kerf, 5))
    assert plan.proven
    assert plan.cost <= boxes.cost


def slanting(length, left, right, depth):
    """Ends that lean by so much, outwards at the front where it is positive."""
    ends = [
        (max(0, left), 0),
        (length + max(0, -right), 0),
        (length + max(0, right), depth),
        (max(0, -left), depth),
    ]
    least_x = min(x for x, _ in ends)
    return tuple((x - least_x, y) for x, y in ends)


def test_more_pieces_than_can_be_listed_are_planned_and_not_called_proven(monkeypatch):
    monkeypatch.setattr(solver, "MOST_SETS", 20)
    shorter_than_the_trim = CutStock("rest", 0, 0, 1, 600)
    plan = planned([square(f"{i}", 400 + 31 * i) for i in range(12)], [SHORT, LONG, shorter_than_the_trim])
    assert not plan.unplaced
    assert plan.lower_bound < plan.cost
    assert not plan.proven


BLANKS = [square("a", 2000), right_mitre("b")]
STOCK = CutStock("s", 4100, 1, 1, 600)


@pytest.mark.parametrize(
    ("cuts", "said"),
    [
        ((Cut("a", 0, 2000, 0, 600), Cut("b", 2003, 2000, 0, 600)), "no straight cuts part a, b"),
        ((Cut("a", 0, 2000, 0, 600), Cut("b", 2004, 2000, 0, 600, True)), "b is turned"),
        ((Cut("a", 0, 2000, 0, 600), Cut("b", 2101, 2000, 0, 600)), "b is not inside"),
        ((Cut("a", 0, 1990, 0, 600), Cut("b", 2004, 2000, 0, 600)), "a has not its own size"),
        ((Cut("a", 0, 2000, 0, 600),), "b is cut 0 times"),
    ],
)  # fmt: skip
def test_wrong_plans_are_refused(cuts, said):
    good = CutPlan((Used(STOCK, (Cut("a", 0, 2000, 0, 600), Cut("b", 2004, 2000, 0, 600))),), 1)
    assert faults_of_edged(good, BLANKS, [STOCK], SAW) == []
    found = faults_of_edged(CutPlan((Used(STOCK, cuts),), 1), BLANKS, [STOCK], SAW)
    assert any(fault.startswith(said) for fault in found), found


def test_a_front_off_the_edge_is_refused():
    deep = CutStock("deep", 4100, 1, None, 700)
    found = faults_of_edged(CutPlan((Used(deep, (Cut("a", 0, 2000, 0, 600),)),), 1), BLANKS[:1], [deep], SAW)
    assert found == ["the front of a is not on the edge of deep"]
