"""Money: cents, rates of tax, what is missing, and totals that are the sum of what is printed."""

import ast
import csv
import io
from dataclasses import fields, replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk import takeoff
from countersunk.takeoff.counting.pricing import labour_lines, material_lines, totals
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.terms import default_terms
from countersunk.takeoff.report.report import csv_bytes
from countersunk.takeoff.stock.money import cents
from countersunk.takeoff.stock.prices import PriceBook, demo_prices
from tests.lanes import tries
from tests.specimens import DEMOS, SOME_DEMOS, open_kitchen
from tests.takeoff.by_hand import book, money, quantity, small_kitchen, terms

RATE = "labour.hour"


def total_of(quantities, prices, markup="0"):
    asked = terms(float(markup))
    lines = material_lines(quantities, prices, asked)
    return lines, totals(lines, [], prices, asked)


@pytest.mark.parametrize(
    ("value", "rounded"),
    [("0.005", "0.01"), ("0.0049", "0.00"), ("2.345", "2.35"), ("2.355", "2.36"), ("1.115", "1.12")],
)
def test_half_a_cent_is_rounded_up(value, rounded):
    # Half up, as a bookkeeper does; a float would make 1.11 of 1.115 and a banker's rounding 2.34 of 2.345.
    assert cents(money(value)) == money(rounded)


def test_line_by_hand():
    # 3 packs × 9.99 = 29.97; 15 % of it 4.4955 → 4.50; 20 % of 34.47 = 6.894 → 6.89.
    lines, total = total_of([quantity("a", 3)], book(("a", "9.99", "20")), "15")
    charge = lines[0].charge
    assert (charge.cost, charge.markup, charge.net, charge.tax) == tuple(
        map(money, ("29.97", "4.50", "34.47", "6.89"))
    )
    assert (total.net, total.tax, total.gross) == tuple(map(money, ("34.47", "6.89", "41.36")))


def test_tax_is_summed_line_by_line_and_by_rate():
    # Two lines of 0.33 at 5 %: 0.0165 → 0.02 each, so 0.04, where 5 % of 0.66 were 0.03; and 10 % of 1.00.
    prices = book(("a", "0.33", "5"), ("b", "0.33", "5"), ("c", "1.00", "10"))
    _, total = total_of([quantity("a"), quantity("b"), quantity("c")], prices)
    assert [(t.rate, t.base, t.tax) for t in total.taxes] == [
        (money("5"), money("0.66"), money("0.04")),
        (money("10"), money("1.00"), money("0.10")),
    ]


class TestMissing:
    def test_price_missing_makes_the_total_incomplete_and_is_named(self):
        lines, total = total_of([quantity("a"), quantity("b")], book(("a", "1.00", "20")))
        assert lines[1].charge is None
        assert total.missing == ("b: no price in test.csv",)
        assert not total.complete
        assert total.materials == money("1.00")

    def test_price_for_another_pack(self):
        lines, total = total_of([quantity("a", pack=0.5, unit="L")], book(("a", "1.00", "20")))
        assert lines[0].charge is None
        assert total.missing == ("a: the price is for 1 each, the pack is 0.5 L",)

    def test_quantity_that_could_not_be_ordered(self):
        _, total = total_of([quantity("a", None)], book(("a", "1.00", "20")))
        assert total.missing == ("a: no article",)

    def test_no_hourly_rate(self):
        demo = demo_prices()
        rest = {c: p for c, p in demo.prices.items() if c != RATE}
        taken = estimate(small_kitchen(), PriceBook("mine.csv", "", "EUR", rest), terms=terms())
        assert taken.missing == ("labour.hour: no price in mine.csv",)
        assert taken.totals.labour == 0

    def test_rate_that_is_not_for_an_hour(self):
        odd = {**demo_prices().prices, RATE: replace(demo_prices().prices["tap"], code=RATE)}
        taken = estimate(small_kitchen(), PriceBook("mine.csv", "", "EUR", odd))
        assert taken.missing == ("labour.hour: the price is not for an hour",)

    def test_a_price_of_nothing_is_a_price(self):
        lines, total = total_of([quantity("a")], book(("a", "0", "20")))
        assert lines[0].charge.cost == 0
        assert total.complete


def test_labour_by_hand():
    # 30.00 an hour: 25 min → 12.50; 8 min → 4.00; two people 30 min → 30.00.
    taken = estimate(small_kitchen(), terms=terms())
    lines = labour_lines([line.work for line in taken.labour], book(("a", "1", "0")), terms())
    costs = {line.work.code: line.charge.cost for line in lines}
    assert costs["place"] == money("37.50")
    assert costs["door"] == money("12.00")
    assert costs["length"] == money("60.00")


def test_markup_is_on_materials_only():
    plain, marked = (estimate(small_kitchen(), terms=terms(m)) for m in (0.0, 10.0))
    assert plain.totals.markup == 0
    assert marked.totals.labour == plain.totals.labour
    assert marked.totals.markup == sum(cents(line.charge.cost / 10) for line in plain.materials)


priced = st.lists(
    st.tuples(
        st.integers(1, 500),
        st.decimals("0", "999.9999", places=4),
        st.decimals("0", "30", places=1),
    ),
    min_size=1,
    max_size=12,
)


@given(priced, st.decimals("0", "60", places=1))
def test_totals_are_the_sum_of_what_is_printed(rows, markup):
    prices = book(*((f"i{n}", str(price), str(tax)) for n, (_, price, tax) in enumerate(rows)))
    lines, total = total_of([quantity(f"i{n}", packs) for n, (packs, _, _) in enumerate(rows)], prices, str(markup))
    printed = [(money(str(x.charge.cost)), money(str(x.charge.markup)), money(str(x.charge.tax))) for x in lines]
    assert all(cents(value) == value for row in printed for value in row)
    assert total.materials == sum(row[0] for row in printed)
    assert total.markup == sum(row[1] for row in printed)
    assert total.tax == sum(row[2] for row in printed)
    assert total.gross == total.net + total.tax
    assert sum(t.base for t in total.taxes) == total.net


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_printed_table_adds_up(path):
    taken = estimate(open_kitchen(path))
    rows = list(csv.DictReader(io.StringIO(csv_bytes(taken).decode("utf-8-sig"))))
    lines = [r for r in rows if r["kind"] in ("material", "labour")]
    by_name = {r["description"]: money(r["net"]) for r in rows if r["kind"] == "total"}
    assert by_name["materials"] == sum(money(r["cost"]) for r in lines if r["kind"] == "material")
    assert by_name["labour and travel"] == sum(money(r["net"]) for r in lines if r["kind"] == "labour")
    assert by_name["total without tax"] == sum(money(r["net"]) for r in lines)
    assert by_name["total with tax"] == sum(money(r["net"]) + money(r["tax"]) for r in lines)


@pytest.mark.parametrize("path", SOME_DEMOS, ids=lambda p: p.stem)
def test_all_money_is_decimal_and_whole_cents(path):
    taken = estimate(open_kitchen(path))
    charges = [line.charge for line in (*taken.materials, *taken.labour)]
    money = [getattr(charge, field.name) for charge in charges for field in fields(charge)]
    sums = (taken.totals.materials, taken.totals.markup, taken.totals.labour, taken.totals.net, taken.totals.gross)
    assert {type(value) for value in (*money, *sums)} == {Decimal}
    assert all(cents(value) == value for value in (*money, *sums))
    factors = [x for line in taken.labour for x in (line.work.amount, line.work.minutes_each, line.work.minutes)]
    assert {type(x) for x in (*factors, *(line.price.price for line in taken.materials))} == {Decimal}


@pytest.mark.parametrize(
    "module", ["stock/money", "counting/pricing", "report/compare", "report/orders", "counting/accepted"]
)
def test_no_float_is_written_where_money_is_reckoned(module):
    tree = ast.parse((Path(takeoff.__file__).parent / f"{module}.py").read_text(encoding="utf-8"))
    numbers = [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant)]
    assert not [number for number in numbers if isinstance(number, float)]
    words = [node.id for node in ast.walk(tree) if isinstance(node, ast.Name)]
    assert "round" not in words  # rounding is `cents` alone
    assert words.count("float") == (1 if module == "report/compare" else 0)  # an amount of work as it is shown


@settings(max_examples=tries(20), deadline=None)
@given(st.sampled_from(DEMOS))
def test_the_same_kitchen_gives_the_same_takeoff(path):
    assert estimate(open_kitchen(path)) == estimate(open_kitchen(path))


def test_hour_and_kilometre_are_prices_of_the_demo_book():
    assert demo_prices().prices[default_terms().rate].unit == "h"
    assert demo_prices().prices[default_terms().travel.rate].unit == "km"
