"""Files of ``countersunk cut``: pieces and stock as CSV, read strictly; decimals become whole steps."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from countersunk.model.errors import InputError, Problem
from countersunk.model.files.strict_csv import TableRow, read_rows
from countersunk.takeoff.cutting import Blade, CutPiece, CutStock, fits
from countersunk.takeoff.stock.offcuts import Offcut

SIZE = re.compile(r"\d{1,6}(\.\d{1,3})?")
PRICE = re.compile(r"\d{1,7}(\.\d{1,4})?")
COUNT = re.compile(r"\d{1,6}")
TURNS = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False, "": False}
"""Where nothing is said a panel keeps its grain."""

CONTROL = re.compile(r"[\x00-\x1f\x7f]")

MOST = {True: 5_000, False: 50_000}
"""Panels, and pieces of lengths, in one list."""

PIECES, OF_PANELS = ("id", "length", "quantity"), ("width", "rotate")
STOCK, OF_SHEETS = ("id", "length", "price", "quantity"), ("width",)
"""Columns of lengths, and those that sheets have besides."""


@dataclass(frozen=True)
class CutList:
    """What is to be cut, in steps of which ``per_mm`` make a millimetre; ``per_price`` make one of the price, and
    ``per_value`` one of the value. ``valued`` says that the pieces have values."""

    pieces: tuple[CutPiece, ...]
    stocks: tuple[CutStock, ...]
    saw: Blade
    per_mm: int
    per_price: int
    per_value: int
    valued: bool

    @property
    def flat(self) -> bool:
        """Whether panels are cut from sheets."""
        return bool(self.stocks[0].width)

    @property
    def seeks_value(self) -> bool:
        """Whether to cut the most valuable pieces from the only stock there is, rather than all of them."""
        return self.valued and len(self.stocks) == 1 and self.stocks[0].quantity == 1


def read_cut_list(
    pieces: Path, stock: Path, kerf: str, trim: str, offcuts: Sequence[Offcut] = ()
) -> CutList:  # fmt: skip
    """Read both files and check them against each other; ``offcuts`` are stock as well.

    Raises InputError with every problem found.
    """
    wanted, offered = _rows_of(pieces, PIECES, OF_PANELS, ("value",)), _rows_of(stock, STOCK, OF_SHEETS, ())
    _check_same_kind(wanted, offered)
    flat = "width" in offered[0].cells
    offered += [_row_of(o, flat) for o in offcuts if o.quantity and (o.width or not flat)]
    _raise(_twice(offered))
    saw = {"--kerf": _option("--kerf", kerf, 50), "--trim": _option("--trim", trim, 1000)}
    per_mm = _scale([*_cells([*wanted, *offered], "length", "width"), *saw.values()])
    per_price, per_value = _scale(_cells(offered, "price")), _scale(_cells(wanted, "value"))
    found = CutList(
        tuple(_piece(row, per_mm, per_value) for row in wanted),
        tuple(_stock(row, per_mm, per_price) for row in offered),
        Blade(_steps(saw["--kerf"], per_mm), _steps(saw["--trim"], per_mm)),
        per_mm, per_price, per_value, "value" in wanted[0].cells,
    )  # fmt: skip
    _check_fit(found, wanted)
    return found


def _rows_of(path: Path, columns: Sequence[str], flat: Sequence[str], optional: Sequence[str]) -> list[TableRow]:
    """The rows of a file, with all of the columns of sheets or with none, each cell checked."""
    rows = read_rows(path, columns, (*flat, *optional))
    if not rows:
        raise InputError([Problem("file", "no rows", "at least one line under the header", "", path.name)])
    missing = [name for name in flat if name not in rows[0].cells]
    if 0 < len(missing) < len(flat):
        allowed = f"for sheets {', '.join((*columns, *flat))}; for lengths {', '.join(columns)}"
        raise InputError([Problem("header", f"no column '{missing[0]}'", allowed, "", path.name, 1)])
    _raise([problem for row in rows for problem in _wrong(row)])
    _raise(_twice(rows))
    return rows


def _row_of(offcut: Offcut, flat: bool) -> TableRow:
    """An offcut as a line of stock."""
    cells = {
        "id": offcut.id, "length": f"{offcut.length:g}", "price": f"{offcut.price:f}",
        "quantity": f"{offcut.quantity}", "kept": "yes", **({"width": f"{offcut.width:g}"} if flat else {}),
    }  # fmt: skip
    return TableRow("offcuts", 1, cells)


def _raise(problems: list[Problem]) -> None:
    if problems:
        raise InputError(problems)


def _wrong(row: TableRow) -> list[Problem]:
    """What is wrong in the cells of a row by themselves."""
    stock = "price" in row.cells
    return [
        row.problem(name, f"'{cell[:40]}'", allowed, advice)
        for name, cell in row.cells.items()
        for allowed, advice, good in [_allowed(name, cell, stock)]
        if not good
    ]


def _allowed(name: str, cell: str, stock: bool) -> tuple[str, str, bool]:
    """What a column may hold, what to try, and whether the cell does."""
    if name == "id":
        return "1 to 60 printed characters", "a short name", 1 <= len(cell) <= 60 and not CONTROL.search(cell)
    if name == "rotate":
        return "yes, no or nothing, which is no", "no where the grain runs along the length", cell.lower() in TURNS
    if name == "quantity":
        least = "a whole number from 0, or nothing for as many as you like" if stock else "a whole number from 1"
        good = bool(COUNT.fullmatch(cell)) and (stock or int(cell) > 0)
        return least, "digits only", good or (stock and not cell)
    if name in ("price", "value"):
        text = "a number from 0 with at most 4 decimals"
        return text, "a point for the decimals, no currency", bool(PRICE.fullmatch(cell))
    text = "millimetres more than 0, up to 999999, with at most 3 decimals"
    return text, "a point for the decimals, no unit", bool(SIZE.fullmatch(cell)) and Decimal(cell) > 0


def _twice(rows: Iterable[TableRow]) -> list[Problem]:
    seen: dict[str, int] = {}
    found = []
    for row in rows:
        first = seen.setdefault(row.cells["id"], row.line)
        if first != row.line:
            advice = "one line with the quantities added up, or another id"
            found.append(
                row.problem("id", f"'{row.cells['id']}' again, as in line {first}", "each id once", advice)
            )
    return found


def _check_same_kind(wanted: list[TableRow], offered: list[TableRow]) -> None:
    flat = ["width" in rows[0].cells for rows in (wanted, offered)]
    if flat[0] != flat[1]:
        row = (wanted, offered)[flat.index(False)][0]
        found, advice = (
            "no column 'width', which the other file has",
            "width in both for sheets, in neither for lengths",
        )
        raise InputError([Problem("header", found, "both files of the same kind", advice, row.file, 1)])
    count = sum(int(row.cells["quantity"]) for row in wanted)
    if count > MOST[flat[0]]:
        raise InputError(
            [Problem("quantity", f"{count} in all", f"{MOST[flat[0]]}", "several lists", wanted[0].file)]
        )


def _option(name: str, text: str, most: int) -> str:
    if not SIZE.fullmatch(text) or Decimal(text) > most:
        allowed = f"millimetres from 0 to {most}, with at most 3 decimals"
        raise InputError.at(
            name, found=f"'{text[:40]}'", allowed=allowed, advice="a point for the decimals, no unit"
        )
    return text


def _cells(rows: Iterable[TableRow], *names: str) -> list[str]:
    return [row.cells[name] for row in rows for name in names if name in row.cells]


def _scale(texts: Iterable[str]) -> int:
    """The power of ten that makes all of these whole."""
    return int(10 ** max((len(text.partition(".")[2].rstrip("0")) for text in texts), default=0))


def _steps(text: str, scale: int) -> int:
    return int(Decimal(text) * scale)


def _piece(row: TableRow, per_mm: int, per_value: int) -> CutPiece:
    cells = row.cells
    return CutPiece(
        id=cells["id"],
        length=_steps(cells["length"], per_mm),
        quantity=int(cells["quantity"]),
        width=_steps(cells.get("width", "0"), per_mm),
        turns=TURNS[cells.get("rotate", "no").lower()],
        value=_steps(cells.get("value", "0"), per_value),
    )


def _stock(row: TableRow, per_mm: int, per_price: int) -> CutStock:
    cells = row.cells
    quantity = int(cells["quantity"]) if cells["quantity"] else None
    return CutStock(
        id=cells["id"],
        length=_steps(cells["length"], per_mm),
        price=_steps(cells["price"], per_price),
        quantity=quantity,
        width=_steps(cells.get("width", "0"), per_mm),
        kept="kept" in cells,
    )


def _check_fit(cut: CutList, rows: Sequence[TableRow]) -> None:
    """Every piece fits some stock, trimmed."""
    sizes = ", ".join(f"{s.id} {_size(s, cut)}" for s in cut.stocks[:6])
    trimmed = f" less {cut.saw.trim / cut.per_mm:g} of trim on every side" if cut.saw.trim else ""
    _raise([
        row.problem("length", f"'{piece.id}' of {_size(piece, cut)}, which fits no stock", f"{sizes}{trimmed}",
                    "a larger stock, another trim, or the piece in parts")
        for row, piece in zip(rows, cut.pieces, strict=True)
        if not any(fits(piece, stock, cut.saw) for stock in cut.stocks)
    ])  # fmt: skip


def _size(thing: CutPiece | CutStock, cut: CutList) -> str:
    sides = [thing.length, thing.width] if cut.flat else [thing.length]
    return " x ".join(f"{side / cut.per_mm:.10g}" for side in sides)
