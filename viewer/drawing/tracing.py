"""Tracing: a view while it is being drawn, with the places that are taken kept."""

from __future__ import annotations

from collections.abc import Iterable

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.geometry import Point as Spot

from countersunk.viewer.drawing.lettering import ordinate_parts, span_parts, text_box, width_of
from countersunk.viewer.drawing.shapes import Circle, Line, Mark, Ordinate, Path, Point, Span, Text
from countersunk.viewer.drawing.spacing import Taken
from countersunk.viewer.drawing.strokes import Stroke


class Drawing:
    """A view while it is being drawn: its marks, and the places that are taken."""

    def __init__(self, scale: float) -> None:
        self.scale = scale
        self.marks: list[Mark] = []
        self.lines = Taken()
        self.words = Taken()

    def draw(self, *some: Mark) -> None:
        """Add marks; what words must not touch is kept."""
        for mark in some:
            self.marks.append(mark)
            self._keep(mark)

    def _keep(self, mark: Mark) -> None:
        match mark:
            case Text():
                self.words.add(text_box(mark, self.scale))
                self.lines.add(text_box(mark, self.scale))
            case Ordinate():
                leader, text = ordinate_parts(mark, self.scale)
                self.words.add(text_box(text, self.scale))
                self.lines.add(text_box(text, self.scale), LineString(leader.points))
            case Path():
                points = (*mark.points, mark.points[0]) if mark.closed else mark.points
                self.lines.add(Polygon(points) if mark.filled else LineString(points))
            case Span():
                lines, text = span_parts(mark, self.scale)
                self.words.add(text_box(text, self.scale))
                self.lines.add(text_box(text, self.scale), *(LineString(line.points) for line in lines))
            case Line():
                self.lines.add(LineString([mark.a, mark.b]))
            case Circle():
                self.lines.add(Spot(mark.centre).buffer(mark.radius))

    def point_out(self, words: str, height: float, spots: Iterable[Point], foot: Point) -> bool:
        """Words at the first free spot with a leader to ``foot``; False where there is none."""
        size = ((width_of(words, height) + height) * self.scale, 2.2 * height * self.scale)
        spot = self.lines.room_for(size, spots)
        if spot is not None:
            end = LineString([spot, foot]).intersection(rectangle_about(spot, size).exterior)
            start = (float(end.centroid.x), float(end.centroid.y)) if not end.is_empty else spot
            self.draw(*centred([words], height, spot, self.scale), Line(start, foot, Stroke.DIMENSION))
        return spot is not None

    def write(
        self, words: list[str], height: float, spots: Iterable[Point], within: Polygon | None = None,
        bold: bool = False, stroke: Stroke = Stroke.TEXT,
    ) -> bool:  # fmt: skip
        """Centred lines of words at the first free spot; False where there is none."""
        pitch = 1.6 * height * self.scale
        size = (max(width_of(w, height) for w in words) * self.scale + pitch, (len(words) + 0.4) * pitch)
        spot = self.lines.room_for(size, spots, within)
        if spot is not None:
            self.draw(*centred(words, height, spot, self.scale, bold, stroke))
        return spot is not None


def rectangle_about(spot: Point, size: Point) -> Polygon:
    """A rectangle of a size about a spot."""
    (x, y), (w, h) = spot, size
    return rectangle(x - w / 2, y - h / 2, x + w / 2, y + h / 2)


def centred(
    words: list[str], height: float, spot: Point, scale: float, bold: bool = False, stroke: Stroke = Stroke.TEXT
) -> list[Text]:
    """Lines of words about a spot."""
    pitch = 1.6 * height * scale
    top = spot[1] + (len(words) - 1) * pitch / 2 - height * scale / 2
    return [
        Text((spot[0], top - i * pitch), w, height, "middle", bold=bold, stroke=stroke) for i, w in enumerate(words)
    ]
