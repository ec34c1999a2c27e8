"""Fit signs: a verdict as a shape, a word, a hatch and a colour, so that none of them has to do it alone."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely import LineString, Polygon

from countersunk.model.checks.finding import Verdict
from countersunk.model.ties import rounded_down, rounded_up
from countersunk.viewer.drawing.shapes import Circle, Line, Mark, Path, Point, Text
from countersunk.viewer.drawing.strokes import Stroke

STROKES: dict[Verdict, Stroke] = {
    Verdict.NOT_MET: Stroke.NOT_MET,
    Verdict.SHORT: Stroke.SHORT,
    Verdict.WATCH: Stroke.WATCH,
    Verdict.NOT_MEASURED: Stroke.NOT_MEASURED,
    Verdict.MET: Stroke.MET,
}

CORNERS = {Verdict.NOT_MET: 8, Verdict.SHORT: 3, Verdict.NOT_MEASURED: 4, Verdict.MET: 0, Verdict.WATCH: 0}
"""Corners of a verdict's sign: an octagon, a triangle, a square on its corner; none is a circle."""

GLYPHS = {Verdict.NOT_MET: "X", Verdict.SHORT: "!", Verdict.WATCH: "i", Verdict.NOT_MEASURED: "?"}

HATCH = {
    Verdict.NOT_MET: 45.0,
    Verdict.SHORT: 135.0,
    Verdict.WATCH: 0.0,
    Verdict.NOT_MEASURED: 90.0,
    Verdict.MET: 90.0,
}
"""Which way the lines over a clearance run, degrees from x."""

PITCH = {Verdict.NOT_MET: 1.6, Verdict.SHORT: 2.2, Verdict.WATCH: 2.8, Verdict.NOT_MEASURED: 4.0, Verdict.MET: 3.6}
"""Between those lines, mm on paper: the closer the more serious."""


def sign(verdict: Verdict, at: Point, size: float) -> list[Mark]:
    """The sign of a verdict about a point, ``size`` mm across, for a view at scale 1."""
    stroke, count, r = STROKES[verdict], CORNERS[verdict], size / 2
    shape: Mark = Path(_corners(at, r, count), stroke, closed=True) if count else Circle(at, r, stroke)
    if verdict is Verdict.MET:
        tick = ((at[0] - r * 0.5, at[1]), (at[0] - r * 0.1, at[1] - r * 0.45), (at[0] + r * 0.55, at[1] + r * 0.45))
        return [shape, Path(tick, stroke)]
    foot = (at[0], at[1] - size * (0.21 if count != 3 else 0.18))
    return [shape, Text(foot, GLYPHS[verdict], size * 0.42, "middle", bold=True, stroke=stroke)]


def _corners(at: Point, r: float, count: int) -> tuple[Point, ...]:
    """A triangle and a square stand on a side and on a corner, an octagon on a side."""
    first = math.pi / 2 if count < 8 else math.pi / 8
    turns = [first + 2 * math.pi * i / count for i in range(count)]
    return tuple((at[0] + r * math.cos(t), at[1] + r * math.sin(t)) for t in turns)


def hatch(area: Polygon, verdict: Verdict, scale: float) -> Iterator[Line]:
    """Lines over an area, in real mm of a view at ``scale``."""
    t, pitch = math.radians(HATCH[verdict]), PITCH[verdict] * scale
    ux, uy, nx, ny = math.cos(t), math.sin(t), -math.sin(t), math.cos(t)
    x0, y0, x1, y1 = area.bounds
    corners = [(x, y) for x in (x0, x1) for y in (y0, y1)]
    offs, along = ([x * a + y * b for x, y in corners] for a, b in ((nx, ny), (ux, uy)))
    low, high = min(along) - 1.0, max(along) + 1.0
    for i in range(rounded_up(min(offs) / pitch), rounded_down(max(offs) / pitch) + 1):
        d = i * pitch
        line = LineString([(nx * d + ux * s, ny * d + uy * s) for s in (low, high)])
        inside = line.intersection(area)
        for piece in getattr(inside, "geoms", [inside]):
            if isinstance(piece, LineString) and not piece.is_empty:
                (ax, ay), *_, (bx, by) = piece.coords
                yield Line((ax, ay), (bx, by), STROKES[verdict])
