"""Shapes: the one drawing model that DXF, SVG and PDF are written from.

A *sheet* is a piece of paper (mm). It carries *views*; a view shows things of the real world at a scale. In a
view everything stands in real millimetres, x to the right and y **up** the paper; only heights of letters are
millimetres on paper. What belongs to the paper itself (title block, tables) is a view at scale 1 whose origin is
the sheet's lower left corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from countersunk.viewer.drawing.strokes import Stroke

Point = tuple[float, float]
Box = tuple[float, float, float, float]
Across = Literal["left", "middle", "right"]

PAPER = "paper"
"""The name of the view that belongs to the paper itself."""

A3 = (420.0, 297.0)
A4 = (210.0, 297.0)


@dataclass(frozen=True)
class Line:
    """A straight line."""

    a: Point
    b: Point
    stroke: Stroke


@dataclass(frozen=True)
class Path:
    """Straight lines from point to point; ``filled`` is "ink", "paper" (hides what is below) or nothing."""

    points: tuple[Point, ...]
    stroke: Stroke
    closed: bool = False
    filled: Literal["", "ink", "paper"] = ""


@dataclass(frozen=True)
class Circle:
    """A circle; ``filled`` as for a path."""

    centre: Point
    radius: float
    stroke: Stroke
    filled: Literal["", "ink", "paper"] = ""


@dataclass(frozen=True)
class Arc:
    """Part of a circle, anticlockwise from ``start`` to ``end`` (degrees from x)."""

    centre: Point
    radius: float
    start: float
    end: float
    stroke: Stroke


@dataclass(frozen=True)
class Text:
    """One line of words. ``at`` lies on the base line; ``height`` is that of capitals, mm on paper.

    ``turn`` is anticlockwise, in degrees.
    """

    at: Point
    words: str
    height: float
    across: Across = "left"
    turn: float = 0.0
    bold: bool = False
    stroke: Stroke = Stroke.TEXT


@dataclass(frozen=True)
class Ordinate:
    """How far ``feature`` lies from ``datum`` along one axis, written at ``label``; ``mark`` follows the number.

    The leader leaves the feature square to the axis and may bend to reach its label. For axis "x" the number
    stands upright below the label, or above it where the label lies above the feature; for "y" beside it.
    """

    axis: Literal["x", "y"]
    feature: Point
    label: Point
    datum: Point = (0.0, 0.0)
    mark: str = ""
    height: float = 2.2

    @property
    def value(self) -> float:
        """The distance, mm, never negative: the mirrored side has the same numbers."""
        i = 0 if self.axis == "x" else 1
        return abs(self.feature[i] - self.datum[i])


@dataclass(frozen=True)
class Span:
    """The distance between two points, its dimension line ``off`` mm (real) to the left of a → b."""

    a: Point
    b: Point
    off: float
    mark: str = ""
    height: float = 2.2


Mark = Line | Path | Circle | Arc | Text | Ordinate | Span


@dataclass(frozen=True)
class View:
    """Things at a scale. ``origin`` is where the view's (0, 0) lies on the sheet, ``window`` its place there, mm.

    ``scale`` is real millimetres to one on paper: 10 for 1:10.
    """

    name: str
    scale: float
    origin: Point
    window: Box
    marks: tuple[Mark, ...]

    @property
    def is_paper(self) -> bool:
        """Whether this is what belongs to the paper itself."""
        return self.name == PAPER

    def to_paper(self, point: Point) -> Point:
        """A point of the view, in mm from the sheet's lower left corner."""
        return (self.origin[0] + point[0] / self.scale, self.origin[1] + point[1] / self.scale)


@dataclass(frozen=True)
class Sheet:
    """One sheet. ``name`` is that of its file; ``scale`` what the title block says."""

    name: str
    title: str
    scale: str
    views: tuple[View, ...]
    size: tuple[float, float] = A3
