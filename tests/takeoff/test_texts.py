"""Whatever somebody types, no cell of a workbook or CSV begins a formula, and every file can be read again."""

import csv
import io
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from countersunk.takeoff.counting.pricing import Gap
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.report.orders import orders, orders_csv
from countersunk.takeoff.report.report import csv_bytes
from countersunk.takeoff.report.workbook import xlsx_bytes
from countersunk.takeoff.stock.prices import Price, book_csv, price_book
from countersunk.takeoff.stock.texts import is_risky, plain, safe, unmarked
from tests.lanes import tries
from tests.takeoff.by_hand import small_kitchen
from tests.takeoff.test_report import OUR_FORMULAS

# Cells that begin with one of these may be run (a security community's page on CSV injection, from memory).
SIGNS = "=+-@\t\r\n＝＋－＠"
typed = st.builds(
    "{}{}{}".format,
    st.text(" \t\u200b\ufeff\xa0\u2028\x00", max_size=3),
    st.sampled_from(["", *SIGNS]),
    st.text(st.characters(), max_size=30),  # everything that Python calls a character, halves of pairs too
)


@pytest.fixture(scope="module")
def short():
    """A takeoff of a few lines, so that many can be written."""
    whole = estimate(small_kitchen())
    return replace(whole, materials=whole.materials[:3], labour=whole.labour[:2])


def named(takeoff, text):
    """The same with ``text`` wherever a user's text may stand."""
    line = takeoff.materials[0]
    odd = replace(
        line,
        quantity=replace(line.quantity, description=text, note=text, pack_name=text),
        price=replace(line.price, supplier=text, description=text),
        gap=Gap(text, "no price"),
    )
    lines = (odd, *takeoff.materials[1:])
    return replace(takeoff, kitchen=text, note=text, price_book=text, price_note=text, materials=lines)


def begins_a_formula(cell):
    return bool(re.match(r"[\s\u200b\ufeff]*[=+\-@＝＋－＠]", cell))


@settings(max_examples=tries(80), deadline=None)
@given(text=typed)
def test_workbook(short, text):
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(named(short, text))))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert all(OUR_FORMULAS.match(cell.value) for cell in cells if cell.data_type == "f")
    written = [cell for cell in cells if cell.data_type == "s" and begins_a_formula(str(cell.value))]
    assert all(cell.quotePrefix for cell in written)
    shown = book["Totals"]["B2"].value or ""
    assert shown == plain(text)


@settings(max_examples=tries(200), deadline=None)
@given(text=typed)
def test_tables(short, text):
    odd = named(short, text)
    for raw in (csv_bytes(odd), orders_csv(orders(odd), odd.money)):
        rows = list(csv.reader(io.StringIO(raw.decode("utf-8-sig"), newline="")))
        assert not [cell for row in rows for cell in row if begins_a_formula(cell)]
        assert len({len(row) for row in rows}) == 1


@given(text=typed.filter(lambda text: 0 < len(plain(text)) <= 80))
def test_price_book_says_again_what_it_was_told(text):
    text = plain(text)
    if unmarked(text) != text:  # typed with the mark already
        text = unmarked(text)
    price = Price("tap", text, "each", Decimal(1), Decimal("4.5"), "EUR", date(2026, 1, 2), Decimal(20), text)
    raw = book_csv([price], "")
    assert not [c for row in csv.reader(io.StringIO(raw.decode())) for c in row if begins_a_formula(c)]
    assert price_book(raw, "book.csv").prices["tap"] == price


@given(typed)
def test_marking_twice_is_marking_once(text):
    assert safe(safe(text)) == safe(text)
    assert not is_risky(safe(text))
    assert "\n" not in safe(text)
