"""Reports: plain data, CSV and a workbook whose live formulas give the totals of `take_off`."""

import csv
import io
import json
import re
from dataclasses import replace
from decimal import ROUND_HALF_UP, ROUND_UP, Decimal

import openpyxl
import pytest
from python_calamine import CalamineWorkbook

from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.report.compare import compare
from countersunk.takeoff.report.report import COLUMNS, as_json, csv_bytes
from countersunk.takeoff.report.workbook import xlsx_bytes
from countersunk.takeoff.stock.prices import PriceBook, demo_prices
from countersunk.takeoff.stock.texts import safe
from tests.lanes import some
from tests.specimens import SOME_DEMOS, open_kitchen
from tests.takeoff.by_hand import small_kitchen, terms

RISKY = [
    '=HYPERLINK("http://example.invalid","x")', "+1+1", "-2+3", "@SUM(A1)", " =1+1", "\t=1+1", "\r=1",
    "=cmd|' /C'!A0",
]  # fmt: skip


OUR_FORMULAS = re.compile(
    r"=(IF|SUM|SUMIF|COUNT|COUNTIF|MAX|ROUND)\(|=D\d+\*E\d+\*F\d+/60$|=D\d+\*T\d+/100$|=B\d+[+-]B\d+"
    r"|=Totals!\$B\$12(\*\d+)?$"
)


def workbook(taken):
    return openpyxl.load_workbook(io.BytesIO(xlsx_bytes(taken)))


def rows_of(taken):
    return list(csv.DictReader(io.StringIO(csv_bytes(taken).decode("utf-8-sig"), newline="")))


class Sheets:
    """Reckons the formulas that the workbook holds, so that they are tested without a spreadsheet program.

    Knows IF, AND, OR, ISNUMBER, ISTEXT, MAX, ROUND (half away from zero), ROUNDUP, SUM, SUMIF, COUNT, COUNTA and
    COUNTIF, as ECMA-376 part 1, 18.17 has them (from memory).
    """

    def __init__(self, book):
        self.book = book
        self.known = {}
        self.names = {
            "at": self.value, "over": self.over, "SUM": self.sum, "COUNT": self.count, "SUMIF": self.sum_if,
            "AND": lambda *all_: all(all_), "OR": lambda *all_: any(all_), "D": Decimal,
            "ISNUMBER": lambda v: isinstance(v, Decimal), "ISTEXT": lambda v: isinstance(v, str),
            "IF": lambda test, yes, no: yes if test else no, "MAX": max,
            "ROUNDUP": lambda v, n: v.quantize(Decimal(1).scaleb(-int(n)), ROUND_UP),
            "COUNTA": lambda values: Decimal(sum(v is not None for v in values)),
            "COUNTIF": lambda values, word: Decimal(values.count(word)),
            "ROUND": lambda v, n: v.quantize(Decimal(1).scaleb(-int(n)), ROUND_HALF_UP),
        }  # fmt: skip

    def value(self, sheet, address):
        address = address.replace("$", "")
        if (sheet, address) not in self.known:
            self.known[sheet, address] = self.reckoned(sheet, self.book[sheet][address])
        return self.known[sheet, address]

    def reckoned(self, sheet, cell):
        if cell.data_type == "f":
            return eval(self.python(cell.value[1:], sheet), {"__builtins__": {}, **self.names})  # our own formulas
        return Decimal(str(cell.value)) if isinstance(cell.value, int | float) else cell.value

    def python(self, formula, sheet):
        if formula.startswith("IF("):
            test, yes, no = (self.python(part, sheet) for part in branches(formula[3:-1]))
            return f"({yes}) if ({test}) else ({no})"
        parts = re.split(r'("[^"]*")', formula)
        return "".join(p if p.startswith('"') else self.names_and_numbers(p, sheet) for p in parts)

    def names_and_numbers(self, text, sheet):
        def cell(match):
            where, first, last = match.group(1) or sheet, match.group(2), match.group(3)
            return f"over({where!r},{first!r},{last!r})" if last else f"at({where!r},{first!r})"

        text = re.sub(r"(?:(\w+)!)?(\$?[A-Z]+\$?\d+)(?::(\$?[A-Z]+\$?\d+))?", cell, text)
        text = re.sub(r"(?<![\w'.$])(\d+(?:\.\d+)?)(?![\w'])", r"D('\1')", text)
        return text.replace("=", "==")

    def over(self, sheet, first, last):
        return [self.value(sheet, cell.coordinate) for row in self.book[sheet][f"{first}:{last}"] for cell in row]

    def sum(self, values):
        return sum((v for v in values if isinstance(v, Decimal)), Decimal(0))

    def count(self, values):
        return Decimal(sum(isinstance(v, Decimal) for v in values))

    def sum_if(self, keys, key, values):
        return self.sum([v for k, v in zip(keys, values, strict=True) if k == key])


def branches(inside):
    """Test, yes and no of an IF, parted at the commas that stand in no bracket and no quotes."""
    depth, quoted, parts = 0, False, [""]
    for letter in inside:
        quoted ^= letter == '"'
        depth += 0 if quoted else (letter == "(") - (letter == ")")
        if letter == "," and depth == 0 and not quoted:
            parts.append("")
        else:
            parts[-1] += letter
    return parts


SUMS = ("Materials", "Mark-up", "Labour", "Total without tax", "Tax", "Total with tax", "Is the total complete?")


def totals_in(book):
    sheets = Sheets(book)
    labels = {row[0].value: row[1].coordinate for row in book["Totals"].iter_rows(min_row=2)}
    return {name: sheets.value("Totals", labels[name]) for name in SUMS}


def expected(taken):
    t = taken.totals
    values = (t.materials, t.markup, t.labour, t.net, t.tax, t.gross, "complete" if t.complete else "incomplete")
    return dict(zip(SUMS, values, strict=True))


@pytest.fixture(scope="module", params=some(SOME_DEMOS, 3), ids=lambda p: p.stem)
def demo(request):
    return open_kitchen(request.param)


class TestWorkbook:
    def test_live_formulas_give_the_same_totals(self, demo):
        taken = estimate(demo)
        assert totals_in(workbook(taken)) == expected(taken)

    def test_a_changed_price_totals_again(self):
        kitchen, demo_book = small_kitchen(), demo_prices()
        book = workbook(estimate(kitchen))
        sheet = book["Takeoff"]
        row = next(r for r in range(2, sheet.max_row + 1) if sheet.cell(r, 1).value == "hinge")
        sheet.cell(row, 11).value = 7.77
        dearer = {**demo_book.prices, "hinge": replace(demo_book.prices["hinge"], price=Decimal("7.77"))}
        again = estimate(kitchen, PriceBook(demo_book.name, "", "EUR", dearer))
        assert totals_in(book) == expected(again)

    def test_changed_markup_and_rate_total_again(self):
        book = workbook(estimate(small_kitchen(), terms=terms()))
        labels = {row[0].value: row[1] for row in book["Totals"].iter_rows(min_row=2)}
        labels["Mark-up on materials, % of cost"].value = 7.5
        assert totals_in(book) == expected(estimate(small_kitchen(), terms=terms(7.5)))
        labels["Hourly rate"].value = 96
        assert totals_in(book)["Labour"] == Decimal("833.13")  # twice 416.56, but 6.48 min are 10.37

    def test_what_is_measured_decides_the_packs(self):
        """61 screws with a tenth more are one box of 200; 400 are 440, three boxes. A plan's lengths stay as they
        are up to what they hold, 2.4 m, and become more beyond."""
        book = workbook(estimate(small_kitchen()))
        sheet = book["Takeoff"]
        rows = {sheet.cell(r, 1).value: r for r in range(2, sheet.max_row + 1)}
        screws, top = rows["screw.4x30"], rows["pf38.600.2400"]
        for measured, packs in ((61, 1), (400, 3)):
            sheet.cell(screws, 4).value = measured
            assert Sheets(book).value("Takeoff", f"F{screws}") == packs
        for measured, packs in ((1.0, 1), (2.38, 1), (2.5, 2), (4.9, 3)):
            sheet.cell(top, 4).value = measured
            assert Sheets(book).value("Takeoff", f"F{top}") == packs
        assert sheet.cell(top, 21).value.startswith("a cutting plan: 1,")

    def test_formulas_are_protected_and_all_else_may_be_typed_over(self):
        book = workbook(estimate(small_kitchen()))
        for name in ("Takeoff", "Labour", "Totals"):
            assert book[name].protection.sheet
            assert book[name].protection.password is None
            cells = [cell for row in book[name].iter_rows(min_row=2) for cell in row]
            assert [c.coordinate for c in cells if c.protection.locked != (c.data_type == "f")] == []

    def test_missing_price_is_a_cell_to_fill_in_and_the_total_incomplete(self):
        rest = {c: p for c, p in demo_prices().prices.items() if c != "hinge"}
        taken = estimate(small_kitchen(), PriceBook("mine.csv", "", "EUR", rest))
        book = workbook(taken)
        assert totals_in(book) == expected(taken)
        texts = [row[1].value for row in book["Totals"].iter_rows(min_row=2)]
        assert "hinge: no price in mine.csv" in texts
        assert totals_in(book)["Is the total complete?"] == "incomplete"

    def test_sheets_headers_and_widths(self):
        book = workbook(estimate(small_kitchen()))
        assert book.sheetnames == ["Takeoff", "Labour", "Totals", "How counted", "Where from"]
        for sheet in book:
            assert sheet.freeze_panes == "A2"
            assert all(cell.font.bold for cell in sheet[1])
            assert all(sheet.column_dimensions[c.column_letter].width >= 6 for c in sheet[1])

    def test_last_rows_are_the_sums_of_their_columns(self, demo):
        taken = estimate(demo)
        book = workbook(taken)
        sheets, t = Sheets(book), taken.totals
        last = {name: book[name].max_row for name in ("Takeoff", "Labour")}
        found = [sheets.value("Takeoff", f"{letter}{last['Takeoff']}") for letter in "NO"]
        assert found == [t.materials, t.markup]
        taxes = {"Takeoff": "R", "Labour": "J"}
        assert sum(sheets.value(name, f"{letter}{last[name]}") for name, letter in taxes.items()) == t.tax
        assert sheets.value("Labour", f"H{last['Labour']}") == t.labour

    def test_options_stand_beside_with_every_line_that_differs(self):
        kitchens = [small_kitchen(worktop={"stock": "pf38.600", "decor": d}) for d in ("pale-oak", "rain-slate")]
        found = compare(*(estimate(kitchen) for kitchen in kitchens))
        none = compare(found.before, found.before)
        book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(found.before, {"=Slate": found, "As it is": none})))
        sheet, sheets = book["Options"], Sheets(book)
        rows = [row for row in sheet.iter_rows(min_row=2) if row[1].value]
        *rows, travel, way = rows  # what follows from work on site stands there too
        assert [travel[1].value, way[1].value] == ["work travel", "work distance"]
        assert [row[1].value for row in rows] == [line.code for line in found.changed]
        assert {(row[0].value, row[0].data_type, row[0].quotePrefix) for row in rows} == {("=Slate", "s", True)}
        sums = [row[9].coordinate for row in sheet.iter_rows(min_row=2) if not row[1].value]
        assert [sheets.value("Options", cell) for cell in sums] == [found.gross, 0]
        more = [line.net + line.tax for line in found.changed]
        assert [sheets.value("Options", row[9].coordinate) for row in rows] == more
        assert sum(more) == found.gross != 0

    def test_where_from_lists_every_contribution(self, demo):
        taken = estimate(demo)
        found = [tuple(c.value for c in row[:3:2]) for row in workbook(taken)["Where from"].iter_rows(min_row=2)]
        assert found == [(q.item, taken.marks.get(c.id, c.id)) for q in taken.quantities for c in q.contributions]

    @pytest.mark.parametrize("text", RISKY)
    @pytest.mark.slow
    def test_text_from_a_user_stays_text(self, text):
        taken = replace(estimate(small_kitchen()), kitchen=text, note=text, price_note=text, price_book=text)
        cells = [row[1] for row in workbook(taken)["Totals"].iter_rows(min_row=2, max_row=5)]
        assert all(c.data_type == "s" and c.quotePrefix for c in cells)
        assert cells[0].value.strip() == text.strip()

    def test_only_our_own_formulas_are_formulas(self):
        taken = estimate(small_kitchen(kitchen="=1+1", note="@x"))
        formulas = {c.value for sheet in workbook(taken) for row in sheet for c in row if c.data_type == "f"}
        assert all(OUR_FORMULAS.match(f) for f in formulas)


class TestCsv:
    @pytest.mark.parametrize("text", RISKY)
    def test_text_from_a_user_stays_text(self, text):
        taken = replace(estimate(small_kitchen()), kitchen=text, note=text)
        first = rows_of(taken)[0]
        for cell in (first["description"], first["note"]):
            assert cell.startswith("'")
            assert not {"\t", "\r", "\n"} & set(cell)

    def test_no_cell_begins_like_a_formula(self, demo):
        for row in rows_of(estimate(demo)):
            assert not [v for v in row.values() if v and v.lstrip()[:1] in "=+-@"]

    def test_one_header_and_every_line(self, demo):
        taken = estimate(demo)
        rows = rows_of(taken)
        assert tuple(rows[0]) == COLUMNS
        kinds = [r["kind"] for r in rows]
        assert kinds.count("material") == len(taken.materials)
        assert kinds.count("labour") == len(taken.labour)
        assert kinds.count("caution") == len(taken.cautions) > 0
        assert kinds.count("not counted") == len(taken.not_counted) > 0

    def test_incomplete_total_says_so(self):
        taken = estimate(small_kitchen(), PriceBook("mine.csv", "", "EUR", {}))
        rows = rows_of(taken)
        assert [r["description"] for r in rows if r["kind"] == "total"][-1] == "total with tax, incomplete"
        assert len([r for r in rows if r["kind"] == "missing"]) == len(taken.missing) > 20
        assert {r["price"] for r in rows if r["kind"] == "material"} == {"no price"}

    def test_unknown_order_is_not_zero(self):
        taken = estimate(small_kitchen(), consumables={})
        rows = {r["code"]: r for r in rows_of(taken)}
        assert rows["sealer"]["packs"] == rows["sealer"]["ordered"] == "unknown"
        assert rows["sealer"]["cost"] == ""


class TestJson:
    def test_is_plain_data_with_stable_keys(self, demo):
        data = as_json(estimate(demo))
        assert json.loads(json.dumps(data)) == data
        assert list(data) == [
            "kitchen", "note", "tops_from", "prices", "quantities", "worktops", "boards", "labour", "totals",
            "complete", "estimate", "missing", "masses", "cautions", "not_counted",
        ]  # fmt: skip
        assert list(data["quantities"][0]) == [
            "item", "description", "group", "unit", "measured", "allowance", "pack", "pack_name", "packs",
            "ordered", "surplus", "decor", "supplier", "price", "charge", "formula", "rule", "source", "note",
            "pieces", "missing", "from",
        ]  # fmt: skip

    def test_money_is_text_with_cents(self):
        data = as_json(estimate(small_kitchen()))
        assert data["totals"]["materials"] == "1107.84"
        assert data["totals"]["labour"] == "540.16"

    def test_unknown_is_null(self):
        data = as_json(estimate(small_kitchen(), consumables={}))
        sealer = next(q for q in data["quantities"] if q["item"] == "sealer")
        assert sealer["packs"] is sealer["ordered"] is sealer["charge"] is None
        assert sealer["missing"] == "sealer: no article 'sealer' in the catalogue"


@pytest.mark.parametrize("text", ["2 x 600", "a=b", "'quoted", "hob - electric", ""])
def test_harmless_text_is_left_alone(text):
    assert safe(text) == text


def test_the_workbook_opens_the_same_in_another_reader():
    """calamine, a reader in Rust, shares nothing with the library that wrote it: sheets, words, kept totals."""
    taken = estimate(small_kitchen())
    raw = xlsx_bytes(taken)
    theirs = CalamineWorkbook.from_filelike(io.BytesIO(raw))
    ours = openpyxl.load_workbook(io.BytesIO(raw), data_only=True)
    assert theirs.sheet_names == ours.sheetnames
    seen = 0
    for name in ours.sheetnames:
        rows = theirs.get_sheet_by_name(name).to_python(skip_empty_area=False)
        for row in ours[name].iter_rows():
            for cell in row:
                if isinstance(cell.value, (int, float)) and not isinstance(cell.value, bool):
                    assert rows[cell.row - 1][cell.column - 1] == pytest.approx(cell.value)
                    seen += 1
                elif isinstance(cell.value, str):
                    assert rows[cell.row - 1][cell.column - 1] == cell.value
    assert seen > 100
    values = [cell for row in theirs.get_sheet_by_name("Totals").to_python() for cell in row]
    assert float(taken.totals.gross) in values
