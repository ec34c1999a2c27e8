"""Grid: a list of a document as a table that can be typed in, and what was typed as plain fields again."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

import pandas as pd
import streamlit as st
from pydantic import BaseModel

from countersunk.model.document.schema import Document, Shown
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.viewer.app.places.lengths import WORD, in_inches, read_length, said
from countersunk.viewer.app.session import Desk, Wish

Kind = Literal["number", "length", "whole", "text", "choice", "yes", "numbers"]
Plain = dict[str, Any]

NUMBER = re.compile(r"-?\d{1,6}(\.\d{1,6})?")


@dataclass(frozen=True)
class Cell:
    """A column. ``path`` leads to its field, such as ``at``, ``line.0`` or ``bow.offsets``.

    ``kind`` is what it holds, a ``length`` a number in inches or millimetres with its unit; ``choices`` are the
    words that a choice offers, with what people call each. ``must`` says that a row without it is not yet a row;
    ``usual`` is what a new row has.
    """

    path: str
    label: str
    kind: Kind = "number"
    choices: Mapping[str, str] | None = None
    must: bool = False
    usual: Any = None


def table(
    desk: Desk, name: str, cells: Sequence[Cell], rows: Sequence[BaseModel], fixed: bool = False
) -> list[Plain]:
    """Show rows to be typed in; what they are now."""
    cells = in_lengths(cells, desk.base.lengths)
    frame = frame_of(cells, rows)
    shown = st.data_editor(
        frame,
        num_rows="fixed" if fixed else "dynamic",
        hide_index=True,
        width="stretch",
        column_config={cell.path: _column(cell) for cell in cells},
        key=desk.key(name),
        placeholder="",
        alt=f"Table {name}",
    )
    return typed(cells, shown, rows)


def listed(desk: Desk, field: str, title: str, cells: Sequence[Cell], rows: Sequence[BaseModel]) -> list[Wish]:
    """A list of the document as a table under its title: the wish for it as it was typed, if anything was."""
    st.markdown(f"#### {title}")
    slot = st.container()
    try:
        now = table(desk, title, cells, rows)
    except InputError as error:
        return [Wish(_refusing(error), slot)]
    if now == [row.model_dump(exclude_unset=True) for row in rows]:
        return []
    return [Wish(lambda document: edited(document, {field: tuple(now) or None}), slot)]


def _refusing(error: InputError) -> Any:
    def make(_: Document) -> Document:
        raise error

    return make


def in_lengths(cells: Sequence[Cell], shown: Shown) -> Sequence[Cell]:
    """The columns as they are shown: those of millimetres in inches, where the kitchen says so."""
    return [_in_inches(cell) for cell in cells] if shown == "inch" else cells


def _in_inches(cell: Cell) -> Cell:
    if cell.kind != "number" or not WORD.search(cell.label):
        return cell
    usual = None if cell.usual is None else said(cell.usual)
    return replace(cell, kind="length", label=in_inches(cell.label), usual=usual)


def frame_of(cells: Sequence[Cell], rows: Sequence[BaseModel]) -> pd.DataFrame:
    """A row for each item, empty where nothing was given."""
    plain = [row.model_dump(exclude_unset=True) for row in rows]
    return pd.DataFrame({cell.path: _series(cell, [_at(row, cell.path) for row in plain]) for cell in cells})


def _series(cell: Cell, values: list[Any]) -> pd.Series[Any]:
    if cell.kind in ("number", "whole"):
        return pd.Series([float("nan") if v is None else float(v) for v in values], dtype="float64")
    if cell.kind == "yes":
        return pd.Series([bool(v) for v in values], dtype="bool")
    if cell.kind == "length":
        values = [None if v is None else said(v) for v in values]
    if cell.kind == "numbers":
        values = [None if v is None else ", ".join(f"{n:g}" for n in v) for v in values]
    return pd.Series(values, dtype="object")


def _at(row: Any, path: str) -> Any:
    for step in path.split("."):
        if row is None:
            return None
        row = row[int(step)] if step.isdigit() else row.get(step)
    return row


def typed(cells: Sequence[Cell], frame: pd.DataFrame, rows: Sequence[BaseModel]) -> list[Plain]:
    """What stands in a frame as plain fields. Fields that no column shows stay as they were.

    Raises InputError for a text that should be a list of numbers.
    """
    plain = [row.model_dump(exclude_unset=True) for row in rows]
    were = (plain[i] if isinstance(i, int) and i < len(plain) else {} for i in frame.index)
    return [_row(cells, row, was) for row, was in zip(frame.to_dict("records"), were, strict=True)]


def _row(cells: Sequence[Cell], row: Mapping[Any, Any], before: Plain) -> Plain:
    made: Plain = dict(before)
    for cell in cells:
        was = _at(before, cell.path)
        kept = cell.kind == "length" and was is not None and row[cell.path] == said(was)
        value = was if kept else _value(cell, row[cell.path])
        if value != was and not (value is False and was is None):
            made = _put(made, cell.path.split("."), value)
    return made


def _value(cell: Cell, raw: Any) -> Any:
    if raw is None or (not isinstance(raw, bool | str) and pd.isna(raw)) or raw == "":
        return False if cell.kind == "yes" else None
    if cell.kind == "length":
        return read_length(str(raw), cell.label)
    if cell.kind == "numbers":
        return _numbers(cell, str(raw))
    makers: dict[str, Any] = {"number": float, "whole": int, "yes": bool, "text": str, "choice": str}
    return makers[cell.kind](raw)


def _numbers(cell: Cell, text: str) -> tuple[float, ...]:
    parts = [part.strip() for part in text.split(",")]
    if not all(NUMBER.fullmatch(part) for part in parts):
        raise InputError.at(cell.label, found=f"'{text[:40]}'", allowed="numbers with commas between, as 0, 4, 6")
    return tuple(float(part) for part in parts)


def _put(plain: Plain, steps: list[str], value: Any) -> Plain:
    """Plain fields with one set, or taken out for None; a pair whose halves are both gone goes too."""
    step, rest = steps[0], steps[1:]
    if rest and rest[0].isdigit():
        pair = [*plain.get(step, (None, None))]
        pair[int(rest[0])] = value
        value = None if all(v is None for v in pair) else tuple(pair)
    elif rest:
        value = _put(dict(plain.get(step) or {}), rest, value) or None
    return {key: v for key, v in {**plain, step: value}.items() if v is not None}


def _column(cell: Cell) -> Any:
    config = st.column_config
    match cell.kind:
        case "number":
            return config.NumberColumn(cell.label, required=cell.must, default=cell.usual, format="%g", step=0.1)
        case "whole":
            return config.NumberColumn(cell.label, required=cell.must, default=cell.usual, format="%d", step=1)
        case "yes":
            return config.CheckboxColumn(cell.label, default=False)
        case "choice":
            names = dict(cell.choices or {})
            return config.SelectboxColumn(
                cell.label,
                options=list(names),
                format_func=lambda code: names.get(str(code), str(code)),
                required=cell.must,
                default=cell.usual,
                width=190 if max(map(len, names.values()), default=0) > 20 else None,
            )
        case _:
            return config.TextColumn(cell.label, required=cell.must, default=cell.usual, max_chars=400)
