"""Scribe strip: the line to cut along a back at full size, in strips that are laid end to end on the underside.

Neighbours share as much as pages of a template do, with a cross at either end of it on both. Everything is as seen
from below, so that the strip lies where the saw goes: the straight back is up the paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import LineString
from shapely import box as rectangle

from countersunk.model.geometry.profile import lines_of as lines_in
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import rounded_up
from countersunk.model.tops.scribe import Scribe
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.paper import imprint
from countersunk.viewer.drawing.scribe_sheets import cut_line, offsets, scribed
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.drawing.shapes import PAPER, Across, Line, Mark, Path, Point, Sheet, Text, View
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.template import BAR, bar
from countersunk.viewer.drawing.template_pages import EDGE, FOOT, OVERLAP, PAGES, PageSize, cross

ABOVE, UNDER = 12.0, 12.0
"""Room above the straight back and below the deepest cut of a strip, mm."""

BESIDE = 16.0
"""Room for the upright bar at the right of a page, and round the one long strip, mm."""


@dataclass(frozen=True)
class Strip:
    """All of one strip: from ``left`` to ``right`` as seen from below, ``deep`` mm at most.

    ``fitted`` is the day on which it was measured on the fitted units, if it was.
    """

    length: Length
    scribe: Scribe
    imprint: str
    line: LineString
    left: float
    right: float
    fitted: str = ""

    @property
    def deep(self) -> float:
        """The most that comes off, mm."""
        return -float(self.line.bounds[1])

    @property
    def height(self) -> float:
        """Room that a strip takes, mm."""
        return self.deep + ABOVE + UNDER


def strips(kitchen: Kitchen) -> list[Strip]:
    """A strip for each length that is scribed."""
    return [_strip(kitchen, length, scribe) for length, scribe in scribed(kitchen)]


def _strip(kitchen: Kitchen, length: Length, scribe: Scribe) -> Strip:
    setout = Setout(length, Face.UNDERSIDE)
    line = LineString([(setout.see((x, 0.0))[0], -off) for x, off in cut_line(scribe)])
    left, right = sorted((line.coords[0][0], line.coords[-1][0]))
    fitted = kitchen.fitted.date if kitchen.fitted else ""
    return Strip(length, scribe, imprint(kitchen), line, left, right, fitted)


def strip_sheet(strip: Strip) -> Sheet:
    """The whole strip as one sheet, for a plotter."""
    size = (strip.right - strip.left + 2 * BESIDE, strip.height + 20.0)
    origin = (BESIDE - strip.left, size[1] - ABOVE)
    marks = (*_drawn(strip, strip.left, strip.right), *bar(strip.left, -strip.deep - UNDER - 8.0))
    words = Text((strip.left + BAR + 6.0, -strip.deep - UNDER - 8.0), _said(strip), 2.4)
    view = View("full size", 1.0, origin, (0.0, 0.0, *size), (*marks, words))
    return Sheet(f"scribe-{strip.length.id}", f"Scribe strip {strip.length.id}, full size", "1:1", (view,), size)


def strip_sheets(strip: Strip, on: PageSize = "a4") -> list[Sheet]:
    """The strip on lying pages for a printer, as many pieces of it on each as have room."""
    height, width = PAGES[on]
    room = width - 2 * EDGE - BESIDE
    count = max(1, rounded_up((strip.right - strip.left - OVERLAP) / (room - OVERLAP)))
    starts = [strip.left + i * (room - OVERLAP) for i in range(count)]
    most = max(1, int((height - 2 * EDGE - FOOT) / strip.height))
    parted = [starts[i : i + most] for i in range(0, count, most)]
    return [_page(strip, starts, some, room, (width, height), (n, len(parted))) for n, some in enumerate(parted, 1)]


def _page(
    strip: Strip, starts: Sequence[float], some: Sequence[float], room: float, size: Point, number: tuple[int, int]
) -> Sheet:
    views, (w, h), (n, of) = [], size, number
    for row, start in enumerate(some):
        top = h - EDGE - row * strip.height
        window = (EDGE, top - strip.height, EDGE + room, top)
        marks = _drawn(strip, start, min(start + room, strip.right), _shared(starts, start, room))
        name = f"{strip.length.id} strip {starts.index(start) + 1} of {len(starts)}"
        words = Text((start + 8.0, -strip.deep - UNDER + 1.5), f"{name}, underside", 2.2, bold=True)
        views.append(View(name, 1.0, (EDGE - start, top - ABOVE), window, (*marks, words)))
    paper = View(PAPER, 1.0, (0.0, 0.0), (0.0, 0.0, w, h), tuple(_foot(strip, size)))
    title = f"Scribe strip {strip.length.id}, page {n} of {of}"
    return Sheet(f"scribe-{strip.length.id}-{n}", title, "1:1", (*views, paper), size)


def _shared(starts: Sequence[float], start: float, room: float) -> list[float]:
    """The middles of what a piece shares with its neighbours."""
    first, last = start == starts[0], start == starts[-1]
    return [*([] if first else [start + OVERLAP / 2]), *([] if last else [start + room - OVERLAP / 2])]


def _drawn(strip: Strip, low: float, high: float, shared: Sequence[float] = ()) -> Iterator[Mark]:
    """A piece: the straight back, the line to cut, an offset every 100 mm, and crosses where it goes on."""
    left, right = max(low, strip.left), high
    kept = strip.line.intersection(rectangle(left, -strip.deep - 1.0, right, 1.0))
    yield Path(((left, 0.0), (right, 0.0)), Stroke.OUTLINE)
    yield from (Path(tuple(plan_points(line)), Stroke.LINE_TO_CUT) for line in lines_in(kept))
    for place, _, off in offsets(strip.length, strip.scribe):
        x = place if strip.right > -strip.left else -place
        if left + 4.0 < x < right - 4.0 or (x in (strip.left, strip.right) and left <= x <= right):
            yield Line((x, 4.0), (x, -off), Stroke.CENTRE)
            across: Across = "left" if x == strip.left else "right" if x == strip.right else "middle"
            yield Text((x, 5.5), mm(place), 2.2, across)
            yield Text((x, -strip.deep - 4.0), mm(off), 2.2, across)
    for x in shared:
        yield from cross(x, 0.0)
        yield from cross(x, -strip.deep - UNDER + 5.0)


def _said(strip: Strip) -> str:
    pushed = f"top pushed back by {mm(strip.scribe.pushed)}" if strip.scribe.pushed else "top as it is laid"
    fitted = f", as fitted {strip.fitted}" if strip.fitted else ""
    return f"{strip.length.id} to wall {strip.scribe.wall}, {pushed}, papers {strip.imprint}{fitted}"


def _foot(strip: Strip, size: Point) -> Iterator[Mark]:
    """Both bars, and what to do."""
    w, h = size
    x = w - EDGE - BAR - 2.0
    yield Path(((EDGE, EDGE + FOOT), (w - EDGE, EDGE + FOOT)), Stroke.TABLE)
    yield Text((EDGE + 2.0, EDGE + 11.5), f"SCRIBE STRIP {_said(strip)}", 2.6, bold=True)
    for up, words in (
        (6.8, "Cut the strips out, lay them end to end, cross on cross, on the UNDERSIDE of the top:"),
        (3.5, "the black line on its straight back, as sawn. Red is the line to cut: plane or sand to it."),
        (0.2, "Numbers above: from the datum. Below: what comes off. Offer up: the wall itself decides."),
    ):
        yield Text((EDGE + 2.0, EDGE + up), words, 1.9)
    yield from bar(x, EDGE + 9.5)
    for i, words in enumerate(("Print at 100 %. Both bars must measure 100 mm,", "or throw it away.")):
        yield Text((x, EDGE + 6.2 - i * 3.1), words, 1.9)
    yield from bar(w - EDGE - 4.0, h - EDGE - BAR - 4.0, upright=True)
