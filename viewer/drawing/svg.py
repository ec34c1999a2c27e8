"""SVG: a sheet as a picture in true millimetres, with text that can be selected."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from xml.sax.saxutils import escape, quoteattr

from countersunk.viewer.drawing.lettering import CAPITAL, FONT, ordinate_parts, span_parts, width_of
from countersunk.viewer.drawing.shapes import (
    Arc,
    Circle,
    Line,
    Mark,
    Ordinate,
    Path,
    Point,
    Sheet,
    Span,
    Text,
    View,
)
from countersunk.viewer.drawing.strokes import PENS, Stroke

ANCHOR = {"left": "start", "middle": "middle", "right": "end"}


def svg(sheet: Sheet) -> bytes:
    """The sheet, UTF-8. One group for each view; classes name the strokes."""
    w, h = sheet.size
    body = "\n".join(_view(view, h) for view in sheet.views)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w:g}mm" height="{h:g}mm" viewBox="0 0 {w:g} {h:g}">\n'
        f"<title>{escape(sheet.title)}</title>\n"
        f'<rect width="{w:g}" height="{h:g}" fill="#ffffff"/>\n{body}\n</svg>\n'
    ).encode()


def _view(view: View, height: float) -> str:
    drawn = "\n".join(_drawn(mark, view, height) for mark in _simple(view.marks, view.scale))
    return f"<g id={quoteattr(view.name)}>\n{drawn}\n</g>"


def _simple(marks: Iterable[Mark], scale: float) -> Iterator[Line | Path | Circle | Arc | Text]:
    """Dimensions taken apart into lines and text."""
    for mark in marks:
        if isinstance(mark, Ordinate):
            yield from ordinate_parts(mark, scale)
        elif isinstance(mark, Span):
            lines, text = span_parts(mark, scale)
            yield from lines
            yield text
        else:
            yield mark


def _drawn(mark: Line | Path | Circle | Arc | Text, view: View, height: float) -> str:
    match mark:
        case Line():
            return _path((mark.a, mark.b), mark.stroke, view, height)
        case Path():
            return _path(mark.points, mark.stroke, view, height, mark.closed, mark.filled)
        case Circle():
            x, y = _at(mark.centre, view, height)
            look = _look(mark.stroke, mark.filled)
            return f'<circle cx="{x}" cy="{y}" r="{mark.radius / view.scale:.4f}" {look}/>'
        case Arc():
            return _arc(mark, view, height)
        case Text():
            return _text(mark, view, height)


def _path(
    points: Iterable[Point], stroke: Stroke, view: View, height: float, closed: bool = False, filled: str = ""
) -> str:
    route = " L".join(" ".join(_at(p, view, height)) for p in points)
    return f'<path d="M{route}{" Z" if closed else ""}" {_look(stroke, filled)}/>'


def _arc(arc: Arc, view: View, height: float) -> str:
    ends = [
        (arc.centre[0] + arc.radius * math.cos(t), arc.centre[1] + arc.radius * math.sin(t))
        for t in map(math.radians, (arc.start, arc.end))
    ]
    (x0, y0), (x1, y1) = (_at(p, view, height) for p in ends)
    r, large = arc.radius / view.scale, int((arc.end - arc.start) % 360.0 > 180.0)
    return f'<path d="M{x0} {y0} A{r:.4f} {r:.4f} 0 {large} 0 {x1} {y1}" {_look(arc.stroke)}/>'


def _text(text: Text, view: View, height: float) -> str:
    """Words held to their width, so that another typeface cannot make them run over."""
    x, y = _at(text.at, view, height)
    turn = f' transform="rotate({-text.turn:g} {x} {y})"' if text.turn else ""
    weight = ' font-weight="bold"' if text.bold else ""
    return (
        f'<text x="{x}" y="{y}" font-family="{FONT}, monospace" font-size="{text.height / CAPITAL:.4f}"'
        f'{weight} text-anchor="{ANCHOR[text.across]}" fill="{PENS[text.stroke].colour}"{turn}'
        f' textLength="{width_of(text.words, text.height):.3f}" xml:space="preserve">{escape(text.words)}</text>'
    )


def _look(stroke: Stroke, filled: str = "") -> str:
    pen = PENS[stroke]
    fill = {"": "none", "ink": pen.colour, "paper": "#ffffff"}[filled]
    dash = f' stroke-dasharray="{" ".join(f"{d:g}" for d in pen.dash)}"' if pen.dash else ""
    return (
        f'class="{stroke.value.replace(" ", "-")}" fill="{fill}" stroke="{pen.colour}" '
        f'stroke-width="{pen.width:g}"{dash}'
    )


def _at(point: Point, view: View, height: float) -> tuple[str, str]:
    x, y = view.to_paper(point)
    return (f"{x:.4f}", f"{height - y:.4f}")
