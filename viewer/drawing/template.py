"""Template: a cut-out at full size: its line, rim, holes and centre lines, and what is said beside them.

The middle of the line to cut is (0, 0), seen from the decor face, front edge below. One sheet as large as it takes
is for the plotter (DXF, SVG); `viewer.drawing.template_pages` parts the same into pages for a printer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Template
from countersunk.model.facts.marks import DRILL, marks, takes_hole_saw
from countersunk.model.geometry.profile import lines_of as lines_in
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.slots import MarkKind
from countersunk.viewer.drawing.lettering import lines_of, mm
from countersunk.viewer.drawing.paper import imprint, source
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.drawing.shapes import Line, Mark, Path, Point, Sheet, Span, Text, View
from countersunk.viewer.drawing.strokes import Stroke

AROUND = 12.0
"""What is shown round the line, mm."""

BAR = 100.0
CROSS = 3.0

SIDE, ABOVE, NARROWEST = 26.0, 22.0, 190.0
"""Room beside and above the cut-out on its one large sheet, and how narrow that may be, mm."""

NOTE, LEADING = 3.0, 5.2
"""Height and distance of the lines of notes, mm."""

Drawn = tuple[BaseGeometry, Stroke]


@dataclass(frozen=True)
class FullSize:
    """All of one template. ``gap`` is from the front edge of the top to the line, mm."""

    cutout: PlacedCutout
    drawn: tuple[Drawn, ...]
    gap: float
    imprint: str
    source: str = ""
    fitted: str = ""


def full_size(kitchen: Kitchen, cutout: PlacedCutout) -> FullSize:
    """The template of a cut-out, before it is put on paper."""
    gap = kitchen.length(cutout.length).run.stock.depth - cutout.line.bounds[3]
    return FullSize(cutout, tuple(_drawn(kitchen, cutout)), gap, imprint(kitchen), *_measured(kitchen))


def _measured(kitchen: Kitchen) -> tuple[str, str]:
    return (source(kitchen), kitchen.fitted.date) if kitchen.fitted else ("", "")


def _drawn(kitchen: Kitchen, cutout: PlacedCutout) -> Iterator[Drawn]:
    setout = Setout(kitchen.length(cutout.length), Face.TOP)
    middle = setout.see((cutout.line.centroid.x, cutout.line.centroid.y))

    def home(shape: Polygon) -> LineString:
        seen = translate(setout.see_shape(shape), -middle[0], -middle[1])
        return LineString(seen.exterior.coords)

    yield home(cutout.line), Stroke.LINE_TO_CUT
    yield home(cutout.rim), Stroke.RIM
    for mark in marks(kitchen, setout.length):
        if mark.kind is MarkKind.STARTER and mark.of == cutout.id:
            hole = home(mark.outline)
            yield hole, Stroke.STARTER
            yield from _centre((hole.centroid.x, hole.centroid.y), CROSS, CROSS)
    w, d = (size / 2 + AROUND for size in cutout.template.line)
    yield from _centre((0.0, 0.0), w, d)


def _centre(at: Point, w: float, d: float) -> Iterator[Drawn]:
    x, y = at
    yield LineString([(x - w, y), (x + w, y)]), Stroke.CENTRE
    yield LineString([(x, y - d), (x, y + d)]), Stroke.CENTRE


def size_in_words(t: Template) -> str:
    """``line 480 x 480 R20``, or ``hole saw ø35``."""
    if takes_hole_saw(t):
        return f"hole saw ø{mm(t.line[0])}"
    return f"line {mm(t.line[0])} x {mm(t.line[1])} R{mm(t.radius)}"


def how_to_cut(t: Template) -> str:
    """With what, and along which line. Common practice of the trade, no source."""
    if takes_hole_saw(t):
        return f"Hole saw, diameter {mm(t.line[0])}, about the middle, from the decor face onto a board; no jigsaw."
    if t.mount == "under":
        return (
            "The line is that of the bowl, which hangs below it: the cut edge stays in sight. Rough inside the "
            "line, then router along a guide; edge finished as the makers of top and sink say."
        )
    return "Jigsaw from below along the line to cut; dotted is the rim, which covers it: never cut to that."


def full_size_sheet(kitchen: Kitchen, cutout: PlacedCutout) -> Sheet:
    """The whole template on one sheet as large as it takes."""
    whole = full_size(kitchen, cutout)
    w, d = cutout.template.line
    width = max(NARROWEST, w + 2 * (AROUND + SIDE))
    notes = _notes(whole, width - 2 * SIDE)
    foot = 26.0 + LEADING * len(notes)
    size = (width, foot + d + 2 * AROUND + ABOVE)
    low = -d / 2 - AROUND - 8.0
    marks: list[Mark] = [
        *(Path(tuple(plan_points(line)), stroke) for shape, stroke in whole.drawn for line in lines_in(shape)),
        *_sizes(cutout.template), *_drills(whole),
        *(Text((SIDE - width / 2, low - i * LEADING), words, NOTE, bold=i == 0) for i, words in enumerate(notes)),
        *bar(SIDE - width / 2, low - len(notes) * LEADING - 4.0),
    ]  # fmt: skip
    origin = (width / 2, foot + AROUND + d / 2)
    view = View("full size", 1.0, origin, (0.0, 0.0, *size), tuple(marks))
    return Sheet(f"template-{cutout.name}", f"Template {cutout.id}, full size", "1:1", (view,), size)


def _sizes(t: Template) -> list[Span]:
    """Width above and depth to the left of the line."""
    w, d = (size / 2 for size in t.line)
    return [
        Span((-w, d), (w, d), AROUND + 4.0, height=NOTE),
        Span((-w, -d), (-w, d), AROUND + 4.0, height=NOTE),
    ]


def _notes(whole: FullSize, width: float) -> list[str]:
    t = whole.cutout.template
    inset = "" if takes_hole_saw(t) else f" Starter holes drill {mm(DRILL)}, from the decor face."
    said = [
        f"{whole.cutout.id}: {size_in_words(t)}, papers {whole.imprint}",
        f"Seen from the decor face, the same from below; front edge below, {mm(whole.gap)} from the line.",
        f"{how_to_cut(t)}{inset}",
        *([f"The place of its line is {whole.source}."] if whole.source else []),
        "Full size: the bar measures 100 mm. Compare with the maker's own sheet, which goes first.",
    ]
    return [line for words in said for line in lines_of(words, NOTE, width)]


def _drills(whole: FullSize) -> list[Text]:
    """The drill beside every starter hole, towards the middle of the waste."""
    holes = [shape.centroid for shape, stroke in whole.drawn if stroke is Stroke.STARTER]
    return [drill_words((p.x, p.y)) for p in holes] if len(holes) > 1 else []


def drill_words(at: Point) -> Text:
    """How large a starter hole is, beside it towards the middle."""
    x, y = at
    return Text((x - (12.0 if x > 0 else -12.0), y - 1.2), f"drill {mm(DRILL)}", 2.4, "right" if x > 0 else "left")


def bar(x: float, y: float) -> Iterator[Mark]:
    """The bar that must measure 100 mm, a tick every 10."""
    yield Line((x, y), (x + BAR, y), Stroke.OUTLINE)
    for i in range(11):
        yield Line((x + 10.0 * i, y), (x + 10.0 * i, y + (3.0 if i % 5 == 0 else 1.8)), Stroke.DATUM)
    yield Text((x, y + 3.8), "0", 1.9)
    yield Text((x + BAR, y + 3.8), "100", 1.9, "right")
