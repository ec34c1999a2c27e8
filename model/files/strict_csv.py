"""Untrusted CSV, read into rows of named cells: bounded in size, every error with its line and column.

Comma, quotes doubled, UTF-8, a header with the names of the columns in any order. Cells are text with the spaces
around it taken off; nothing in them is run or guessed. A cell may not hold a line break or a control character.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from countersunk.model.errors import InputError, Problem

MAX_BYTES = 1_000_000
MAX_ROWS = 10_000

CONTROL = re.compile(r"[\x00-\x08\x0e-\x1f\x7f-\x9f]")
"""What a terminal would obey; a tab is a space, and the others end a line."""


@dataclass(frozen=True)
class TableRow:
    """One line of a file under its header."""

    file: str
    line: int
    cells: dict[str, str]

    def problem(self, column: str, found: str, allowed: str, advice: str = "") -> Problem:
        """Something wrong in this line."""
        return Problem(column, found, allowed, advice, self.file, self.line)


def read_rows(path: Path, columns: Sequence[str], optional: Sequence[str] = ()) -> list[TableRow]:
    """Every line under the header, which must name all of ``columns``. Raises InputError."""
    try:
        with path.open("rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except OSError as error:
        what = (error.strerror or "unreadable").lower()
        raise InputError([Problem("file", what, "a file that can be read", "check the path", str(path))]) from None
    return list(_rows(_lines(raw, path.name), path.name, columns, optional))


def _lines(raw: bytes, file: str) -> list[str]:
    if len(raw) > MAX_BYTES:
        raise InputError([Problem("file", "more than 1 MB", "1 MB", "divide it", file)])
    try:
        return raw.decode("utf-8-sig").splitlines()
    except UnicodeDecodeError as error:
        found = f"a byte that is not UTF-8 at offset {error.start}"
        raise InputError([Problem("file", found, "UTF-8 text", "save it as UTF-8", file)]) from None


def _rows(lines: list[str], file: str, columns: Sequence[str], optional: Sequence[str]) -> Iterator[TableRow]:
    names = [name.strip().lower() for name in _fields(lines[0], file, 1)] if lines else []
    _check_header(names, file, columns, optional)
    if len(lines) > MAX_ROWS:
        raise InputError([Problem("file", f"{len(lines)} lines", f"at most {MAX_ROWS}", "divide it", file)])
    for line, text in enumerate(lines[1:], start=2):
        if control := CONTROL.search(text):
            found, allowed = f"the control character {control[0]!r}", "printed characters"
            raise InputError([Problem("row", found, allowed, "take it out", file, line)])
        if text.strip():
            fields = _fields(text, file, line)
            if len(fields) != len(names):
                found = f"{len(fields)} cells"
                raise InputError([Problem("row", found, f"{len(names)}: {', '.join(names)}", "", file, line)])
            yield TableRow(file, line, dict(zip(names, (field.strip() for field in fields), strict=True)))


def _fields(text: str, file: str, line: int) -> list[str]:
    try:
        return next(csv.reader([text], strict=True))
    except (csv.Error, StopIteration):
        allowed = "cells between commas, quotes closed and doubled"
        raise InputError([Problem("row", "a quote that is not closed", allowed, "", file, line)]) from None


def _check_header(names: list[str], file: str, columns: Sequence[str], optional: Sequence[str]) -> None:
    allowed = ", ".join(columns) + (f" (and, if wished, {', '.join(optional)})" if optional else "")
    missing = [name for name in columns if name not in names]
    strange = [name for name in names if name not in (*columns, *optional)]
    twice = [name for name in names if names.count(name) > 1]
    for found, what in ((missing, "no column "), (strange, "column "), (twice, "twice column ")):
        if found:
            text = f"{what}'{found[0][:40]}'" if names else "nothing"
            raise InputError([Problem("header", text, allowed, "name the columns in the first line", file, 1)])
