"""Lettering: how much room words take, so that nothing is ever written over something else.

Every sheet is lettered in DejaVu Sans Mono, which ships with typst: each letter is 0.602 of the em wide and a
capital 0.729 of it high (read from the font's tables), so room is known before anything is drawn.
"""

from __future__ import annotations

import math
from textwrap import wrap

from shapely import Polygon
from shapely import box as rectangle
from shapely.affinity import affine_transform

from countersunk.model.ties import rounded
from countersunk.viewer.drawing.shapes import Across, Ordinate, Path, Point, Sheet, Span, Text, View
from countersunk.viewer.drawing.strokes import Stroke

FONT = "DejaVu Sans Mono"
ADVANCE = 0.602
CAPITAL = 0.729
DESCENT = 0.236
"""Shares of the em."""

WIDE = ADVANCE / CAPITAL
"""The width of any letter, as a share of the capitals' height."""

KNEE = 4.0
STUB = 1.2
"""A leader bends this far before its label, and stops this far from it, mm on paper."""


def mm(value: float) -> str:
    """Millimetres as a tape reads them: to the tenth, without an idle .0; never "-0".

    >>> mm(1814.98), mm(600.0), mm(-0.01)
    ('1815', '600', '0')
    """
    text = f"{rounded(value):.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def kg(value: float) -> str:
    """Kilograms to one place.

    >>> kg(35.14), kg(7.0)
    ('35.1 kg', '7.0 kg')
    """
    return f"{rounded(value):.1f} kg"


def degrees(value: float) -> str:
    """Degrees to the hundredth, without idle noughts.

    >>> degrees(45.6), degrees(90.0)
    ('45.6°', '90°')
    """
    return f"{rounded(value, 2):.2f}".rstrip("0").rstrip(".") + "°"


def printable(words: str) -> str:
    """What a person typed, without the characters that no paper shows and no file may hold.

    >>> printable("Ferry\\x07 Steps")
    'Ferry  Steps'
    """
    return "".join(c if c.isprintable() else " " for c in words)


def begun(words: str) -> str:
    """The words as a sentence begins with them.

    >>> begun("rule of the trade")
    'Rule of the trade'
    """
    return f"{words[:1].upper()}{words[1:]}"


def width_of(words: str, height: float) -> float:
    """Millimetres on paper that one line of words takes."""
    return len(words) * WIDE * height


def lines_of(words: str, height: float, width: float) -> list[str]:
    """The words in lines that fit into ``width`` mm on paper."""
    return wrap(words, max(4, int(width / (WIDE * height) + 1e-6))) or [""]


def text_box(text: Text, scale: float) -> Polygon:
    """What a text covers, in the real millimetres of a view at ``scale``."""
    w, h = width_of(text.words, text.height) * scale, text.height * scale
    left = {"left": 0.0, "middle": -w / 2, "right": -w}[text.across]
    low = -h * DESCENT / CAPITAL if any(c in "gjpqy,;()|Qß_/" for c in text.words) else 0.0
    c, s = math.cos(math.radians(text.turn)), math.sin(math.radians(text.turn))
    flat = rectangle(left, low, left + w, h * 1.03)
    return affine_transform(flat, [c, -s, s, c, text.at[0], text.at[1]])


def ordinate_parts(o: Ordinate, scale: float) -> tuple[Path, Text]:
    """The leader and the number of an ordinate, in a view at ``scale``."""
    words = f"{mm(o.value)} {o.mark}".strip()
    (fx, fy), (lx, ly), half = o.feature, o.label, o.height * scale / 2
    if o.axis == "x":
        way = 1.0 if ly > fy else -1.0
        points = ((fx, fy), (fx, ly - way * KNEE * scale), (lx, ly - way * STUB * scale))
        return Path(points, Stroke.DIMENSION), Text(
            (lx + half, ly), words, o.height, "left" if way > 0 else "right", 90.0
        )
    way = 1.0 if lx > fx else -1.0
    points = ((fx, fy), (lx - way * KNEE * scale, fy), (lx - way * STUB * scale, ly))
    return Path(points, Stroke.DIMENSION), Text((lx, ly - half), words, o.height, "left" if way > 0 else "right")


def span_parts(span: Span, scale: float) -> tuple[list[Path], Text]:
    """Dimension line, extension lines and ticks, and the number of a span."""
    (ax, ay), (bx, by) = span.a, span.b
    length = math.hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    nx, ny = -uy, ux
    sign = 1.0 if span.off >= 0 else -1.0
    p, q = ((x + nx * span.off, y + ny * span.off) for x, y in (span.a, span.b))
    over, gap, tick = (sign * v * scale for v in (1.5, 1.0, 1.2))
    lines = [(p, q)]
    for start, end in ((span.a, p), (span.b, q)):
        lines.append(((start[0] + nx * gap, start[1] + ny * gap), (end[0] + nx * over, end[1] + ny * over)))
        lines.append(
            (
                (end[0] - (ux + nx) * tick, end[1] - (uy + ny) * tick),
                (end[0] + (ux + nx) * tick, end[1] + (uy + ny) * tick),
            )
        )
    words = f"{mm(length)} {span.mark}".strip()
    return [Path(line, Stroke.DIMENSION) for line in lines], _span_text(p, q, words, span.height, scale)


def _span_text(p: Point, q: Point, words: str, height: float, scale: float) -> Text:
    """The number above the middle of the dimension line, readable from below or from the right."""
    turn = math.degrees(math.atan2(q[1] - p[1], q[0] - p[0]))
    turn = turn - 180.0 if turn > 90.0 + 1e-6 else turn + 180.0 if turn <= -90.0 + 1e-6 else turn
    rise, t = 0.9 * scale, math.radians(turn)
    at = ((p[0] + q[0]) / 2 - rise * math.sin(t), (p[1] + q[1]) / 2 + rise * math.cos(t))
    return Text(at, words, height, "middle", turn)


def texts_of(view: View) -> list[Text]:
    """Every text of a view, the numbers of dimensions included."""
    found = [m for m in view.marks if isinstance(m, Text)]
    found += [ordinate_parts(m, view.scale)[1] for m in view.marks if isinstance(m, Ordinate)]
    return found + [span_parts(m, view.scale)[1] for m in view.marks if isinstance(m, Span)]


def words_on(sheet: Sheet) -> list[tuple[str, Polygon]]:
    """Every text of a sheet with the place that it takes on the paper, mm from the lower left corner."""
    return [
        (text.words, _on_paper(text_box(text, view.scale), view)) for view in sheet.views for text in texts_of(view)
    ]


def _on_paper(shape: Polygon, view: View) -> Polygon:
    k = 1.0 / view.scale
    return affine_transform(shape, [k, 0.0, 0.0, k, *view.origin])


def paragraph(
    words: str, at: Point, width: float, height: float, *, pitch: float = 1.65, bold: bool = False,
    across: Across = "left", stroke: Stroke = Stroke.TEXT,
) -> list[Text]:  # fmt: skip
    """Words in lines, the first with its base line at ``at``; for views at scale 1."""
    x, y = at
    return [
        Text((x, y - i * height * pitch), line, height, across, bold=bold, stroke=stroke)
        for i, line in enumerate(lines_of(words, height, width))
    ]
