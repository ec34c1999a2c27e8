"""Template: a cut-out at full size on A4 pages that are laid over each other by their register marks.

The middle of the line to cut is (0, 0), seen from the decor face, front edge below. Line, holes and centre lines
are clipped to what a page shows; neighbours share a strip as wide as `OVERLAP`, and the crosses at its corners lie
on both. Each page has a bar of 100 mm to hold a rule against before anything is cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from model.cutouts import PlacedCutout
from model.kitchen import Kitchen
from model.marks import DRILL, marks
from model.profile import plan_points
from model.slots import MarkKind
from viewer.drawing.lettering import mm
from viewer.drawing.paper import imprint
from viewer.drawing.setout import Face, Setout
from viewer.drawing.shapes import A4, PAPER, Line, Mark, Path, Point, Sheet, Text, View
from viewer.drawing.strokes import Stroke

EDGE = 8.0
"""What a printer leaves white at each side of a page, mm."""

FOOT = 17.0
"""The strip at the foot of a page for its number and the bar, mm."""

OVERLAP = 10.0
AROUND = 12.0
"""What neighbours share, and what is shown round the line, mm."""

BAR = 100.0

ADVICE = (
    "Print at 100 %. The bar must measure 100 mm,",
    "or throw the page away. Lay pages cross on",
    "cross. Cut the red line; dotted is the rim.",
)


@dataclass(frozen=True)
class Page:
    """One page of a template: its column and row from the upper left, and the part of the cut-out it shows."""

    column: int
    row: int
    shows: Polygon
    size: Point

    @property
    def name(self) -> str:
        """Column letter and row number: A1 at the back left."""
        return f"{chr(65 + self.column)}{self.row + 1}"


def pages(size: Point) -> list[Page]:
    """As few pages as a line of ``size`` (width, depth) takes, upright or lying."""
    upright, lying = (_grid(size, page) for page in (A4, (A4[1], A4[0])))
    return upright if len(upright) <= len(lying) else lying


def _grid(size: Point, page: Point) -> list[Page]:
    room = (page[0] - 2 * EDGE, page[1] - 2 * EDGE - FOOT)
    whole = (size[0] + 2 * AROUND, size[1] + 2 * AROUND)
    columns, rows = (max(1, math.ceil((w - OVERLAP) / (r - OVERLAP))) for w, r in zip(whole, room, strict=True))
    step = (room[0] - OVERLAP, room[1] - OVERLAP)
    left, top = -(columns * step[0] + OVERLAP) / 2, (rows * step[1] + OVERLAP) / 2
    return [
        Page(c, r, _shown(left + c * step[0], top - r * step[1], room), page)
        for r in range(rows)
        for c in range(columns)
    ]


def _shown(left: float, top: float, room: Point) -> Polygon:
    return rectangle(left, top - room[1], left + room[0], top)


Drawn = tuple[BaseGeometry, Stroke]


@dataclass(frozen=True)
class _Template:
    """All of one template. ``gap`` is from the front edge of the top to the line, mm."""

    cutout: PlacedCutout
    grid: list[Page]
    drawn: list[Drawn]
    gap: float
    imprint: str

    def number(self, page: Page) -> str:
        return f"{self.grid.index(page) + 1}/{len(self.grid)}"


def template_sheets(kitchen: Kitchen, cutout: PlacedCutout) -> list[Sheet]:
    """Every page of a cut-out's template."""
    gap = kitchen.length(cutout.length).run.stock.depth - cutout.line.bounds[3]
    grid = pages(cutout.template.line)
    whole = _Template(cutout, grid, list(_drawn(kitchen, cutout)), gap, imprint(kitchen))
    return [_sheet(whole, page) for page in grid]


def _drawn(kitchen: Kitchen, cutout: PlacedCutout) -> Iterator[Drawn]:
    """Everything of a template before it is parted into pages."""
    setout = Setout(kitchen.length(cutout.length), Face.TOP)
    middle = setout.see((cutout.line.centroid.x, cutout.line.centroid.y))

    def home(shape: Polygon) -> LineString:
        seen = translate(setout.see_shape(shape), -middle[0], -middle[1])
        return LineString(seen.exterior.coords)

    yield home(cutout.line), Stroke.LINE_TO_CUT
    yield home(cutout.rim), Stroke.RIM
    for mark in marks(kitchen, setout.length):
        if mark.kind is MarkKind.STARTER and mark.id.startswith(f"{cutout.id}."):
            yield home(mark.outline), Stroke.STARTER
            x, y = mark.outline.centroid.x, mark.outline.centroid.y
            yield home(rectangle(x - 3.0, y, x + 3.0, y + 1e-3)), Stroke.CENTRE
            yield home(rectangle(x, y - 3.0, x + 1e-3, y + 3.0)), Stroke.CENTRE
    w, d = (size / 2 + AROUND for size in cutout.template.line)
    yield LineString([(-w, 0.0), (w, 0.0)]), Stroke.CENTRE
    yield LineString([(0.0, -d), (0.0, d)]), Stroke.CENTRE


def _sheet(whole: _Template, page: Page) -> Sheet:
    x0, y0, _, _ = page.shows.bounds
    w, h = page.size
    clipped = [path for shape, stroke in whole.drawn for path in _clipped(shape.intersection(page.shows), stroke)]
    marks = (*clipped, *_register(page, whole.grid), *_drill_words(whole.drawn, page))
    origin, window = (EDGE - x0, EDGE + FOOT - y0), (EDGE, EDGE + FOOT, w - EDGE, h - EDGE)
    full = View("full size", 1.0, origin, window, marks)
    paper = View(PAPER, 1.0, (0.0, 0.0), (0.0, 0.0, w, h), tuple(_foot(whole, page)))
    cutout = whole.cutout
    title = f"Template {cutout.id}, page {page.name}, {whole.number(page)}"
    return Sheet(f"template-{cutout.name}-{page.name}", title, "1:1", (full, paper), page.size)


def _drill_words(drawn: Iterable[Drawn], page: Page) -> list[Mark]:
    """The drill beside every starter hole that lies wholly on a page, towards the middle of the waste."""
    holes = [shape for shape, stroke in drawn if stroke is Stroke.STARTER and page.shows.covers(shape)]
    x0, _, x1, _ = page.shows.bounds
    spots = [p for p in (hole.centroid for hole in holes) if x0 < p.x - math.copysign(32.0, p.x) < x1]
    size = f"drill {mm(DRILL)}"
    return [
        Text((p.x - math.copysign(12.0, p.x), p.y - 1.2), size, 2.4, "right" if p.x > 0 else "left") for p in spots
    ]


def _clipped(shape: BaseGeometry, stroke: Stroke) -> list[Path]:
    lines = getattr(shape, "geoms", [shape])
    return [Path(tuple(plan_points(g)), stroke) for g in lines if isinstance(g, LineString) and not g.is_empty]


def _register(page: Page, grid: list[Page]) -> list[Mark]:
    """A cross in the middle of every corner of the strips that this page shares with its neighbours."""
    spots = dict.fromkeys(
        (round(sum(shared.bounds[0::2]) / 2, 6), round(y, 6))
        if shared.bounds[2] - shared.bounds[0] < shared.bounds[3] - shared.bounds[1]
        else (round(x, 6), round(sum(shared.bounds[1::2]) / 2, 6))
        for shared in (page.shows.intersection(other.shows) for other in grid if other is not page)
        if shared.area > 1.0
        for x in (shared.bounds[0] + 5.0, shared.bounds[2] - 5.0)
        for y in (shared.bounds[1] + 5.0, shared.bounds[3] - 5.0)
    )
    return [line for x, y in spots for line in _cross(x, y)]


def _cross(x: float, y: float) -> list[Line]:
    return [
        Line((x - 4.0, y), (x + 4.0, y), Stroke.DATUM),
        Line((x, y - 4.0), (x, y + 4.0), Stroke.DATUM),
    ]


def _foot(whole: _Template, page: Page) -> Iterator[Mark]:
    """Number, the bar, and what to do."""
    (w, _), t = page.size, whole.cutout.template
    title = f"{whole.cutout.id}  page {page.name}  {whole.number(page)}"
    small = (
        (6.8, f"line {mm(t.line[0])} x {mm(t.line[1])} R{mm(t.radius)}, papers {whole.imprint}"),
        (3.5, f"front edge below, {mm(whole.gap)} from the line"),
        (0.2, "seen from the decor face, the same from below"),
    )
    yield Path(((EDGE, EDGE + FOOT), (w - EDGE, EDGE + FOOT)), Stroke.TABLE)
    yield Text((EDGE + 2.0, EDGE + 11.5), title, 3.0, bold=True)
    yield from (Text((EDGE + 2.0, EDGE + up), words, 1.9) for up, words in small)
    yield from _bar(w - EDGE - BAR - 2.0, EDGE + 9.5)
    for i, words in enumerate(ADVICE):
        yield Text((w - EDGE - BAR - 2.0, EDGE + 6.2 - i * 3.1), words, 1.9)


def _bar(x: float, y: float) -> Iterator[Mark]:
    """The bar that must measure 100 mm, a tick every 10."""
    yield Line((x, y), (x + BAR, y), Stroke.OUTLINE)
    for i in range(11):
        yield Line((x + 10.0 * i, y), (x + 10.0 * i, y + (3.0 if i % 5 == 0 else 1.8)), Stroke.DATUM)
    for i, across in ((0, "left"), (10, "right")):
        yield Text((x + 10.0 * i, y + 3.8), f"{10 * i}", 1.9, "left" if across == "left" else "right")
