"""Terminal: rows of plain data as a table of text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rich.table import Table

Rows = Sequence[Mapping[str, Any]]
"""The lines of a table, each with what stands under the name of a column."""


def terminal_table(rows: Rows, title: str, columns: Sequence[str], figures: Sequence[str] = ()) -> Table:
    """Some columns of rows as a table for the terminal; numbers to the right, and ``figures`` that are text."""
    table = Table(title=title, title_justify="left", show_lines=False)
    for column in columns:
        number = column in figures or (rows and all(isinstance(row[column], int | float) for row in rows))
        table.add_column(column, justify="right" if number else "left", overflow="fold")
    for row in rows:
        table.add_row(*("" if row[column] is None else str(row[column]) for column in columns))
    return table
