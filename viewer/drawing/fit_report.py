"""Fit report: every finding on paper, the most serious first, each drawn with its area and its dimension.

First a list of what is missed with a key plan, then a panel for each of these, then smaller ones for what is met.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from shapely import box as rectangle

from countersunk.model.checks import CAUTION
from countersunk.model.checks.finding import Finding, Verdict, as_shown
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.drawing.fit_panel import LARGE, SMALL, Panel, PanelSize, panel
from countersunk.viewer.drawing.fit_sight import clipped, plan_sight, sights
from countersunk.viewer.drawing.fit_signs import STROKES, sign
from countersunk.viewer.drawing.lettering import begun, lines_of, paragraph, printable
from countersunk.viewer.drawing.paper import MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.pdf import pdf
from countersunk.viewer.drawing.shapes import A3, Box, Circle, Line, Mark, Sheet, Text, View
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.tracing import Drawing

Cures = Mapping[Finding, str]
"""A cure in a sentence, or why there is none; only for findings of which one was looked for."""

LEFT, FOOT, TOP = 12.0, 43.0, 271.0
"""Where panels begin, and between which heights they stand, mm on paper."""

LETTERS = 1.9
KEY: Box = (262.0, 46.0, 408.0, 266.0)
"""The key plan's place, mm on paper."""

KEY_SCALES = (20.0, 25.0, 40.0, 50.0, 100.0, 200.0)

LIST_WIDTH = 244.0


def fit_report(kitchen: Kitchen, findings: Sequence[Finding], cures: Cures, held_against: str) -> bytes:
    """The report as a PDF. ``cures`` are sentences by finding; ``held_against`` says whose rules were asked."""
    made = list(fit_sheets(kitchen, findings, cures, held_against))
    return pdf(made, f"Fit report, {printable(kitchen.document.kitchen)}")


def fit_sheets(kitchen: Kitchen, findings: Sequence[Finding], cures: Cures, held_against: str) -> Iterator[Sheet]:
    """The list, then a panel for every finding in their order; findings come the most serious first."""
    numbered = list(enumerate(findings, start=1))
    missed = [(n, f) for n, f in numbered if f.verdict is not Verdict.MET]
    yield from _lists(kitchen, missed, findings, cures, held_against)
    groups = {LARGE: missed, SMALL: [(n, f) for n, f in numbered if f.verdict is Verdict.MET]}
    for size, some in groups.items():
        panels = [Panel(n, f, tuple(sights(kitchen, f)), _help(f, cures)) for n, f in some]
        yield from _panels(kitchen, panels, size)


def _lists(
    kitchen: Kitchen, missed: list[tuple[int, Finding]], findings: Sequence[Finding], cures: Cures, held: str
) -> Iterator[Sheet]:
    """As many sheets as what is missed takes, each with the key plan; one that says so where nothing is."""
    rows = [_row(n, f, _help(f, cures)) for n, f in missed]
    pages = list(_paged(rows, TOP - 26.0 - FOOT))
    for i, page in enumerate(pages or [[]], start=1):
        more = f", {i} of {len(pages)}" if len(pages) > 1 else ""
        view = _key_plan(kitchen, missed)
        marks = [*heading(f"FIT REPORT{more}", held), *_counts(findings), *_written(page), *_caution()]
        name = "fit-list" if len(pages) < 2 else f"fit-list-{i}"
        yield sheet(kitchen, name, f"Fit report, what is missed{more}", marks, [view])


Row = tuple[int, Finding, list[str]]


def _help(finding: Finding, cures: Cures) -> tuple[str, ...]:
    """The advice, and what the search for a cure came to."""
    advice, found = finding.advice, cures.get(finding, "")
    return tuple(f"{what}: {words}." for what, words in (("Help", advice), ("Cure", found)) if words)


def _row(number: int, finding: Finding, helps: tuple[str, ...]) -> Row:
    """The lines of a finding in the list: what was asked and where, the numbers, and what would help."""
    value = finding.reason if finding.value is None else as_shown(finding.value, finding.unit)
    asked = f"{finding.question} {printable(finding.place)}"
    numbers = f"{value}, {finding.sense} {as_shown(finding.limit, finding.unit)}. {begun(finding.source)}"
    lines = [line for words in (asked, numbers, *helps) for line in lines_of(words, LETTERS, LIST_WIDTH - 44.0)]
    return number, finding, lines


def _tall(lines: list[str]) -> float:
    """What a row of the list takes, mm."""
    return len(lines) * LETTERS * 1.6 + 4.0


def _paged(rows: list[Row], room: float) -> Iterator[list[Row]]:
    page: list[Row] = []
    used = 0.0
    for row in rows:
        tall = _tall(row[2])
        if page and used + tall > room:
            yield page
            page, used = [], 0.0
        page.append(row)
        used += tall
    if page:
        yield page


def _counts(findings: Sequence[Finding]) -> list[Mark]:
    """How many findings there are of each verdict, with its sign."""
    counts = Counter(f.verdict for f in findings)
    found: list[Mark] = []
    x, y = LEFT + 5.0, TOP - 8.0
    for verdict in STROKES:
        words = f"{counts[verdict]} {_plural(verdict, counts[verdict])}"
        found += sign(verdict, (x, y + 0.9), 5.0)
        found.append(Text((x + 4.5, y), words, 2.4, bold=True, stroke=STROKES[verdict]))
        x += 12.0 + len(words) * 2.4 * 0.83
    return found


def _plural(verdict: Verdict, count: int) -> str:
    """What so many findings do."""
    return "fall short" if verdict is Verdict.SHORT and count != 1 else str(verdict)


def _written(page: list[Row]) -> Iterator[Mark]:
    y = TOP - 20.0
    if not page:
        yield Text((LEFT + 2.0, y), "Nothing is missed of what was asked. That approves nothing.", 2.4, bold=True)
    for number, finding, lines in page:
        yield from sign(finding.verdict, (LEFT + 4.0, y + 0.3), 5.4)
        yield Text((LEFT + 8.5, y), f"{number}", LETTERS, bold=True)
        yield Text(
            (LEFT + 16.0, y), f"{finding.verdict}".upper(), LETTERS, bold=True, stroke=STROKES[finding.verdict]
        )
        for i, line in enumerate(lines):
            yield Text((LEFT + 44.0, y - i * LETTERS * 1.6), line, LETTERS, bold=i == 0)
        y -= _tall(lines)
        yield Line((LEFT, y + 3.6), (LEFT + LIST_WIDTH, y + 3.6), Stroke.TABLE)


def _caution() -> list[Mark]:
    """What goes with every list of findings, beside the title block."""
    return list(paragraph(CAUTION, (MARGIN + 4.0, 34.0), 208.0, 2.4, bold=True, stroke=Stroke.WARNING))


def _key_plan(kitchen: Kitchen, missed: list[tuple[int, Finding]]) -> View:
    """The whole kitchen with the number of each missed finding where it is."""
    seen, (wx0, wy0, wx1, wy1) = plan_sight(kitchen), KEY
    bounds = [shape.bounds for shape, _ in seen.lines]
    x0, y0, x1, y1 = (f(b[i] for b in bounds) for i, f in enumerate((min, min, max, max)))
    scale = fitting_scale(
        (x1 - x0, y1 - y0), (wx1 - wx0 - 12, wy1 - wy0 - 12), (20.0, 25.0, 40.0, 50.0, 100.0, 200.0)
    )
    drawing = Drawing(scale)
    drawing.draw(*clipped(seen.lines, rectangle(x0 - 1, y0 - 1, x1 + 1, y1 + 1)))
    for number, finding in missed:
        if finding.volume is not None:
            _numbered(drawing, number, finding)
    for name, shape in seen.named:
        middle = (shape.centroid.x, shape.centroid.y)
        drawing.write([name], 1.7, lattice(shape.bounds, 2.0 * scale, middle), shape)
    origin = ((wx0 + wx1) / 2 - (x0 + x1) / 2 / scale, (wy0 + wy1) / 2 - (y0 + y1) / 2 / scale)
    return View("key plan", scale, origin, KEY, tuple(drawing.marks))


def _numbered(drawing: Drawing, number: int, finding: Finding) -> None:
    """A number in a circle as near to the middle of an area as there is room."""
    s, words = drawing.scale, f"{number}"
    middle = finding.volume.plan.centroid if finding.volume else None
    if middle is None:
        return
    x, y, r = middle.x, middle.y, 2.6 * s
    reach = 40.0 * s
    spots = lattice((x - reach, y - reach, x + reach, y + reach), 2.5 * s, (x, y))
    spot = drawing.words.room_for((2 * r, 2 * r), spots)
    if spot is not None:
        stroke = STROKES[finding.verdict]
        drawing.draw(Circle(spot, r, stroke, "paper"))
        drawing.draw(Text((spot[0], spot[1] - 0.9 * s), words, 1.9, "middle", bold=True, stroke=stroke))
        drawing.words.add(rectangle(spot[0] - r, spot[1] - r, spot[0] + r, spot[1] + r))


def _panels(kitchen: Kitchen, panels: list[Panel], size: PanelSize) -> Iterator[Sheet]:
    """As many to a sheet as fit, from left to right and from the top."""
    across = int((A3[0] - 2 * LEFT) // size.width)
    down = int((TOP - FOOT) // size.height)
    for i in range(0, len(panels), across * down):
        some = panels[i : i + across * down]
        first, last = some[0].number, some[-1].number
        title = f"Findings {first} to {last}" if last > first else f"Finding {first}"
        marks, views = list[Mark](heading(title.upper(), _told(some))), list[View]()
        for j, shown in enumerate(some):
            corner = (LEFT + (j % across) * (size.width + 0.6), TOP - (j // across + 1) * (size.height + 0.6))
            drawn, seen = panel(shown, corner, size)
            marks += drawn
            views += seen
        yield sheet(kitchen, f"fit-{first}", title, [*marks, *_caution()], views, "as said in each")


def _told(some: list[Panel]) -> str:
    """Which verdicts a sheet holds."""
    groups = [f"{verdict}: {len(list(group))}" for verdict, group in groupby(some, lambda p: p.finding.verdict)]
    hatched = "The area measured is hatched, the closer the more serious; the sign says it again."
    return f"{begun(', '.join(groups))}. {hatched}"
