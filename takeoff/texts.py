"""Texts from users, on their way into a spreadsheet: none may become a formula, none may break a row."""

from __future__ import annotations

import re

RISKY = re.compile(r"^\s*[=+\-@]")
CONTROL = re.compile(r"[\x00-\x1f\x7f]+")


def plain(text: str) -> str:
    """Text with a space for each stretch of control characters, such as a tab or a line break."""
    return CONTROL.sub(" ", text)


def is_risky(text: str) -> bool:
    """Whether a spreadsheet could take it for a formula: it begins with ``=``, ``+``, ``-`` or ``@``."""
    return bool(RISKY.match(text))


def safe(text: str) -> str:
    """Plain text for a CSV; what a spreadsheet could run gets an apostrophe before it.

    >>> safe("=1+1"), safe("-3"), safe("plain")
    ("'=1+1", "'-3", 'plain')
    """
    text = plain(text)
    return f"'{text}" if is_risky(text) else text
