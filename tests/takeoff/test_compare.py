"""Two versions of a kitchen: the lines that differ, and differences that add up to that of the totals."""

import json
from decimal import Decimal
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.model.kitchen import build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.report.compare import as_json, compare, signed
from countersunk.takeoff.stock.prices import PriceBook, demo_prices
from tests.specimens import SOME_DEMOS, cornered, demo
from tests.takeoff.by_hand import small_kitchen, terms

NAMES = [path.stem for path in SOME_DEMOS]


@cache
def taken(name):
    return estimate(demo(name))


def test_a_kitchen_differs_in_nothing_from_itself():
    found = compare(taken("corner"), taken("corner"))
    assert found.changed == ()
    assert (found.net, found.gross) == (0, 0)


@settings(max_examples=9, deadline=None)
@given(st.sampled_from(NAMES), st.sampled_from(NAMES))
def test_differences_of_the_lines_add_up_to_that_of_the_totals(old, new):
    found = compare(taken(old), taken(new))
    assert sum((line.net for line in found.lines), Decimal(0)) == found.net
    assert sum((line.net for line in found.changed), Decimal(0)) == found.net
    assert sum((line.net + line.tax for line in found.lines), Decimal(0)) == found.gross
    back = compare(taken(new), taken(old))
    assert (back.net, back.gross) == (-found.net, -found.gross)


def test_another_decor_by_hand():
    # Rain slate is listed at 79.20 and pale oak at 68.40 for the 2400; no discount or mark-up: 10.80 more, with
    # 20 % tax 12.96. Everything else has one price in all decors.
    worktop = {"stock": "pf38.600", "decor": "rain-slate"}
    oak, slate = (estimate(k, terms=terms()) for k in (small_kitchen(), small_kitchen(worktop=worktop)))
    found = compare(oak, slate)
    priced = [line for line in found.changed if line.net]
    assert [(line.code, line.net) for line in priced] == [("pf38.600.2400", Decimal("10.80"))]
    assert (found.net, found.gross) == (Decimal("10.80"), Decimal("12.96"))


def test_mitre_instead_of_strip():
    mitre, butt = (estimate(build(cornered(90.0, kind=kind))) for kind in ("mitre", "butt"))
    found = {line.code: line for line in compare(butt, mitre).changed}
    assert {"joint-strip.38", "bolt.joint", "biscuit.20", "glue.pva", "compound", "work mitre", "work butt"} <= set(
        found
    )
    assert found["joint-strip.38"].after is None
    assert found["bolt.joint"].before is None
    assert found["work mitre"].net == Decimal("72.00")  # 90 min at 48.00 an hour


def test_a_price_that_is_missing_is_unknown_and_not_nothing():
    rest = {code: price for code, price in demo_prices().prices.items() if code != "hinge"}
    found = compare(estimate(small_kitchen(), PriceBook("mine.csv", "", "EUR", rest)), estimate(small_kitchen()))
    line = next(line for line in found.changed if line.code == "hinge")
    assert line.net is None
    assert signed(line.net) == "unknown"
    assert not found.complete


def test_json_is_plain_data():
    data = as_json(compare(taken("straight"), taken("corner")))
    assert json.loads(json.dumps(data)) == data
    assert list(data) == ["before", "after", "currency", "lines", "totals", "difference", "complete", "missing"]
    assert Decimal(data["difference"]["net"]) == sum(Decimal(line["difference"]) for line in data["lines"])


@pytest.mark.parametrize(("value", "text"), [("0.01", "+0.01"), ("-1234.5", "−1,234.50"), ("0", "0.00")])
def test_signs(value, text):
    assert signed(Decimal(value)) == text
