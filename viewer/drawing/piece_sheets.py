"""Piece sheets: the two papers of a length, its top and its underside, to mark and cut from."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from countersunk.model.checks import Finding
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.facts import PITCH, TIGHTEST, FactGroup, column, groups, parted
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.paper import MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.piece import piece_view
from countersunk.viewer.drawing.piece_tables import (
    FOOT,
    LEFT,
    MIDDLE,
    RIGHT,
    TOP,
    legend,
    legend_foot,
    section_view,
)
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.drawing.shapes import A3, Box, Mark, Sheet
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.template import ROUTER, SAW

WINDOW: Box = (MARGIN, 124.0, A3[0] - MARGIN, 268.0)
"""Where a length is shown, mm on paper."""

SIDES, ABOVE, UNDER = 19.2, 11.0, 36.0
"""Room for numbers and letters beside, above and below the length, mm on paper."""

HEADINGS = {
    Face.TOP: (
        "TOP - decor face up",
        "Seen from above as one stands in front of it: front edge below. Every number is measured from the DATUM, "
        "along the front edge and from the front edge. For looking up and fitting; mark and cut from the "
        "underside.",
    ),
    Face.UNDERSIDE: (
        "UNDERSIDE - MIRRORED - mark and cut from here",
        "Seen from below, turned over end for end: front edge still below, left and right swapped. The DATUM "
        "is the "
        "same corner and every number is the same as on the top. Starter holes are drilled from the decor face. "
        f"Tenths are for setting out: a saw holds {mm(SAW)}, a router along its guide {mm(ROUTER)}.",
    ),
}


def length_sheets(kitchen: Kitchen, length: Length, findings: Sequence[Finding] = ()) -> list[Sheet]:
    """Both faces of a length, and a sheet more where its facts have no room below them."""
    *_, more = _facts(kitchen, length, findings)
    faces = [piece_sheet(kitchen, length, face, findings) for face in Face]
    return [*faces, *([_more(kitchen, length, more)] if more else [])]


UNDER_LEGEND, WIDTH = 3.0, MIDDLE - LEFT - 4.0
"""Between the legend and facts below it, and how wide these are, mm on paper."""


def _facts(
    kitchen: Kitchen, length: Length, findings: Sequence[Finding]
) -> tuple[list[FactGroup], list[FactGroup], list[FactGroup]]:
    """The facts beside the legend, those below it, and those for a sheet more."""
    here, more = parted(groups(kitchen, length, findings), RIGHT - MIDDLE, TOP - FOOT)
    room = legend_foot(kitchen, length) - UNDER_LEGEND - FOOT
    fit = sum(group.rows(WIDTH) for group in more) * PITCH * TIGHTEST <= room
    return (here, more, []) if fit else (here, [], more)


def _more(kitchen: Kitchen, length: Length, some: list[FactGroup]) -> Sheet:
    """What has no room below a length, in two columns."""
    low, high = 46.0, 262.0
    width, room = RIGHT - MIDDLE, high - low
    half = sum(g.rows(width) for g in some) / 2
    first = sum(height <= half for height in accumulate(g.rows(width) for g in some)) or 1
    marks = [
        *heading(f"{length.id}  FACTS, continued", "What has no room on the sheets of its top and its underside."),
        *column(some[:first], LEFT, high, width, room), *column(some[first:], MIDDLE, high, width, room),
    ]  # fmt: skip
    return sheet(kitchen, f"{length.id}-facts", f"{length.id} facts, continued", marks, [])


def piece_sheet(kitchen: Kitchen, length: Length, face: Face, findings: Sequence[Finding] = ()) -> Sheet:
    """One face of a length with its legend, its section and its facts."""
    here, below_legend, more = _facts(kitchen, length, findings)
    top = legend_foot(kitchen, length) - UNDER_LEGEND
    kinds = ", ".join(dict.fromkeys(g.title.split()[0] for g in more))  # JOIN, NOTCH, BACK, CUT-OUT
    here += [FactGroup(f"MORE ON SHEET {length.id}-facts: {kinds}", ())] if more else []
    setout = Setout(length, face)
    words, below = HEADINGS[face]
    stroke = Stroke.TEXT if face is Face.TOP else Stroke.WARNING
    scale = piece_scale(length)
    view = piece_view(kitchen, setout, scale, piece_origin(setout, scale), WINDOW)
    marks: list[Mark] = [
        *heading(f"{length.id}  {words}", below, stroke), *legend(kitchen, length, face),
        *column(here, MIDDLE, TOP - 3.0, RIGHT - MIDDLE, TOP - FOOT),
        *column(below_legend, LEFT, top - 2.0, WIDTH, top - FOOT),
    ]  # fmt: skip
    name = f"{length.id}-{face}"
    title = f"{length.id} {'top' if face is Face.TOP else 'UNDERSIDE, MIRRORED'}"
    return sheet(kitchen, name, title, marks, [view, section_view(length)], f"1:{scale:g}, section 1:5")


def piece_scale(length: Length) -> float:
    """The scale at which the length and its numbers fit."""
    x0, y0, x1, y1 = WINDOW
    room = (x1 - x0 - 2 * SIDES, y1 - y0 - ABOVE - UNDER)
    return fitting_scale((length.part.length, length.run.stock.depth), room, (5.0, 10.0, 20.0))


def piece_origin(setout: Setout, scale: float) -> tuple[float, float]:
    """Where the datum lies on the sheet so that the length stands in the middle of its window."""
    x0, y0, x1, y1 = setout.see_shape(setout.length.part.outline).bounds
    wx0, wy0, wx1, wy1 = WINDOW
    spare = (wy1 - wy0 - ABOVE - UNDER) - (y1 - y0) / scale
    return ((wx0 + wx1) / 2 - (x0 + x1) / 2 / scale, wy0 + UNDER + spare / 2)
