"""Texts from users, on their way into a spreadsheet: none may become a formula, none may break a row."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Container, Iterable, Mapping, Sequence

from countersunk.takeoff.stock.money_form import MoneyForm

RISKY = re.compile(r"^[\s\u200b-\u200f\u2060\ufeff]*[=+\-@\uff1d\uff0b\uff0d\uff20]")
"""What spreadsheets may run, in the wide forms of East Asia too, after blanks of any width."""

CONTROL = re.compile(r"[^\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]+")
"""What breaks a row or may not stand in XML (XML 1.0, 2.2, from memory): control characters, line breaks, halves of
a pair, what is no character."""


def plain(text: str) -> str:
    """Text with a space for each stretch of control characters, such as a tab or a line break."""
    return CONTROL.sub(" ", text)


def is_risky(text: str) -> bool:
    """Whether a spreadsheet could take it for a formula: it begins with ``=``, ``+``, ``-`` or ``@``."""
    return bool(RISKY.match(text))


def unmarked(text: str) -> str:
    """The text that `safe` was given.

    >>> unmarked("'-10 °C"), unmarked("'quoted'")
    ('-10 °C', "'quoted'")
    """
    return text[1:] if text.startswith("'") and is_risky(text[1:]) else text


def table_bytes(
    columns: Sequence[str], rows: Iterable[Mapping[str, str]], numbers: Container[str], money: MoneyForm
) -> bytes:  # fmt: skip
    """Rows as a CSV that a spreadsheet of the locale opens: UTF-8 with a mark, ``numbers`` written as it does."""
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, restval="", lineterminator="\r\n", delimiter=money.parting)
    writer.writeheader()
    for row in rows:
        writer.writerow({k: safe(money.cell(v) if k in numbers else v) for k, v in row.items()})
    return text.getvalue().encode("utf-8-sig")


def safe(text: str) -> str:
    """Plain text for a CSV; what a spreadsheet could run gets an apostrophe before it.

    >>> safe("=1+1"), safe("-3"), safe("plain")
    ("'=1+1", "'-3", 'plain')
    """
    text = plain(text)
    return f"'{text}" if is_risky(text) else text
