"""Picture: a cut as seen from the face that is up: alone and large, and where on the whole length it is.

Both are SVG in millimetres, for a screen: strokes and letters are sized for `WIDE` pixels across, and what each
thing is stands in its class, so that the page decides how it looks.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from shapely import Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.viewer.drawing.card_step import CutWork
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.setout import Setout
from countersunk.viewer.saw.cuts import SawCut, TapeReading

WIDE = 360.0
"""Pixels across, on a phone held upright."""

AROUND = 60.0
"""What is shown on either side of a cut at least, mm."""

ROW, LETTER, WORDS = 34.0, 21.0, 16.0
"""Height of a row of numbers below the front edge, of numbers, and of words, pixels."""

FALLS_OFF = "FALLS OFF"

TALLEST = 0.8
"""Height of the picture for its width at most."""


def picture(cut: SawCut) -> str:
    """The cut alone: what stays, what falls off, the line, and every number from the datum."""
    setout, depth = Setout(cut.length, cut.face), cut.length.run.stock.depth
    rows = [d for d in cut.distances if d.axis == "x"]
    x0, _, x1, _ = cut.line.union(cut.falls).bounds
    wide = max(x1 - x0 + 2 * AROUND, depth / (TALLEST - (ROW * (len(rows) + 1)) / WIDE))
    pixel = wide / WIDE
    left, low, high = (x0 + x1 - wide) / 2, -(ROW * len(rows) + 12) * pixel, depth + 14 * pixel
    window = (left, low, left + wide, high)
    way = 1.0 if setout.on_paper == "left" else -1.0
    body = [
        _hatch(pixel),
        _shape(_stays(cut, setout), "stays"),
        _shape(cut.falls, "falls"),
        *_front(cut, setout, window),
        _shape(cut.line, "cut"),
        *_words_on(cut, pixel),
    ]
    for number, distance in enumerate(rows, start=1):
        body += _along(distance, way, -(ROW * number - 8) * pixel, window, pixel)
    for distance in cut.distances:
        if distance.axis == "y":
            body += _across(distance, window, pixel)
    return _svg(window, pixel, f"{cut.title}, {cut.face} up", "".join(body))


def whole(cut: SawCut) -> str:
    """The whole length with its datum and the place of the cut."""
    setout = Setout(cut.length, cut.face)
    outline = _stays(cut, setout)
    x0, y0, x1, y1 = outline.union(cut.falls).bounds
    pixel = (x1 - x0) / (WIDE - 16)
    pad = 8 * pixel
    window = (x0 - pad, y0 - pad, x1 + pad, y1 + pad)
    a, b, c, d = cut.line.union(cut.falls).buffer(6 * pixel).bounds
    body = [
        _shape(outline, "stays"),
        f'<path class="nose" d="{_line([(outline.bounds[0], 0.0), (outline.bounds[2], 0.0)])}"/>',
        _shape(cut.line, "cut"),
        _shape(rectangle(a, b, c, d), "here"),
        _datum((0.0, 0.0), pixel),
    ]
    return _svg(window, pixel, f"{cut.length.id} whole, the cut marked", "".join(body))


def _stays(cut: SawCut, setout: Setout) -> Polygon:
    """What is left of the length; of one that is still cut from the stock, the rectangle."""
    outline = Polygon(setout.see_shape(cut.length.part.outline).exterior)
    return rectangle(*outline.bounds) if cut.work is CutWork.LENGTHS else outline


def _front(cut: SawCut, setout: Setout, window: tuple[float, float, float, float]) -> Iterator[str]:
    """The front edge as far as it is in sight, and the datum where it is."""
    left, _, right, _ = window
    x0, _, x1, _ = _stays(cut, setout).bounds
    a, b = max(left, x0), min(right, x1)
    if a < b:
        yield f'<path class="nose" d="{_line([(a, 0.0), (b, 0.0)])}"/>'
    if left <= 0.0 <= right:
        yield _datum((0.0, 0.0), (right - left) / WIDE)


def _words_on(cut: SawCut, pixel: float) -> Iterator[str]:
    """Which side falls off."""
    broad = cut.falls.buffer(-0.7 * WORDS * pixel)
    if broad.is_empty:
        return
    at, long = broad.representative_point(), 0.75 * len(FALLS_OFF) * WORDS * pixel
    x0, y0, x1, y1 = cut.falls.bounds
    if max(x1 - x0, y1 - y0) > long:
        yield _text(FALLS_OFF, (at.x, at.y), pixel, "waste", WORDS, turned=x1 - x0 < long)


def _along(
    distance: TapeReading, way: float, y: float, window: tuple[float, float, float, float], pixel: float
) -> Iterator[str]:
    """A number along the front edge: from the datum, or from where that lies out of sight, to the mark."""
    left, _, right, _ = window
    x = distance.feature[0]
    start = min(max(0.0, left), right)
    yield f'<path class="leader" d="{_line([distance.feature, (x, y)])}"/>'
    yield f'<path class="measure" d="{_line([(start, y), (x, y)])}"/>'
    yield _arrow((x, y), way, pixel)
    if start == 0.0:
        yield f'<path class="measure" d="{_line([(0.0, y - 8 * pixel), (0.0, y + 8 * pixel)])}"/>'
    # Beside the mark, on the side of the datum, where that has room; else on the other side.
    room, wide = abs(x - start), (len(mm(distance.value)) + 1) * LETTER * 0.62 * pixel
    middle = (
        x - way * (max(wide, 30 * pixel) / 2 + 14 * pixel)
        if room > wide + 26 * pixel
        else x + way * (wide / 2 + 8 * pixel)
    )
    yield _number(mm(distance.value), (middle, y), pixel)


def _across(distance: TapeReading, window: tuple[float, float, float, float], pixel: float) -> Iterator[str]:
    """A number across the depth, from the front edge to the mark."""
    left, _, right, _ = window
    x, y = distance.feature
    x = min(max(x, left + 50 * pixel), right - 50 * pixel)
    yield f'<path class="measure" d="{_line([(x, 0.0), (x, y)])}"/>'
    tip = [(x - 6 * pixel, y - 12 * pixel), (x, y), (x + 6 * pixel, y - 12 * pixel)]
    yield f'<path class="tip" d="{_line(tip)} Z"/>'
    yield _number(mm(distance.value), (x, y / 2 if y > 40 * pixel else y + 20 * pixel), pixel)


def _arrow(at: tuple[float, float], way: float, pixel: float) -> str:
    x, y = at
    back = x - way * 12 * pixel
    return f'<path class="tip" d="{_line([(back, y + 6 * pixel), (x, y), (back, y - 6 * pixel)])} Z"/>'


def _datum(at: tuple[float, float], pixel: float) -> str:
    """A ring with two quarters filled, as on the sheets."""
    (x, y), r = at, 9 * pixel
    arcs = (f"{_at((x + s * r, y))} A{r:.1f} {r:.1f} 0 0 0 {_at((x, y + s * r))}" for s in (1.0, -1.0))
    quarters = "".join(f'<path class="ink" d="M{_at((x, y))} L{arc} Z"/>' for arc in arcs)
    return f'<g class="datum"><circle cx="{x:.1f}" cy="{-y:.1f}" r="{r:.1f}"/>{quarters}</g>'


def _hatch(pixel: float) -> str:
    step = 10 * pixel
    return (
        f'<defs><pattern id="hatch" width="{step:.1f}" height="{step:.1f}" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><path class="hatch" d="M0 0 V{step:.1f}"/></pattern></defs>'
    )


def _number(words: str, at: tuple[float, float], pixel: float) -> str:
    """A number on a plate that hides what is below it."""
    wide, high = len(words) * LETTER * 0.62 * pixel + 6 * pixel, (LETTER + 5) * pixel
    x, y = at
    corner = f'x="{x - wide / 2:.1f}" y="{-y - high / 2:.1f}"'
    plate = f'<rect class="plate" {corner} width="{wide:.1f}" height="{high:.1f}"/>'
    return plate + _text(words, at, pixel, "number")


def _text(
    words: str, at: tuple[float, float], pixel: float, kind: str, high: float = LETTER, *, turned: bool = False
) -> str:
    turn = f' transform="rotate(-90 {at[0]:.1f} {-at[1]:.1f})"' if turned else ""
    return (
        f'<text class="{kind}" x="{at[0]:.1f}" y="{-at[1]:.1f}" font-size="{high * pixel:.1f}"{turn} '
        f'text-anchor="middle" dominant-baseline="central">{escape(words)}</text>'
    )


def _shape(shape: BaseGeometry, kind: str) -> str:
    found = [part for part in getattr(shape, "geoms", [shape]) if not part.is_empty]
    return "".join(f'<path class="{kind}" d="{_outline(part)}"/>' for part in found)


def _outline(part: BaseGeometry) -> str:
    return f"{_line(part.exterior.coords)} Z" if isinstance(part, Polygon) else _line(part.coords)


def _line(points: object) -> str:
    return "M" + " L".join(_at(p) for p in points)  # type: ignore[attr-defined]


def _at(point: tuple[float, float]) -> str:
    return f"{point[0]:.1f} {-point[1]:.1f}"


def _svg(window: tuple[float, float, float, float], pixel: float, title: str, body: str) -> str:
    x0, y0, x1, y1 = window
    return (
        f'<svg viewBox="{x0:.1f} {-y1:.1f} {x1 - x0:.1f} {y1 - y0:.1f}" role="img" '
        f'style="--px: {pixel:.4f}" aria-label="{escape(title)}">{body}</svg>'
    )
