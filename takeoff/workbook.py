"""Workbook: a takeoff as XLSX whose amounts × prices and sums are live formulas, so that a changed price re-totals.

Sheets: Takeoff, Labour, Totals, How counted, Where from. Mark-up or margin, the hourly rate and the price of a
kilometre are cells of Totals that the others refer to; a supplier's discount stands on each line.
What comes from a user is always written as text, whatever it begins with.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from decimal import Decimal

from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from takeoff.money import RULE
from takeoff.quote import LabourLine, MaterialLine
from takeoff.takeoff import Takeoff
from takeoff.texts import is_risky, plain

MONEY, AMOUNT = "0.00", "0.###"
HEAD, WASH = Font(name="Calibri", size=11, bold=True), PatternFill("solid", fgColor="F0E9DF")
A4 = 9
"""The number that the file format has for it (ECMA-376 part 1, 18.3.1.63, from memory)."""
LINE_HEIGHT = 15.0
"""Points; rows are set as high as their text, since not every program does so by itself."""
WIDE = 110
"""Columns wider than this together, in characters, are printed across."""

Value = str | float | int | Decimal | None
Row = Sequence["Value | Live"]


class Live:
    """A formula; nothing else is ever written as one."""

    def __init__(self, formula: str) -> None:
        self.formula = formula


MATERIALS = {
    "Code": 16, "Description": 38, "Unit": 7, "Measured": 10, "Allowance": 10, "Packs": 7, "Pack": 22,
    "Pack holds": 9, "Ordered": 9, "Left over": 9, "Price": 9, "Listed": 9, "Discount %": 10, "Cost": 9,
    "Mark-up": 9, "Net": 9, "Tax %": 7, "Tax": 9, "Supplier": 22,
}  # fmt: skip
LABOUR = {
    "Code": 14, "Operation": 44, "Unit": 7, "Amount": 10, "Minutes each": 13, "People": 8, "Hours": 9, "Cost": 11,
    "Tax %": 7, "Tax": 10, "Note": 30,
}  # fmt: skip
HOW = {"Code": 16, "Description": 34, "Formula": 60, "Note": 26, "Rule": 14, "Source": 60}
UPLIFT = {"markup": "Mark-up on materials, % of cost", "margin": "Margin on materials, % of price"}
TOTALS = {"What": 34, "Value": 70}
WHERE = {"Code": 20, "Description": 44, "From": 28, "Amount": 12, "Unit": 7, "Rule": 14}

MARKUP_CELL, RATE_CELL, KM_CELL = "Totals!$B$7", "Totals!$B$8", "Totals!$B$9"
"""Where `_totals_rows` puts the figures that every line depends on."""


def xlsx_bytes(takeoff: Takeoff) -> bytes:
    """The whole workbook."""
    book = Workbook()
    first = book.active
    if first is not None:
        book.remove(first)
    _sheet(book, "Takeoff", MATERIALS, _material_rows(takeoff))
    _sheet(book, "Labour", LABOUR, [_labour_row(w, r) for r, w in enumerate(takeoff.labour, start=2)])
    _sheet(book, "Totals", TOTALS, _totals_rows(takeoff))
    _sheet(book, "How counted", HOW, _how_rows(takeoff))
    _sheet(book, "Where from", WHERE, _where_rows(takeoff))
    _formats(book)
    _set_totals(book["Totals"])
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _sheet(book: Workbook, title: str, columns: dict[str, int], rows: Sequence[Row]) -> None:
    """A sheet with a header that stays in view and columns wide enough to read."""
    sheet = book.create_sheet(title)
    _set_page(sheet, landscape=sum(columns.values()) > WIDE)
    for column, (name, width) in enumerate(columns.items(), start=1):
        head = sheet.cell(1, column, name)
        head.font, head.fill, head.alignment = HEAD, WASH, Alignment(vertical="top", wrap_text=True)
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.row_dimensions[1].height = 2 * LINE_HEIGHT
    sheet.freeze_panes = "A2"
    for number, row in enumerate(rows, start=2):
        for column, value in enumerate(row, start=1):
            _put(sheet, number, column, value)
        sheet.row_dimensions[number].height = LINE_HEIGHT * _lines(row, list(columns.values()))


def _lines(row: Row, widths: Sequence[int]) -> int:
    """How many lines the longest text of a row takes, with some room to break between words."""
    texts = [(len(value), width) for value, width in zip(row, widths, strict=True) if isinstance(value, str)]
    return max((math.ceil(size * 1.1 / width) for size, width in texts if size > width), default=1)


def _set_page(sheet: Worksheet, *, landscape: bool) -> None:
    """As wide as one A4 page, as many pages as it takes, the header on each."""
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    sheet.page_setup.paperSize = A4
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.print_title_rows = "1:1"
    sheet.print_options.gridLines = True
    sheet.page_margins = PageMargins(left=0.5, right=0.5, top=0.6, bottom=0.7)
    if sheet.oddFooter is not None:  # there always is one; its type does not know
        sheet.oddFooter.left.text, sheet.oddFooter.right.text = "&A", "&P / &N"


def _put(sheet: Worksheet, row: int, column: int, value: Value | Live) -> None:
    """Write one cell. Text stays text: its type is set, and what looks like a formula is marked as quoted."""
    cell = sheet.cell(row, column)
    if isinstance(value, str):
        text = plain(value)
        cell.value = text
        cell.data_type = "s"
        cell.quotePrefix = is_risky(text)
        cell.alignment = Alignment(vertical="top", wrap_text=True)
    else:
        cell.value = value.formula if isinstance(value, Live) else value
        cell.alignment = Alignment(vertical="top", horizontal="right")


def _material_rows(takeoff: Takeoff) -> list[Row]:
    kind = takeoff.totals.uplift.kind
    return [_material_row(line, row, kind) for row, line in enumerate(takeoff.materials, start=2)]


def _material_row(line: MaterialLine, row: int, kind: str) -> Row:
    q, known = line.quantity, line.charge is not None
    return [
        q.item,
        q.description,
        q.unit,
        round(q.net, 6),
        round(q.allowance, 6),
        q.packs,
        q.pack_name,
        q.pack,
        Live(f'=IF(AND(ISNUMBER(F{row}),ISNUMBER(H{row})),F{row}*H{row},"unknown")'),
        Live(f'=IF(ISNUMBER(I{row}),I{row}-D{row}-E{row},"unknown")'),
        line.price.price if known and line.price else None,
        Live(f'=IF(AND(ISNUMBER(F{row}),ISNUMBER(K{row})),ROUND(F{row}*K{row},2),"no price")'),
        line.discount,
        Live(f'=IF(ISNUMBER(L{row}),L{row}-ROUND(L{row}*M{row}/100,2),"no price")'),
        Live(f'=IF(ISNUMBER(N{row}),{_uplift(kind, f"N{row}")},"no price")'),
        Live(f'=IF(ISNUMBER(N{row}),N{row}+O{row},"no price")'),
        line.charge.rate if line.charge else None,
        Live(f'=IF(AND(ISNUMBER(P{row}),ISNUMBER(Q{row})),ROUND(P{row}*Q{row}/100,2),"no tax rate")'),
        line.supplier,
    ]


def _uplift(kind: str, cost: str) -> str:
    """What is added to the cost: a share of the cost, or as much as makes it a share of the price."""
    if kind == "markup":
        return f"ROUND({cost}*{MARKUP_CELL}/100,2)"
    return f"ROUND({cost}*100/(100-{MARKUP_CELL}),2)-{cost}"


def _labour_row(line: LabourLine, row: int) -> Row:
    work = line.work
    by_km = work.unit == "km"
    rate, cost = (KM_CELL, f"D{row}*{KM_CELL}") if by_km else (RATE_CELL, f"D{row}*E{row}*F{row}*{RATE_CELL}/60")
    return [
        work.code,
        work.name,
        work.unit,
        work.amount,
        work.minutes_each,
        work.people,
        Live(f"=D{row}*E{row}*F{row}/60"),
        Live(f'=IF(ISNUMBER({rate}),ROUND({cost},2),"no price")'),
        line.charge.rate if line.charge else None,
        Live(f'=IF(AND(ISNUMBER(H{row}),ISNUMBER(I{row})),ROUND(H{row}*I{row}/100,2),"no tax rate")'),
        line.missing,
    ]


def _totals_rows(takeoff: Takeoff) -> list[Row]:
    """Sums of the other sheets. The figures in `MARKUP_CELL`, `RATE_CELL` and `KM_CELL` may be changed."""
    totals = takeoff.totals
    bought, worked = len(takeoff.materials) + 1, len(takeoff.labour) + 1
    charged = f"COUNT(Takeoff!R2:R{bought})+COUNT(Labour!J2:J{worked})"
    count = len(takeoff.materials) + len(takeoff.labour)
    rows: list[Row] = [
        ["Kitchen", takeoff.kitchen],
        ["Note", takeoff.note],
        ["Price book", takeoff.price_book],
        ["About the prices", takeoff.price_note],
        ["Currency", totals.currency],
        [UPLIFT[totals.uplift.kind], totals.uplift.rate],
        ["Hourly rate", totals.hourly_rate],
        ["Price of a kilometre", totals.kilometre],
        ["Listed by suppliers", Live(f"=SUM(Takeoff!L2:L{bought})")],
        ["Discounts of suppliers", Live("=B10-B12")],
        ["Materials", Live(f"=SUM(Takeoff!N2:N{bought})")],
        ["Mark-up", Live(f"=SUM(Takeoff!O2:O{bought})")],
        ["Mark-up as % of cost", Live("=IF(B12=0,0,B13/B12*100)")],
        ["Mark-up as % of price (margin)", Live("=IF(B12=0,0,B13/(B12+B13)*100)")],
        ["Labour", Live(f"=SUM(Labour!H2:H{worked})")],
        ["Total without tax", Live("=B12+B13+B16")],
        ["Tax", Live(f"=SUM(Takeoff!R2:R{bought})+SUM(Labour!J2:J{worked})")],
        ["Total with tax", Live("=B17+B18")],
        ["How it is rounded", RULE],
        ["Is the total complete?", Live(f'=IF({charged}={count},"complete","incomplete")')],
    ]
    rows += [[f"Of the tax, at {t.rate:f} %", Live(_at_rate(t.rate, bought, worked))] for t in totals.taxes]
    rows += [["Without a price", text] for text in takeoff.missing]
    rows += [["Caution", text] for text in takeoff.cautions]
    return rows + [["Not counted", f"{n.what}: {n.why}"] for n in takeoff.not_counted]


def _at_rate(rate: Decimal, bought: int, worked: int) -> str:
    materials = f"SUMIF(Takeoff!Q2:Q{bought},{rate:f},Takeoff!R2:R{bought})"
    return f"={materials}+SUMIF(Labour!I2:I{worked},{rate:f},Labour!J2:J{worked})"


def _how_rows(takeoff: Takeoff) -> list[Row]:
    """The formula in words and the sources of each line, apart from the money so that both can be printed."""
    bought: list[Row] = [
        [q.item, q.description, q.formula, line.notes, q.rule, q.source]
        for line in takeoff.materials
        for q in (line.quantity,)
    ]
    worked: list[Row] = [
        [line.work.code, line.work.name, line.work.formula, line.missing, "labour", line.work.source]
        for line in takeoff.labour
    ]
    return bought + worked


def _where_rows(takeoff: Takeoff) -> list[Row]:
    return [
        [q.item, q.description, c.id, round(c.amount, 6), q.unit, q.rule]
        for q in takeoff.quantities
        for c in q.contributions
    ]


def _set_totals(sheet: Worksheet) -> None:
    """Figures beside their words, and the last sum stands out."""
    for name, value in sheet.iter_rows(min_row=2, max_col=2):
        value.alignment = Alignment(vertical="top", horizontal="left", wrap_text=True)
        if name.value == "Total with tax":
            name.font = value.font = HEAD


def _formats(book: Workbook) -> None:
    """Two decimals for money, three at most for amounts."""
    money = {"Takeoff": "KLNOPR", "Labour": "HJ", "Totals": "B"}
    amounts = {"Takeoff": "DEHIJ", "Labour": "DEG", "Where from": "D"}
    for style, sheets in ((MONEY, money), (AMOUNT, amounts)):
        for title, letters in sheets.items():
            for letter in letters:
                for cell in book[title][letter][1:]:
                    cell.number_format = style
