"""Inches: lengths typed in feet and inches, such as ``23 5/8`` or ``7' 3 1/2"``, to millimetres and back."""

from __future__ import annotations

import re
from fractions import Fraction

INCH = 25.4
"""Millimetres to an inch, exactly: the international yard and pound agreement of 1959."""

FOOT = 12
FINEST = 64
"""The finest mark of a rule is this part of an inch."""

WRITTEN = re.compile(
    r"""(?P<sign>-?)
    (?:(?P<feet>\d{1,3})\ ?(?:'|ft)(?:\ ?-?(?=\d))?)?
    (?:(?P<whole>\d{1,4}(?:\.\d{1,4})?)(?![\d/]))?
    (?:(?:(?<=\d)[\ -]|(?<!\d))(?P<over>\d{1,2})/(?P<under>2|4|8|16|32|64))?
    (?P<mark>\ ?(?:"|in))?""",
    re.ASCII | re.VERBOSE,
)


def read(text: str) -> float | None:
    """The millimetres of a length typed in feet and inches; None where the text is no such length.

    A whole number needs the mark of its unit, since a bare one is in millimetres; a fraction needs none.

    >>> read('23 5/8'), read('24"'), read("7' 3 1/2 in"), read("-1/2"), read("600"), read("9/8")
    (600.075, 609.6, 2222.5, -12.7, None, None)
    """
    found = WRITTEN.fullmatch(text)
    if found is None:
        return None
    feet, whole, over, under = (found[name] for name in ("feet", "whole", "over", "under"))
    if not (feet or over or (whole and found["mark"])) or (found["mark"] and not (whole or over)):
        return None
    if (over and not 0 < int(over) < int(under)) or (over and whole and "." in whole):
        return None
    if feet and (whole or over) and Fraction(whole or 0) >= FOOT:
        return None
    inches = FOOT * int(feet or 0) + Fraction(whole or 0) + (Fraction(int(over), int(under)) if over else 0)
    return float((-1 if found["sign"] else 1) * inches * Fraction("25.4"))


def nearest(mm: float, part: int = FINEST) -> str:
    """A length in inches with a fraction, to the nearest ``part`` of an inch: 2, 4, 8, 16, 32 or 64.

    >>> nearest(600.075), nearest(609.6), nearest(9.5, 8), nearest(-12.7), nearest(0.1)
    ('23 5/8"', '24"', '3/8"', '-1/2"', '0"')
    """
    parts = round(abs(mm) / INCH * part)
    whole, rest = divmod(parts, part)
    words = [str(whole)] * (whole > 0) + [str(Fraction(rest, part))] * (rest > 0)
    return ("-" if mm < 0 and parts else "") + " ".join(words or ["0"]) + '"'


def exactly(mm: float) -> str | None:
    """A length in inches with a fraction, where that is exact to a hundred-thousandth of a millimetre; else None.

    >>> exactly(600.075), exactly(600.0)
    ('23 5/8"', None)
    """
    words = nearest(mm)
    said = read(words)
    return words if said is not None and abs(said - mm) < 1e-5 else None
