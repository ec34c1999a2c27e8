"""Workbook: a takeoff as XLSX whose amounts × prices and sums are live formulas, so that a changed price re-totals.

Sheets: Takeoff, Labour, Totals, Options where there are any, How counted, Where from. Mark-up or margin, the hourly
rate and the price of a kilometre are cells of Totals that the others refer to; a supplier's discount stands on each
line.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from decimal import Decimal

from openpyxl import Workbook
from openpyxl.styles import Alignment
from openpyxl.worksheet.worksheet import Worksheet

from countersunk.takeoff.counting.pricing import LabourLine, MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report.compare import Comparison
from countersunk.takeoff.report.comparison_sheet import add_comparisons
from countersunk.takeoff.report.sheets import AMOUNT, HEAD, MONEY, Live, Row, add_sheet, set_format
from countersunk.takeoff.stock.money import RULE

MATERIALS = {
    "Code": 21, "Description": 48, "Unit": 7, "Measured": 10, "Allowance": 10, "Packs": 7, "Pack": 25,
    "Pack holds": 8, "Ordered": 10, "Left over": 9, "Price": 9, "Listed": 10, "Discount %": 10, "Cost": 10,
    "Mark-up": 10, "Net": 10, "Tax %": 7, "Tax": 10, "Supplier": 24,
}  # fmt: skip
LABOUR = {
    "Code": 14, "Operation": 44, "Unit": 7, "Amount": 10, "Minutes each": 13, "People": 8, "Hours": 9, "Cost": 11,
    "Tax %": 7, "Tax": 10, "Note": 30,
}  # fmt: skip
HOW = {"Code": 21, "Description": 34, "Formula": 60, "Note": 24, "Rule": 19, "Source": 60}
UPLIFT = {"markup": "Mark-up on materials, % of cost", "margin": "Margin on materials, % of price"}
TOTALS = {"What": 34, "Value": 70}
WHERE = {"Code": 20, "Description": 34, "From": 22, "Amount": 9, "Unit": 7, "Rule": 18}

MARKUP_CELL, RATE_CELL, KM_CELL = "Totals!$B$7", "Totals!$B$8", "Totals!$B$9"
"""Where `_totals_rows` puts the figures that every line depends on."""


def xlsx_bytes(takeoff: Takeoff, options: Mapping[str, Comparison] | None = None) -> bytes:
    """The whole workbook; ``options`` by name, each compared with ``takeoff``."""
    book = _empty()
    _add_materials(book, takeoff)
    _add_labour(book, takeoff)
    _add_totals(book, takeoff)
    if options:
        add_comparisons(book, "Options", options)
    add_sheet(book, "How counted", HOW, _how_rows(takeoff))
    set_format(add_sheet(book, "Where from", WHERE, _where_rows(takeoff)), AMOUNT, "D")
    return _saved(book)


def comparison_bytes(name: str, comparison: Comparison) -> bytes:
    """A workbook of the lines that differ between two versions."""
    book = _empty()
    add_comparisons(book, "Differences", {name: comparison})
    return _saved(book)


def _empty() -> Workbook:
    book = Workbook()
    for sheet in list(book):
        book.remove(sheet)
    return book


def _saved(book: Workbook) -> bytes:
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def _add_materials(book: Workbook, takeoff: Takeoff) -> None:
    last = len(takeoff.materials) + 1
    sums = {"A": "Together", **{letter: f"=SUM({letter}2:{letter}{last})" for letter in "LNOPR"}}
    sheet = add_sheet(book, "Takeoff", MATERIALS, _material_rows(takeoff), sums)
    set_format(sheet, MONEY, "KLNOPR")
    set_format(sheet, AMOUNT, "DEHIJ")


def _add_labour(book: Workbook, takeoff: Takeoff) -> None:
    last = len(takeoff.labour) + 1
    rows = [_labour_row(line, row) for row, line in enumerate(takeoff.labour, start=2)]
    sums = {"A": "Together", **{letter: f"=SUM({letter}2:{letter}{last})" for letter in "GHJ"}}
    sheet = add_sheet(book, "Labour", LABOUR, rows, sums)
    set_format(sheet, MONEY, "HJ")
    set_format(sheet, AMOUNT, "DEG")


def _add_totals(book: Workbook, takeoff: Takeoff) -> None:
    sheet = add_sheet(book, "Totals", TOTALS, _totals_rows(takeoff))
    set_format(sheet, MONEY, "B")
    _set_totals(sheet)


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
        line.paid,
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
    rows += [["Tops", takeoff.tops_from]] if takeoff.tops_from else []
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
        [q.item, q.description, takeoff.marks.get(c.id, c.id), round(c.amount, 6), q.unit, q.rule]
        for q in takeoff.quantities
        for c in q.contributions
    ]


def _set_totals(sheet: Worksheet) -> None:
    """Figures beside their words, and the last sum stands out."""
    for name, value in sheet.iter_rows(min_row=2, max_col=2):
        value.alignment = Alignment(vertical="top", horizontal="left", wrap_text=True)
        if name.value == "Total with tax":
            name.font = value.font = HEAD
