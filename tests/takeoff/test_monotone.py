"""What must hold whatever a kitchen looks like: longer never costs less, and together never more than apart.

Together: rules are applied to the shares of both kitchens at once, which is how packs are shared. It holds for
every article of which only the sum matters. It is not promised for what is cut from lengths (worktops, strips,
plinths): first fit is a plain plan and may do worse with more pieces, as its bound says.
"""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.kitchen import build, open_kitchen
from takeoff.articles import articles_of, default_articles
from takeoff.prices import demo_prices
from takeoff.quantities import rule_quantities
from takeoff.quote import material_lines
from takeoff.registry import measured
from takeoff.rules import default_rules
from takeoff.takeoff import take_off
from tests.specimens import DEMOS, document
from tests.takeoff.by_hand import small_kitchen, terms

FEW = settings(max_examples=40, deadline=None)
TERMS = terms(15.0)


def worktop_of(kitchen, group="worktop"):
    lines = take_off(kitchen, terms=TERMS).materials
    return sum(line.charge.net for line in lines if line.quantity.group == group)


def row(filler):
    """A row with a filler at its right end, so that the top grows by whatever the filler grows."""
    units = (
        {"unit": "base-doors", "width": 800.0},
        {"unit": "base-sink", "width": 600.0},
        {"unit": "base-hob", "width": 600.0},
        {"unit": "filler", "width": filler},
    )
    return build(document(runs=({"wall": "A", "start": 100.0, "units": units},)))


@FEW
@given(st.floats(20.0, 200.0), st.floats(20.0, 200.0))
def test_a_longer_worktop_never_costs_less(one, other):
    short, long = sorted((one, other))
    cheap, dear = take_off(row(short), terms=TERMS), take_off(row(long), terms=TERMS)
    assert dear.totals.gross >= cheap.totals.gross
    assert worktop_of(row(long)) >= worktop_of(row(short))


@FEW
@given(st.lists(st.integers(0, 300), min_size=2, max_size=2).map(sorted))
def test_a_longer_overhang_never_costs_less(ends):
    top = {"stock": "pf38.600", "decor": "pale-oak"}
    tops = [small_kitchen(worktop={**top, "overhang": {"ends": float(end)}}) for end in ends]
    short, long = (take_off(top, terms=TERMS).totals.gross for top in tops)
    assert long >= short


@pytest.mark.parametrize("stock", ["pf38.600", "sq40.650"])
def test_a_top_across_every_stock_length_never_gets_cheaper(stock):
    widths = [(200.0, 200.0), (600.0, 600.0), (1000.0, 900.0), (1000.0, 1000.0)]
    costs = []
    for first, second in widths:
        units = ({"unit": "base-doors", "width": first}, {"unit": "base-doors", "width": second})
        runs = ({"wall": "A", "start": 100.0, "units": units},)
        costs.append(worktop_of(build(document(runs=runs, worktop={"stock": stock, "decor": "pale-oak"}))))
    assert costs == sorted(costs)


def cost(measures, kitchen):
    """Articles of which only the sum matters, priced for these shares."""
    articles = articles_of(kitchen, default_articles())
    loose = {code: article for code, article in articles.items() if article.pieces == "any"}
    found = [q for q in rule_quantities(measures, default_rules(), articles) if q.item in loose]
    return sum((line.charge.net for line in material_lines(found, demo_prices(), TERMS)), Decimal(0))


@FEW
@given(st.sampled_from(DEMOS), st.sampled_from(DEMOS))
def test_two_kitchens_together_never_cost_more_than_apart(one, other):
    a, b = open_kitchen(one), open_kitchen(other)
    shares_a, shares_b = measured(a), measured(b)
    both = {name: (*shares_a[name], *shares_b[name]) for name in shares_a}
    # each line is rounded once instead of twice: a cent of mark-up and one of discount a line at most
    assert cost(both, a) <= cost(shares_a, a) + cost(shares_b, b) + Decimal("0.02") * len(default_articles())


def test_sharing_packs_saves_money():
    kitchen = small_kitchen()
    shares = measured(kitchen)
    both = {name: (*found, *found) for name, found in shares.items()}
    # one tin, one cartridge, one box of screws … serve both.
    assert cost(both, kitchen) < 2 * cost(shares, kitchen) - Decimal(100)
