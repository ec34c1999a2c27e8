"""Sheets: how every sheet of the workbook looks and is printed, and the one way in which a cell is written.

What comes from a user is always written as text, whatever it begins with; only a `Live` is a formula. A book holds
what its formulas come to as well, so that readers who reckon nothing, as many viewers do, show the same figures.
"""

from __future__ import annotations

import io
import math
import re
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from xml.sax.saxutils import escape

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from countersunk.takeoff.stock.texts import is_risky, plain

MONEY, AMOUNT = "#,##0.00", "#,##0.###"
HEAD, WASH = Font(name="Calibri", size=11, bold=True), PatternFill("solid", fgColor="F0E9DF")
OVER_SUM = Border(top=Side("thin"))
A4 = 9
"""The number that the file format has for it (ECMA-376 part 1, 18.3.1.63, from memory)."""
LINE_HEIGHT = 15.0
"""Points; rows are set as high as their text, since not every program does so by itself."""
WIDE = 110
"""Columns wider than this together, in characters, are printed across."""

INPUT = PatternFill("solid", fgColor="FFFBEA")
"""Figures that may be changed."""
FORMULA = re.compile(r'<c r="([A-Z]+[0-9]+)"([^>]*)>(<f>[^<]*</f>)<v ?/?>(?:</v>)?</c>')
"""A cell with a formula and no value, as openpyxl writes it."""

Value = str | float | int | Decimal | None
Row = Sequence["Value | Live"]


class Live:
    """A formula and what it comes to; nothing else is ever written as a formula."""

    def __init__(self, formula: str, value: Value) -> None:
        self.formula = formula
        self.value = value


class Book(Workbook):
    """A workbook without sheets that knows what its formulas come to, by sheet and cell."""

    def __init__(self) -> None:
        super().__init__()
        for sheet in list(self):
            self.remove(sheet)
        self.values: dict[tuple[str, str], Value] = {}

    def show_money_as(self, style: str) -> None:
        """Every cell of money in the number format ``style``."""
        for cell in (cell for sheet in self for row in sheet.iter_rows() for cell in row):
            if cell.number_format == MONEY:
                cell.number_format = style

    def saved(self) -> bytes:
        """The whole file, with every formula and its value."""
        stream = io.BytesIO()
        self.save(stream)
        names = {f"xl/worksheets/sheet{i}.xml": sheet.title for i, sheet in enumerate(self.worksheets, start=1)}
        made = io.BytesIO()
        with zipfile.ZipFile(stream) as book, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as out:
            for item in book.infolist():
                raw = book.read(item)
                out.writestr(item, self._with_values(raw, names[item.filename]) if item.filename in names else raw)
        return made.getvalue()

    def _with_values(self, raw: bytes, title: str) -> bytes:
        def cell(found: re.Match[str]) -> str:
            place, style, formula = found.groups()
            value = self.values[title, place]
            kind = ' t="str"' if isinstance(value, str) else ""
            return f'<c r="{place}"{style}{kind}>{formula}<v>{escape(str(value))}</v></c>'

        return FORMULA.sub(cell, raw.decode()).encode()


def add_sheet(
    book: Book,
    title: str,
    columns: Mapping[str, int],
    rows: Sequence[Row],
    sums: Mapping[str, Live | str] | None = None,
) -> Worksheet:
    """A sheet of ``rows`` under a header that stays in view; ``columns`` are as many characters wide.

    ``sums`` adds a last row: for a column's letter the formula or word that stands in it.
    """
    sheet: Worksheet = book.create_sheet(title)
    _set_page(sheet, landscape=sum(columns.values()) > WIDE)
    _put_header(sheet, columns, rows)
    for number, row in enumerate(rows, start=2):
        for column, value in enumerate(row, start=1):
            _put(book, sheet, number, column, value)
        sheet.row_dimensions[number].height = LINE_HEIGHT * _lines(row, list(columns.values()))
    for letter, text in (sums or {}).items():
        cell = sheet[f"{letter}{len(rows) + 2}"]
        _put(book, sheet, cell.row, cell.column, text)
        cell.font, cell.border = HEAD, OVER_SUM
    return sheet


def set_format(sheet: Worksheet, style: str, letters: Iterable[str]) -> None:
    """Numbers of these columns in that format."""
    for letter in letters:
        for cell in sheet[letter][1:]:
            cell.number_format = style


def protect(sheet: Worksheet) -> None:
    """Formulas and headings cannot be overwritten by mistake; all else may be changed. There is no password."""
    for row in sheet.iter_rows(min_row=2):
        for cell in row:
            if cell.data_type != "f":
                cell.protection = Protection(locked=False)
                if cell.data_type == "n":
                    cell.fill = INPUT
    sheet.protection.sheet = True
    sheet.protection.formatColumns = sheet.protection.formatRows = False


def _put_header(sheet: Worksheet, columns: Mapping[str, int], rows: Sequence[Row]) -> None:
    """Headings over numbers stand to the right, as these do."""
    for column, (name, width) in enumerate(columns.items(), start=1):
        head = sheet.cell(1, column, name)
        numeric = all(not isinstance(row[column - 1], str) for row in rows)
        head.font, head.fill = HEAD, WASH
        head.alignment = Alignment(
            horizontal="right" if numeric else "left", vertical="top", wrap_text=True, indent=0 if numeric else 1
        )
        sheet.column_dimensions[get_column_letter(column)].width = width
    sheet.row_dimensions[1].height = LINE_HEIGHT * (2 if any(len(n) > w - 2 for n, w in columns.items()) else 1)
    sheet.freeze_panes = "A2"


def _lines(row: Row, widths: Sequence[int]) -> int:
    """How many lines the longest text of a row takes, with some room to break between words."""
    texts = [(len(value), width - 2) for value, width in zip(row, widths, strict=True) if isinstance(value, str)]
    return max((math.ceil(size * 1.05 / width) for size, width in texts if size > width), default=1)


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


def _put(book: Book, sheet: Worksheet, row: int, column: int, value: Value | Live) -> None:
    """Write one cell. Text stays text: its type is set, and what looks like a formula is marked as quoted."""
    cell = sheet.cell(row, column)
    if isinstance(value, str):
        text = plain(value)
        cell.value = text
        cell.data_type = "s"
        cell.quotePrefix = is_risky(text)
        cell.alignment = Alignment(horizontal="left", vertical="top", wrap_text=True, indent=1)
    else:
        if isinstance(value, Live):
            book.values[sheet.title, cell.coordinate] = value.value
        cell.value = value.formula if isinstance(value, Live) else value
        cell.alignment = Alignment(vertical="top", horizontal="right")
