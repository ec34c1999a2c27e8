"""Offcuts: what a firm keeps of earlier jobs and takes from first, as a CSV, and what a job adds to it.

A size is what can be used: edges that are sawn are not trimmed again, so bruised ones are taken off it before.

Columns: id, material, decor, length, width, quantity, and price, which may be left out and is then nothing.
``material`` is the code of a board or of a worktop stock, ``decor`` that of its decor, empty for boards inside a
carcass. The length is along grain and finished edges; a worktop's width is from its finished front. What is
left of plinths, strips, cornices and rolls of band has a length and no width.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from countersunk.model.errors import InputError, Problem
from countersunk.model.files.strict_csv import TableRow, read_rows
from countersunk.takeoff.stock.steps import down
from countersunk.takeoff.stock.texts import safe

COLUMNS = ("id", "material", "decor", "length", "width", "quantity")
PRICE = "price"

CODE = re.compile(r"[a-z0-9][a-z0-9.-]{0,47}")
ID = re.compile(r"[a-z0-9][a-z0-9.-]{0,119}")
"""Room for two codes and a size, of which `new_offcut` makes a name."""

SIZE = re.compile(r"\d{1,5}(\.\d)?")
COUNT = re.compile(r"\d{1,4}")
MONEY = re.compile(r"\d{1,7}(\.\d{1,2})?")

OWN = "our own stock"
"""The supplier of an offcut."""


@dataclass(frozen=True)
class Offcut:
    """So many pieces of one size, mm; ``price`` of each, without tax."""

    id: str
    material: str
    decor: str
    length: float
    width: float
    quantity: int = 1
    price: Decimal = Decimal(0)

    @property
    def item(self) -> str:
        """Its code on a line."""
        return item_of(self.id)


def item_of(id_: str) -> str:
    """The code of an offcut on a line."""
    return f"offcut.{id_}"


def read_offcuts(path: Path) -> tuple[Offcut, ...]:
    """Read a stock of offcuts. Raises InputError with every problem found."""
    rows = read_rows(path, COLUMNS, (PRICE,))
    problems = [problem for row in rows for problem in _wrong(row)]
    first = {row.cells["id"]: row for row in reversed(rows)}
    advice = "one line with the quantities added up"
    problems += [
        row.problem("id", f"'{id_[:40]}' again", "each id once", advice)
        for row in rows
        if first[id_ := row.cells["id"]] is not row
    ]
    if problems:
        raise InputError(problems)
    return tuple(_offcut(row.cells) for row in rows)


def offcuts_csv(offcuts: Iterable[Offcut]) -> bytes:
    """A stock of offcuts that `read_offcuts` reads again."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow((*COLUMNS, PRICE))
    for o in offcuts:
        sizes = (f"{o.length:g}", f"{o.width:g}" if o.width else "", o.quantity, f"{o.price:f}")
        writer.writerow([safe(str(cell)) for cell in (o.id, o.material, o.decor, *sizes)])
    return text.getvalue().encode()


def new_offcut(material: str, decor: str, length: float, width: float = 0.0) -> Offcut:
    """What a job leaves, by whole millimetres; named by what it is, so that equal ones are one line."""
    along, across = down(length, 1), down(width, 1)
    name = ".".join(part for part in (material, decor) if part)
    return Offcut(f"{name}.{along}x{across}" if across else f"{name}.{along}", material, decor, along, across)


def after(stock: Sequence[Offcut], used: Iterable[str], left: Iterable[Offcut]) -> tuple[Offcut, ...]:
    """The stock for the next job: without the ids ``used``, one for each time, and with what is ``left``."""
    counts = {o.id: o for o in stock}
    for id_ in used:
        counts[id_] = replace(counts[id_], quantity=counts[id_].quantity - 1)
    for o in left:
        known = counts.get(o.id)
        counts[o.id] = replace(known, quantity=known.quantity + o.quantity) if known else o
    return tuple(o for o in counts.values() if o.quantity > 0)


def _wrong(row: TableRow) -> list[Problem]:
    checks = {
        "id": (ID, "small letters, digits, dots and dashes, at most 120"),
        "material": (CODE, "the code of a board or worktop, such as pb18 or pf38.600"),
        "decor": (re.compile(rf"({CODE.pattern})?"), "the code of a decor, or nothing"),
        "length": (SIZE, "millimetres more than 0, up to 99999, with at most 1 decimal"),
        "width": (SIZE, "millimetres up to 99999, with at most 1 decimal, or nothing for a length"),
        "quantity": (COUNT, "a whole number from 0 to 9999"),
        PRICE: (MONEY, "a number from 0 with at most 2 decimals"),
    }
    found = [
        row.problem(name, f"'{row.cells[name][:40]}'", allowed)
        for name, (pattern, allowed) in checks.items()
        if name in row.cells
        and not pattern.fullmatch(row.cells[name])
        and not (name in (PRICE, "width") and not row.cells[name])
    ]
    sizes = [(name, row.cells[name]) for name in ("length", "width") if SIZE.fullmatch(row.cells[name])]
    return found + [row.problem(name, f"'{v}'", checks[name][1]) for name, v in sizes if float(v) == 0]


def _offcut(cells: dict[str, str]) -> Offcut:
    price = Decimal(cells.get(PRICE) or 0)
    sizes = float(cells["length"]), float(cells["width"] or 0)
    return Offcut(cells["id"], cells["material"], cells["decor"], *sizes, int(cells["quantity"]), price)
