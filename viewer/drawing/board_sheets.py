"""Board sheets: every sheet of board with its panels, in the order of the saw, and a list to tick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.board_quantities import bound
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.boards import BoardPlan, PlacedPanel, SawLine, SheetRest
from countersunk.takeoff.plans.boards import BoardSheet as BoardSheet
from countersunk.viewer.drawing.lettering import mm, text_box, width_of
from countersunk.viewer.drawing.paper import MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Box, Mark, Path, Point, Sheet, Span, Text, View
from countersunk.viewer.drawing.shapes import Line as Stretch
from countersunk.viewer.drawing.spacing import Taken
from countersunk.viewer.drawing.strokes import Stroke

WINDOW: Box = (MARGIN, 34.0, 306.0, 268.0)
"""Where the sheet of board is shown, mm on paper."""

ROOM: Point = (284.0, 212.0)
"""What a sheet of board may take of it, numbers round it aside."""

LIST_LEFT, LIST_TOP, LIST_FOOT = 310.0, 264.0, 46.0
"""The list of panels, mm on paper."""

SMALL = 1.7
"""Height of the numbers of cuts, mm on paper."""

CAUTION = (
    "Black numbers are the order in which panels come off, red that of the cuts, each from edge to edge of the "
    "board in hand. Guard and riving knife on, push stick, eyes, ears and lungs protected, dust drawn off; two "
    "people for a whole sheet."
)
"""Common practice of the trade, no source; the saw maker's sheet goes first."""


def board_sheets(kitchen: Kitchen, plan: BoardPlan) -> Iterator[Sheet]:
    """One A3 sheet for each sheet of a board, named after its code and decor."""
    for number, board in enumerate(plan.sheets, start=1):
        yield _drawn(kitchen, plan, board, number)


def _drawn(kitchen: Kitchen, plan: BoardPlan, board: BoardSheet, number: int) -> Sheet:
    title = f"{plan.name}, sheet {number} of {len(plan.sheets)}"
    board = replace(board, places=tuple(replace(p, id=kitchen.marks[p.id]) for p in board.places))
    length, width = board.size
    scale = fitting_scale((length, width), ROOM, (5.0, 10.0, 15.0, 20.0, 50.0))
    marks = tuple(_marks(board, scale))
    view = View("sheet of board", scale, (MARGIN + 12.0, 268.0 - 6.0 - width / scale), WINDOW, marks)
    source = f" - offcut {board.offcut}" if board.offcut else ""
    words = f"{title} - {plan.code} - {mm(length)} x {mm(width)}{source}"
    below = f"{CAUTION} The plan buys {counted(plan.bought, 'sheet')}; {bound(plan)}."
    paper = [*heading(words, below, height=4.5), *_list(board)]
    return sheet(kitchen, f"cut-{plan.code.replace('.', '-')}-{number}", title, paper, [view])


def _marks(board: BoardSheet, scale: float) -> Iterator[Mark]:
    length, width = board.size
    yield _box((0.0, 0.0, length, width), Stroke.BLANK)
    yield Span((length, 0.0), (0.0, 0.0), 5.0 * scale)
    yield Span((0.0, 0.0), (0.0, width), 5.0 * scale)
    yield Text((2.0 * scale, -4.0 * scale), "grain along this side", 2.2)
    panels = [m for number, place in enumerate(board.places, start=1) for m in _panel(place, number, scale)]
    yield from (*panels, *(m for offcut in board.offcuts for m in _kept(offcut, scale)))
    taken = Taken()
    taken.add(*(text_box(m, scale) for m in panels if isinstance(m, Text)))
    for number, line in enumerate(board.lines, start=1):
        yield from _cut(line, number, scale, taken)


def _panel(place: PlacedPanel, number: int, scale: float) -> Iterator[Mark]:
    """Outline, number, and as much of id and size as there is room for."""
    yield _box((place.x, place.y, place.x + place.length, place.y + place.width), Stroke.OUTLINE)
    upright = place.width > place.length
    room = (max(place.length, place.width) / scale - 2.0, min(place.length, place.width) / scale - 1.2)
    size = f"{mm(place.length)} x {mm(place.width)}"
    rows = [(f"{number}", 3.2), (place.id, 2.0), (size, 2.0)]
    one = [(f"{number}  {place.id}", 2.0)]
    for words in (rows, rows[:1] + rows[2:], one, rows[:1]):
        if sum(h * 1.5 for _, h in words) <= room[1] and all(width_of(w, h) <= room[0] for w, h in words):
            yield from _lettered(words, (place.x + place.length / 2, place.y + place.width / 2), scale, upright)
            return


def _lettered(rows: list[tuple[str, float]], middle: Point, scale: float, upright: bool) -> Iterator[Text]:
    """Rows about a point, along the longer side."""
    down = sum(h * 1.5 for _, h in rows) / 2
    for words, height in rows:
        down -= height * 1.25
        x, y = (middle[0] - down * scale, middle[1]) if upright else (middle[0], middle[1] + down * scale)
        yield Text((x, y), words, height, "middle", 90.0 if upright else 0.0, bold=height > 3.0)
        down -= height * 0.25


def _kept(offcut: SheetRest, scale: float) -> Iterator[Mark]:
    x, y = offcut.x + offcut.length / 2, offcut.y + offcut.width / 2
    upright = offcut.width > offcut.length
    yield _box((offcut.x, offcut.y, offcut.x + offcut.length, offcut.y + offcut.width), Stroke.HIDDEN)
    rows = [("keep", 2.6), (f"{mm(offcut.length)} x {mm(offcut.width)}", 2.2)]
    yield from _lettered(rows, (x, y), scale, upright)


def _cut(line: SawLine, number: int, scale: float, taken: Taken) -> Iterator[Mark]:
    """The saw cut in the middle of its kerf, and beside it its number, as near its beginning as there is room."""
    at = line.at + default_rules().sheets.kerf / 2
    ends = ((at, line.begin), (at, line.end)) if line.across else ((line.begin, at), (line.end, at))
    yield Stretch(*ends, Stroke.LINE_TO_CUT)
    words = f"{number}"
    wide, high = width_of(words, SMALL) * scale, SMALL * scale
    off = 0.6 * scale
    along = [line.begin + off + i * high / 2 for i in range(max(1, int((line.end - line.begin) / high * 2)))]
    spots = [
        (at + off + wide / 2, y + high / 2) if line.across else (y + wide / 2, at + off + high / 2) for y in along
    ]
    x, y = taken.room_for((wide, high), spots) or spots[0]
    text = Text((x - wide / 2, y - high / 2), words, SMALL, stroke=Stroke.WARNING)
    taken.add(text_box(text, scale))
    yield text


def _box(box: Box, stroke: Stroke) -> Path:
    x0, y0, x1, y1 = box
    return Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), stroke, closed=True)


def _list(board: BoardSheet) -> Iterator[Mark]:
    """Every panel with a box to tick, and the offcuts to keep."""
    rows = [f"{n:>3} {p.id}" for n, p in enumerate(board.places, start=1)]
    sizes = [f"{mm(p.length)} x {mm(p.width)}{' turned' if p.turned else ''}" for p in board.places]
    rows += ["    keep" for _ in board.offcuts]
    sizes += [f"{mm(o.length)} x {mm(o.width)}" for o in board.offcuts]
    pitch = min(4.2, (LIST_TOP - LIST_FOOT) / max(1, len(rows)))
    height = min(2.0, pitch * 0.6)
    for i, (words, size) in enumerate(zip(rows, sizes, strict=True)):
        y = LIST_TOP - i * pitch
        yield _box((LIST_LEFT, y, LIST_LEFT + height, y + height), Stroke.TABLE)
        yield Text((LIST_LEFT + 3.0, y), words, height)
        yield Text((A3[0] - MARGIN - 2.0, y), size, height, "right")
