"""The price book: strict reading, and the exact words for the mistakes that are likeliest."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from countersunk import shared
from countersunk.model.errors import InputError, Problem
from countersunk.takeoff.stock.prices import demo_prices, price_book, read_prices
from tests.takeoff.by_hand import HEADER

GOOD = "sealer,varnish,L,0.5,14.80,EUR,2026-01-02,20\n"


def problems_of(raw: bytes) -> list[Problem]:
    """What is wrong with a price book; nothing where it is read."""
    try:
        price_book(raw, "mine.csv")
    except InputError as error:
        return error.problems
    return []


def error_of(text: str | bytes) -> str:
    raw = text.encode() if isinstance(text, str) else text
    with pytest.raises(InputError) as error:
        price_book(raw, "mine.csv")
    return str(error.value)


def test_a_good_line():
    price = price_book((HEADER + GOOD).encode(), "mine.csv").prices["sealer"]
    assert (price.pack, price.price, price.tax) == (Decimal("0.5"), Decimal("14.80"), Decimal(20))
    assert price.date.isoformat() == "2026-01-02"


def test_demo_prices_say_that_they_are_invented():
    assert "Invented prices" in demo_prices().note
    assert (shared.PRICES / "demo.csv").read_text(encoding="utf-8").startswith("# Invented prices")


def test_byte_order_mark_and_windows_line_ends_are_read():
    raw = ("\ufeff" + HEADER + GOOD).replace("\n", "\r\n").encode()
    assert price_book(raw, "mine.csv").prices["sealer"].price == Decimal("14.80")


PRICE = "a number from 0 with at most 4 decimals, with a point, such as 12.50."
COLUMNS = "code, description, unit, pack, price, currency, date, tax"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("14.80", '"14,80"', f"price: found '14,80'; allowed: {PRICE}"),
        ("14.80", "-14.80", f"price: found '-14.80'; allowed: {PRICE}"),
        ("14.80", "", f"price: found ''; allowed: {PRICE}"),
        ("14.80", "1e3", f"price: found '1e3'; allowed: {PRICE}"),
        ("14.80", "NaN", f"price: found 'NaN'; allowed: {PRICE}"),
        (",L,", ",litre,", "unit: found 'litre'; allowed: m, m2, L, mL, kg, each, pair, h, km."),
        ("0.5", "0", "pack: found '0'; allowed: a number more than 0, with a point, such as 0.5."),
        ("EUR", "€", "currency: found '€'; allowed: a code of three capitals (ISO 4217)."),
        ("2026-01-02", "02.01.2026", "date: found '02.01.2026'; allowed: a day as YYYY-MM-DD."),
        ("2026-01-02", "2026-02-30", "date: found '2026-02-30'; allowed: a day as YYYY-MM-DD."),
        (",20\n", ",120\n", "tax: found '120'; allowed: a rate in percent from 0 to 100."),
        (
            "sealer",
            "Sealer",
            "code: found 'Sealer'; allowed: small letters, digits, dots and dashes, at most 48.",
        ),
        ("varnish", "", "description: found ''; allowed: text of 1 to 120 characters."),
        (",20\n", "\n", f"row: found 7 fields; allowed: 8: {COLUMNS}."),
        (
            "varnish",
            '"varnish',
            "row: found a quote that is not closed; allowed: fields between commas, quotes doubled.",
        ),
    ],
)
def test_a_line_at_fault_says_where_what_and_what_is_allowed(old, new, said):
    assert error_of(HEADER + GOOD.replace("sealer", "first") + GOOD.replace(old, new)) == f"mine.csv:3: {said}"


def test_twice_the_same_code():
    assert error_of(HEADER + GOOD + GOOD) == "mine.csv:3: code: found 'sealer' twice; allowed: each code once."


def test_two_currencies():
    other = GOOD.replace("sealer", "glue").replace("EUR", "CHF")
    assert error_of(HEADER + GOOD + other) == (
        "mine.csv:3: currency: found 'CHF'; allowed: one currency in a book: EUR."
    )


def test_another_header():
    assert error_of("code;price\n") == (
        "mine.csv:1: header: found code;price; allowed: "
        "code,description,unit,pack,price,currency,date,tax[,supplier[,number]]."
    )


def test_every_problem_is_collected():
    bad = GOOD.replace("14.80", "x").replace(",L,", ",l,")
    assert [e.split(":")[1] for e in error_of(HEADER + bad + GOOD + bad).splitlines()] == ["2", "2", "4", "4"]


def test_what_is_no_price_book_at_all(tmp_path):
    assert error_of(HEADER) == "mine.csv: file: found no prices; allowed: at least one line under the header."
    assert error_of("") == "mine.csv:1: header: found nothing; allowed: " + HEADER.strip() + "[,supplier[,number]]."
    assert error_of(b"\xff\xfe") == (
        "mine.csv: file: found a byte that is not UTF-8 at offset 0; allowed: UTF-8 text. Try: save it as UTF-8."
    )
    assert error_of(b"a" * 1_000_001) == "mine.csv: file: found more than 1 MB; allowed: 1 MB."
    path = tmp_path / "none.csv"
    with pytest.raises(InputError, match="no such file or directory; allowed: a price book that can be read"):
        read_prices(path)


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused_in_words(text):
    assert all(p.field and p.found and p.allowed for p in problems_of((HEADER + text).encode("utf-8", "replace")))


@given(st.binary(max_size=200))
def test_any_bytes_are_refused_in_words(raw):
    with pytest.raises(InputError):
        price_book(raw, "mine.csv")


def test_every_price_of_the_demo_book_has_a_pack_that_something_is_sold_in():
    assert all(p.pack > 0 and p.price > 0 for p in demo_prices().prices.values())
    assert Path(shared.PRICES / "demo.csv").name == demo_prices().name


def test_supplier_may_stand_in_a_last_column():
    raw = (HEADER.replace("tax", "tax,supplier") + GOOD.replace("20\n", "20,North Quay\n")).encode()
    assert price_book(raw, "mine.csv").prices["sealer"].supplier == "North Quay"


def test_a_price_in_a_decor_goes_before_the_plain_one():
    plain, slate = GOOD, GOOD.replace("sealer", "sealer.slate").replace("14.80", "15.80")
    book = price_book((HEADER + plain + slate).encode(), "mine.csv")
    assert [str(book.find("sealer", decor).price) for decor in ("slate", "oak", "")] == ["15.80", "14.80", "14.80"]
    assert book.find("glue", "slate") is None
