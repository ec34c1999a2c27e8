"""Paper: the border of a sheet, its heading and its title block."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256

from shapely import to_wkt

from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import CONTACT, NOISE
from countersunk.viewer.drawing.lettering import lines_of, paragraph, printable
from countersunk.viewer.drawing.shapes import A3, PAPER, Box, Line, Mark, Path, Point, Sheet, Text, View
from countersunk.viewer.drawing.strokes import Stroke

MARGIN = 10.0
PAD = 3.0
BLOCK = (180.0, 30.0)
"""Width and height of the title block, mm."""

SCALES = (5.0, 10.0, 20.0, 50.0)


def sheet(
    kitchen: Kitchen, name: str, title: str, heading: list[Mark], views: list[View], scale: str = ""
) -> Sheet:
    """A landscape A3 sheet with its views, heading and title block. ``heading`` is in paper millimetres."""
    words = source(kitchen)
    measured = f"{words[0].upper()}{words[1:]}" if words else BY_HAND
    block = TitleBlock(kitchen.document.kitchen, f"papers {imprint(kitchen)}", measured, bool(words))
    return titled(block, name, title, heading, views, scale)


BY_HAND = "Measured again on site by: ................  date: ........"
"""Room to say by whom a sheet was checked against the room."""


@dataclass(frozen=True)
class TitleBlock:
    """What stands at the foot of a sheet: whose kitchen, which papers, and what it was measured by, which may
    stand out in bold.
    """

    kitchen: str
    papers: str
    measured: str = BY_HAND
    stands_out: bool = False


def titled(
    block: TitleBlock, name: str, title: str, heading: list[Mark], views: list[View], scale: str = ""
) -> Sheet:
    """The same of whatever has a title block."""
    scale = scale or ", ".join(dict.fromkeys(f"1:{view.scale:g}" for view in views)) or "no scale"
    marks = (*border(A3), *heading, *_title_block(block, title, scale))
    return Sheet(name, title, scale, (*views, paper_view(marks)))


def paper_view(marks: tuple[Mark, ...], size: Point = A3) -> View:
    """What belongs to the paper itself."""
    return View(PAPER, 1.0, (0.0, 0.0), (0.0, 0.0, *size), marks)


def border(size: Point) -> list[Mark]:
    """The frame inside which everything stands."""
    w, h = size
    corners = ((MARGIN, MARGIN), (w - MARGIN, MARGIN), (w - MARGIN, h - MARGIN), (MARGIN, h - MARGIN))
    return [Path(corners, Stroke.FRAME, closed=True)]


def heading(words: str, below: str, stroke: Stroke = Stroke.TEXT, height: float = 6.0) -> list[Mark]:
    """The large line at the top of a sheet and a plain one below it."""
    top = A3[1] - MARGIN - PAD - height
    return [
        Text((MARGIN + PAD, top), words, height, bold=True, stroke=stroke),
        *paragraph(below, (MARGIN + PAD, top - 5.0), A3[0] - 2 * (MARGIN + PAD), 2.2),
    ]


def _title_block(block: TitleBlock, title: str, scale: str) -> list[Mark]:
    """What the sheet is, at its lower right corner."""
    w, h = BLOCK
    x0, y0 = A3[0] - MARGIN - w, MARGIN
    x, inner = x0 + PAD, w - 2 * PAD
    name = lines_of(printable(block.kitchen), 2.2, inner)[:2]
    rules = [Line((x0, y0 + dy), (x0 + w, y0 + dy), Stroke.TABLE) for dy in (8.0, 16.0)]
    return [
        Path(_corners((x0, y0, x0 + w, y0 + h)), Stroke.FRAME, closed=True),
        *rules,
        *(Text((x, y0 + h - 5.0 - 4.2 * i), line, 2.2, bold=True) for i, line in enumerate(name)),
        Text((x, y0 + 10.5), lines_of(title, 2.5, inner - 36.0)[0], 2.5, bold=True),
        Text((x + inner, y0 + 10.5), block.papers, 2.5, "right", bold=True),
        Text((x, y0 + 2.9), f"{scale}   millimetres", 2.0),
        Text((x + 58.0, y0 + 2.9), block.measured, 2.0, bold=block.stands_out),
    ]


def imprint(kitchen: Kitchen) -> str:
    """Six characters that are the same on all papers of a kitchen, and others once anything in it has changed."""
    told = [
        kitchen.document.model_dump_json(),
        *(f"{t.id} {to_wkt(t.part.outline, NOISE)}" for t in kitchen.planned.lengths),
    ]
    return sha256("\n".join(told).encode()).hexdigest()[:6].upper()


def source(kitchen: Kitchen) -> str:
    """What lengths on a paper are from, once units were measured as fitted; nothing before."""
    planned = "as planned, before the units were fitted" if kitchen.document.fitted is not None else ""
    return kitchen.tops_from or planned


def reference(kitchen: Kitchen) -> str:
    """The imprint, and what the lengths of tops are from."""
    return ", ".join(filter(None, (imprint(kitchen), source(kitchen))))


def _corners(box: Box) -> tuple[Point, ...]:
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def fitting_scale(real: Point, room: Point, scales: tuple[float, ...] = SCALES) -> float:
    """The largest scale at which ``real`` mm fit into ``room`` mm on paper; the smallest where none does."""
    return next(
        (s for s in scales if real[0] / s <= room[0] + CONTACT and real[1] / s <= room[1] + CONTACT), scales[-1]
    )
