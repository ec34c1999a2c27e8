"""Survey sheet: the room with every reading where it was taken, what the others make of it, and what remains.

Beside a reading stand its number in the table, what was read and what was added to it. What the readings doubt is
red and has a "!"; what nothing checks has a "?".
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from shapely.geometry import Point as Spot

from countersunk.model.adjustment.observations import (
    AcrossCorner,
    Angle,
    Distance,
    Key,
    Observation,
    Offset,
    Square,
    Width,
)
from countersunk.model.certainty.certainty import Doubtful, RunFit, TopFit, hidden_in_words, run_fits, top_fits
from countersunk.model.document.schema import Document, Room
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import Survey
from countersunk.model.survey.shape import shape_of
from countersunk.model.survey.weighing import Weighed, Weighing, weigh
from countersunk.model.tolerance import COVERAGE
from countersunk.viewer.drawing.lettering import lines_of, paragraph
from countersunk.viewer.drawing.paper import MARGIN, TitleBlock, fitting_scale, heading, sheet, titled
from countersunk.viewer.drawing.shapes import A3, Box, Line, Mark, Path, Point, Sheet, Text, View
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.tracing import Drawing

WINDOW: Box = (MARGIN, 92.0, 226.0, 270.0)
"""Where the room stands, mm on paper."""

AROUND = (32.0, 20.0)
"""Room for readings outside the walls, beside and above, mm on paper."""

WORDS: Box = (MARGIN + 3.0, 14.0, 226.0, 88.0)
"""Where it is said what to measure again."""

TABLE: Box = (232.0, 44.0, A3[0] - MARGIN - 3.0, 263.0)
"""Where the tables stand."""

PITCH = 4.6
"""From one line of a table to the next where there is room, mm on paper."""

BELOW = (
    "! in red: measure it again. ?: nothing checks it. In the drawing: what was read, what was added, how much "
    "of a mistake others show. Shows: the least mistake that shows, four times in five."
)


@dataclass(frozen=True)
class Placed:
    """A reading with its number, and the line along which it was read in the plan; a point for a corner.

    ``along`` is whether it is a wall's own length, which needs no line of its own.
    """

    number: int
    row: Weighed
    line: tuple[Point, ...]
    along: bool

    @property
    def sign(self) -> str:
        """The sign that stands beside the colour: ! to measure again, ? where nothing checks it."""
        return "!" if self.row.suspected else "?" if self.row.alone else ""

    @property
    def stroke(self) -> Stroke:
        """The colour of its words."""
        return Stroke.WARNING if self.row.suspected else Stroke.TEXT


def survey_sheet(kitchen: Kitchen) -> Sheet:
    """One A3 sheet of the survey, before anything is ordered or cut."""
    room = kitchen.document.room
    marks, view = _drawn(room, kitchen.planned.survey, run_fits(kitchen), top_fits(kitchen))
    return sheet(kitchen, "survey", TITLE, marks, [view])


def unbuilt_survey_sheet(document: Document, survey: Survey) -> Sheet:
    """The same of a kitchen that cannot be built: its readings, and no run or top."""
    marks, view = _drawn(document.room, survey)
    return titled(TitleBlock(document.kitchen, "no papers: not built"), "survey", TITLE, marks, [view])


TITLE = "Survey, what the readings say"


def _drawn(
    room: Room, survey: Survey, fits: Sequence[RunFit] = (), tops: Sequence[TopFit] = ()
) -> tuple[list[Mark], View]:
    """What stands on the paper, and the room."""
    placed = placed_readings(room)
    marks = [*heading("SURVEY", BELOW), *_said(weigh(room), fits), *_tables(placed, fits, tops)]
    return marks, survey_view(survey, placed)


def placed_readings(room: Room) -> list[Placed]:
    """Every reading that corners must agree with, where it was taken, in the room as it was adjusted."""
    shape, weighing = shape_of(room), weigh(room)
    at, observed = shape.adjustment.at, shape.observed[0].observations
    rows = zip(weighing.rows, observed, strict=True)
    walls = {f"wall {wall.name}" for wall in room.walls}
    return [Placed(i, row, _line(o, at), row.what in walls) for i, (row, o) in enumerate(rows, 1)]


def readings_sheet(room: Room, survey: Survey) -> Sheet:
    """Only the room with every reading: nothing else is on the sheet."""
    view = survey_view(survey, placed_readings(room))
    return Sheet("readings", "Readings", f"1:{view.scale:g}", (view,))


def survey_view(survey: Survey, placed: Sequence[Placed]) -> View:
    """The room with every reading."""
    xs, ys = zip(*(p for wall in survey.walls for p in (wall.start, wall.end)), strict=True)
    x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
    wx0, wy0, wx1, wy1 = WINDOW
    room = (wx1 - wx0 - 2 * AROUND[0], wy1 - wy0 - 2 * AROUND[1])
    scale = fitting_scale((x1 - x0, y1 - y0), room, (10.0, 20.0, 25.0, 40.0, 50.0, 100.0, 200.0))
    origin = ((wx0 + wx1) / 2 - (x0 + x1) / 2 / scale, (wy0 + wy1) / 2 - (y0 + y1) / 2 / scale)
    drawing = Drawing(scale)
    red = {each.line for each in placed if each.along and each.row.suspected}
    for wall in survey.walls:
        drawing.draw(Path((wall.start, wall.end), Stroke.ROOM))
        drawing.write([wall.name], 3.0, [wall.frame.to_room((wall.length / 2, 4.5 * scale, 0.0))[:2]], bold=True)
    drawing.draw(*(Line(_inside(a, b, scale), _inside(b, a, -scale), Stroke.WARNING) for a, b in red))
    inner = [each for each in placed if len(each.line) > 1 and not each.along]
    for each in inner:
        stroke = Stroke.WARNING if each.row.suspected else Stroke.CENTRE
        drawing.draw(*(Line(a, b, stroke) for a, b in zip(each.line, each.line[1:], strict=False)))
    for each in sorted(placed, key=lambda each: (not each.row.suspected, each.number)):
        _write(drawing, survey, each)
    return View("survey", scale, origin, WINDOW, tuple(drawing.marks))


def _inside(a: Point, b: Point, off: float) -> Point:
    """A point beside the end ``a`` of a wall, 1 mm on paper to the right of the way to ``b``."""
    ux, uy = _unit(a, b)
    return (a[0] + off * uy, a[1] - off * ux)


def _write(drawing: Drawing, survey: Survey, each: Placed) -> None:
    """What was read, beside where it was read: outside the room for walls and corners, else inside."""
    s, row = drawing.scale, each.row
    middle = _middle(each.line, 0.5 if each.along else ASIDE)
    first = f"{each.sign} {each.number}  {row.value:g}{'°' * (row.unit == '°')}".strip()
    reach = 26.0 * s
    x, y = middle
    near = lattice((x - reach, y - reach, x + reach, y + reach), 2.0 * s, middle)
    outline = survey.outline
    if outline is not None and outline.is_valid and (each.along or len(each.line) == 1):
        near = [p for p in near if outline.disjoint(Spot(p))]
    words = [first, f"{_added(row)}  {_checked(row)}"]
    if not drawing.write(words, 2.1, near, bold=row.suspected, stroke=each.stroke):
        drawing.point_out(first, 1.9, near, middle)


def _added(row: Weighed) -> str:
    """What was added to a reading."""
    if row.unit == "°":
        return f"{round(row.residual, 2) + 0.0:+.2f}°"
    return f"{round(row.residual, 1) + 0.0:+.1f}"


def _checked(row: Weighed) -> str:
    """How much of a mistake in a reading the others would show."""
    return "not" if row.alone else f"{100 * row.redundancy:.0f} %"


ASIDE = 0.36
"""Where along a length across the room its words stand: not where most of them cross."""


def _middle(line: tuple[Point, ...], share: float) -> Point:
    (ax, ay), (bx, by) = line[0], line[-1]
    return (ax + share * (bx - ax), ay + share * (by - ay))


def _line(o: Observation, at: Mapping[Key, float]) -> tuple[Point, ...]:
    """Where the tape lay, in the plan of the room."""

    def point(name: str) -> Point:
        return (at[name, "x"], at[name, "y"])

    match o:
        case Distance():
            return point(o.a), point(o.b)
        case Angle():
            return (point(o.corner),)
        case AcrossCorner():
            corner = point(o.corner)
            ends = zip((o.a, o.b), o.legs, strict=True)
            return tuple(_towards(corner, point(name), leg * (-1 if o.reflex else 1)) for name, leg in ends)
        case Offset():
            return point(o.point), _foot(point(o.point), point(o.a), point(o.b))
        case Width():
            base = point(o.base[0]), point(o.base[1])
            (ux, uy), (ax, ay) = _unit(*base), base[0]
            start = (ax + o.out * uy, ay - o.out * ux)
            sides = ((point(a), point(b)) for a, b in (o.left, o.right))
            return tuple(_met(start, (ux, uy), side) for side in sides)
        case Square():
            a, b = point(o.base[0]), point(o.base[1])
            (ux, uy), start = _unit(a, b), (a[0] + o.share * (b[0] - a[0]), a[1] + o.share * (b[1] - a[1]))
            return start, _met(start, (uy, -ux), (point(o.other[0]), point(o.other[1])))
    raise TypeError(type(o).__name__)


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def _towards(a: Point, b: Point, far: float) -> Point:
    ux, uy = _unit(a, b)
    return (a[0] + far * ux, a[1] + far * uy)


def _foot(p: Point, a: Point, b: Point) -> Point:
    ux, uy = _unit(a, b)
    return _towards(a, b, (p[0] - a[0]) * ux + (p[1] - a[1]) * uy)


def _met(start: Point, way: Point, line: tuple[Point, Point]) -> Point:
    """Where a way from a start meets the line through two points."""
    (sx, sy), (c, s), ((ax, ay), (bx, by)) = start, way, line
    dx, dy = bx - ax, by - ay
    far = ((ax - sx) * dy - (ay - sy) * dx) / (c * dy - s * dx)
    return (sx + far * c, sy + far * s)


def _said(weighing: Weighing, fits: Sequence[RunFit]) -> Iterator[Mark]:
    """What the readings say, then what to measure again or besides in its order."""
    x0, y0, x1, y1 = WORDS
    sound = weighing.verdict.sound
    lines = [(words, not sound and i == 0) for i, words in enumerate(weighing.said)]
    if not sound:
        doubtful = "! MEASURE AGAIN BEFORE YOU ORDER OR CUT"
        lines.insert(0, (doubtful if weighing.verdict.doubtful else "! ORDER AND CUT NOTHING YET", True))
    lines += [(f"{i}  {step}.", not sound and i == 1) for i, step in enumerate(weighing.steps, 1)]
    hidden = dict.fromkeys(words for fit in fits for words in hidden_in_words(fit)) if sound else {}
    lines += [(f"{words}.", False) for words in hidden]
    height = next(
        (h for h in (2.4, 2.2, 2.0, 1.8, 1.6) if sum(_rows(words, h) for words, _ in lines) <= y1 - y0), 1.6
    )
    y = y1 - height
    for words, warns in lines:
        stroke = Stroke.WARNING if warns else Stroke.TEXT
        yield from paragraph(words, (x0, y), x1 - x0, height, bold=warns, stroke=stroke)
        y -= _rows(words, height)


def _rows(words: str, height: float) -> float:
    """What a paragraph takes with the gap below it, mm on paper."""
    return (len(lines_of(words, height, WORDS[2] - WORDS[0])) * 1.65 + 0.6) * height


Columns = Sequence[tuple[float, bool]]
"""Where the columns of a table begin, mm from its left, and whether what stands in them ends there."""

Row = tuple[tuple[str, ...], bool]
"""The cells of a line, and whether it warns."""

READING: Columns = ((0.0, False), (4.0, False), (10.0, False), (92.0, True), (106.0, True), (126.0, True),
                    (146.0, True), (172.0, True))  # fmt: skip
REMAINS: Columns = ((0.0, False), (4.0, False), (52.0, True), (70.0, True), (90.0, True), (94.0, False))


def _tables(placed: Sequence[Placed], fits: Sequence[RunFit], tops: Sequence[TopFit]) -> Iterator[Mark]:
    """The readings, then what remains of every run and how far off every top may be."""
    x, low, _, top = TABLE
    readings = [(("", "", "reading", "read", "±", "added", "checked", "shows"), False), *map(_reading, placed)]
    runs = [(("", "run", "spare", "left", "if wrong", "by a mistake in"), False), *map(_run, fits)]
    lengths = [(("", "top", "long", "±", "if wrong", "by a mistake in"), False), *map(_top, tops)]
    tables = [(READING, readings), *((REMAINS, rows) for rows in (runs, lengths) if len(rows) > 1)]
    pitch = min(PITCH, (top - low) / sum(len(rows) + 1 for _, rows in tables))
    y = top
    for columns, rows in tables:
        yield from _table(columns, rows, (x, y), pitch)
        y -= (len(rows) + 1.0) * pitch


def _table(columns: Columns, rows: Sequence[Row], at: Point, pitch: float) -> Iterator[Mark]:
    x, y = at
    height, right = min(2.0, pitch * 0.6), TABLE[2]
    for i, (cells, warns) in enumerate(rows):
        stroke = Stroke.WARNING if warns else Stroke.TEXT
        ends = [column for column, _ in columns[1:]] + [right - x]
        for (column, is_right), cell, end in zip(columns, cells, ends, strict=True):
            most = len(cell) if is_right else max(1, math.floor((end - column - 1.0) / (height * 0.826)))
            if cell:
                yield Text(
                    (x + column, y), cell[:most], height, "right" if is_right else "left",
                    bold=i == 0 or warns, stroke=stroke,
                )  # fmt: skip
        yield Line((x, y - pitch * 0.3), (right, y - pitch * 0.3), Stroke.TABLE)
        y -= pitch


def _reading(each: Placed) -> Row:
    row, unit = each.row, "°" * (each.row.unit == "°")
    shows = "never" if row.alone else f"{row.least_detectable:.2g}{unit}"
    return (
        each.sign, f"{each.number}", row.what, f"{row.value:g}{unit}", f"{row.tolerance:.2g}", _added(row),
        _checked(row), shows,
    ), row.suspected  # fmt: skip


def _run(fit: RunFit) -> Row:
    return (
        _sign(fit), fit.run, _whole(fit.spare + fit.fillers), _whole(fit.left), _whole(fit.left_if_wrong), _by(fit)
    ), not fit.sound  # fmt: skip


def _top(fit: TopFit) -> Row:
    off = f"{fit.worst.off:.0f}" if fit.worst else ""
    return (_sign(fit), fit.top, f"{fit.length:.1f}", f"{COVERAGE * fit.sigma:.1f}", off, _by(fit)), False


def _sign(fit: Doubtful) -> str:
    return "?" if fit.worst and fit.worst.alone else ""


def _by(fit: Doubtful) -> str:
    return fit.worst.reading.what if fit.worst else ""


def _whole(length: float) -> str:
    return f"{length:.0f}" if math.isfinite(length) else "no end"
