"""Money and days as a firm's locale prints them, against the CLDR charts (published by the Unicode Consortium, from
memory of their tables for each locale), and papers and tables that follow."""

import csv
import io
from datetime import date
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from countersunk.model.errors import InputError
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.terms import load_terms
from countersunk.takeoff.report.report import csv_bytes, xlsx_bytes
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.viewer.quoting.customer import Job, quote_data
from countersunk.viewer.quoting.options import NO_OPTIONS
from countersunk.viewer.quoting.views import by_place, by_trade, parted
from tests.takeoff.by_hand import small_kitchen, terms

THIN, HARD = "\u202f", "\xa0"


@pytest.mark.parametrize(
    ("currency", "locale", "printed", "day"),
    [
        ("EUR", "", "1,234,567.90 EUR", "2 March 2026"),
        ("EUR", "de_DE", f"1.234.567,90{HARD}€", "2. März 2026"),
        ("CHF", "de_CH", f"CHF{HARD}1’234’567.90", "2. März 2026"),
        ("USD", "en_US", "$1,234,567.90", "March 2, 2026"),
        ("GBP", "en_GB", "£1,234,567.90", "2 March 2026"),
        ("INR", "en_IN", "₹12,34,567.90", "2 March 2026"),
        ("EUR", "fr_FR", f"1{THIN}234{THIN}567,90{HARD}€", "2 mars 2026"),
        ("EUR", "nl_NL", f"€{HARD}1.234.567,90", "2 maart 2026"),
    ],
)
def test_a_locale(currency, locale, printed, day):
    form = MoneyForm(currency, locale)
    # half up: a format that rounds to even would end in 0.88 at 0.885
    assert form.whole(Decimal("1234567.895")) == printed
    assert form.amount(Decimal("0.885"))[-2:] == "89"
    assert form.day(date(2026, 3, 2)) == day


def test_a_difference_has_its_sign_before_the_symbol():
    assert MoneyForm("USD", "en_US").whole(Decimal("-3")) == "−$3.00"
    assert [MoneyForm("EUR", "de_DE").signed(Decimal(x)) for x in ("12.5", "-3", "0")] == [
        "+12,50",
        "−3,00",
        "0,00",
    ]


def test_an_unknown_locale_is_named(tmp_path):
    path = tmp_path / "terms.yaml"
    path.write_text(load_text().replace('locale: ""', "locale: xx_YY"))
    with pytest.raises(InputError, match="locale: found 'xx_YY'; allowed: a language and a country"):
        load_terms(path)


def load_text():
    from countersunk import shared

    return (shared.PRICES / "terms.yaml").read_text()


@pytest.fixture(scope="module")
def german():
    return estimate(small_kitchen(), terms=terms(locale="de_DE", shows_tax="without"))


def test_tables_open_in_a_spreadsheet_of_that_locale(german):
    rows = list(csv.DictReader(io.StringIO(csv_bytes(german).decode("utf-8-sig")), delimiter=";"))
    pb18 = next(row for row in rows if row["code"] == "pb18")
    assert (pb18["price"], pb18["cost"]) == ("41,50", "41,50")
    book = load_workbook(io.BytesIO(xlsx_bytes(german)))
    assert {c.number_format for c in book["Takeoff"]["L"][1:]} == {'#,##0.00"\xa0€"'}


def test_a_quote_shows_money_as_its_firm_does_without_tax_first(german):
    data = quote_data(small_kitchen(), german, NO_OPTIONS, Job((), date(2026, 3, 2)))
    assert (data["price"], data["tax_shown"]) == (data["net"], "without")
    assert data["gross"] == MoneyForm("EUR", "de_DE").amount(german.totals.gross)
    assert (data["around"], data["day"]) == (["", "\xa0€"], "2. März 2026")


def test_both_views_add_up_to_the_price_without_tax(german):
    kitchen = small_kitchen()
    trades, places = by_trade(german), by_place(kitchen, german)
    assert sum(sum(both) for both in trades.values()) == sum(places.values()) == german.totals.net
    # sink 139, hob 315, tap 118 and trap 18.50
    assert trades["Sink, hob, appliances"][0] == Decimal("590.50")
    assert list(places) == ["Wall A", "The whole room"]


def test_a_sum_is_parted_in_cents_that_add_up():
    found = parted(Decimal("100.00"), [("a", 1.0), ("b", 1.0), ("c", 1.0)])
    assert list(found.values()) == [Decimal("33.33"), Decimal("33.34"), Decimal("33.33")]
    assert parted(Decimal("5.00"), []) == {"The whole room": Decimal("5.00")}
