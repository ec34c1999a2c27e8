"""Bar sheets: every length of worktop that is bought, with the pieces that are cut from it."""

from __future__ import annotations

from collections.abc import Iterator

from model.catalogue import Stock
from model.kitchen import Kitchen
from takeoff.lengths import Bar, Plan, used
from takeoff.rules import Saw, default_rules
from takeoff.wording import bound
from viewer.drawing.lettering import mm
from viewer.drawing.paper import MARGIN, fitting_scale, heading, sheet
from viewer.drawing.shapes import A3, Box, Mark, Path, Point, Sheet, Span, Text, View
from viewer.drawing.strokes import Stroke

ROOM: Point = (380.0, 220.0)
"""What all lengths of a sheet may take, mm on paper."""

BETWEEN = 16.0
"""Between two lengths, mm on paper."""

CAUTION = (
    "Pieces by their extent: outline, joins and cut-outs are on the sheets of each length. Look for faults and the "
    "run of the decor before the first mark. Two people or more; eyes, ears and lungs protected, dust drawn off."
)


def bar_sheets(kitchen: Kitchen, plan: Plan) -> Iterator[Sheet]:
    """As many A3 sheets as the lengths of a stock take."""
    stock, saw = kitchen.catalogue.stocks[plan.stock], default_rules().saw
    scale = fitting_scale((max(stock.lengths), stock.depth), ROOM, (10.0, 20.0, 50.0))
    pitch = stock.depth / scale + BETWEEN
    pages = list(_pages(plan.bars, max(1, int(ROOM[1] / pitch))))
    for number, bars in enumerate(pages, start=1):
        title = f"{plan.stock}, lengths" + (f" {number} of {len(pages)}" if len(pages) > 1 else "")
        words = f"{stock.name} - {title}"
        marks = [mark for row, bar in enumerate(bars) for mark in _bar(bar, stock, saw, row, scale)]
        window = (MARGIN, 44.0, A3[0] - MARGIN, 262.0)
        view = View("lengths", scale, (MARGIN + 10.0, 246.0 - stock.depth / scale), window, tuple(marks))
        paper = heading(words, f"{CAUTION} The plan: {bound(plan)}.", height=4.5)
        yield sheet(kitchen, f"cut-{plan.stock}-{number}", title, paper, [view])


def _pages(bars: tuple[Bar, ...], count: int) -> Iterator[tuple[Bar, ...]]:
    return (bars[i : i + count] for i in range(0, len(bars), count))


def _bar(bar: Bar, stock: Stock, saw: Saw, row: int, scale: float) -> Iterator[Mark]:
    """One length with its pieces from left to right, half of the trim before the first."""
    y = -row * (stock.depth + BETWEEN * scale)
    yield _box((0.0, y, bar.length, y + stock.depth), Stroke.BLANK)
    yield Span((0.0, y + stock.depth), (bar.length, y + stock.depth), 5.0 * scale)
    x = max(0.0, min(saw.trim, bar.length - bar.net)) / 2
    for piece in bar.pieces:
        yield _box((x, y, x + piece.length, y + stock.depth), Stroke.OUTLINE)
        middle = (x + piece.length / 2, y + stock.depth / 2)
        yield Text((middle[0], middle[1] + 0.8 * scale), piece.id, 3.5, "middle", bold=True)
        yield Text((middle[0], middle[1] - 4.2 * scale), mm(piece.length), 2.5, "middle")
        x += piece.length + saw.kerf
    left = bar.length - used(bar.pieces, kerf=saw.kerf, trim=saw.trim) - saw.kerf
    if left / scale > 14.0:
        yield Text((bar.length - left / 2, y + stock.depth / 2), f"rest {mm(left)}", 2.2, "middle")


def _box(box: Box, stroke: Stroke) -> Path:
    x0, y0, x1, y1 = box
    return Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), stroke, closed=True)
