"""Fitted sheet: what was measured on the fitted units against the plan, and what it means, as a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from countersunk.model.differences import Deviation, consequences, differences
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.drawing.lettering import degrees, lines_of, mm
from countersunk.viewer.drawing.paper import BLOCK, MARGIN, PAD, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Line, Mark, Sheet, Text
from countersunk.viewer.drawing.strokes import Stroke

COLUMNS = (13.0, 142.0, 166.0, 192.0, 214.0)
"""Where what was read begins, and where planned, fitted, difference and ± end, mm on paper."""

JUDGED, MEANS = 222.0, 246.0
"""Where the verdict and what it means begin."""

TOP, PITCH, HEIGHT = 262.0, 5.2, 2.4
FOOT = MARGIN + BLOCK[1] + 8.0
WORDS = A3[0] - MARGIN - PAD - MEANS

BELOW = (
    "Planned is what the plan has, fitted what all readings on the units make of it. Tops, joins, scribes and "
    "cut-outs on these papers are cut to fitted; carcasses keep the plan. The ± is that of the survey of the room: "
    "beyond it the units stand otherwise than planned."
)

UNDER_RULE = 1.4
"""Between the rule below the headings and the first row, mm on paper."""

Rows = list[tuple[list[str], str, bool]]
"""The cells of each row, its words, and whether it is beyond the tolerance."""


def fitted_sheets(kitchen: Kitchen) -> list[Sheet]:
    """The table on as many sheets as it takes; none for a kitchen that was not measured again."""
    if kitchen.fitted is None:
        return []
    rows = [_row(difference) for difference in differences(kitchen)]
    rows += [(["less well met than planned"], words, True) for words in consequences(kitchen)]
    pages = list(_pages(rows))
    return [_sheet(kitchen, page, i, len(pages)) for i, page in enumerate(pages, start=1)]


def _row(d: Deviation) -> tuple[list[str], str, bool]:
    say = degrees if d.unit == "°" else mm
    both = ["" if value is None else say(value) for value in (d.planned, d.fitted)]
    change = "" if d.difference is None else f"{'+' if d.difference > 0 else ''}{say(d.difference)}"
    tolerance = f"±{say(d.tolerance)}" if d.judged != "not used" else ""
    return [d.what, *both, change, tolerance, d.judged], d.meaning, d.judged != "within"


def _lines(words: str) -> list[str]:
    return lines_of(words, HEIGHT, WORDS) if words else [""]


def _pages(rows: Rows) -> Iterator[Rows]:
    """Rows in pages, each row whole."""
    page: Rows = []
    room = TOP - FOOT - 2 * PITCH
    for row in rows:
        if page and sum(len(_lines(words)) for _, words, _ in (*page, row)) * PITCH > room:
            yield page
            page = []
        page.append(row)
    yield page


def _sheet(kitchen: Kitchen, rows: Rows, number: int, of: int) -> Sheet:
    more = f", {number} of {of}" if of > 1 else ""
    marks = [*heading(f"AS FITTED{more}", BELOW), *_table(rows)]
    name = "fitted" if of == 1 else f"fitted-{number}"
    return sheet(kitchen, name, f"As fitted, against the plan{more}", marks, [])


def _table(rows: Rows) -> Iterator[Mark]:
    y = TOP - 8.0
    yield from _cells(["", "planned", "fitted", "difference", "survey", "judged"], y, bold=True)
    yield Text((MEANS, y), "what it means", HEIGHT, bold=True)
    yield Line((MARGIN + PAD, y - 1.8), (A3[0] - MARGIN - PAD, y - 1.8), Stroke.TABLE)
    y -= UNDER_RULE
    for cells, words, beyond in rows:
        y -= PITCH
        stroke = Stroke.WARNING if beyond else Stroke.TEXT
        yield from _cells(cells, y, stroke=stroke)
        for i, line in enumerate(_lines(words)):
            yield Text((MEANS, y - i * PITCH), line, HEIGHT, stroke=stroke)
        y -= (len(_lines(words)) - 1) * PITCH


def _cells(
    cells: Sequence[str], y: float, *, bold: bool = False, stroke: Stroke = Stroke.TEXT
) -> Iterator[Mark]:  # fmt: skip
    """What was read to the left, figures to the right of their columns."""
    yield Text((COLUMNS[0], y), cells[0], HEIGHT, bold=bold, stroke=stroke)
    figures = [(x, words) for x, words in zip(COLUMNS[1:], cells[1:], strict=False) if words]
    yield from (Text((x, y), words, HEIGHT, "right", bold=bold, stroke=stroke) for x, words in figures)
    if len(cells) > len(COLUMNS):
        yield Text((JUDGED, y), cells[-1], HEIGHT, bold=bold, stroke=stroke)
