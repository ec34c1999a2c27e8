"""What must hold whatever a kitchen looks like: longer never costs less, a mirrored one costs the same, and two
together never more than apart.

Together: rules are applied to the shares of both kitchens at once, which is how packs and lengths are shared.
"""

from collections import Counter
from decimal import Decimal
from itertools import count, islice

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from countersunk.model.edit.mirror import mirrored, reflected
from countersunk.model.kitchen import build
from countersunk.takeoff.counting.pricing import material_lines
from countersunk.takeoff.counting.quantities import rule_quantities
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.measuring.registry import measured
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.stock.articles import articles_of, default_articles
from countersunk.takeoff.stock.prices import demo_prices
from tests.lanes import tries
from tests.random_kitchens.properties import bowed, built, drawn
from tests.random_kitchens.rooms import rectangles
from tests.specimens import DEMOS, SOME_DEMOS, document, open_kitchen
from tests.strategies import kitchens
from tests.takeoff.by_hand import small_kitchen, terms

FEW = settings(max_examples=tries(40), deadline=None)
MOSTLY_REFUSED = settings(max_examples=tries(100), deadline=None, suppress_health_check=list(HealthCheck))
TERMS = terms(15.0)


def buildable(data):
    """The kitchen; another is drawn where it is refused."""
    kitchen = built(data)
    assume(kitchen is not None)
    return kitchen


def worktop_of(kitchen, group="worktop"):
    lines = estimate(kitchen, terms=TERMS).materials
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
    cheap, dear = estimate(row(short), terms=TERMS), estimate(row(long), terms=TERMS)
    assert dear.totals.gross >= cheap.totals.gross
    assert worktop_of(row(long)) >= worktop_of(row(short))


@FEW
@given(st.lists(st.integers(0, 300), min_size=2, max_size=2).map(sorted))
def test_a_longer_overhang_never_costs_less(ends):
    top = {"stock": "pf38.600", "decor": "pale-oak"}
    tops = [small_kitchen(worktop={**top, "overhang": {"ends": float(end)}}) for end in ends]
    short, long = (estimate(top, terms=TERMS).totals.gross for top in tops)
    assert long >= short


def with_ends(data, more):
    """The plain data of a document whose tops reach that much further at their free ends, mm."""
    top = data["worktop"]
    overhang = top.get("overhang", {})
    return {**data, "worktop": {**top, "overhang": {**overhang, "ends": overhang.get("ends", 10.0) + more}}}


def conditions(kitchen):
    """How many edges of each condition there are: a top that has reached a wall is not a longer one."""
    return Counter(edge.condition for length in kitchen.lengths for edge in length.part.edges)


@pytest.mark.slow
@MOSTLY_REFUSED
@given(kitchens(), st.floats(1.0, 200.0))
def test_longer_tops_of_random_kitchens_never_cost_less(data, more):
    short, long = buildable(data), buildable(with_ends(data, more))
    assume(conditions(short) == conditions(long))
    assert estimate(long, terms=TERMS).totals.gross >= estimate(short, terms=TERMS).totals.gross


@pytest.mark.slow
def test_a_mirrored_kitchen_costs_the_same():
    lots = (drawn(rectangles, seed) for seed in count())
    straight = (kitchen for kitchen in lots if bowed(kitchen.document) == "straight")
    for kitchen in islice(straight, tries(40)):
        costs = [estimate(k).totals.gross for k in (kitchen, build(mirrored(kitchen.document)))]
        # places are written to a thousandth of a millimetre, so that a line may be rounded the other way
        assert abs(costs[0] - costs[1]) <= Decimal("0.02")


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_a_mirrored_demo_costs_the_same_to_the_cent(path):
    kitchen = open_kitchen(path)
    assert estimate(build(mirrored(kitchen.document))).totals == estimate(kitchen).totals


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
    """Everything that rules bring, priced for these shares."""
    found = rule_quantities(kitchen, measures, default_rules(), articles_of(kitchen, default_articles()))
    return sum((line.charge.net for line in material_lines(found, demo_prices(), TERMS)), Decimal(0))


@pytest.fixture(scope="module")
def metric():
    """The demos whose articles are those of one catalogue."""
    opened = map(open_kitchen, DEMOS)
    return [kitchen for kitchen in opened if kitchen.document.catalogue == "metric"]


@FEW
@given(data=st.data())
def test_two_kitchens_together_never_cost_more_than_apart(metric, data):
    a, b = (data.draw(st.sampled_from(metric)) for _ in range(2))
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


def test_pieces_with_routed_ends_are_as_long_in_the_mirror():
    """It once was 0.01 longer: room for the router begins before the piece, and both ends were rounded up."""
    kitchen = drawn(rectangles, 21)
    long = [
        sum(piece.length for plan in estimate(made).plans for bar in plan.bars for piece in bar.pieces)
        for made in (kitchen, build(reflected(kitchen)))
    ]
    assert long[0] == pytest.approx(long[1], abs=1e-9)
