"""Tables of findings and takeoff: as data frames for the app and as text for the terminal."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd
from rich.box import HORIZONTALS
from rich.table import Table

from countersunk.model.checks.finding import Finding, Verdict, as_shown
from countersunk.takeoff.counting.pricing import LabourLine, MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report.compare import Comparison, Difference, LineState, signed
from countersunk.takeoff.report.report import marks_of
from countersunk.takeoff.stock.units import number

MARKS = {
    Verdict.NOT_MET: "✖",
    Verdict.NOT_MEASURED: "?",
    Verdict.SHORT: "▲",
    Verdict.WATCH: "●",
    Verdict.MET: "✓",
}
"""A sign beside each verdict, so that no colour has to carry it."""


WIDE = (13, None, 9, 9, 7, 3)
"""The columns of findings in a terminal, in letters; the question has the rest."""

LINE = ["Item", "Measured", "Unit", "Ordered", "Cost", "How"]
WORK = ["Work", "Amount", "Unit", "Minutes", "Cost"]
FIGURES = ("Measured", "Amount", "Minutes", "Cost")


def takeoff_frame(takeoff: Takeoff) -> pd.DataFrame:
    """A row for each line, measured and ordered apart, with the formula and where it came from."""
    return pd.DataFrame([_material_row(line, takeoff) for line in takeoff.materials])


def labour_frame(takeoff: Takeoff) -> pd.DataFrame:
    """A row for each operation."""
    return pd.DataFrame([_labour_row(line, takeoff) for line in takeoff.labour])


def totals_rows(takeoff: Takeoff) -> list[tuple[str, str]]:
    """What a total is made of, in the order in which it is added up."""
    totals = takeoff.totals
    rows = [
        ("Materials", totals.materials),
        (totals.uplift.name.capitalize(), totals.markup),
        ("Labour and travel", totals.labour),
        ("Net", totals.net),
        *((f"Tax {t.rate:f} % on {t.base:,.2f}", t.tax) for t in totals.taxes),
        ("Total" if totals.complete else "Total, INCOMPLETE", totals.gross),
    ]
    told = [(name, f"{value:,.2f} {totals.currency}") for name, value in rows]
    return [*told[:2], ("which is", totals.markup_in_words), *told[2:]]


def terminal_table(
    frame: pd.DataFrame, title: str, columns: Sequence[str], figures: Sequence[str] = ()
) -> Table:  # fmt: skip
    """Some columns of a frame as a table for the terminal; numbers to the right, and ``figures`` that are text."""
    table = Table(title=title, title_justify="left", show_lines=False)
    for column in columns:
        numeric = column in figures or (len(frame) > 0 and pd.api.types.is_numeric_dtype(frame[column]))
        table.add_column(column, justify="right" if numeric else "left", overflow="fold")
    for row in frame[list(columns)].itertuples(index=False):
        table.add_row(*("" if pd.isna(cell) else str(cell) for cell in row))
    return table


def takeoff_tables(takeoff: Takeoff) -> list[Table]:
    """The whole takeoff for the terminal; where a price is missing the line says so."""
    total = pd.DataFrame(totals_rows(takeoff), columns=["", "Amount"])
    bought, worked = _as_printed(takeoff_frame(takeoff)), _as_printed(labour_frame(takeoff))
    return [
        terminal_table(bought, takeoff.kitchen, LINE, FIGURES),
        terminal_table(worked, "Labour", WORK, FIGURES),
        terminal_table(total, f"Totals, prices of {takeoff.price_book}", ["", "Amount"]),
    ]


def _as_printed(frame: pd.DataFrame) -> pd.DataFrame:
    """Money to the cent, and amounts without the nothing after their point."""
    costs = ["no price" if pd.isna(cost) else f"{cost:,.2f}" for cost in frame["Cost"]]
    amounts = {name: frame[name].map(number) for name in FIGURES[:-1] if name in frame}
    return frame.assign(Cost=costs, **amounts)


def _material_row(line: MaterialLine, takeoff: Takeoff) -> dict[str, object]:
    quantity = line.quantity
    packs = "unknown" if quantity.packs is None else f"{quantity.packs} × {quantity.pack_name or quantity.unit}"
    packs = "as needed" if line.by_amount else packs
    return {
        "Item": quantity.description,
        "Measured": round(quantity.net, 3),
        "Unit": quantity.unit,
        "Ordered": packs,
        "Left over": None if quantity.surplus is None else round(quantity.surplus, 3),
        "Cost": None if line.charge is None else float(line.charge.cost),
        "How": quantity.formula,
        "From": f"{len(quantity.ids)} parts: {', '.join(marks_of(takeoff, quantity.ids))}",
        "Source": quantity.source,
        "Missing": line.missing,
    }


def _labour_row(line: LabourLine, takeoff: Takeoff) -> dict[str, object]:
    return {
        "Work": line.work.name,
        "Amount": float(line.work.amount),
        "Unit": line.work.unit,
        "Minutes": float(line.work.minutes),
        "Cost": None if line.charge is None else float(line.charge.net),
        "How": line.work.formula,
        "From": ", ".join(marks_of(takeoff, dict.fromkeys(line.work.ids))),
    }


def comparison_tables(comparison: Comparison) -> list[Table]:
    """The lines that differ, those of another price first, and the totals, for the terminal."""
    ordered = sorted(comparison.changed, key=lambda line: line.net == 0)
    columns = ["Line", "Before", "Net before", "After", "Net after", "More or less"]
    lines = pd.DataFrame([_difference_row(line) for line in ordered], columns=columns)
    before, after = comparison.before.totals, comparison.after.totals
    sums = [
        ("Without tax", f"{before.net:,.2f}", f"{after.net:,.2f}", signed(comparison.net)),
        ("With tax", f"{before.gross:,.2f}", f"{after.gross:,.2f}", signed(comparison.gross)),
    ]
    name = f"Totals in {after.currency}{'' if comparison.complete else ', INCOMPLETE: a price is missing'}"
    total = pd.DataFrame(sums, columns=["", "Before", "After", "More or less"])
    return [
        terminal_table(lines, "Lines that differ, prices without tax", list(lines.columns)),
        terminal_table(total, name, list(total.columns)),
    ]


def _difference_row(line: Difference) -> tuple[str, ...]:
    return line.description, *_side(line.before), *_side(line.after), signed(line.net)


def _side(side: LineState | None) -> tuple[str, str]:
    if side is None:
        return "none", ""
    return side.amount, "no price" if side.net is None else f"{side.net:,.2f}"


def findings_table(findings: Sequence[Finding]) -> list[Table | str]:
    """The findings for the terminal, with their sources numbered below so that the table stays narrow."""
    sources = list(dict.fromkeys(f.source for f in findings))
    frame = findings_frame(findings)
    frame["Question and place"] = frame["Question"] + " " + frame["Where"]
    frame["Src"] = [str(sources.index(f.source) + 1) for f in findings]
    columns = ["Verdict", "Question and place", "Measured", "Limit", "Margin", "Src"]
    table = terminal_table(frame, "Findings, the most serious first", columns)
    table.box, table.expand = HORIZONTALS, True
    for column, width in zip(table.columns, WIDE, strict=True):
        column.width, column.ratio = width, None if width else 1
    return [table, "Sources", *(f"{i:>3}  {source}" for i, source in enumerate(sources, start=1))]


def findings_frame(findings: Sequence[Finding]) -> pd.DataFrame:
    """A row for each finding, the most serious first."""
    return pd.DataFrame([_finding_row(f) for f in findings])


def _finding_row(finding: Finding) -> dict[str, object]:
    measured = finding.reason if finding.value is None else as_shown(finding.value, finding.unit)
    return {
        "Verdict": f"{MARKS[finding.verdict]} {finding.verdict}",
        "Weight": str(finding.severity),
        "Question": finding.question,
        "Where": finding.place,
        "Measured": measured,
        "Limit": f"{finding.sense} {as_shown(finding.limit, finding.unit)}",
        "Margin": "" if finding.margin is None else as_shown(finding.margin, finding.unit),
        "What would help": finding.advice,
        "Parts": ", ".join(finding.ids),
        "Source": finding.source,
    }
