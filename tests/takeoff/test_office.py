"""The workbook recalculated by LibreOffice, a spreadsheet program that nobody here wrote: the same to the cent."""

import io
import shutil
import subprocess
from dataclasses import replace
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from countersunk import shared
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.terms import default_terms
from countersunk.takeoff.report.compare import compare
from countersunk.takeoff.report.report import csv_bytes
from countersunk.takeoff.report.workbook import comparison_bytes, xlsx_bytes
from countersunk.takeoff.stock.prices import PriceBook, demo_prices
from tests.lanes import SKIP_NOTHING, some
from tests.specimens import SOME_DEMOS, open_kitchen
from tests.takeoff.by_hand import small_kitchen, terms
from tests.takeoff.test_report import RISKY

TOP = {"stock": "pf38.600", "decor": "pale-oak"}
OFFICE = shutil.which("soffice")

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not OFFICE and not SKIP_NOTHING, reason="no LibreOffice (Debian: libreoffice-calc)"),
]


@pytest.fixture(scope="module")
def recalculated(tmp_path_factory):
    """A workbook or CSV opened, reckoned and saved by LibreOffice with a profile of its own."""
    home = tmp_path_factory.mktemp("office")

    def through(raw, name="book.xlsx"):
        (home / name).write_bytes(raw)
        command = [
            str(OFFICE), f"-env:UserInstallation=file://{home}/profile", "--headless", "--convert-to", "xlsx",
            "--outdir", str(home / "out"), str(home / name),
        ]  # fmt: skip
        subprocess.run(command, check=True, capture_output=True, timeout=180)
        return load_workbook(io.BytesIO((home / "out" / f"{name.split('.')[0]}.xlsx").read_bytes()), data_only=True)

    return through


def cents_in(value):
    """A cell as Decimal with two places; a spreadsheet's numbers are binary."""
    return Decimal(repr(float(value))).quantize(Decimal("0.01"))


def column(sheet, heading):
    place = next(cell.column for cell in sheet[1] if cell.value == heading)
    return [sheet.cell(row, place).value for row in range(2, sheet.max_row + 1)]


def check(book, taken):
    totals = {row[0].value: row[1].value for row in book["Totals"].iter_rows(min_row=2)}
    t = taken.totals
    expected = {
        "Listed by suppliers": t.materials + t.discount,
        "Discounts of suppliers": t.discount,
        "Materials": t.materials,
        "Mark-up": t.markup,
        "Labour": t.labour,
        "Total without tax": t.net,
        "Tax": t.tax,
        "Total with tax": t.gross,
    }
    assert {name: cents_in(totals[name]) for name in expected} == expected
    assert totals["Is the total complete?"] == ("complete" if t.complete else "incomplete")
    for heading, money in (("Cost", "cost"), ("Mark-up", "markup"), ("Net", "net"), ("Tax", "tax")):
        *cells, _ = column(book["Takeoff"], heading)  # the last is their sum
        lines = [getattr(line.charge, money) if line.charge else None for line in taken.materials]
        assert [cents_in(c) if isinstance(c, int | float) else None for c in cells] == lines, heading
    worked = [line.charge.cost if line.charge else None for line in taken.labour]
    *cells, total = column(book["Labour"], "Cost")
    assert cents_in(total) == t.labour
    assert [cents_in(c) if isinstance(c, int | float) else None for c in cells] == worked
    ordered = [round(o, 6) for o in column(book["Takeoff"], "Ordered") if isinstance(o, int | float)]
    assert ordered == [round(q.ordered, 6) for q in taken.quantities if q.ordered is not None]


@pytest.mark.parametrize("path", some(SOME_DEMOS, 3), ids=lambda p: p.stem)
def test_demo(recalculated, path):
    taken = estimate(open_kitchen(path))
    check(recalculated(xlsx_bytes(taken)), taken)


def test_options_and_what_they_cost_more(recalculated):
    changed = {"rain slate": {"decor": "rain-slate"}, "solid": {"stock": "solid30.650"}}
    kitchens = {name: small_kitchen(worktop={**TOP, **change}) for name, change in changed.items()}
    base = estimate(small_kitchen())
    options = {name: compare(base, estimate(kitchen)) for name, kitchen in kitchens.items()}
    book = recalculated(xlsx_bytes(base, options))
    check(book, base)
    rows = list(book["Options"].iter_rows(min_row=2, values_only=True))
    assert {row[0]: cents_in(row[9]) for row in rows if not row[1]} == {n: o.gross for n, o in options.items()}
    lines = [cents_in(row[9]) for row in rows if row[1]]
    assert lines == [line.net + line.tax for option in options.values() for line in option.changed]


def test_two_versions_of_which_one_lacks_a_price(recalculated):
    rest = {code: price for code, price in demo_prices().prices.items() if code != "hinge"}
    found = compare(estimate(small_kitchen()), estimate(small_kitchen(), PriceBook("mine.csv", "", "EUR", rest)))
    sheet = recalculated(comparison_bytes("=less", found))["Differences"]
    rows = list(sheet.iter_rows(min_row=2, values_only=True))
    assert [(row[1], row[6], row[9]) for row in rows[:-1]] == [("hinge", "no price", "unknown")]
    assert cents_in(rows[-1][9]) == found.gross


def test_margin(recalculated):
    taken = estimate(small_kitchen(), terms=terms(27.5, "margin"))
    check(recalculated(xlsx_bytes(taken)), taken)


def test_half_cents_are_rounded_up_as_here(recalculated):
    """Prices such that discount, mark-up and tax all land on half a cent somewhere."""
    odd = {
        code: replace(price, price=Decimal(f"{i % 40 + 0.05:.2f}"), tax=Decimal("12.5") if i % 2 else Decimal("5"))
        for i, (code, price) in enumerate(demo_prices().prices.items())
    }
    asked = terms(10.0, discounts=default_terms().discounts)
    taken = estimate(open_kitchen(shared.KITCHENS / "island.yaml"), PriceBook("odd", "", "EUR", odd), terms=asked)
    charges = [line.charge for line in taken.materials]
    assert (
        sum((charge.cost * 10) % 1 == Decimal("0.5") for charge in charges) > 3
    )  # cost × 10 % ends on half a cent
    assert sum((charge.listed * 5) % 1 == Decimal("0.5") for charge in charges) > 3  # 5 % of what is listed
    check(recalculated(xlsx_bytes(taken)), taken)


def test_a_gap_is_a_word_and_not_a_nought(recalculated):
    rest = {code: price for code, price in demo_prices().prices.items() if code not in ("hinge", "labour.hour")}
    taken = estimate(small_kitchen(), PriceBook("mine.csv", "", "EUR", rest))
    book = recalculated(xlsx_bytes(taken))
    check(book, taken)
    assert "no price" in column(book["Takeoff"], "Cost")


def test_text_that_looks_like_a_formula_is_shown_and_not_run(recalculated):
    for text in RISKY:
        taken = replace(estimate(small_kitchen()), kitchen=text, note=text)
        shown = recalculated(xlsx_bytes(taken))["Totals"]["B2"].value
        assert str(shown).split() == text.split()
    taken = replace(estimate(small_kitchen()), kitchen="=1+1")
    table = recalculated(csv_bytes(taken), "table.csv").active
    assert "=1+1" in str(table["C2"].value)
