"""Fit panel: one finding in a frame on a sheet: verdict, numbers, drawing, whose limit it is, what would help."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.checks.finding import Finding, as_shown
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.ties import most
from countersunk.viewer.drawing.fit_sight import Sight, clipped
from countersunk.viewer.drawing.fit_signs import STROKES, hatch, sign
from countersunk.viewer.drawing.lettering import lines_of, printable, text_box
from countersunk.viewer.drawing.paper import fitting_scale
from countersunk.viewer.drawing.shapes import Box, Line, Mark, Path, Point, Text, View
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.tracing import Drawing

SCALES = (2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0)
AROUND = 150.0
"""At least so much is seen round a clearance, mm."""

NOWHERE = "Not drawn: it has no one place."

PAD, CAPTION = 1.6, 3.2
"""Round a panel's edge, and for the line under a view, mm on paper."""


@dataclass(frozen=True)
class PanelSize:
    """A panel: its place and letters on paper, mm; how many lines it has above and below the drawing."""

    width: float
    height: float
    letters: float
    head: int
    foot: int

    @property
    def pitch(self) -> float:
        """From line to line."""
        return self.letters * 1.7


LARGE = PanelSize(97.0, 113.0, 1.9, 6, 7)
SMALL = PanelSize(64.0, 74.0, 1.5, 6, 3)


@dataclass(frozen=True)
class Panel:
    """A finding with its number on the list, the ways in which it can be seen, and what would help, if anything."""

    number: int
    finding: Finding
    sights: tuple[Sight, ...]
    help: tuple[str, ...] = ()


def panel(shown: Panel, corner: Point, size: PanelSize) -> tuple[list[Mark], list[View]]:
    """What of a panel is written on the paper, and its views; ``corner`` is its lower left one, mm."""
    x, y = corner
    frame = Path(_corners((x, y, x + size.width, y + size.height)), Stroke.TABLE, closed=True)
    low = y + PAD + size.foot * size.pitch
    high = y + size.height - PAD - size.head * size.pitch
    views = list(_views(shown, (x + PAD, low, x + size.width - PAD, high)))
    nothing = [] if views else [Text((x + size.width / 2, (low + high) / 2), NOWHERE, size.letters, "middle")]
    return [frame, *_head(shown, x, y, size), *_foot(shown, x, y, size), *_captions(views), *nothing], views


def _head(shown: Panel, x: float, y: float, size: PanelSize) -> list[Mark]:
    f, h, top = shown.finding, size.letters, y + size.height - PAD
    stroke, across = STROKES[f.verdict], size.width - 2 * PAD
    mark = sign(f.verdict, (x + PAD + 2 * h, top - 1.9 * h), 3.8 * h)
    said = f"{shown.number}  {f.verdict}".upper()
    place, aside = top - 1.4 * h, 5.0 * h
    words: list[Mark] = [Text((x + PAD + aside, place), said, 1.15 * h, bold=True, stroke=stroke)]
    words.append(Text((x + PAD + aside, place - size.pitch), numbers(f), h, bold=True))
    rest = [*lines_of(f.question, h, across), *lines_of(printable(f.place), h, across)]
    fitted = _cut(rest, size.head - 3)
    return [*mark, *words, *_column(fitted, x + PAD, place - 2.3 * size.pitch, size)]


def numbers(finding: Finding) -> str:
    """Such as "205 mm, at least 300 mm (-95 mm)"."""
    limit = f"{finding.sense} {as_shown(finding.limit, finding.unit)}"
    if finding.value is None or finding.margin is None:
        return f"not measured, {limit}"
    sign_ = "-" if finding.margin < 0 else "+"
    return (
        f"{as_shown(finding.value, finding.unit)}, {limit} ({sign_}{as_shown(abs(finding.margin), finding.unit)})"
    )


def _foot(shown: Panel, x: float, y: float, size: PanelSize) -> list[Mark]:
    """Whose limit it is, and what would help: a cure that was found, else the advice."""
    f, across = shown.finding, size.width - 2 * PAD
    first = [line for words in shown.help for line in lines_of(words, size.letters, across)]
    source = lines_of(f"Limit: {f.source}", size.letters, across)
    most = size.foot - min(len(source), 2 if first else size.foot)
    lines = [*_cut(first, most), *_cut(source, size.foot - min(len(first), most))]
    return _column(lines, x + PAD, y + PAD + (size.foot - 1) * size.pitch, size)


def _cut(lines: list[str], most: int) -> list[str]:
    """So many lines; the last says that there is more."""
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], f"{lines[most - 1].rpartition(' ')[0]} …"] if most else []


def _column(lines: list[str], x: float, y: float, size: PanelSize) -> list[Mark]:
    return [Text((x, y - i * size.pitch), line, size.letters) for i, line in enumerate(lines)]


def _views(shown: Panel, room: Box) -> Iterator[View]:
    """Each sight in its share of the room."""
    x0, y0, x1, y1 = room
    count = max(1, len(shown.sights))
    for i, seen in enumerate(shown.sights):
        share = (x1 - x0) / count
        window = (x0 + i * share + 0.5, y0 + CAPTION, x0 + (i + 1) * share - 0.5, y1 - 1.0)
        yield view_of(seen, shown.finding, window, f"{shown.number} {seen.name}")


def view_of(seen: Sight, finding: Finding, window: Box, name: str) -> View:
    """A sight at the largest scale at which all of it is seen with something around."""
    wx0, wy0, wx1, wy1 = window
    fx0, fy0, fx1, fy1 = seen.focus or (0.0, 0.0, 0.0, 0.0)
    scale = fitting_scale((fx1 - fx0 + 2 * AROUND, fy1 - fy0 + 2 * AROUND), (wx1 - wx0, wy1 - wy0), SCALES)
    mx, my = (fx0 + fx1) / 2, (fy0 + fy1) / 2
    w, h = (wx1 - wx0) * scale / 2, (wy1 - wy0) * scale / 2
    crop = rectangle(mx - w, my - h, mx + w, my + h)
    origin = ((wx0 + wx1) / 2 - mx / scale, (wy0 + wy1) / 2 - my / scale)
    return View(name, scale, origin, window, tuple(_drawn(seen, finding, crop, scale)))


def _drawn(seen: Sight, finding: Finding, crop: Polygon, scale: float) -> list[Mark]:
    """Surroundings, dimension, names, and the hatch last, so that it goes round the words."""
    drawing = Drawing(scale)
    drawing.draw(*clipped(seen.lines, crop))
    drawing.draw(Path(_corners(crop.bounds), Stroke.TABLE, closed=True))
    if seen.ends and finding.value is not None:
        _dimension(drawing, seen.ends, as_shown(finding.value, finding.unit), crop, STROKES[finding.verdict])
    for name, shape in seen.named:
        inside = shape.intersection(crop)
        if isinstance(inside, Polygon) and not inside.is_empty:
            spots = lattice(inside.bounds, 2.0 * scale, (inside.centroid.x, inside.centroid.y))
            drawing.write([name], 1.7, spots, inside)
    area = seen.area.intersection(crop) if seen.area else None
    lines = list(_area(area, drawing, finding, scale)) if isinstance(area, Polygon) and area.area else []
    return [*drawing.marks, *lines]


def _area(area: Polygon, drawing: Drawing, finding: Finding, scale: float) -> Iterator[Mark]:
    yield Path(tuple((x, y) for x, y, *_ in area.exterior.coords[:-1]), STROKES[finding.verdict], closed=True)
    free = area
    for mark in drawing.marks:
        if isinstance(mark, Text):
            left = free.difference(text_box(mark, scale).buffer(0.6 * scale))
            free = left if isinstance(left, Polygon) else _largest(left, free)
    yield from hatch(free, finding.verdict, scale)


def _largest(shape: object, other: Polygon) -> Polygon:
    pieces = [p for p in getattr(shape, "geoms", []) if isinstance(p, Polygon)]
    return one_polygon(most(pieces, key=lambda p: p.area)) if pieces else other


def _dimension(drawing: Drawing, ends: tuple[Point, Point], words: str, crop: Polygon, stroke: Stroke) -> None:
    """A line between the ends with a tick at each, and the value at the nearest free place."""
    (ax, ay), (bx, by) = ends
    s, size = drawing.scale, math.dist(*ends)
    ux, uy = ((bx - ax) / size, (by - ay) / size) if size else (1.0, 0.0)
    tick = 1.3 * s
    drawing.draw(Line(*ends, stroke))
    for x, y in ends:
        drawing.draw(Line((x - (ux + uy) * tick / 1.4, y - (uy - ux) * tick / 1.4),
                          (x + (ux + uy) * tick / 1.4, y + (uy - ux) * tick / 1.4), stroke))  # fmt: skip
    middle = ((ax + bx) / 2, (ay + by) / 2)
    reach = 16.0 * s
    about = rectangle(middle[0] - reach, middle[1] - reach, middle[0] + reach, middle[1] + reach)
    spots = lattice(about.intersection(crop).bounds, 1.5 * s, middle)
    if not drawing.write([words], 2.2, spots, crop, bold=True):
        drawing.point_out(words, 2.2, lattice(crop.bounds, 2.0 * s, middle), middle)


def _captions(views: list[View]) -> list[Mark]:
    """Which way a view shows it, and at what scale."""
    named = [(view, f"{view.name.partition(' ')[2]}, 1:{view.scale:g}") for view in views]
    return [Text((view.window[0], view.window[1] - 1.9), words, 1.3) for view, words in named]


def _corners(box: Box | tuple[float, ...]) -> tuple[Point, ...]:
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
