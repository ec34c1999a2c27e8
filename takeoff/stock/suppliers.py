"""Suppliers: a supplier's own price list turned into lines of the price book, by a mapping file.

The list may have any columns, delimiter, decimal sign and encoding, and titles above its header; the mapping says
where each thing stands, and which of the supplier's numbers is which article of ours. A number that the mapping
names and the list does not have is an error; what the list has beyond that is left out and counted. An amount in
another currency, or for another quantity than the mapping says, is refused.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from itertools import islice
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.document.schema import Code, Strict
from countersunk.model.errors import InputError, Problem
from countersunk.model.files.strict_yaml import Source, read_file
from countersunk.takeoff.stock.prices import (
    SUPPLIER,
    THEIRS,
    Price,
    PriceBook,
    book_csv,
    price_book,
    price_of,
)

MAX_BYTES = 20_000_000
PLACES = Decimal("0.0001")
GROUPED = {".": r"(\d+|\d{1,3}(,\d{3})+)(\.\d+)?", ",": r"(\d+|\d{1,3}(\.\d{3})+)(,\d+)?"}
"""Numbers by their decimal sign, thousands in groups of three or not at all."""

SYMBOLS = {
    "EUR": "€", "GBP": "£", "USD": "$", "AUD": "$", "NZD": "$", "CAD": "$", "CHF": "Fr.", "SEK": "kr", "NOK": "kr",
    "DKK": "kr", "PLN": "zł", "CZK": "Kč", "JPY": "¥", "ZAR": "R",
}  # fmt: skip
"""How amounts in a currency may be marked beside its code (ISO 4217)."""

TITLES = 30
"""How many lines of titles may stand above the header."""

Heading = Annotated[str, Field(min_length=1, max_length=80)]
Row = tuple[int, dict[str, str]]


class Headings(Strict):
    """How the list calls its columns. Where it has no ``tax``, the rate of the mapping holds for every line.

    ``currency`` is the column of the currency's code, ``per`` that of how many packs or units
    of ours a price is for.
    """

    number: Heading
    description: Heading
    price: Heading
    tax: Heading | None = None
    currency: Heading | None = None
    per: Heading | None = None


class Known(Strict):
    """The article that a supplier's ``number`` is: our code, and the unit and pack of the article.

    The list's price is for ``packs`` of them, such as 100 for a price a hundred; where the list has a column that
    says ``per`` what it is, that must agree.
    """

    number: Annotated[str, Field(min_length=1, max_length=60)]
    code: Code
    unit: Annotated[str, Field(min_length=1, max_length=8)]
    pack: Annotated[float, Field(gt=0, le=100_000)] = 1.0
    packs: Annotated[int, Field(ge=1, le=100_000)] = 1


class ListMapping(Strict):
    """The mapping file: who sells, in which currency, of which day, how the list is written, and what is what."""

    supplier: Annotated[str, Field(min_length=1, max_length=80)]
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")]
    date: Annotated[str, Field(pattern=r"^\d{4}-\d\d-\d\d$")]
    tax: Annotated[float, Field(ge=0, le=100)]
    delimiter: Literal[",", ";", "|", "tab"] = ","
    decimal: Literal[".", ","] = "."
    encoding: Literal["utf-8", "utf-16", "latin-1", "windows-1252"] = "utf-8"
    headings: Headings
    articles: Annotated[tuple[Known, ...], Field(min_length=1, max_length=5_000)]


@dataclass(frozen=True)
class Imported:
    """Prices in the order of the list, and how many of its lines the mapping does not name."""

    prices: tuple[Price, ...]
    left_out: int


def import_list(path: Path, mapping: Path) -> Imported:
    """The prices of a supplier's list. Raises InputError with file and line of every problem found."""
    read, source = read_file(mapping, ListMapping)
    with source.locating():
        _check(read)
    rows = list(_rows(_text(path, read), read, path.name))
    imported = _imported(rows, read, path.name)
    _check_found(rows, read, source, path.name)
    return imported


def into_book(imported: Imported, book: PriceBook | None, note: str) -> bytes:
    """A price book with the imported prices in place of those of the same code, and all others kept.

    Raises InputError where the two do not go together, such as two currencies.
    """
    new = {price.code: price for price in imported.prices}
    kept = {} if book is None else dict(book.prices)
    raw = book_csv({**kept, **new}.values(), note if book is None else book.note)
    price_book(raw, "the new price book")
    return raw


def _check(mapping: ListMapping) -> None:
    for name in ("number", "code"):
        seen: set[str] = set()
        for i, article in enumerate(mapping.articles):
            value = getattr(article, name)
            if value in seen:
                raise InputError.at(f"articles[{i}].{name}", found=f"'{value}' twice", allowed="each once")
            seen.add(value)


def _text(path: Path, mapping: ListMapping) -> str:
    try:
        with path.open("rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except OSError as error:
        what = (error.strerror or "unreadable").lower()
        raise InputError([Problem("file", what, "a list that can be read", "check the path", path.name)]) from None
    if len(raw) > MAX_BYTES:
        raise InputError([Problem("file", "more than 20 MB", "20 MB", file=path.name)])
    try:
        return raw.decode("utf-8-sig" if mapping.encoding == "utf-8" else mapping.encoding)
    except UnicodeError as error:
        named = {"utf-8": "UTF-8", "utf-16": "UTF-16"}.get(mapping.encoding, mapping.encoding)
        at = f" at offset {error.start}" if isinstance(error, UnicodeDecodeError) else ""
        found, allowed = f"a byte that is not {named}{at}", f"{named} text"
        raise InputError([Problem("file", found, allowed, _encoding_advice(raw), path.name)]) from None


def _encoding_advice(raw: bytes) -> str:
    other = "utf-16" if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else "latin-1"
    return f"encoding: {other} in the mapping, or save it as UTF-8"


def _rows(text: str, mapping: ListMapping, file: str) -> Iterator[Row]:
    """Every row under the header as its cells by heading, with the line on which it ends."""
    delimiter = "\t" if mapping.delimiter == "tab" else mapping.delimiter
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        headings = _header(reader, mapping, file)
        for row in reader:
            if any(cell.strip() for cell in row):
                yield reader.line_num, _cells(row, headings, file, reader.line_num)
    except csv.Error as error:
        problem = Problem("row", str(error), "fields between delimiters, quotes doubled", "", file, reader.line_num)
        raise InputError([problem]) from None


def _header(rows: Iterator[list[str]], mapping: ListMapping, file: str) -> list[str]:
    """The first row that has every heading of the mapping; what stands above it are titles."""
    wanted = [name for name in mapping.headings.model_dump().values() if name is not None]
    first: list[str] = []
    for row in islice(rows, TITLES + 1):
        cells = [cell.strip() for cell in row]
        if set(wanted) <= set(cells):
            return cells
        first = first or [cell for cell in cells if cell]
    missing = [name for name in wanted if name not in first] or wanted
    advice = "headings and delimiter of the mapping as the list has them"
    problem = Problem("header", ", ".join(first)[:80] or "nothing", ", ".join(missing), advice, file, 1)
    raise InputError([problem])


def _cells(row: list[str], headings: Sequence[str], file: str, line: int) -> dict[str, str]:
    if len(row) != len(headings):
        problem = Problem("row", f"{len(row)} fields", f"{len(headings)}, as the header has", "", file, line)
        raise InputError([problem])
    return dict(zip(headings, (cell.strip() for cell in row), strict=True))


def _imported(rows: Sequence[Row], mapping: ListMapping, file: str) -> Imported:
    known = {article.number: article for article in mapping.articles}
    prices: dict[str, Price] = {}
    problems: list[Problem] = []
    for line, cells in rows:
        article = known.get(cells[mapping.headings.number])
        if article is None:
            continue
        price, wrong = _price(cells, article, mapping)
        wrong += [Problem("number", f"'{article.number}' twice", "each number once")] * (article.code in prices)
        problems += [replace(problem, file=file, line=line) for problem in wrong]
        if price:
            prices[price.code] = price
    if problems:
        raise InputError(problems)
    return Imported(tuple(prices.values()), len(rows) - len(prices))


def _price(cells: dict[str, str], article: Known, mapping: ListMapping) -> tuple[Price | None, list[Problem]]:
    """The line as the price book would have it, judged by the same rules."""
    headings = mapping.headings
    tax = _plain(cells[headings.tax], mapping) if headings.tax else _exact(mapping.tax)
    price, problems = price_of(
        {
            "code": article.code,
            "description": cells[headings.description][:120],
            "unit": article.unit,
            "pack": _exact(article.pack),
            "price": _of_one(_plain(cells[headings.price], mapping), article.packs),
            "currency": mapping.currency,
            "date": mapping.date,
            "tax": tax,
            SUPPLIER: mapping.supplier,
            THEIRS: article.number,
        }
    )
    problems += [*_other_currency(cells, mapping), *_other_quantity(cells, article, mapping)]
    return (None if problems else price), problems


def _other_currency(cells: dict[str, str], mapping: ListMapping) -> list[Problem]:
    """A row that the list has in another currency than the mapping."""
    heading = mapping.headings.currency
    allowed = [mapping.currency, SYMBOLS.get(mapping.currency, mapping.currency)]
    if heading is None or cells[heading] in allowed:
        return []
    advice = "a list for each currency, and a price book for each"
    return [Problem(heading, repr(cells[heading])[:60], " or ".join(dict.fromkeys(allowed)), advice)]


def _other_quantity(cells: dict[str, str], article: Known, mapping: ListMapping) -> list[Problem]:
    """A row whose price is for more or fewer units than the mapping says."""
    heading = mapping.headings.per
    if heading is None:
        return []
    packs = Decimal(article.packs)
    units = Decimal(_exact(article.pack)) * packs
    if _as_decimal(_plain(cells[heading], mapping)) in (packs, units):
        return []
    allowed = " or ".join(dict.fromkeys([f"{packs.normalize():f} packs", f"{units.normalize():f} {article.unit}"]))
    return [
        Problem(heading, repr(cells[heading])[:60], allowed, f"pack and packs of {article.code} in the mapping")
    ]


def _plain(number: str, mapping: ListMapping) -> str:
    """A number of the list as the price book writes it: thousands together, decimals after a point.

    The code or sign of the mapping's currency and spaces are taken off. What is no number by the mapping's decimal
    sign, or is in another currency, is told so and refused: with a point as the sign, 4,85 is not 485.
    """
    thousands = "," if mapping.decimal == "." else "."
    sign = SYMBOLS.get(mapping.currency, mapping.currency)
    bare = re.sub(rf"{mapping.currency}|{re.escape(sign)}|\s", "", number)
    if re.search(r"[A-Z]{3}|[^\W\d_]\w*\.?|[$€£¥]", bare) and re.search(r"\d", bare):
        return f"{bare}, which is not in {mapping.currency}"
    if not re.fullmatch(GROUPED[mapping.decimal], bare):
        return f"{bare} by decimal {mapping.decimal}" if bare else ""
    return bare.replace(thousands, "").replace(mapping.decimal, ".")


def _as_decimal(text: str) -> Decimal | None:
    try:
        return Decimal(text)
    except InvalidOperation:
        return None


def _exact(number: float) -> str:
    """A number of the mapping as it was typed, without an exponent and the nothing after a point."""
    return f"{Decimal(f'{number:.15g}'):f}"


def _of_one(price: str, packs: int) -> str:
    """The price of one pack, half up to four decimals; what is no number is left to be refused."""
    value = _as_decimal(price)
    if packs == 1 or value is None:
        return price
    return f"{(value / packs).quantize(PLACES, ROUND_HALF_UP):f}"


def _check_found(rows: Sequence[Row], mapping: ListMapping, source: Source, file: str) -> None:
    numbers = {cells[mapping.headings.number] for _, cells in rows}
    missing = [
        Problem(f"articles[{i}].number", f"'{article.number}', which {file} does not have", "a number of the list")
        for i, article in enumerate(mapping.articles)
        if article.number not in numbers
    ]
    if missing:
        raise source.located(InputError(missing))
