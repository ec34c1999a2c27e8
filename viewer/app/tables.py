"""Tables of a takeoff and of two that are compared: as rows for the app and as text for the terminal."""

from __future__ import annotations

from rich.table import Table

from countersunk.takeoff.counting.pricing import LabourLine, MaterialLine
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report.compare import Comparison, Difference, LineState, signed
from countersunk.takeoff.report.report import marks_of
from countersunk.takeoff.stock.units import number
from countersunk.viewer.app.terminal import Rows, terminal_table

LINE = ["Item", "Measured", "Unit", "Ordered", "Cost", "How"]
WORK = ["Work", "Amount", "Unit", "Minutes", "Cost"]
FIGURES = ("Measured", "Amount", "Minutes", "Cost")


def material_rows(takeoff: Takeoff) -> Rows:
    """A row for each line, measured and ordered apart, with the formula and where it came from."""
    return [_material_row(line, takeoff) for line in takeoff.materials]


def labour_rows(takeoff: Takeoff) -> Rows:
    """A row for each operation."""
    return [_labour_row(line, takeoff) for line in takeoff.labour]


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


def takeoff_tables(takeoff: Takeoff) -> list[Table]:
    """The whole takeoff for the terminal; where a price is missing the line says so."""
    total: Rows = [{"": name, "Amount": amount} for name, amount in totals_rows(takeoff)]
    bought, worked = _as_printed(material_rows(takeoff)), _as_printed(labour_rows(takeoff))
    return [
        terminal_table(bought, takeoff.kitchen, LINE, FIGURES),
        terminal_table(worked, "Labour", WORK, FIGURES),
        terminal_table(total, f"Totals, prices of {takeoff.price_book}", ["", "Amount"]),
    ]


def _as_printed(rows: Rows) -> Rows:
    """Money to the cent, and amounts without the nothing after their point."""
    say = {**dict.fromkeys(FIGURES[:-1], number), "Cost": _money}
    return [{name: say[name](cell) if name in say else cell for name, cell in row.items()} for row in rows]


def _money(cost: float | None) -> str:
    return "no price" if cost is None else f"{cost:,.2f}"


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
    lines: Rows = [dict(zip(columns, _difference_row(line), strict=True)) for line in ordered]
    before, after = comparison.before.totals, comparison.after.totals
    sums = [
        ("Without tax", f"{before.net:,.2f}", f"{after.net:,.2f}", signed(comparison.net)),
        ("With tax", f"{before.gross:,.2f}", f"{after.gross:,.2f}", signed(comparison.gross)),
    ]
    name = f"Totals in {after.currency}{'' if comparison.complete else ', INCOMPLETE: a price is missing'}"
    sides = ["", "Before", "After", "More or less"]
    total: Rows = [dict(zip(sides, row, strict=True)) for row in sums]
    return [
        terminal_table(lines, "Lines that differ, prices without tax", columns),
        terminal_table(total, name, sides),
    ]


def _difference_row(line: Difference) -> tuple[str, ...]:
    return line.description, *_side(line.before), *_side(line.after), signed(line.net)


def _side(side: LineState | None) -> tuple[str, str]:
    if side is None:
        return "none", ""
    return side.amount, "no price" if side.net is None else f"{side.net:,.2f}"
