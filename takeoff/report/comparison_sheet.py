"""Comparison sheet: the lines that differ between takeoffs, with live sums of what each costs more or less."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from openpyxl import Workbook

from countersunk.takeoff.report.compare import Comparison, Difference
from countersunk.takeoff.report.sheets import HEAD, MONEY, OVER_SUM, Live, Row, add_sheet, set_format

COLUMNS = {
    "Version": 24, "Code": 20, "Description": 44, "Before": 34, "After": 34, "Net before": 11, "Net after": 11,
    "Tax before": 11, "Tax after": 11, "More or less with tax": 14,
}  # fmt: skip
TOGETHER = "together"


def add_comparisons(book: Workbook, title: str, comparisons: Mapping[str, Comparison]) -> None:
    """A block for each comparison under its name: its lines, and what they come to together."""
    rows: list[Row] = []
    for name, comparison in comparisons.items():
        first = len(rows) + 2
        rows += [_row(name, line, first + i) for i, line in enumerate(comparison.changed)]
        rows.append(_sums(name, first, len(rows) + 1))
    sheet = add_sheet(book, title, COLUMNS, rows)
    set_format(sheet, MONEY, "FGHIJ")
    for cells in sheet.iter_rows(min_row=2):
        if cells[1].value is None:
            for cell in cells:
                cell.font, cell.border = HEAD, OVER_SUM


def _row(name: str, line: Difference, row: int) -> Row:
    before, after = line.before, line.after
    return [
        name,
        line.code,
        line.description,
        before.amount if before else "none",
        after.amount if after else "none",
        *(_money(side.net) if side else 0 for side in (before, after)),
        *(_money(side.tax) if side else 0 for side in (before, after)),
        Live(f'=IF(OR(ISTEXT(F{row}),ISTEXT(G{row})),"unknown",{_more(row)})'),
    ]


def _money(value: Decimal | None) -> Decimal | str:
    return "no price" if value is None else value


def _sums(name: str, first: int, last: int) -> Row:
    """The last row of a block; the sums of no lines are nothing."""
    if last < first:
        return [name, None, TOGETHER, None, None, 0, 0, 0, 0, 0]
    columns = [Live(f"=SUM({letter}{first}:{letter}{last})") for letter in "FGHI"]
    return [name, None, TOGETHER, None, None, *columns, Live(f"={_more(last + 1)}")]


def _more(row: int) -> str:
    return f"G{row}+I{row}-F{row}-H{row}"
