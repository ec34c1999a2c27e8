"""Prices: a price book as CSV, read strictly, every error with file, line, field, found and allowed.

Columns: code, description, unit, pack, price, currency, date, tax; then supplier, and number, by which the supplier
knows the article, which may be left out. ``price`` is for one pack without tax, ``tax`` a rate in percent. A code
followed by a dot and a decor's code is the price in that decor; without such a line the plain code holds for every
decor. Lines that begin with # before the header are a note on the whole book and are shown on quotes.
Money is Decimal; nothing here is a float.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import lru_cache
from pathlib import Path

from countersunk import shared
from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.errors import InputError, Problem
from countersunk.model.kinds import is_of
from countersunk.takeoff.stock.offcuts import OWN, Offcut
from countersunk.takeoff.stock.texts import CONTROL, safe, unmarked

COLUMNS = ("code", "description", "unit", "pack", "price", "currency", "date", "tax")
SUPPLIER, THEIRS = "supplier", "number"
HEADERS = (COLUMNS, (*COLUMNS, SUPPLIER), (*COLUMNS, SUPPLIER, THEIRS))
UNITS_PRICED = ("m", "m2", "L", "mL", "kg", "each", "pair", "h", "km")
MAX_BYTES = 1_000_000

CODE = re.compile(r"[a-z0-9][a-z0-9.-]{0,47}")
NUMBER = re.compile(r"\d{1,7}(\.\d{1,6})?")
MONEY = re.compile(r"\d{1,7}(\.\d{1,4})?")
CURRENCY = re.compile(r"[A-Z]{3}")


@dataclass(frozen=True)
class Price:
    """The price of one pack as listed by ``supplier`` under its own ``number``, without tax; ``tax`` in percent."""

    code: str
    description: str
    unit: str
    pack: Decimal
    price: Decimal
    currency: str
    date: date
    tax: Decimal
    supplier: str = ""
    number: str = ""


@dataclass(frozen=True)
class PriceBook:
    """Prices by code, in one currency. ``note`` is what the file says about itself."""

    name: str
    note: str
    currency: str
    prices: Mapping[str, Price]

    def find(self, code: str, decor: str = "") -> Price | None:
        """The price of ``code`` in ``decor``, else of ``code``."""
        return self.prices.get(f"{code}.{decor}") or self.prices.get(code)


DEMO = shared.PRICES / "demo.csv"
"""The invented prices that come with the program."""


def read_prices(path: Path = DEMO) -> PriceBook:
    """Read a price book. Raises InputError with every problem found."""
    try:
        with path.open("rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except OSError as error:
        what = (error.strerror or "unreadable").lower()
        problem = Problem("file", what, "a price book that can be read", "check the path", str(path))
        raise InputError([problem]) from None
    return price_book(raw, path.name)


@lru_cache(maxsize=1)
def demo_prices() -> PriceBook:
    """The invented prices that come with the program, read once."""
    return read_prices()


@lru_cache(maxsize=8)
def prices_of(catalogue: Catalogue) -> PriceBook:
    """The price book of a catalogue, its ``prices.csv``; the invented one where it has none. Raises InputError."""
    path = price_file(catalogue)
    return demo_prices() if path == DEMO else read_prices(path)


def price_file(catalogue: Catalogue) -> Path:
    """The file of `prices_of`."""
    own = catalogue.folder / PRICES
    return own if own.exists() else DEMO


PRICES = "prices.csv"
"""The price book in the folder of a firm's catalogue."""


def with_offcuts(book: PriceBook, offcuts: Iterable[Offcut]) -> PriceBook:
    """The book with a price for each offcut, taxed as what it was cut from; none where it has no price for that."""
    pairs = ((o, next((p for code, p in book.prices.items() if is_of(code, o.material)), None)) for o in offcuts)
    prices = {o.item: _of_offcut(o, like) for o, like in pairs if like}
    return replace(book, prices={**book.prices, **prices}) if prices else book


def _of_offcut(offcut: Offcut, like: Price) -> Price:
    """Worktop is priced by its length and board by its area, each offcut as one pack."""
    length, width = (Decimal(str(mm)) / 1000 for mm in (offcut.length, offcut.width))
    pack = length * width if like.unit == "m2" else length
    return replace(
        like,
        code=offcut.item,
        description=f"offcut {offcut.id}",
        pack=pack,
        price=offcut.price,
        supplier=OWN,
        number="",
    )


def book_csv(prices: Iterable[Price], note: str) -> bytes:
    """Prices as a price book that `read_prices` reads again, ``note`` before them; no text in it can be run."""
    text = io.StringIO()
    text.write(f"# {note}\n" if note else "")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADERS[-1])
    writer.writerows(_cells(price) for price in prices)
    return text.getvalue().encode()


def _cells(price: Price) -> tuple[str, ...]:
    amounts = (f"{value:f}" for value in (price.pack, price.price))
    words = (price.currency, price.date.isoformat(), f"{price.tax:f}", safe(price.supplier), safe(price.number))
    return (price.code, safe(price.description), price.unit, *amounts, *words)


def price_book(raw: bytes, file: str) -> PriceBook:
    """Read the bytes of a price book named ``file``. Raises InputError."""
    try:
        return _book(_text(raw), file)
    except InputError as error:
        raise InputError([replace(p, file=file) for p in error.problems], error.more) from None


def _text(raw: bytes) -> str:
    if len(raw) > MAX_BYTES:
        raise InputError.at("file", found="more than 1 MB", allowed="1 MB")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        found = f"a byte that is not UTF-8 at offset {error.start}"
        raise InputError.at("file", found=found, allowed="UTF-8 text", advice="save it as UTF-8") from None


def _book(text: str, file: str) -> PriceBook:
    lines = text.splitlines()
    start = next((i for i, line in enumerate(lines) if not line.startswith("#")), len(lines))
    note = " ".join(line.lstrip("# ").strip() for line in lines[:start])
    prices: dict[str, Price] = {}
    problems: list[Problem] = []
    columns = _header(lines, start)
    for line, row in _rows(lines, start):
        found, wrong = _price(row, columns)
        wrong = wrong or _among(found, prices)
        problems += [replace(problem, line=line) for problem in wrong]
        if found and not wrong:
            prices[found.code] = found
    if problems:
        raise InputError(problems)
    if not prices:
        raise InputError.at("file", found="no prices", allowed="at least one line under the header")
    return PriceBook(file, note, next(iter(prices.values())).currency, prices)


def _header(lines: list[str], start: int) -> tuple[str, ...]:
    """The columns of the file: all, or all but the supplier and his numbers."""
    header = tuple(next(csv.reader(lines[start : start + 1]), []))
    if header not in HEADERS:
        allowed = f"{','.join(COLUMNS)}[,{SUPPLIER}[,{THEIRS}]]"
        raise InputError([Problem("header", ",".join(header)[:80] or "nothing", allowed, line=start + 1)])
    return header


def _rows(lines: list[str], start: int) -> Iterator[tuple[int, list[str]]]:
    """Every row under the header with its line. A field may not hold a line break."""
    for line, text in enumerate(lines[start + 1 :], start=start + 2):
        if text.strip():
            yield line, _fields(text, line)


def _fields(text: str, line: int) -> list[str]:
    try:
        return next(csv.reader([text], strict=True))
    except csv.Error:
        problem = Problem("row", "a quote that is not closed", "fields between commas, quotes doubled", line=line)
        raise InputError([problem]) from None


def _price(row: list[str], columns: tuple[str, ...]) -> tuple[Price | None, list[Problem]]:
    if len(row) != len(columns):
        return None, [Problem("row", f"{len(row)} fields", f"{len(columns)}: {', '.join(columns)}")]
    return price_of({SUPPLIER: "", THEIRS: "", **dict(zip(columns, map(unmarked, row), strict=True))})


def price_of(cells: Mapping[str, str]) -> tuple[Price | None, list[Problem]]:
    """The price that a row's cells hold by column, the supplier's among them, or everything wrong with them."""
    problems = [Problem(name, repr(cells[name])[:60], allowed) for name, allowed in _wrong(cells)]
    if problems:
        return None, problems
    numbers = {name: Decimal(cells[name]) for name in ("pack", "price", "tax")}
    day = date.fromisoformat(cells["date"])
    code, description, unit, currency = (cells[name] for name in ("code", "description", "unit", "currency"))
    supplier, number = cells[SUPPLIER], cells.get(THEIRS, "")
    pack, price, tax = numbers["pack"], numbers["price"], numbers["tax"]
    return Price(code, description, unit, pack, price, currency, day, tax, supplier, number), []


def _wrong(cells: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """The fields at fault and what they may hold."""
    if not CODE.fullmatch(cells["code"]):
        yield "code", "small letters, digits, dots and dashes, at most 48"
    if CONTROL.search(cells["description"]) or not 1 <= len(cells["description"]) <= 120:
        yield "description", "text of 1 to 120 characters"
    if CONTROL.search(cells[SUPPLIER]) or len(cells[SUPPLIER]) > 80:
        yield SUPPLIER, "text of at most 80 characters"
    if CONTROL.search(cells.get(THEIRS, "")) or len(cells.get(THEIRS, "")) > 60:
        yield THEIRS, "text of at most 60 characters"
    if cells["unit"] not in UNITS_PRICED:
        yield "unit", ", ".join(UNITS_PRICED)
    if not NUMBER.fullmatch(cells["pack"]) or Decimal(cells["pack"]) == 0:
        yield "pack", "a number more than 0, with a point, such as 0.5"
    if not MONEY.fullmatch(cells["price"]):
        yield "price", "a number from 0 with at most 4 decimals, with a point, such as 12.50"
    if not CURRENCY.fullmatch(cells["currency"]):
        yield "currency", "a code of three capitals (ISO 4217)"
    if not _is_day(cells["date"]):
        yield "date", "a day as YYYY-MM-DD"
    if not NUMBER.fullmatch(cells["tax"]) or Decimal(cells["tax"]) > 100:
        yield "tax", "a rate in percent from 0 to 100"


def _is_day(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _among(price: Price | None, known: Mapping[str, Price]) -> list[Problem]:
    """What is wrong with a good row beside those already read."""
    if price is None or not known:
        return []
    if price.code in known:
        return [Problem("code", f"{price.code!r} twice", "each code once")]
    currency = next(iter(known.values())).currency
    if price.currency != currency:
        return [Problem("currency", repr(price.currency), f"one currency in a book: {currency}")]
    return []
