"""Front sheets: every front to be ordered or made, with its size, its hinges and the holes for its handle.

Fronts that are alike are drawn once, as one sees them from the room.
"""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.facts.faces import Front, fronts
from countersunk.model.kitchen import Kitchen
from countersunk.model.units.style import rail_of
from countersunk.viewer.drawing.lettering import lines_of, mm
from countersunk.viewer.drawing.paper import MARGIN, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Box, Circle, Line, Mark, Path, Sheet, Text, View
from countersunk.viewer.drawing.strokes import Stroke

COLUMNS, ROWS = 6, 3
TOP, FOOT = 266.0, 44.0
"""Between which heights of the paper fronts are drawn, mm."""

CELL = ((A3[0] - 2 * MARGIN) / COLUMNS, (TOP - FOOT) / ROWS)
LETTERS, PITCH = 1.9, 3.0
DRAWN = (CELL[0] - 8.0, CELL[1] - 28.0)
"""What a front may take of its cell, mm on paper; the rest is for words."""

SCALES = (10.0, 20.0, 25.0, 50.0, 100.0)

BELOW = (
    "Seen from the room; holes are measured from the left and the lower edge. Sizes are finished sizes, edge band "
    "among them. Drill one front, hang it, and look before the others are drilled."
)
"""Common practice of the trade, no source."""


def front_sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """As many A3 sheets as the fronts of the kitchen take; none where there are no fronts."""
    groups: dict[tuple[object, ...], list[Front]] = {}
    for front in fronts(kitchen):
        groups.setdefault(front.alike, []).append(front)
    kinds, each = list(groups.values()), COLUMNS * ROWS
    pages = [kinds[i : i + each] for i in range(0, len(kinds), each)]
    for number, page in enumerate(pages, start=1):
        more = f", {number} of {len(pages)}" if len(pages) > 1 else ""
        views = [_view(kinds, at) for at, kinds in enumerate(page)]
        words = [m for at, kinds in enumerate(page) for m in _words(kitchen, kinds, at)]
        name = "fronts" if len(pages) < 2 else f"fronts-{number}"
        title = f"Fronts and their handles{more}"
        yield sheet(kitchen, name, title, [*heading(title.upper(), BELOW, height=4.5), *words], views)


def _cell(at: int) -> Box:
    """The place of a front on the paper, from the upper left."""
    x, y = MARGIN + (at % COLUMNS) * CELL[0], TOP - (at // COLUMNS + 1) * CELL[1]
    return (x, y, x + CELL[0], y + CELL[1])


def _view(kinds: list[Front], at: int) -> View:
    front, (x0, _, x1, y1) = kinds[0], _cell(at)
    scale = next(
        s for s in SCALES if (front.width <= DRAWN[0] * s and front.height <= DRAWN[1] * s) or s == SCALES[-1]
    )
    origin = ((x0 + x1) / 2 - front.width / scale / 2, y1 - 3.0 - front.height / scale)
    return View(f"front {at + 1}", scale, origin, (x0, y1 - CELL[1], x1, y1), tuple(_drawn(front, scale)))


def _drawn(front: Front, scale: float) -> Iterator[Mark]:
    w, h = front.width, front.height
    yield _box(0.0, 0.0, w, h, Stroke.OUTLINE)
    recess = front.unit.style.recess
    rail = rail_of(recess, h) if recess else 0.0
    if front.is_glazed:
        stile = front.unit.boards.method.stile
        yield _box(stile, stile, w - stile, h - stile, Stroke.UNIT)
    elif recess and rail and front.part.pockets:
        yield _box(recess.frame, rail, w - recess.frame, h - rail, Stroke.UNIT)
    elif front.part.pockets:
        count = len(front.part.pockets)
        for i in range(count):
            x = w * (i + 1) / (count + 1)
            yield Line((x, 0.0), (x, h), Stroke.UNIT)
    if front.hinge in ("left", "right"):
        x, far = (0.0, w) if front.hinge == "left" else (w, 0.0)
        yield Line((far, 0.0), (x, h / 2), Stroke.HIDDEN)
        yield Line((far, h), (x, h / 2), Stroke.HIDDEN)
    yield from (Circle(hole, 0.9 * scale, Stroke.LINE_TO_CUT) for hole in front.holes)


def _box(x0: float, y0: float, x1: float, y1: float, stroke: Stroke) -> Path:
    return Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), stroke, closed=True)


def _words(kitchen: Kitchen, kinds: list[Front], at: int) -> Iterator[Text]:
    """Size and number, what it is made of and in, where it hangs and is drilled, and where it goes."""
    front, (x0, y0, _, _) = kinds[0], _cell(at)
    style, decors = front.unit.style, kitchen.catalogue.decors
    made = "panes in the doors" if front.is_glazed else style.name
    hangs = f", hangs on the {front.hinge}" if front.hinge else ""
    decor = decors[front.decor].name if front.decor in decors else ""
    holes = "; ".join(f"{mm(x)}, {mm(z)}" for x, z in front.holes)
    bare = "no holes" if front.unit.handle.centres is not None else f"no holes: {front.unit.handle.name}"
    drill = f"holes at {holes}" if holes else bare
    places = ", ".join(kind.part.mark for kind in kinds)
    lines = [f"{len(kinds)} of {mm(front.width)} x {mm(front.height)}{hangs}", f"{made}, {decor}", drill, places]
    folded = [line for words in lines for line in lines_of(words, LETTERS, CELL[0] - 6.0)][:7]
    for i, line in enumerate(folded):
        yield Text((x0 + 3.0, y0 + 22.0 - i * PITCH), line, LETTERS, bold=i == 0)
