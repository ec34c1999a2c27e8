"""Slips: what was likely meant where a number was mistyped: units or spaces in it, metres for millimetres."""

from __future__ import annotations

import math
import re
from typing import Any

NUMBER = re.compile(r"(-?\d+(?: \d+)*(?:[.,]\d+)?) ?(mm|cm|m|°|deg)?", re.ASCII)
TIMES = {"cm": 10.0, "m": 1000.0}
"""Millimetres to a unit that people write."""

LENGTH = 100.0
"""A field whose least value is this or more is a length that a tape reads, and in mm."""


def meant(found: Any, field: dict[str, Any]) -> str:
    """What to try for a value that a number field refused, from its JSON Schema; empty where nothing is likely."""
    if field.get("type") not in ("number", "integer"):
        return ""
    if isinstance(found, str):
        return _bare(found, field)
    return _in_mm(found, field) if isinstance(found, int | float) else ""


def comma(key: str) -> str:
    """What to try for an unknown key: one of digits is what stood behind a comma."""
    return "a point in a decimal number, and no comma within one" if key.isdecimal() else ""


def _bare(text: str, field: dict[str, Any]) -> str:
    """The number in a text, in mm or degrees."""
    written = NUMBER.fullmatch(text.strip())
    if written is None:
        return "a number alone"
    number = float(written[1].replace(" ", "").replace(",", ".")) * TIMES.get(written[2] or "", 1.0)
    possible = field.get("minimum", -math.inf) <= number <= field.get("maximum", math.inf)
    return f"{number:.10g}, without units, spaces or quotes" if possible else "a number alone"


def _in_mm(number: float, field: dict[str, Any]) -> str:
    """Metres or centimetres where millimetres are asked for."""
    low, high = field.get("minimum", 0.0), field.get("maximum", 0.0)
    for unit, times in TIMES.items():
        if 0 < number < low and LENGTH <= low <= number * times <= high:
            return f"{number * times:g}, if that was in {unit}: lengths are in mm"
    return ""
