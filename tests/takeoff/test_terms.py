"""Terms: mark-up and margin, discounts, waste and travel, and what is refused."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk import shared
from countersunk.model.errors import InputError
from countersunk.takeoff.counting.pricing import material_lines, totals
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.terms import Discount, Travel, Uplift, Waste, default_terms, load_terms
from countersunk.takeoff.stock.prices import price_book
from tests.takeoff.by_hand import book, money, quantity, small_kitchen, terms

TERMS = (shared.PRICES / "terms.yaml").read_text(encoding="utf-8")


def refused(tmp_path: Path, text: str) -> str:
    path = tmp_path / "terms.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as error:
        load_terms(path)
    return str(error.value)


def printed(charge):
    return [str(v) for v in (charge.listed, charge.discount, charge.cost, charge.markup, charge.net, charge.tax)]


def test_a_markup_of_a_quarter_is_a_margin_of_a_fifth():
    # Cost 80: a mark-up of 25 % of the cost is 20, and 20 of a price of 100 is a margin of 20 % (any bookkeeping
    # primer, from memory).
    assert Uplift(kind="markup", percent=25.0).on(money("80")) == money("20.00")
    assert Uplift(kind="margin", percent=20.0).on(money("80")) == money("20.00")


def test_margin_line_by_hand():
    # 3 × 9.99 = 29.97; ÷ 0.70 = 42.814… → 42.81, so 12.84 on it; tax 20 % of 42.81 = 8.562 → 8.56.
    asked = terms(30.0, "margin")
    prices = book(("a", "9.99", "20"))
    lines = material_lines([quantity("a", 3)], prices, asked)
    charge = lines[0].charge
    assert printed(charge)[2:] == [
        "29.97",
        "12.84",
        "42.81",
        "8.56",
    ]
    words = totals(lines, [], prices, asked).markup_in_words
    assert words == "29.97 cost + 12.84 = 42.81 price: 42.84 % of cost, 29.99 % of price"


@given(st.decimals("0.01", "9999", places=2), st.decimals("0", "95", places=1))
def test_margin_is_that_share_of_the_price(cost, percent):
    added = Uplift(kind="margin", percent=float(percent)).on(cost)
    assert abs(added - (cost + added) * percent / 100) <= Decimal("0.006")


def test_discount_is_off_the_listed_price_of_its_supplier_only():
    raw = "code,description,unit,pack,price,currency,date,tax,supplier\n" + "".join(
        f"{code},thing,each,1,9.99,EUR,2026-01-02,20,{supplier}\n"
        for code, supplier in (("a", "North"), ("b", "South"))
    )
    asked = terms(10.0, discounts=(Discount(supplier="North", percent=7.5),))
    north, south = material_lines([quantity("a"), quantity("b")], price_book(raw.encode(), "t.csv"), asked)
    # 7.5 % of 9.99 = 0.749… → 0.75; cost 9.24; 10 % → 0.92; without the discount 9.99 and 1.00.
    assert printed(north.charge)[:4] == ["9.99", "0.75", "9.24", "0.92"]
    assert (south.charge.discount, south.charge.cost, south.charge.markup) == (0, money("9.99"), money("1.00"))


def test_waste_of_the_terms_replaces_that_of_the_rule():
    half = estimate(small_kitchen(), terms=terms(waste=(Waste(rule="boards", percent=50.0),)))
    board = next(q for q in half.quantities if q.item == "pb18")
    assert board.allowance == pytest.approx(board.net / 2)
    assert "+ 50 %" in board.formula
    silicone = next(q for q in half.quantities if q.item == "silicone")
    assert silicone.allowance == pytest.approx(silicone.net * 0.15)


def test_waste_of_an_unknown_rule():
    with pytest.raises(InputError, match=r"waste\[0\].rule: found 'bords'; allowed: a rule: .* Try: 'boards'"):
        estimate(small_kitchen(), terms=terms(waste=(Waste(rule="bords", percent=5.0),)))


def test_travel_by_hand():
    # 2 visits × 40 min × 48.00 ÷ 60 = 64.00; 2 × 30.5 km × 0.55 = 33.55.
    way = Travel(rate="travel.km", visits=2, km=30.5, minutes=40.0)
    lines = {w.work.code: w for w in estimate(small_kitchen(), terms=terms(travel=way)).labour}
    assert str(lines["travel"].charge.net) == "64.00"
    assert str(lines["distance"].charge.net) == "33.55"
    assert lines["distance"].work.ids == ("visit 1", "visit 2")


def test_nobody_travels():
    codes = {w.work.code for w in estimate(small_kitchen(), terms=terms()).labour}
    assert not codes & {"travel", "distance"}


def test_the_terms_of_the_house_say_that_they_are_invented():
    assert TERMS.startswith("# Terms of a job: invented")
    assert any("invented" in line for line in default_terms().business.contact)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            "kind: markup, percent: 15",
            "kind: margin, percent: 100",
            "uplift.percent: found 100; allowed: a margin below",
        ),
        ("kind: markup", "kind: profit", 'uplift.kind: found "profit"; allowed: markup, margin'),
        (
            "percent: 40, when",
            "percent: 45, when",
            "payment: found 105 % in all; allowed: parts that add up to 100 %",
        ),
        (
            "Tern Street Hardware, percent",
            "Fallow Board Yard, percent",
            "discounts[1]: found 'Fallow Board Yard' twice",
        ),
        ("visits: 3", "visits: -3", "travel.visits: found -3; allowed: a whole number from 0 to 100"),
        ("validity_days: 30", "validity_dais: 30", "validity_dais: found an unknown key"),
        ("rate: labour.hour", "rate: Labour hour", 'rate: found "Labour hour"; allowed: text of the form'),
    ],
)
def test_terms_at_fault(tmp_path, old, new, said):
    assert old in TERMS
    text = refused(tmp_path, TERMS.replace(old, new, 1))
    assert text.startswith("terms.yaml:")
    assert said in text
