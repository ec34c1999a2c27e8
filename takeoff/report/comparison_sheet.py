"""Comparison sheet: the lines that differ between takeoffs, with live sums of what each costs more or less."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from countersunk.takeoff.report.compare import Comparison, Difference
from countersunk.takeoff.report.sheets import HEAD, MONEY, OVER_SUM, Book, Live, Row, add_sheet, set_format

COLUMNS = {
    "Version": 24, "Code": 20, "Description": 44, "Before": 34, "After": 34, "Net before": 11, "Net after": 11,
    "Tax before": 11, "Tax after": 11, "More or less with tax": 14,
}  # fmt: skip
TOGETHER = "together"


def add_comparisons(book: Book, title: str, comparisons: Mapping[str, Comparison]) -> None:
    """A block for each comparison under its name: its lines, and what they come to together."""
    rows: list[Row] = []
    for name, comparison in comparisons.items():
        first = len(rows) + 2
        rows += [_row(name, line, first + i) for i, line in enumerate(comparison.changed)]
        rows.append(_sums(name, comparison, first, len(rows) + 1))
    sheet = add_sheet(book, title, COLUMNS, rows)
    set_format(sheet, MONEY, "FGHIJ")
    for cells in sheet.iter_rows(min_row=2):
        if cells[1].value is None:
            for cell in cells:
                cell.font, cell.border = HEAD, OVER_SUM


def _row(name: str, line: Difference, row: int) -> Row:
    before, after = line.before, line.after
    more = None if line.net is None or line.tax is None else line.net + line.tax
    return [
        name,
        line.code,
        line.description,
        before.amount if before else "none",
        after.amount if after else "none",
        *(_money(side.net) if side else 0 for side in (before, after)),
        *(_money(side.tax) if side else 0 for side in (before, after)),
        Live(f'=IF(OR(ISTEXT(F{row}),ISTEXT(G{row})),"unknown",{_more(row)})', "unknown" if more is None else more),
    ]


def _money(value: Decimal | None) -> Decimal | str:
    return "no price" if value is None else value


def _sums(name: str, comparison: Comparison, first: int, last: int) -> Row:
    """The last row of a block; the sums of no lines are nothing."""
    if last < first:
        return [name, None, TOGETHER, None, None, 0, 0, 0, 0, 0]
    sides = [[d.before for d in comparison.changed], [d.after for d in comparison.changed]]
    known = [
        sum((m for s in side if s and (m := getattr(s, money)) is not None), Decimal(0))
        for money in ("net", "tax")
        for side in sides
    ]
    columns = [Live(f"=SUM({c}{first}:{c}{last})", value) for c, value in zip("FGHI", known, strict=True)]
    return [name, None, TOGETHER, None, None, *columns, Live(f"={_more(last + 1)}", comparison.gross)]


def _more(row: int) -> str:
    return f"G{row}+I{row}-F{row}-H{row}"
