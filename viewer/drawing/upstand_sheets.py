"""Upstand sheets: every piece of upstand with its numbers, and what it is cut from."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.kitchen import Kitchen
from countersunk.viewer.drawing.lettering import kg, lines_of, mm, paragraph
from countersunk.viewer.drawing.paper import BLOCK, MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Box, Mark, Sheet, Text, View
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.upstand import DrawnUpstand, drawn, upstands

TOP, FOOT = 266.0, 46.0
LEFT = MARGIN + 8.0
"""Between which heights pieces stand on a sheet, and from where, mm on paper."""

WORDS, UNDER = 15.0, 30.0
"""Room above a piece for its words, and below it for its numbers, mm on paper."""

HEIGHT = 2.3

CAUTIONS = (
    "! Saw and drill: eyes, ears and lungs protected, dust drawn off. Sawn edges of laminate are sharp.",
    "! Cables and pipes in the wall: glue, do not screw or drill. Sockets are taken off and put back "
    "by licensed people.",
    "! Behind a hob only what the makers' sheets and local codes allow; they go before everything on these papers.",
)
"""Common practice of the trade, no source."""


def upstand_sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """As many sheets as the pieces take; none where there are none."""
    pieces = upstands(kitchen)
    if pieces:
        longest, highest = (
            max(size) for size in zip(*((p.part.length, p.part.depth) for p in pieces), strict=True)
        )
        scale = fitting_scale((longest, highest), (A3[0] - 2 * MARGIN - 36.0, 60.0), (5.0, 10.0, 20.0))
        each = WORDS + UNDER + highest / scale
        most = max(1, int((TOP - FOOT) / each))
        parted = [pieces[i : i + most] for i in range(0, len(pieces), most)]
        for i, some in enumerate(parted, 1):
            yield _sheet(kitchen, some, scale, each, (i, len(parted)))


def _sheet(kitchen: Kitchen, some: list[DrawnUpstand], scale: float, each: float, number: tuple[int, int]) -> Sheet:
    i, of = number
    more = f", {i} of {of}" if of > 1 else ""
    below = (
        "Each piece as one faces its wall. Numbers run from its left end and up from the top that it stands on. "
        "Measure each stretch again once the tops are fixed."
    )
    marks, views = heading(f"UPSTANDS{more}", below), []
    for row, piece in enumerate(some):
        top = TOP - row * each
        marks += _words(piece, top)
        low = top - WORDS - piece.part.depth / scale
        window: Box = (MARGIN, low - UNDER + 1.0, A3[0] - MARGIN, top - WORDS + 1.0)
        views.append(View(piece.part.mark, scale, (LEFT, low), window, tuple(drawn(piece, scale))))
    marks += _cautions()
    name = "upstands" if of == 1 else f"upstands-{i}"
    return sheet(kitchen, name, f"Upstands{more}", marks, views)


def _words(piece: DrawnUpstand, top: float) -> list[Mark]:
    """What the piece is, above it."""
    part, stock = piece.part, piece.stock
    title = f"{part.mark}  {mm(part.length)} x {mm(part.depth)} x {mm(part.thickness)}, wall {piece.wall.name}"
    return [
        Text((LEFT, top - 4.0), title, 3.0, bold=True),
        *paragraph(
            f"{mm(piece.start)} to {mm(piece.end)} along the wall; {stock.name}: from a length of "
            f"{mm(piece.blank)}, {mm(piece.blank - part.length)} to spare, {kg(piece.weight)}. "
            f"Left end {piece.left}; right end {piece.right}.",
            (LEFT, top - 8.5), A3[0] - 2 * LEFT, HEIGHT,
        ),
    ]  # fmt: skip


def _cautions() -> list[Mark]:
    """Edges, and what can hurt, beside the title block."""
    x, y, width = MARGIN + 3.0, FOOT - 6.0, A3[0] - 2 * MARGIN - BLOCK[0] - 8.0
    edges = (
        "Ends are sawn square; a sawn end or hole in particleboard is sealed twice. A free end gets an edging "
        "strip. Silicone at the top edge, at the foot and where ends meet."
    )
    found: list[Mark] = []
    for words in (edges, *CAUTIONS):
        warns = words.startswith("!")
        stroke = Stroke.WARNING if warns else Stroke.TEXT
        found += paragraph(words, (x, y), width, 2.1, bold=warns, stroke=stroke)
        y -= len(lines_of(words, 2.1, width)) * 2.1 * 1.65 + 0.8
    return found
