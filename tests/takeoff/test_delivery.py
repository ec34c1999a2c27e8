"""What is delivered is what is bought, whole lengths and whole sheets, and not what the kitchen weighs."""

from dataclasses import replace

import pytest

from countersunk.takeoff.counting.takeoff import estimate, take_off
from countersunk.takeoff.stock.articles import default_articles
from countersunk.takeoff.stock.offcuts import Offcut
from countersunk.takeoff.stock.prices import PriceBook, demo_prices
from tests.takeoff.by_hand import small_kitchen

SHEET = 2800 * 2070
LENGTH = 2400 * 600 * 38 * 600e-9
"""kg: a length of 2400 at 600 kg/m³."""
PLINTH = 1600 * 147 * 18 * 650e-9
"""kg: it is cut from a strip, which stands on no plan."""


@pytest.fixture(scope="module")
def kitchen():
    return small_kitchen()


def delivery(taken):
    (found,) = (q for q in taken.quantities if q.item == "delivery")
    return found


# One sheet each of 18 for carcasses and for fronts at 650 kg/m³ and of 10 at 700, 67.813 + 67.813 + 40.572, one
# length of 32.832 and the plinth of 2.752: 211.782 kg.
def test_one_of_each_sheet_one_length_and_the_plinth(kitchen):
    found = delivery(take_off(kitchen))
    assert found.needed == pytest.approx(2 * SHEET * 18 * 650e-9 + SHEET * 10 * 700e-9 + LENGTH + PLINTH)
    assert found.needed == pytest.approx(211.782, abs=1e-3)
    assert found.net == pytest.approx(delivery(estimate(kitchen)).net)
    assert found.packs == 1
    assert "cut off tops" in found.formula


def test_an_estimate_without_sheets_has_what_the_kitchen_weighs(kitchen):
    found = delivery(estimate(kitchen))
    assert found.allowance == 0


# A top from an offcut that the firm has, and the carcasses from a sheet of it, are not delivered.
def test_what_the_firm_has_is_not_delivered(kitchen):
    own = (
        Offcut("W1", "pf38.600", "pale-oak", 2000.0, 600.0),
        Offcut("B1", "pb18", "", 2800.0, 2070.0),
    )  # fmt: skip
    found = delivery(take_off(kitchen, offcuts=own))
    assert found.needed == pytest.approx(SHEET * 18 * 650e-9 + SHEET * 10 * 700e-9 + PLINTH)


# 211.8 kg are bought for a kitchen of some 95: in drops of 200 kg that are two, and one by what it weighs.
def test_drops_are_counted_by_what_is_bought(kitchen):
    articles = default_articles()
    small = {**articles, "delivery": articles["delivery"].model_copy(update={"pack": 200.0})}
    assert delivery(take_off(kitchen, consumables=small)).packs == 2
    assert delivery(estimate(kitchen, consumables=small)).packs == 1


# The length and the plinth, 35.584 kg, come from one yard, the sheets, 176.198 kg, from another: a drop of each,
# though both together would be one of 600.
def test_drops_are_counted_by_supplier(kitchen):
    book = demo_prices()
    boards = ("pb18", "pb10", "front18")
    moved = {
        code: replace(price, supplier="Elsewhere") if code.split(".")[0] in boards else price
        for code, price in book.prices.items()
    }
    apart = PriceBook(book.name, book.note, book.currency, moved)
    found = delivery(take_off(kitchen, apart))
    assert found.needed == pytest.approx(211.782, abs=1e-3)
    assert found.packs == 2
    assert "Elsewhere 176.198 kg: 1; Fallow Board Yard 35.584 kg: 1" in found.formula
