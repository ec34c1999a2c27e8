"""The workbook recalculated by LibreOffice, a spreadsheet program that nobody here wrote: the same to the cent."""

import io
import shutil
import subprocess
from dataclasses import replace
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from countersunk import shared
from countersunk.takeoff.counting.labour import default_labour
from countersunk.takeoff.counting.pricing import labour_lines, material_lines, totals
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.counting.terms import default_terms
from countersunk.takeoff.measuring.rules import default_rules
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

    def all_of(raws):
        """Several workbooks at once: starting the program takes longest."""
        for name, raw in raws.items():
            (home / f"{name}.xlsx").write_bytes(raw)
        run(*(home / f"{name}.xlsx" for name in raws))
        made = {name: (home / "out" / f"{name}.xlsx").read_bytes() for name in raws}
        return {name: load_workbook(io.BytesIO(raw), data_only=True) for name, raw in made.items()}

    def run(*files):
        command = [
            str(OFFICE), f"-env:UserInstallation=file://{home}/profile", "--headless", "--convert-to", "xlsx",
            "--outdir", str(home / "out"), *map(str, files),
        ]  # fmt: skip
        subprocess.run(command, check=True, capture_output=True, timeout=180)

    def through(raw, name="book.xlsx"):
        (home / name).write_bytes(raw)
        run(home / name)
        return load_workbook(io.BytesIO((home / "out" / f"{name.split('.')[0]}.xlsx").read_bytes()), data_only=True)

    through.all_of = all_of
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
        both = zip(column(book["Takeoff"], "Code"), column(book["Takeoff"], heading), strict=True)
        cells = [cell for code, cell in both if code and code != "Together"]  # there is room for own lines
        lines = [getattr(line.charge, money) if line.charge else None for line in taken.materials]
        assert [cents_in(c) if isinstance(c, int | float) else None for c in cells] == lines, heading
    worked = [line.charge.cost if line.charge else None for line in taken.labour]
    *rows, total = column(book["Labour"], "Cost")
    assert cents_in(total) == t.labour
    cells = [cell for code, cell in zip(column(book["Labour"], "Code"), rows, strict=False) if code]
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
    more = [line.net + line.tax for option in options.values() for line in option.changed]
    assert [line for line in lines if line] == [line for line in more if line]  # travel stands there too


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


OPTIONS = {"rain slate": {"decor": "rain-slate"}, "solid": {"stock": "solid30.650"}}
FIRM = {"overhead": 4.0, "least_charge": 4_000.0}
"""Terms with a job below its least charge."""


def priced(changed):
    """The demo prices with some of them other than they are."""
    prices = demo_prices().prices
    dearer = {code: replace(prices[code], price=Decimal(price)) for code, price in changed.items()}
    return PriceBook("demo.csv", "", "EUR", {**prices, **dearer})


def minutes(code, value):
    rules = default_labour()
    changed = [o.model_copy(update={"minutes": value}) if o.code == code else o for o in rules.operations]
    return rules.model_copy(update={"operations": tuple(changed)})


def three_times_the_screws():
    """The rules with every screw of the top needed three times."""
    rules = default_rules()
    changed = [
        r.model_copy(update={"bring": tuple(b.model_copy(update={"factor": b.factor * 3}) for b in r.bring)})
        if r.id == "screws"
        else r
        for r in rules.rules
    ]
    return rules.model_copy(update={"rules": tuple(changed)})


def with_line(book, code, changes, sheet="Takeoff", first="A"):
    """Type ``changes`` (values by column) into the row of a code, or into the first that is free."""
    rows = book[sheet]
    row = next(r for r in range(2, rows.max_row) if rows[f"{first}{r}"].value == code)
    for letter, value in changes.items():
        cell = rows[f"{letter}{row}"]
        assert not cell.protection.locked, "a cell to type into is not protected"
        cell.value = value


def set_total(book, name, value):
    cell = next(row[1] for row in book["Totals"].iter_rows(min_row=2) if row[0].value == name)
    assert not cell.protection.locked
    cell.value = value


def again(taken, quantities=None, works=None, more=()):
    """A takeoff priced anew from quantities and work that are given: what the program says of an edit."""
    book, terms_ = demo_prices(), taken.terms
    materials = material_lines([*(quantities or taken.quantities), *more], book, terms_)
    labour = labour_lines(works or [line.work for line in taken.labour], book, terms_)
    return replace(
        taken, materials=tuple(materials), labour=tuple(labour), totals=totals(materials, labour, book, terms_)
    )


def test_ten_edits_and_the_program_says_the_same_to_the_cent(recalculated):
    """Everything that an estimator may type over, each in a workbook of its own, against a takeoff made anew."""
    asked = terms(15.0, discounts=default_terms().discounts, travel=default_terms().travel)

    def taken(prices=None, terms_=asked, changes=None, **rules):
        return estimate(small_kitchen(**(changes or {})), prices or demo_prices(), terms=terms_, **rules)

    def options(base, **how):
        return {n: compare(base, taken(changes={"worktop": {**TOP, **c}}, **how)) for n, c in OPTIONS.items()}

    base = taken()
    raw = xlsx_bytes(base, options(base))
    firm = asked.model_copy(update=FIRM)
    charged = taken(terms_=firm)
    raws = {"charged": xlsx_bytes(charged, options(charged, terms_=firm))}
    top = next(q for q in base.quantities if q.rule == "worktops")
    longer = [replace(q, net=2.5, packs=2) if q is top else q for q in base.quantities]
    edging = next(line.work for line in base.labour if line.work.code == "edging")
    wider = [replace(w, amount=Decimal("2.5")) if w is edging else w for w in (x.work for x in base.labour)]
    screws = next(q for q in taken(rules=three_times_the_screws()).quantities if q.rule == "screws")
    slow = {"labour": minutes("length", 2_000.0)}
    cheap = asked.model_copy(update={"uplift": terms(27.5, "markup").uplift})

    edits = {
        "price": (lambda b: with_line(b, "hinge", {"K": 7.77}), {"prices": priced({"hinge": "7.77"})}),
        "markup": (lambda b: set_total(b, "Mark-up on materials, % of cost", 27.5), {"terms_": cheap}),
        "rate": (lambda b: set_total(b, "Hourly rate", 61.3), {"prices": priced({"labour.hour": "61.3"})}),
        "way": (lambda b: set_total(b, "Price of a kilometre", 0.71), {"prices": priced({"travel.km": "0.71"})}),
        "minutes": (lambda b: with_line(b, "length", {"E": 2_000}, "Labour"), slow),
        "overhead": (
            lambda b: set_total(b, "Overhead, % of all lines", 9),
            {"terms_": firm.model_copy(update={"overhead": 9.0})},
        ),
        "least": (
            lambda b: set_total(b, "Least charge, without tax", 5_000),
            {"terms_": firm.model_copy(update={"least_charge": 5_000.0})},
        ),
    }  # fmt: skip
    alone = {
        "measured": (
            lambda b: with_line(b, screws.item, {"D": screws.net}),
            again(base, [screws if q.rule == "screws" else q for q in base.quantities]),
        ),
        "plan": (lambda b: with_line(b, top.item, {"D": 2.5}), again(base, longer)),
        "amount": (lambda b: with_line(b, "edging", {"D": 2.5}, "Labour"), again(base, works=wider)),
        "own": (
            lambda b: with_line(b, None, {"A": "bin", "D": 3.2, "K": 12.35, "M": 5, "Q": 20}),
            None,
        ),
        "gap": (lambda b: with_line(b, None, {"B": "something"}), None),
    }  # fmt: skip
    for name, (edit, _) in (*edits.items(), *alone.items()):
        book = load_workbook(io.BytesIO(raws["charged"] if name in ("overhead", "least") else raw))
        edit(book)
        stream = io.BytesIO()
        book.save(stream)
        raws[name] = stream.getvalue()
    books = recalculated.all_of(raws)

    check(books["charged"], charged)
    expected = {name: taken(**how) for name, (_, how) in edits.items()}
    for name, made in expected.items():
        assert made.totals.gross != (charged if name in ("overhead", "least") else base).totals.gross, name
        assert total_in(books[name]) == made.totals.gross, name
        rows = books[name]["Options"].iter_rows(min_row=2, values_only=True)
        more = {row[0]: cents_in(row[9]) for row in rows if not row[1]}
        assert more == {n: o.gross for n, o in options(made, **edits[name][1]).items()}, name
    for name, (_, made) in alone.items():
        if made is not None:
            assert made.totals.gross != base.totals.gross, name
            check(books[name], made)
    # 3.2 are 4 packs: 49.40 listed, 2.47 off, 46.93; 15 % of it 7.04; 20 % tax on 53.97 is 10.79
    assert total_in(books["own"]) == base.totals.gross + Decimal("64.76")
    assert value_in(books["own"], "Is the total complete?") == "complete"
    assert total_in(books["gap"]) == base.totals.gross
    assert value_in(books["gap"], "Is the total complete?") == "incomplete"
    assert value_in(books["gap"], "Lines without a price or tax rate") == 1
    assert value_in(books["minutes"], "Visits to the site") > value_in(books["price"], "Visits to the site")


def value_in(book, name):
    return next(row[1].value for row in book["Totals"].iter_rows(min_row=2) if row[0].value == name)


def total_in(book):
    return cents_in(value_in(book, "Total with tax"))


def test_every_value_kept_beside_a_formula_is_what_libreoffice_makes_of_it(recalculated):
    """Readers that reckon nothing show the values in the file; openpyxl is one of them."""
    base = estimate(small_kitchen())
    options = {n: compare(base, estimate(small_kitchen(worktop={**TOP, **c}))) for n, c in OPTIONS.items()}
    raw = xlsx_bytes(base, options)
    kept = load_workbook(io.BytesIO(raw), data_only=True)
    bare = load_workbook(io.BytesIO(raw))
    stream = io.BytesIO()
    bare.save(stream)  # without values, so that LibreOffice reckons every one
    reckoned = recalculated(stream.getvalue())
    found = 0
    for sheet in bare:
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"):
            ours, theirs = (book[sheet.title][cell.coordinate].value for book in (kept, reckoned))
            found += 1
            if isinstance(theirs, int | float):
                assert ours == pytest.approx(theirs, abs=1e-6), (sheet.title, cell.coordinate, cell.value)
            else:
                assert (ours or "") == (theirs or ""), (sheet.title, cell.coordinate, cell.value)
    assert found > 300
