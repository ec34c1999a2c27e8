"""Template: a cut-out at full size: its line, rim, holes and centre lines, and what is said beside them.

The middle of the line to cut is (0, 0), seen from the decor face, front edge below. One sheet as large as it takes
is for the plotter (DXF, SVG); `viewer.drawing.template_pages` parts the same into pages for a printer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Template
from countersunk.model.facts.setting_out import DRILL, marks, takes_hole_saw
from countersunk.model.geometry.profile import lines_of as lines_in
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.slots import MarkKind
from countersunk.viewer.drawing.lettering import lines_of, mm, width_of
from countersunk.viewer.drawing.paper import imprint, source
from countersunk.viewer.drawing.setout import Face, Hand, Setout
from countersunk.viewer.drawing.shapes import Line, Mark, Path, Point, Sheet, Span, Text, View
from countersunk.viewer.drawing.strokes import Stroke

AROUND = 12.0
"""What is shown round the line, mm."""

BAR = 100.0
CROSS = 3.0

SIDE, ABOVE, NARROWEST = 26.0, 22.0, 190.0
"""Room beside and above the cut-out on its one large sheet, and how narrow that may be, mm."""

OFF_CENTRE = 1.4
"""Words stand this far from their centre line, mm."""

NOTE, LEADING = 3.0, 5.2
"""Height and distance of the lines of notes, mm."""

Drawn = tuple[BaseGeometry, Stroke]


SAW, ROUTER = 1.0, 0.5
"""What a sawn line and one that is routed along a guide must hold, mm either way (common practice, no source)."""


@dataclass(frozen=True)
class FullSize:
    """All of one template. ``gap`` is from the front edge of the top to the line, mm.

    ``centre`` is the middle of the line: from the datum along the front edge, and from the front edge, mm;
    ``datum`` the end of the length at which the datum lies, seen from above; ``cover`` what the rim covers of the
    top beside the line where it covers least, mm.
    """

    cutout: PlacedCutout
    drawn: tuple[Drawn, ...]
    gap: float
    centre: Point
    datum: Hand
    cover: float
    imprint: str
    source: str = ""
    fitted: str = ""


def full_size(kitchen: Kitchen, cutout: PlacedCutout) -> FullSize:
    """The template of a cut-out, before it is put on paper."""
    length = kitchen.length(cutout.length)
    setout, middle = Setout(length, Face.TOP), cutout.line.centroid
    x, y = setout.see((middle.x, middle.y))
    (x0, y0, x1, y1), (u0, v0, u1, v1) = cutout.line.bounds, cutout.rim.bounds
    return FullSize(
        cutout,
        tuple(_drawn(kitchen, cutout)),
        gap=length.run.stock.depth - y1,
        centre=(abs(x), y),
        datum=setout.datum_side,
        cover=min(x0 - u0, y0 - v0, u1 - x1, v1 - y1),
        imprint=imprint(kitchen),
        source=source(kitchen) if kitchen.fitted else "",
        fitted=kitchen.fitted.date if kitchen.fitted else "",
    )


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


def holds(whole: FullSize) -> str:
    """How near to the line the cut must come, in a line of words."""
    t = whole.cutout.template
    if takes_hole_saw(t):
        return f"Middle within {mm(SAW)}; tenths are for setting out."
    if t.mount == "under":
        return f"Router within {mm(ROUTER)} of the line; tenths are for setting out."
    return f"Saw within {mm(SAW)} of the line (rim covers {mm(whole.cover)}); tenths: setting out."


def centre_words(whole: FullSize, shown: Polygon) -> Iterator[Text]:
    """Beside each centre line, where enough of it is shown: how far it lies from the datum, from the front edge.

    A round hole has no room for them; they are said in words.
    """
    if takes_hole_saw(whole.cutout.template):
        return
    (along, out), (x0, y0, x1, y1) = whole.centre, shown.bounds
    w, d = (size / 2 + AROUND for size in whole.cutout.template.line)
    for words, turned, (low, high), seen in (
        (f"{mm(along)} from the datum", True, (max(-d, y0), min(d, y1)), x0 < -OFF_CENTRE and x1 > OFF_CENTRE),
        (f"{mm(out)} from the front edge", False, (max(-w, x0), min(w, x1)), y0 < -OFF_CENTRE and y1 > OFF_CENTRE),
    ):
        if seen and high - low > width_of(words, NOTE) + 8.0:
            share = low + 0.7 * (high - low) if low < 0.0 < high else (low + high) / 2
            half = width_of(words, NOTE) / 2 + 4.0
            at = min(max(share, low + half), high - half)
            spot = (-OFF_CENTRE, at) if turned else (at, OFF_CENTRE)
            yield Text(spot, words, NOTE, "middle", 90.0 if turned else 0.0)


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
        *bar(width / 2 - SIDE + 16.0, size[1] - foot - AROUND - d / 2 - 8.0 - BAR, upright=True),
        *centre_words(whole, rectangle(-width, -size[1], width, size[1])),
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
        f"Centre {mm(whole.centre[0])} from the datum of {whole.cutout.length} ({whole.datum} end from above), "
        f"{mm(whole.centre[1])} from the front edge.",
        f"Seen from the decor face, the same from below; front edge below, {mm(whole.gap)} from the line.",
        f"{how_to_cut(t)}{inset}",
        holds(whole),
        *([f"The place of its line is {whole.source}."] if whole.source else []),
        "Full size: both bars measure 100 mm. Compare with the maker's own sheet, which goes first.",
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


def bar(x: float, y: float, upright: bool = False) -> Iterator[Mark]:
    """A bar that must measure 100 mm, a tick every 10: to the right of its 0, or upwards."""

    def at(along: float, off: float) -> Point:
        return (x - off, y + along) if upright else (x + along, y + off)

    yield Line(at(0.0, 0.0), at(BAR, 0.0), Stroke.OUTLINE)
    for i in range(11):
        yield Line(at(10.0 * i, 0.0), at(10.0 * i, 3.0 if i % 5 == 0 else 1.8), Stroke.DATUM)
    yield Text(at(0.0, 3.8), "0", 1.9, turn=90.0 if upright else 0.0)
    yield Text(at(BAR, 3.8), "100", 1.9, "right", turn=90.0 if upright else 0.0)
