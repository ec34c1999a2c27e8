"""Workbook: a takeoff as XLSX that an estimator works on: what is typed over re-totals all that hangs on it.

Sheets: Takeoff, Labour, Totals, Options where there are any, How counted, Where from. Below the lines of Takeoff
and Labour is room for lines of one's own, which are priced, taxed and counted as the others are. Mark-up or margin,
the hourly rate, the price of a kilometre, overhead and the least charge are cells of Totals. Formulas are protected
against slips, without a password.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from openpyxl.styles import Alignment
from openpyxl.worksheet.worksheet import Worksheet

from countersunk.takeoff.counting.labour import TERMS
from countersunk.takeoff.counting.pricing import LabourLine, MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report import line_formulas as formulas
from countersunk.takeoff.report.compare import Comparison
from countersunk.takeoff.report.comparison_sheet import add_comparisons
from countersunk.takeoff.report.options_sheet import LUMPS, Places, add_options
from countersunk.takeoff.report.sheets import AMOUNT, HEAD, MONEY, Book, Live, Row, add_sheet, protect, set_format
from countersunk.takeoff.stock.money import RULE

MATERIALS = {
    "Code": 21, "Description": 48, "Unit": 7, "Measured": 10, "Allowance": 10, "Packs": 7, "Pack": 25,
    "Pack holds": 8, "Ordered": 10, "Left over": 9, "Price": 9, "Listed": 10, "Discount %": 10, "Cost": 10,
    "Mark-up": 10, "Net": 10, "Tax %": 7, "Tax": 10, "Supplier": 24, "Allowance %": 10, "Packs follow from": 52,
}  # fmt: skip
LABOUR = {
    "Code": 14, "Operation": 44, "Unit": 7, "Amount": 10, "Minutes each": 13, "People": 8, "Hours": 9, "Cost": 11,
    "Tax %": 7, "Tax": 10, "Note": 30, "Where": 10,
}  # fmt: skip
HOW = {"Code": 21, "Description": 34, "Formula": 60, "Note": 24, "Rule": 19, "Source": 60}
UPLIFT = {"markup": "Mark-up on materials, % of cost", "margin": "Margin on materials, % of price"}
TOTALS = {"What": 34, "Value": 70}
WHERE = {"Code": 20, "Description": 34, "From": 22, "Amount": 9, "Unit": 7, "Rule": 18}

OWN_MATERIALS, OWN_LABOUR = 20, 10
"""Rows for lines of one's own."""
OWN_LINE = "a line of your own"


def xlsx_bytes(takeoff: Takeoff, options: Mapping[str, Comparison] | None = None) -> bytes:
    """The whole workbook; ``options`` by name, each compared with ``takeoff``."""
    book, places = Book(), _places(takeoff)
    _add_materials(book, takeoff, places)
    _add_labour(book, takeoff, places)
    _add_totals(book, takeoff, places)
    if options:
        protect(add_options(book, takeoff, places, options))
    add_sheet(book, "How counted", HOW, _how_rows(takeoff))
    set_format(add_sheet(book, "Where from", WHERE, _where_rows(takeoff)), AMOUNT, "D")
    book.show_money_as(takeoff.money.workbook)
    return book.saved()


def comparison_bytes(name: str, comparison: Comparison) -> bytes:
    """A workbook of the lines that differ between two versions."""
    book = Book()
    add_comparisons(book, "Differences", {name: comparison})
    return book.saved()


def _places(takeoff: Takeoff) -> Places:
    """Lines first, then room for one's own, then what is reckoned from all of them."""
    bought = [line for line in takeoff.materials if line.quantity.item not in LUMPS]
    lumps = [line for line in takeoff.materials if line.quantity.item in LUMPS]
    rows = {line.quantity: row for row, line in enumerate(bought, start=2)}
    first_lump = len(bought) + OWN_MATERIALS + 2
    rows |= {line.quantity: row for row, line in enumerate(lumps, start=first_lump)}
    done = [line.work for line in takeoff.labour if line.work.source != TERMS]
    road = [line.work for line in takeoff.labour if line.work.source == TERMS]
    work = {each: row for row, each in enumerate(done, start=2)}
    first_road = len(done) + OWN_LABOUR + 2
    work |= {each: row for row, each in enumerate(road, start=first_road)}
    return Places(rows, work, first_lump + len(lumps) - 1, first_road - 1, first_road + len(road) - 1)


def _add_materials(book: Book, takeoff: Takeoff, places: Places) -> None:
    t, charges = takeoff.totals, [line.charge for line in takeoff.materials if line.charge]
    known = {
        "L": t.materials + t.discount, "N": t.materials, "O": t.markup, "P": t.materials + t.markup,
        "R": sum((c.tax for c in charges), Decimal(0)),
    }  # fmt: skip
    sums = {letter: Live(f"=SUM({letter}2:{letter}{places.last})", value) for letter, value in known.items()}
    rows = _material_rows(takeoff, places)
    sheet = add_sheet(book, "Takeoff", MATERIALS, rows, {"A": "Together", **sums})
    set_format(sheet, MONEY, "KLNOPR")
    set_format(sheet, AMOUNT, "DEHIJ")
    protect(sheet)


def _add_labour(book: Book, takeoff: Takeoff, places: Places) -> None:
    lines = {places.work[line.work]: line for line in takeoff.labour}
    rows = [
        _labour_row(takeoff, lines[row], row, places) if row in lines else _own_work(row)
        for row in range(2, places.last_work + 1)
    ]
    charges = [line.charge for line in takeoff.labour if line.charge]
    minutes = sum((line.work.minutes for line in takeoff.labour), Decimal(0))
    known = {"G": minutes / 60, "H": takeoff.totals.labour, "J": sum((c.tax for c in charges), Decimal(0))}
    sums = {letter: Live(f"=SUM({letter}2:{letter}{places.last_work})", value) for letter, value in known.items()}
    sheet = add_sheet(book, "Labour", LABOUR, rows, {"A": "Together", **sums})
    set_format(sheet, MONEY, "HJ")
    set_format(sheet, AMOUNT, "DEG")
    protect(sheet)


def _add_totals(book: Book, takeoff: Takeoff, places: Places) -> None:
    sheet = add_sheet(book, "Totals", TOTALS, _totals_rows(takeoff, places))
    set_format(sheet, MONEY, "B")
    _set_totals(sheet)
    protect(sheet)


def _material_rows(takeoff: Takeoff, places: Places) -> list[Row]:
    lines = {places.material[line.quantity]: line for line in takeoff.materials}
    kind = takeoff.totals.uplift.kind
    rows: list[Row] = []
    for row in range(2, places.last + 1):
        line = lines.get(row)
        if line is None:
            rows.append(_own_material(row, kind))
        elif line.quantity.item in LUMPS:
            rows.append(_lump_row(line, row, places))
        else:
            rows.append(_material_row(line, row, kind))
    return rows


def _material_row(line: MaterialLine, row: int, kind: str) -> Row:
    q, c = line.quantity, line.charge
    by_share = q.share is not None
    allowance = Live(f"=D{row}*T{row}/100", q.allowance) if by_share else q.allowance
    ordered: Live | float = 0.0
    left: Live | float = 0.0
    if not line.by_amount:
        known = q.ordered is not None
        ordered = Live(
            f'=IF(AND(ISNUMBER(F{row}),ISNUMBER(H{row})),F{row}*H{row},"unknown")',
            q.ordered if known else formulas.UNKNOWN,
        )
        left = Live(
            f'=IF(ISNUMBER(I{row}),MAX(0,ROUND(I{row}-D{row}-E{row},9)),"unknown")',
            q.surplus if known else formulas.UNKNOWN,
        )
    own = q.rule == "extras"
    uplift = Live(
        f'=IF(ISNUMBER(N{row}),{formulas.uplift(kind, f"N{row}")},"no price")', c.markup if c else formulas.NO_PRICE
    )
    return [
        q.item,
        q.description,
        q.unit,
        q.net,
        allowance,
        Live(
            f"={formulas.packs(line, f'D{row}', f'E{row}', f'H{row}')}",
            formulas.UNKNOWN if line.paid is None else line.paid,
        ),
        q.pack_name,
        q.pack,
        ordered,
        left,
        line.price.price if c and line.price else None,
        Live(f"={formulas.listed(f'F{row}', f'K{row}')}", c.listed if c else formulas.NO_PRICE),
        line.discount,
        Live(f"={formulas.cost(f'L{row}', f'M{row}')}", c.cost if c else formulas.NO_PRICE),
        0 if own else uplift,
        Live(f'=IF(ISNUMBER(N{row}),N{row}+O{row},"no price")', c.net if c else formulas.NO_PRICE),
        c.rate if c else None,
        Live(f"={formulas.tax(f'P{row}', f'Q{row}')}", c.tax if c else formulas.NO_TAX),
        line.supplier,
        round(100 * q.share, 9) if q.share is not None else "",
        formulas.packs_by(line),
    ]


def _own_material(row: int, kind: str) -> Row:
    """An empty row whose formulas come to life once something is typed: a pack holds 1 where nothing else is."""
    packs = formulas.rounded_up(f"D{row}+E{row}", f"IF(ISNUMBER(H{row}),H{row},1)")
    tax = formulas.tax(f"P{row}", f"Q{row}")
    return [
        None, None, None, None, None,
        Live(f'=IF(ISNUMBER(D{row}),{packs},"")', ""),
        None, None,
        Live(f'=IF(ISNUMBER(F{row}),F{row}*IF(ISNUMBER(H{row}),H{row},1),"")', ""),
        Live(f'=IF(ISNUMBER(I{row}),MAX(0,ROUND(I{row}-D{row}-E{row},9)),"")', ""),
        None,
        Live(f"={formulas.listed(f'F{row}', f'K{row}', '')}", ""),
        None,
        Live(f"={formulas.cost(f'L{row}', f'M{row}', '')}", ""),
        Live(f'=IF(ISNUMBER(N{row}),{formulas.uplift(kind, f"N{row}")},"")', ""),
        Live(f'=IF(ISNUMBER(N{row}),N{row}+O{row},"")', ""),
        None,
        Live(f'=IF(COUNTA(A{row}:E{row})+COUNTA(K{row}:K{row})=0,"",{tax})', ""),
        None, None, OWN_LINE,
    ]  # fmt: skip


def _lump_row(line: MaterialLine, row: int, places: Places) -> Row:
    """Overhead, or what is short of the least charge: on everything that stands above it and on labour."""
    c, overhead = line.charge, line.quantity.item == "overhead"
    sums = f"SUM(P2:P{row - 1})+SUM(Labour!H2:H{places.last_work})"
    price = formulas.with_overhead(sums) if overhead else formulas.up_to_least(sums)
    money = c.net if c else None
    return [
        line.quantity.item, lump_words(line), "each", 1, 0, 1, "", 1, 0, 0,
        Live(f"={price}", money), Live(f"=ROUND(F{row}*K{row},2)", money), 0, Live(f"=L{row}", money), 0,
        Live(f"=N{row}+O{row}", money), c.rate if c else None,
        Live(f"={formulas.tax(f'P{row}', f'Q{row}')}", c.tax if c else formulas.NO_TAX),
        line.supplier, "", "all other lines",
    ]  # fmt: skip


def lump_words(line: MaterialLine) -> str:
    """What it is, without the sum that it is reckoned from, which a workbook changes."""
    return "overhead on all lines" if line.quantity.item == "overhead" else "what is short of the least charge"


def _labour_row(takeoff: Takeoff, line: LabourLine, row: int, places: Places) -> Row:
    work, c = line.work, line.charge
    money = formulas.way(f"D{row}") if work.unit == "km" else formulas.work(f"D{row}", f"E{row}", f"F{row}")
    return [
        work.code,
        work.name,
        work.unit,
        Live(f"={places.way(takeoff, work, formulas.VISITS_CELL)}", work.amount)
        if work.source == TERMS
        else work.amount,
        work.minutes_each,
        work.people,
        Live(f"=D{row}*E{row}*F{row}/60", work.minutes / 60),
        Live(f"={money}", c.cost if c else formulas.NO_PRICE),
        c.rate if c else None,
        Live(f"={formulas.tax(f'H{row}', f'I{row}')}", c.tax if c else formulas.NO_TAX),
        line.missing,
        "the road" if work.source == TERMS else "site" if work.on_site else "workshop",
    ]


def _own_work(row: int) -> Row:
    """An empty row: one person where no number stands, at the hourly rate."""
    people = f"IF(ISNUMBER(F{row}),F{row},1)"
    money = formulas.work(f"D{row}", f"E{row}", people)
    tax = formulas.tax(f"H{row}", f"I{row}")
    return [
        None, None, None, None, None, None,
        Live(f'=IF(AND(ISNUMBER(D{row}),ISNUMBER(E{row})),D{row}*E{row}*{people}/60,"")', ""),
        Live(f'=IF(ISNUMBER(G{row}),{money},"")', ""),
        None,
        Live(f'=IF(COUNTA(A{row}:F{row})=0,"",{tax})', ""),
        OWN_LINE, None,
    ]  # fmt: skip


def _totals_rows(takeoff: Takeoff, places: Places) -> list[Row]:
    """Sums of the other sheets. The first figures stand where `line_formulas` says, and may be changed."""
    t, terms = takeoff.totals, takeoff.terms
    listed, costs, markups = (f"Takeoff!{letter}2:{letter}{places.last}" for letter in "LNO")
    taxes = f"Takeoff!R2:R{places.last}", f"Labour!J2:J{places.last_work}"
    lacking = "+".join(f'COUNTIF({where},"{formulas.NO_TAX}")' for where in taxes)
    lines = [*(line.charge for line in takeoff.materials), *(line.charge for line in takeoff.labour)]
    without = lines.count(None)
    sold, complete = t.materials + t.markup, "complete" if t.complete else "incomplete"
    rates = "+".join(f"B{27 + i}" for i in range(len(t.taxes))) or "0"
    rows: list[Row] = [
        ["Kitchen", takeoff.kitchen],
        ["Note", takeoff.note],
        ["Price book", takeoff.price_book],
        ["About the prices", takeoff.price_note],
        ["Currency", t.currency],
        [UPLIFT[t.uplift.kind], t.uplift.rate],
        ["Hourly rate", t.hourly_rate],
        ["Price of a kilometre", t.kilometre],
        ["Overhead, % of all lines", terms.overhead],
        ["Least charge, without tax", terms.least_charge],
        ["Visits to the site", places.visits(takeoff, places.hours_on_site)],
        ["Listed by suppliers", Live(f"=SUM({listed})", t.materials + t.discount)],
        ["Discounts of suppliers", Live("=B13-B15", t.discount)],
        ["Materials", Live(f"=SUM({costs})", t.materials)],
        ["Mark-up", Live(f"=SUM({markups})", t.markup)],
        ["Mark-up as % of cost", Live("=IF(B15=0,0,B16/B15*100)", _percent(t.markup, t.materials))],
        ["Mark-up as % of price (margin)", Live("=IF(B15=0,0,B16/(B15+B16)*100)", _percent(t.markup, sold))],
        ["Labour", Live(f"=SUM(Labour!H2:H{places.last_work})", t.labour)],
        ["Total without tax", Live("=B15+B16+B19", t.net)],
        ["Tax", Live(f"=SUM({taxes[0]})+SUM({taxes[1]})", t.tax)],
        ["Total with tax", Live("=B20+B21", t.gross)],
        ["How it is rounded", RULE],
        ["Lines with a price", Live(f"=COUNT({taxes[0]})+COUNT({taxes[1]})", len(lines) - without)],
        ["Lines without a price or tax rate", Live(f"={lacking}", without)],
        ["Is the total complete?", Live('=IF(B25=0,"complete","incomplete")', complete)],
    ]  # fmt: skip
    rows += [[f"Of the tax, at {x.rate:f} %", Live(_at_rate(x.rate, places), x.tax)] for x in t.taxes]
    rows += [["Of the tax, at other rates", Live(f"=ROUND(B21-({rates}),2)", 0)]]
    rows += [["Tops", takeoff.tops_from]] if takeoff.tops_from else []
    rows += [["Without a price", text] for text in takeoff.missing]
    rows += [["Caution", text] for text in takeoff.cautions]
    return rows + [["Not counted", f"{n.what}: {n.why}"] for n in takeoff.not_counted]


def _percent(part: Decimal, whole: Decimal) -> Decimal:
    return 100 * part / whole if whole else Decimal(0)


def _at_rate(rate: Decimal, places: Places) -> str:
    bought, worked = places.last, places.last_work
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
