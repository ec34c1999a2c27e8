"""Label sheets: a label for every piece that is cut, 3 × 8 on A4, to stick on as it comes off the saw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.plans.boards import BoardPlan
from countersunk.takeoff.plans.tops import TopPlan
from countersunk.viewer.drawing.lettering import lines_of, mm
from countersunk.viewer.drawing.paper import imprint, source
from countersunk.viewer.drawing.qr import qr
from countersunk.viewer.drawing.shapes import A4, PAPER, Mark, Path, Point, Sheet, Text, View
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.scene.labels import WORDS

COLUMNS, ROWS = 3, 8
LABEL: Point = (66.0, 34.0)
EDGE: Point = (6.0, 12.5)
"""Labels on a page, the size of one, and the margin round all, mm: A4 less what a printer leaves white."""

CODE = 22.0
"""Side of the code with its quiet zone, mm."""

PAD = 2.0


@dataclass(frozen=True)
class Label:
    """A piece, where it was cut from, and its number there."""

    part: Part
    stock: str


def label_sheets(kitchen: Kitchen, boards: Sequence[BoardPlan], bars: Sequence[TopPlan]) -> list[Sheet]:
    """Every label in the order of the saw, page by page."""
    labels = [*_of_boards(kitchen, boards), *_of_bars(kitchen, bars)]
    count = COLUMNS * ROWS
    pages = [labels[i : i + count] for i in range(0, len(labels), count)]
    return [_page(kitchen, page, number, len(pages)) for number, page in enumerate(pages, start=1)]


def _of_boards(kitchen: Kitchen, plans: Sequence[BoardPlan]) -> Iterator[Label]:
    for plan in plans:
        for number, sheet in enumerate(plan.sheets, start=1):
            for place, panel in enumerate(sheet.places, start=1):
                yield Label(kitchen.parts_by_id[panel.id], f"{plan.code} sheet {number}, no. {place}")


def _of_bars(kitchen: Kitchen, plans: Sequence[TopPlan]) -> Iterator[Label]:
    for plan in plans:
        for number, bar in enumerate(plan.bars, start=1):
            for place, piece in enumerate(bar.pieces, start=1):
                yield Label(kitchen.length(piece.id).part, f"{bar.stock} length {number}, no. {place}")


def _page(kitchen: Kitchen, labels: Sequence[Label], number: int, of: int) -> Sheet:
    marks = [
        m for i, label in enumerate(labels) for m in _label(label, _corner(i), imprint(kitchen), source(kitchen))
    ]
    view = View(PAPER, 1.0, (0.0, 0.0), (0.0, 0.0, *A4), tuple(marks))
    return Sheet(f"labels-{number}", f"Labels, {number} of {of}", "1:1", (view,), A4)


def _corner(i: int) -> Point:
    """The lower left corner of a label, rows from the top."""
    row, column = divmod(i, COLUMNS)
    return (EDGE[0] + column * LABEL[0], A4[1] - EDGE[1] - (row + 1) * LABEL[1])


def _label(label: Label, corner: Point, papers: str, cut: str) -> Iterator[Mark]:
    """Its mark, what it is, its size, its edges, where it came from, and its code."""
    part, (x, y) = label.part, corner
    width = LABEL[0] - CODE - PAD
    yield _outline(corner)
    yield from qr(code(part), (x + LABEL[0] - CODE, y + LABEL[1] - CODE - 0.5), CODE)
    name = lines_of(part.mark, 3.0, width)[:2]
    for i, line in enumerate(name):
        yield Text((x + PAD, y + LABEL[1] - 5.5 - i * 4.6), line, 3.0, bold=True)
    low = y + LABEL[1] - 5.5 - len(name) * 4.6
    yield Text((x + PAD, low), _what(part), 2.0)
    yield Text((x + PAD, low - 4.8), f"{mm(part.length)} x {mm(part.depth)} x {mm(part.thickness)}", 2.4, bold=True)
    for i, line in enumerate(lines_of(_bands(part, cut), 1.9, LABEL[0] - 2 * PAD)[:2]):
        yield Text((x + PAD, y + 7.6 - i * 2.9), line, 1.9)
    yield Text((x + PAD, y + 1.6), f"{label.stock}   papers {papers}", 1.6)


MOST = 28
"""Letters that have room beside the code."""


def code(part: Part) -> str:
    """What the code on a label says: what people read of the part today, then its identity, which lasts.

    A camera shows it as words, since a page on the phone itself has no address that a code could open: what stands
    behind the mark, put behind the page's address or typed into it, opens the piece (`viewer.saw.page`).
    """
    return f"{part.mark} #piece={part.id}"


def _what(part: Part) -> str:
    """What it is, and in brackets the key of what it belongs to, which lasts, where there is room for it."""
    what = f"{WORDS.get(part.role, part.role)} of {part.called}"
    both = f"{what} ({part.owner})"
    return both if len(both) <= MOST else what[:MOST]


def _bands(part: Part, cut: str) -> str:
    """Edges to band with their lengths, as the part's own front, back, left and right."""
    if part.role is Role.WORKTOP:
        return "edges: see the sheets of this length" + (f"; {cut}" if cut else "")
    sides = [f"{side} {mm(part.length if side in ('front', 'back') else part.depth)}" for side in part.banded]
    return f"band: {', '.join(sides)}" if sides else "no edge to band"


def _outline(corner: Point) -> Path:
    (x, y), (w, h) = corner, LABEL
    return Path(((x, y), (x + w, y), (x + w, y + h), (x, y + h)), Stroke.TABLE, closed=True)
