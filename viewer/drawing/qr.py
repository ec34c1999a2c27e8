"""QR: a code that a phone or a scanner reads, as rectangles of ink (ISO/IEC 18004, made by segno)."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import segno

from countersunk.viewer.drawing.shapes import Path, Point
from countersunk.viewer.drawing.strokes import PENS, Stroke

QUIET = 4
"""Modules that stay white round a code, as the standard asks (from memory)."""


def qr(words: str, corner: Point, size: float) -> Iterator[Path]:
    """The code of ``words`` with its quiet zone in a square of ``size`` mm, its lower left corner at ``corner``.

    Dark modules of a row are joined, and half the pen is taken off each side, so that no ink runs over.
    """
    rows = [list(row) for row in segno.make(words, error="m", micro=False).matrix]
    module = size / (len(rows) + 2 * QUIET)
    for number, row in enumerate(rows):
        y = corner[1] + size - (QUIET + number + 1) * module
        start = 0
        for dark, run in groupby(row):
            count = len(list(run))
            if dark:
                yield _ink(corner[0] + (QUIET + start) * module, y, count * module, module)
            start += count


def _ink(x: float, y: float, width: float, height: float) -> Path:
    inset = PENS[Stroke.TEXT].width / 2
    x0, y0, x1, y1 = x + inset, y + inset, x + width - inset, y + height - inset
    return Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), Stroke.TEXT, closed=True, filled="ink")
