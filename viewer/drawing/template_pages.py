"""Template pages: a template parted into pages of A4 or A3 that are laid over each other by their register marks.

Lines are clipped to what a page shows; neighbours share a strip as wide as `OVERLAP`, and the crosses at its
corners lie on both. Each page has a bar of 100 mm to hold a rule against before anything is cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from shapely import Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Template
from countersunk.model.facts.setting_out import takes_hole_saw
from countersunk.model.geometry.profile import lines_of, plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import rounded_up
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.shapes import A3, A4, PAPER, Line, Mark, Path, Point, Sheet, Text, View
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.template import (
    AROUND,
    BAR,
    FullSize,
    bar,
    centre_words,
    drill_words,
    full_size,
    holds,
    size_in_words,
)
from countersunk.viewer.drawing.tracing import Drawing

PageSize = Literal["a4", "a3"]

PAGES: dict[PageSize, Point] = {"a4": A4, "a3": (A3[1], A3[0])}
"""Upright pages, mm."""

EDGE = 8.0
"""What a printer leaves white at each side of a page, mm."""

FOOT = 17.0
"""The strip at the foot of a page for its number and the bar, mm."""

OVERLAP = 10.0
"""What neighbours share, mm."""


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


def pages(size: Point, on: PageSize = "a4") -> list[Page]:
    """As few pages as a line of ``size`` (width, depth) takes, upright or lying."""
    w, h = PAGES[on]
    upright, lying = (_grid(size, page) for page in ((w, h), (h, w)))
    return upright if len(upright) <= len(lying) else lying


def _grid(size: Point, page: Point) -> list[Page]:
    room = (page[0] - 2 * EDGE, page[1] - 2 * EDGE - FOOT)
    whole = (size[0] + 2 * AROUND, size[1] + 2 * AROUND)
    columns, rows = (max(1, rounded_up((w - OVERLAP) / (r - OVERLAP))) for w, r in zip(whole, room, strict=True))
    step = (room[0] - OVERLAP, room[1] - OVERLAP)
    left, top = -(columns * step[0] + OVERLAP) / 2, (rows * step[1] + OVERLAP) / 2
    return [
        Page(c, r, _shown(left + c * step[0], top - r * step[1], room), page)
        for r in range(rows)
        for c in range(columns)
    ]


def _shown(left: float, top: float, room: Point) -> Polygon:
    return rectangle(left, top - room[1], left + room[0], top)


def template_sheets(kitchen: Kitchen, cutout: PlacedCutout, on: PageSize = "a4") -> list[Sheet]:
    """Every page of a cut-out's template."""
    whole, grid = full_size(kitchen, cutout), pages(cutout.template.line, on)
    return [_sheet(whole, page, grid) for page in grid]


def _sheet(whole: FullSize, page: Page, grid: list[Page]) -> Sheet:
    x0, y0, _, _ = page.shows.bounds
    w, h = page.size
    clipped = [path for shape, stroke in whole.drawn for path in _clipped(shape.intersection(page.shows), stroke)]
    drawn = [*clipped, *_register(page, grid), *_drill_words(whole, page), *centre_words(whole, page.shows)]
    marks = (*drawn, *_upright_bar(drawn, page.shows))
    origin, window = (EDGE - x0, EDGE + FOOT - y0), (EDGE, EDGE + FOOT, w - EDGE, h - EDGE)
    number = f"{grid.index(page) + 1}/{len(grid)}"
    full = View("full size", 1.0, origin, window, marks)
    paper = View(PAPER, 1.0, (0.0, 0.0), (0.0, 0.0, w, h), tuple(_foot(whole, page, number)))
    title = f"Template {whole.cutout.id}, page {page.name}, {number}"
    return Sheet(f"template-{whole.cutout.name}-{page.name}", title, "1:1", (full, paper), page.size)


def _upright_bar(drawn: Iterable[Mark], shown: Polygon) -> Iterator[Mark]:
    """The second bar, across the first one, where nothing is drawn."""
    taken = Drawing(1.0)
    taken.draw(*drawn)
    x0, y0, x1, y1 = shown.bounds
    size = (12.0, BAR + 8.0)
    spots = lattice((x0 + 6.0, y0, x1 - 6.0, y1), 4.0, (x1, y0))
    spot = taken.lines.room_for(size, spots, shown)
    if spot is not None:
        yield from bar(spot[0] + 2.0, spot[1] - BAR / 2, upright=True)


def _drill_words(whole: FullSize, page: Page) -> list[Mark]:
    """The drill beside every starter hole that lies wholly on a page, towards the middle of the waste."""
    starters = [shape for shape, stroke in whole.drawn if stroke is Stroke.STARTER]
    holes = [hole.centroid for hole in starters if page.shows.covers(hole)]
    x0, _, x1, _ = page.shows.bounds
    return [drill_words((p.x, p.y)) for p in holes if x0 < p.x - math.copysign(32.0, p.x) < x1]


def _clipped(shape: BaseGeometry, stroke: Stroke) -> list[Path]:
    return [Path(tuple(plan_points(line)), stroke) for line in lines_of(shape) if not line.is_empty]


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
    return [line for x, y in spots for line in cross(x, y)]


def cross(x: float, y: float) -> list[Line]:
    """A register mark: neighbours are laid cross on cross."""
    return [
        Line((x - 4.0, y), (x + 4.0, y), Stroke.DATUM),
        Line((x, y - 4.0), (x, y + 4.0), Stroke.DATUM),
    ]


def _foot(whole: FullSize, page: Page, number: str) -> Iterator[Mark]:
    """Number, the bar, and what to do."""
    (w, _), t = page.size, whole.cutout.template
    along, out = whole.centre
    small = (
        (6.8, f"{size_in_words(t)}, papers {whole.imprint}{f', as fitted {whole.fitted}' if whole.fitted else ''}"),
        (3.5, f"centre {mm(along)} from the datum ({whole.datum}), {mm(out)} from front"),
        (0.2, f"seen from above; front edge below, {mm(whole.gap)} from the line"),
    )
    x = w - EDGE - BAR - 2.0
    yield Path(((EDGE, EDGE + FOOT), (w - EDGE, EDGE + FOOT)), Stroke.TABLE)
    yield Text((EDGE + 2.0, EDGE + 11.5), f"{whole.cutout.id}  page {page.name}  {number}", 3.0, bold=True)
    yield from (Text((EDGE + 2.0, EDGE + up), words, 1.9) for up, words in small)
    yield from bar(x, EDGE + 9.5)
    for i, words in enumerate(_advice(whole)):
        yield Text((x, EDGE + 6.2 - i * 3.1), words, 1.9)


def _advice(whole: FullSize) -> tuple[str, str, str]:
    return (
        "Print at 100 %. Both bars must measure 100 mm, or throw it away.",
        f"Lay pages cross on cross. {_in_short(whole.cutout.template)}",
        holds(whole),
    )


def _in_short(t: Template) -> str:
    """With what it is cut, in a line of a page's foot."""
    if takes_hole_saw(t):
        return f"Hole saw {mm(t.line[0])} about the cross."
    if t.mount == "under":
        return "Red is the bowl's own line."
    return "Cut the red line; dotted is the rim."
