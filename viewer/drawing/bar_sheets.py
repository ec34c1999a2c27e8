"""Bar sheets: every length of worktop that is bought, with the pieces that are cut from it."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon

from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.cut_order import TopCut, cut_order
from countersunk.takeoff.plans.tops import Bar, Laid, TopPlan, shape_on
from countersunk.viewer.drawing.lettering import lines_of, mm
from countersunk.viewer.drawing.paper import MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Box, Line, Mark, Path, Point, Sheet, Span, Text, View
from countersunk.viewer.drawing.strokes import Stroke

ROOM: Point = (380.0, 220.0)
"""What all lengths of a sheet may take, mm on paper."""

BETWEEN = 28.0
"""Between two lengths, mm on paper."""

CAUTION = (
    "Seen from below, decor down, as the sheets UNDERSIDE but half a turn round: cut with the decor up, a slanting "
    "end would come out mirrored. Joins and cut-outs are set out by the sheets of each length. Saw rough between "
    "two pieces; a routed end is finished with the jig or along a straightedge. Look for faults and the run of the "
    "decor before the first mark. Two people or more; eyes, ears and lungs protected, dust drawn off."
)
"""A bar has its finished edge above and its pieces from left to right in the frame of a part, which is left-handed:
whoever reads x to the right and y up looks at the underside (`model.geometry.frames`)."""


def bar_sheets(kitchen: Kitchen, plan: TopPlan) -> Iterator[Sheet]:
    """As many A3 sheets as the lengths of a section take."""
    deepest = max(bar.depth for bar in plan.bars)
    scale = fitting_scale((max(bar.length for bar in plan.bars), deepest), ROOM, (10.0, 15.0, 20.0, 50.0))
    pitch = deepest / scale + BETWEEN
    pages = list(_pages(plan.bars, max(1, int(ROOM[1] / pitch))))
    code = plan.stocks[0]
    name = kitchen.catalogue.stocks[code].name
    for number, bars in enumerate(pages, start=1):
        title = f"{name}, lengths" + (f" {number} of {len(pages)}" if len(pages) > 1 else "")
        words = f"{title} - {code} - UNDERSIDE"
        marks = [mark for row, bar in enumerate(bars) for mark in _bar(kitchen, bar, -row * pitch * scale, scale)]
        window = (MARGIN, 44.0, A3[0] - MARGIN, 262.0)
        view = View("lengths", scale, (MARGIN + 10.0, 246.0 - deepest / scale), window, tuple(marks))
        paper = heading(words, f"{CAUTION} {_proof(plan, kitchen.allowances.router)}", height=4.5)
        yield sheet(kitchen, f"cut-{code}-{number}", title, paper, [view])


def _pages(bars: tuple[Bar, ...], count: int) -> Iterator[tuple[Bar, ...]]:
    return (bars[i : i + count] for i in range(0, len(bars), count))


def _bar(kitchen: Kitchen, bar: Bar, y: float, scale: float) -> Iterator[Mark]:
    """One length with its pieces from left to right, fronts on its finished edges, and what is left of it."""
    yield _box((0.0, y, bar.length, y + bar.depth), Stroke.BLANK)
    yield Span((0.0, y + bar.depth), (bar.length, y + bar.depth), 5.0 * scale)
    source = f"offcut {bar.offcut} of {bar.stock}" if bar.offcut else bar.stock
    yield Text((0.0, y - 9.0 * scale), f"{source}, {mm(bar.length)} x {mm(bar.depth)}{_kept(bar)}", 2.2)
    for row, words in enumerate(lines_of(_order(bar), 2.2, max(120.0, bar.length / scale))):
        yield Text((0.0, y - (12.6 + 3.4 * row) * scale), words, 2.2)
    for number, piece in enumerate(bar.pieces, start=1):
        length = kitchen.length(piece.id)
        shape = shape_on(length, piece, default_rules().saw.kerf, kitchen.allowances.router)
        yield from _piece(piece, length, shape, number, y, scale)
        yield from _end(piece, bar, y, scale)
    left = bar.length - bar.end
    if left / scale > 22.0:
        yield Text((bar.length - left / 2, y + bar.depth / 2), f"rest {mm(left)}", 2.2, "middle")


def _order(bar: Bar) -> str:
    """The saw cuts in their order: ``Cuts: 1 square at 5, 2 across at 3431.2 takes off T1 …``."""
    cuts = cut_order(bar, default_rules().saw.kerf)
    return "Cuts: " + "; ".join(f"{number} {_cut(cut)}" for number, cut in enumerate(cuts, start=1))


def _cut(cut: TopCut) -> str:
    pieces = " and ".join(cut.pieces)
    if cut.kind == "square":
        return f"square the end at {mm(cut.at)}"
    if cut.kind == "slanting":
        return f"part {pieces} along the slant"
    if cut.kind == "rip":
        return f"rip {pieces} at {mm(cut.at)} from the front"
    return f"across at {mm(cut.at)} for {pieces}"


def _kept(bar: Bar) -> str:
    sizes = [f"{mm(o.length)} x {mm(o.width)}" for o in bar.left]
    return f" - keep {', '.join(sizes)}" if sizes else ""


def _piece(piece: Laid, length: Length, shape: Polygon, number: int, y: float, scale: float) -> Iterator[Mark]:
    """Its outline, its number and id, its size, and which edge is its front."""
    yield Path(tuple((px, y + py) for px, py in plan_points(shape.exterior)), Stroke.OUTLINE, closed=True)
    x, middle = piece.x + piece.length / 2, y + piece.y + piece.depth / 2
    yield Text((x, middle + 0.8 * scale), f"{number}  {piece.id}", 3.5, "middle", bold=True)
    size = f"{mm(length.part.length)} x {mm(length.part.depth)}{', turned' if piece.turned else ''}"
    yield Text((x, middle - 4.2 * scale), size, 2.5, "middle")
    front = y + (2.2 * scale if piece.turned else piece.y + piece.depth - 4.0 * scale)
    yield Text((x, front), "front", 2.0, "middle")


def _end(piece: Laid, bar: Bar, y: float, scale: float) -> Iterator[Mark]:
    """Where the piece ends and the saw cuts, from the beginning of the stock; of the far row above the stock."""
    above = bar.has_rows and not piece.turned
    end, edge = piece.x + piece.length, y + bar.depth if above else y
    tick = 1.6 * scale if above else -1.6 * scale
    yield Line((end, edge), (end, edge + tick), Stroke.LINE_TO_CUT)
    yield Text((end, edge + (tick if above else tick - 2.6 * scale)), mm(end), 2.0, "right", stroke=Stroke.WARNING)


def _proof(plan: TopPlan, router: float) -> str:
    """How good the plan is, without a price: the sheet goes to the workshop."""
    room = f"room for the router ({mm(router)} between two routed ends, an allowance) included"
    red = f"Red is where a piece ends, {room}, from the beginning of the stock."
    proof = "No cheaper plan is possible" if plan.at_bound else "A cheaper plan may exist"
    return f"{red} {proof}, ripping and offcuts counted."


def _box(box: Box, stroke: Stroke) -> Path:
    x0, y0, x1, y1 = box
    return Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), stroke, closed=True)
