"""Card sheets: the order of work set in two columns, with a box to tick at each step."""

from __future__ import annotations

from collections.abc import Sequence

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.plans.tops import TopPlan
from countersunk.viewer.drawing.card import steps
from countersunk.viewer.drawing.card_step import Step
from countersunk.viewer.drawing.lettering import lines_of, paragraph
from countersunk.viewer.drawing.paper import heading, sheet
from countersunk.viewer.drawing.shapes import Mark, Path, Sheet, Text
from countersunk.viewer.drawing.strokes import Stroke

COLUMNS = ((14.0, 268.0, 16.0), (216.0, 268.0, 46.0))
"""Left edge, top and foot of each column, mm on paper."""

WIDTH, INDENT, HEIGHT, LEADING = 188.0, 8.0, 2.4, 4.1
HEAD, GAP = 5.0, 3.4
"""Heights of a step's heading and of the gap after it, mm on paper."""


def card_sheets(kitchen: Kitchen, tops: Sequence[TopPlan] | None = None) -> list[Sheet]:
    """As many sheets as the steps take; ``tops`` as in `steps`."""
    parted = _parted(steps(kitchen, tops))
    return [_sheet(kitchen, i, len(parted), columns) for i, columns in enumerate(parted, 1)]


Numbered = tuple[int, Step]


def _parted(all_steps: list[Step]) -> list[list[list[Numbered]]]:
    """Steps in columns, columns in sheets; a step is never parted, and two columns are about as long."""
    rooms, half = _rooms(), sum(map(_height, all_steps)) / 2
    columns: list[list[Numbered]] = [[]]
    used = 0.0
    for number, step in enumerate(all_steps, 1):
        most = min(rooms[0], max(half, 2 * half - rooms[1])) if len(columns) == 1 else rooms[(len(columns) - 1) % 2]
        if columns[-1] and used + _height(step) > most + (_height(step) / 2 if most < rooms[0] - 30.0 else 0.0):
            columns.append([])
            used = 0.0
        columns[-1].append((number, step))
        used += _height(step)
    return [columns[i : i + 2] for i in range(0, len(columns), 2)]


def _rooms() -> list[float]:
    """How much goes into each column, mm on paper."""
    return [top - foot for _, top, foot in COLUMNS]


def _height(step: Step) -> float:
    rows = sum(len(_folded(words)) for words in (*step.lines, *(f"! {w}" for w in step.cautions)))
    return HEAD + rows * LEADING + GAP


def _folded(words: str) -> list[str]:
    return lines_of(words, HEIGHT, WIDTH - INDENT)


def _sheet(kitchen: Kitchen, number: int, of: int, columns: list[list[Numbered]]) -> Sheet:
    more = f", {number} of {of}" if of > 1 else ""
    below = "Tick each step. Cautions are printed red where they matter; makers' sheets and local codes go first."
    marks: list[Mark] = heading(f"CUTTING AND FITTING CARD{more}", below)
    for (x, top, _), column in zip(COLUMNS, columns, strict=False):
        y = top - 4.0
        for n, step in column:
            marks += _step(n, step, x, y)
            y -= _height(step)
    name = "card" if of == 1 else f"card-{number}"
    return sheet(kitchen, name, f"Cutting and fitting card{more}", marks, [])


def _step(number: int, step: Step, x: float, y: float) -> list[Mark]:
    box = ((x, y - 0.4), (x + 3.4, y - 0.4), (x + 3.4, y + 3.0), (x, y + 3.0))
    found: list[Mark] = [
        Path(box, Stroke.LETTER, closed=True),
        Text((x + INDENT - 2.0, y), f"{number} {step.title}", 3.0, bold=True),
    ]
    y -= HEAD
    for words, caution in [*((w, False) for w in step.lines), *((f"! {w}", True) for w in step.cautions)]:
        stroke = Stroke.WARNING if caution else Stroke.TEXT
        pitch = LEADING / HEIGHT
        found += paragraph(words, (x + INDENT, y), WIDTH - INDENT, HEIGHT, pitch=pitch, bold=caution, stroke=stroke)
        y -= len(_folded(words)) * LEADING
    return found
