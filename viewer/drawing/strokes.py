"""Strokes: what a line on a sheet stands for, and the pen that it is drawn with.

The names are those of the trade; in DXF each is a layer and, where it is broken, a line type.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from countersunk.model.geometry.part import EdgeCondition


class Stroke(StrEnum):
    """What a line, a circle or a text stands for."""

    FACTORY = "factory edge"
    WALL = "edge against wall"
    EXPOSED = "exposed edge"
    MITRED = "edge mitred to an end below"
    JOINT_FEMALE = "joint female"
    JOINT_MALE = "joint male"
    TALL = "edge against tall unit"
    LINE_TO_CUT = "line to cut"
    LINE_TO_CUT_HEAT = "line to cut at heat"
    RIM = "rim do not cut"
    SLOT = "slot from below"
    STARTER = "starter hole"
    BLANK = "blank"
    CENTRE = "centre line"
    OUTLINE = "outline"
    HIDDEN = "hidden"
    UNIT = "unit"
    ROOM = "wall of the room"
    DIMENSION = "dimension"
    DATUM = "datum"
    LETTER = "edge letter"
    TEXT = "text"
    WARNING = "warning"
    TABLE = "table"
    FRAME = "sheet frame"
    NOT_MET = "clearance not met"
    SHORT = "clearance falls short"
    WATCH = "clearance worth a look"
    NOT_MEASURED = "clearance not measured"
    MET = "clearance met"


@dataclass(frozen=True)
class Pen:
    """How a stroke looks on paper: width in mm, colour (sRGB), dashes and gaps in mm; none is a whole line."""

    width: float
    colour: str = "#000000"
    dash: tuple[float, ...] = ()


INK, GREY, RED = "#000000", "#5a5a5a", "#a3261c"
AMBER, GREEN, BLUE = "#9a5b00", "#2c6e2f", "#2a5a8a"

PENS: dict[Stroke, Pen] = {
    Stroke.FACTORY: Pen(0.7),
    Stroke.WALL: Pen(0.5, INK, (6.0, 1.5)),
    Stroke.EXPOSED: Pen(0.7, INK, (8.0, 1.2, 1.2, 1.2)),
    Stroke.MITRED: Pen(0.7, INK, (4.0, 1.0, 1.0, 1.0)),
    Stroke.JOINT_FEMALE: Pen(0.5, INK, (6.0, 1.0, 1.0, 1.0, 1.0, 1.0)),
    Stroke.JOINT_MALE: Pen(0.5, INK, (2.5, 1.0)),
    Stroke.TALL: Pen(0.5, INK, (1.0, 1.0)),
    Stroke.LINE_TO_CUT: Pen(0.5, RED),
    Stroke.LINE_TO_CUT_HEAT: Pen(0.7, RED, (9.0, 0.8)),
    Stroke.RIM: Pen(0.18, GREY, (0.3, 0.9)),
    Stroke.SLOT: Pen(0.25),
    Stroke.STARTER: Pen(0.25, RED),
    Stroke.BLANK: Pen(0.18, GREY, (3.0, 1.0, 0.5, 1.0)),
    Stroke.CENTRE: Pen(0.18, GREY, (5.0, 1.0, 1.0, 1.0)),
    Stroke.OUTLINE: Pen(0.5),
    Stroke.HIDDEN: Pen(0.18, GREY, (1.5, 0.8)),
    Stroke.UNIT: Pen(0.25, GREY),
    Stroke.ROOM: Pen(0.9),
    Stroke.DIMENSION: Pen(0.13, GREY),
    Stroke.DATUM: Pen(0.35),
    Stroke.LETTER: Pen(0.25),
    Stroke.TEXT: Pen(0.2),
    Stroke.WARNING: Pen(0.35, RED),
    Stroke.TABLE: Pen(0.13, GREY),
    Stroke.FRAME: Pen(0.5),
    Stroke.NOT_MET: Pen(0.35, RED),
    Stroke.SHORT: Pen(0.3, AMBER),
    Stroke.WATCH: Pen(0.25, BLUE),
    Stroke.NOT_MEASURED: Pen(0.25, GREY, (1.5, 0.8)),
    Stroke.MET: Pen(0.18, GREEN),
}

EDGES: dict[EdgeCondition, Stroke] = {
    EdgeCondition.FACTORY: Stroke.FACTORY,
    EdgeCondition.WALL: Stroke.WALL,
    EdgeCondition.EXPOSED: Stroke.EXPOSED,
    EdgeCondition.MITRED: Stroke.MITRED,
    EdgeCondition.JOINT_FEMALE: Stroke.JOINT_FEMALE,
    EdgeCondition.JOINT_MALE: Stroke.JOINT_MALE,
    EdgeCondition.TALL: Stroke.TALL,
    EdgeCondition.CUTOUT: Stroke.LINE_TO_CUT,
    EdgeCondition.CUTOUT_HEAT: Stroke.LINE_TO_CUT_HEAT,
}
"""The stroke of every edge condition."""
