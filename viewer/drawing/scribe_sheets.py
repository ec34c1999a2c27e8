"""Scribe sheets: what comes off the back of a top at a bowed wall every 100 mm, and a form for panels at one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.survey import SurveyedWall
from countersunk.model.tolerance import ON_LINE
from countersunk.model.tops.scribe import SCRIBE_GAP, Scribe
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.behind import after_scribing, scribe_of
from countersunk.viewer.drawing.lettering import lines_of, mm, paragraph
from countersunk.viewer.drawing.paper import MARGIN, heading, sheet
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.drawing.shapes import A3, Box, Line, Mark, Path, Point, Sheet, Text, View
from countersunk.viewer.drawing.strokes import Stroke

EVERY = 100.0
"""From one offset to the next, mm."""

NEAREST = 20.0
"""An offset of the row is left out where an end is nearer than this, mm."""

DEEPEST = 45.0
"""How deep the back is drawn at most, mm on paper."""

WINDOW: Box = (MARGIN, 182.0, A3[0] - MARGIN, 262.0)
TABLE: Box = (MARGIN + 3.0, 14.0, 224.0, 170.0)
WORDS: Box = (238.0, 44.0, A3[0] - MARGIN - 3.0, 170.0)
"""Where the back, the table and the words stand, mm on paper."""

HEIGHT, ROW = 2.3, 5.0

Row = tuple[float, float, float]
"""From the datum, how far the wall stands behind the straight back as it is laid, and what comes off it, mm."""


def scribe_sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """One for each length that is scribed, and one for the panels that meet a bowed wall."""
    for length, scribe in scribed(kitchen):
        yield _of_length(kitchen, length, scribe)
    yield from _of_panels(kitchen)


def scribed(kitchen: Kitchen) -> list[tuple[Length, Scribe]]:
    """Every length whose back has to be scribed, with its wall."""
    found = ((length, scribe_of(kitchen, length)) for length in kitchen.lengths)
    return [(length, scribe) for length, scribe in found if scribe is not None and scribe.shows]


def places(length: Length, scribe: Scribe) -> list[float]:
    """Where offsets are given, from the datum: every 100 mm along the back, and at both of its ends."""
    low, high = sorted(_from_datum(length, x) for x in (scribe.face[0][0], scribe.face[-1][0]))
    every = [i * EVERY for i in range(int(high // EVERY) + 1)]
    return [low, *(x for x in every if low + NEAREST < x < high - NEAREST), high]


def offsets(length: Length, scribe: Scribe) -> list[Row]:
    """What the wall does behind the back, and what comes off that, at each of `places`."""
    at = [(place, _in_part(length, place)) for place in places(length, scribe)]
    return [(place, scribe.behind(x), scribe.cut_at(x)) for place, x in at]


def _from_datum(length: Length, x: float) -> float:
    return abs(Setout(length, Face.TOP).see((x, 0.0))[0])


def _in_part(length: Length, place: float) -> float:
    """The x in the part frame of a place that far from the datum."""
    setout = Setout(length, Face.TOP)
    return setout.datum[0] + (place if setout.datum_side == "left" else -place)


def _of_length(kitchen: Kitchen, length: Length, scribe: Scribe) -> Sheet:
    view, smaller = _back(length, scribe)
    drawn = "full size" if smaller == 1.0 else f"1:{smaller:g}"
    below = f"Seen from above, back up the paper; what comes off is drawn {drawn}, the length 1:{view.scale:g}."
    marks = [
        *heading(f"{length.id}  SCRIBE the back to wall {scribe.wall}", below),
        *_table(offsets(length, scribe)), *_words(length, scribe),
    ]  # fmt: skip
    title = f"{length.id} scribe to wall {scribe.wall}"
    return sheet(kitchen, f"{length.id}-scribe", title, marks, [view], f"1:{view.scale:g}, depth 1:{smaller:g}")


def _back(length: Length, scribe: Scribe) -> tuple[View, float]:
    """The straight back and the line to cut, as seen from above, and how much smaller than true it is across."""
    x0, y0, x1, y1 = WINDOW
    scale = next(s for s in (5.0, 10.0, 20.0) if length.part.length / s <= x1 - x0 - 30.0)
    side = 1.0 if Setout(length, Face.TOP).datum_side == "left" else -1.0
    rows, line = offsets(length, scribe), _line(length, scribe)
    deepest = max(off for _, off in line)
    smaller = next((s for s in (1.0, 2.0, 5.0) if deepest / s <= DEEPEST), 10.0)

    def at(place: float, off: float) -> Point:
        return (side * place, -off * scale / smaller)

    marks: list[Mark] = [
        Path((at(rows[0][0], 0.0), at(rows[-1][0], 0.0)), Stroke.BLANK),
        Path(tuple(at(x, off) for x, off in line), Stroke.LINE_TO_CUT),
    ]
    for i, (place, _, off) in enumerate(rows):
        marks.append(Line(at(place, 0.0), at(place, off), Stroke.DIMENSION))
        inner = place % (5 * EVERY) == 0 and rows[0][0] + 3.0 * scale < place < rows[-1][0] - 3.0 * scale
        if inner or i in (0, len(rows) - 1):
            x, y = at(place, 0.0)
            marks += [
                Line((x, y), (x, y + 3.0 * scale), Stroke.DIMENSION),
                Text((x + 0.9 * scale, y + 4.0 * scale), mm(place), 2.0, turn=90.0),
            ]
    middle = (x0 + x1) / 2 - side * (rows[0][0] + rows[-1][0]) / 2 / scale
    low = deepest / smaller
    marks.append(Text((side * rows[0][0], -(low + 8.0) * scale), "DATUM end", 2.2, "middle"))
    return View(f"{length.id} back", scale, (middle, (y0 + y1) / 2 + low / 2), WINDOW, tuple(marks)), smaller


def _line(length: Length, scribe: Scribe) -> list[Point]:
    """The line to cut: a point at every station of the wall and wherever it meets the straight back."""
    return sorted((_from_datum(length, x), off) for x, off in cut_line(scribe))


def cut_line(scribe: Scribe) -> list[Point]:
    """The line to cut in the part frame: x, and what comes off the straight back there, mm."""
    points: list[Point] = []
    for x, y in scribe.face:
        off = y + scribe.pushed
        if points and (points[-1][1] < 0.0) != (off < 0.0):
            px, p = points[-1]
            points.append((px + (x - px) * p / (p - off), 0.0))
        points.append((x, off))
    return [(x, max(0.0, off)) for x, off in points]


def _table(rows: list[Row]) -> Iterator[Mark]:
    """Columns of offsets, read from the datum."""
    x0, y0, x1, y1 = TABLE
    most = int((y1 - y0) / ROW) - 1
    wide = (x1 - x0) / 3
    for column in range(0, len(rows), most):
        x = x0 + wide * (column // most)
        yield from _row(x, y1 - ROW + 1.0, wide, ("from datum", "wall behind", "take off"), bold=True)
        for i, (place, behind, off) in enumerate(rows[column : column + most], 2):
            yield from _row(x, y1 - i * ROW + 1.0, wide, (mm(place), mm(behind), mm(off)))


def _row(x: float, y: float, wide: float, words: tuple[str, ...], bold: bool = False) -> Iterator[Mark]:
    for i, text in enumerate(words):
        yield Text((x + 20.0 * (i + 1) + 1.0, y), text, 2.0 if bold else HEIGHT, "right", bold=bold)
    yield Line((x, y - 1.5), (x + wide - 6.0, y - 1.5), Stroke.TABLE)


def _words(length: Length, scribe: Scribe) -> Iterator[Mark]:
    """What is done, in order, with the cautions where they belong. Common practice of the trade, no source."""
    x, _, right, y = WORDS
    y -= 4.0
    for words, caution in steps(length, scribe):
        stroke = Stroke.WARNING if caution else Stroke.TEXT
        yield from paragraph(words, (x, y), right - x, HEIGHT, bold=caution, stroke=stroke)
        y -= len(lines_of(words, HEIGHT, right - x)) * 1.65 * HEIGHT + 1.6


def steps(length: Length, scribe: Scribe) -> list[tuple[str, bool]]:
    """How the back is scribed, and whether a line is a caution. Common practice of the trade, no source."""
    pushed = mm(scribe.pushed)
    ways = ((scribe.gap, "behind the straight back"), (scribe.bulge, "before it"))
    off = [f"{mm(most)} {where}" for most, where in ways if mm(most) != "0"]
    found = [
        ("! Saw, planer and sander: eyes, ears and lungs protected, dust drawn off, cable and hands clear.", True),
        (
            f"1 Wall {scribe.wall}: {' and '.join(off)} at most. It is taken as straight between readings: lay a "
            "straightedge on the wall at the height of the top and compare two of them before you cut.",
            False,
        ),
    ]
    if scribe.pushed:
        found.append(
            (
                f"2 To close the gap the top is pushed back by {pushed}: its front edge and its joins go back with "
                "it. Decide before a join is cut. Or leave the back straight and cover the gap with an upstand.",
                False,
            )
        )
    else:
        found.append(
            (
                f"2 The top stays where it is laid; what is still open, up to {mm(SCRIBE_GAP)}, silicone closes.",
                False,
            )
        )
    found += [
        ("3 Mark every offset on the underside from the straight back and join the marks, or lay the 1:1 strip of "
         "templates.pdf on it.", False),
        ("4 Jigsaw 2 in the waste, decor down, fine teeth; then plane or sand to the line, tilted so that the "
         "underside is cut back a little further than the decor.", False),
        (f"5 Offer up on the levelled units, {after_scribing(length)}. The wall itself decides.", False),
    ]  # fmt: skip
    return found


@dataclass(frozen=True)
class MetPanel:
    """A panel whose back meets a bowed wall.

    It stands ``at`` so far along the wall, whose face is ``behind`` the straight line between its ends there, mm,
    less than 0 where it bulges; ``heights`` are those of its foot and its top.
    """

    name: str
    wall: SurveyedWall
    at: float
    heights: tuple[float, float]

    @property
    def behind(self) -> float:
        """How far the wall stands behind its straight line, mm."""
        return -self.wall.face_at(self.at)


def met_panels(kitchen: Kitchen) -> list[MetPanel]:
    """Every panel at a bowed wall, in the order of the runs."""
    return [found for run in kitchen.planned.runs for found in _met(kitchen.planned, run)]


def _met(kitchen: Kitchen, run: PlacedRun) -> Iterator[MetPanel]:
    wall = kitchen.survey.wall(run.wall) if run.wall else None
    if wall is None or not wall.stations:
        return
    for unit in run.units:
        x, _, _ = wall.frame.from_room(unit.frame.to_room((unit.width / 2, 0.0, 0.0)))
        panels = (part for part in kitchen.parts if part.owner == unit.key and part.role is Role.PANEL)
        if any(wall.frame.plan_from_room(part.standing_plan).bounds[1] < ON_LINE for part in panels):
            low = 0.0 if unit.family.level == "floor" else unit.family.base
            yield MetPanel(unit.name, wall, x, (low, unit.family.top))


PANEL_TOP, PANEL_EACH, CELL = 252.0, 34.0, 15.0
"""Where the first form stands, how far down the next one, and how wide a cell is, mm on paper."""


def _of_panels(kitchen: Kitchen) -> Iterator[Sheet]:
    """A form for each panel at a bowed wall, six on a sheet: nobody has read the wall upwards."""
    met, each = met_panels(kitchen), 6
    below = (
        "A survey reads walls along, not up. Leave each panel as deep as is said here, stand it plumb in its place "
        "against the wall, and write down the gap every 100 from the floor. Widest gap less gap comes off."
    )
    parted = [met[i : i + each] for i in range(0, len(met), each)]
    for number, some in enumerate(parted, 1):
        name = "panels-scribe" if len(parted) == 1 else f"panels-scribe-{number}"
        marks: list[Mark] = heading("PANELS at bowed walls: scribe", below)
        for i, panel in enumerate(some):
            marks += _form(panel, PANEL_TOP - i * PANEL_EACH)
        yield sheet(kitchen, name, "Panels at bowed walls: scribe", marks, [])


def _form(panel: MetPanel, y: float) -> Iterator[Mark]:
    """One panel: what is known of its wall, and room for a gap every 100 up its back."""
    x = MARGIN + 3.0
    yield Text(
        (x, y), f"{panel.name}  at {mm(panel.at)} along wall {panel.wall.name}: {_bow(panel)}", 2.6, bold=True
    )
    low, high = panel.heights
    for row, words in enumerate(("from floor", "gap", "take off")):
        yield Text((x, y - 8.0 - 8.0 * row), words, 2.0)
    for i in range(int((high - low) // EVERY) + 1):
        left = x + 24.0 + i * CELL
        yield Text((left + CELL / 2, y - 8.0), mm(low + i * EVERY), 2.0, "middle")
        yield from (Path(_cell(left, y - 19.0 - 8.0 * row, CELL, 8.0), Stroke.TABLE, True) for row in range(2))


def _bow(panel: MetPanel) -> str:
    """What the survey says of the wall behind a panel, and what that asks of its depth."""
    off = mm(abs(panel.behind))
    if off == "0":
        return "on its straight line there"
    if panel.behind < 0.0:
        return f"it bulges by {off} there, which comes off the listed depth"
    more = "silicone closes it" if panel.behind <= SCRIBE_GAP else f"leave the panel {off} deeper than listed"
    return f"hollow by {off} there; {more}"


def _cell(x: float, y: float, w: float, h: float) -> tuple[Point, ...]:
    return ((x, y), (x + w, y), (x + w, y + h), (x, y + h))
