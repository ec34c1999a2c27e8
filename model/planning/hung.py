"""Hung: the hood over the hob, and wall units where nothing is in their way."""

from __future__ import annotations

from collections.abc import Iterator

from model.document import Run, Unit
from model.planning.arms import CELL, Arm
from model.planning.brief import Brief
from model.planning.fitting import fill
from model.planning.plan import Plan
from model.planning.stretches import free_stretches
from model.survey import Survey

UNDERSIDE, TOP = 1_408.0, 2_128.0
"""Between these heights wall units and hoods of the catalogue hang, mm."""

OUT = 340.0
REVEAL = 50.0
"""Kept free beside a window and at the ends of a row, mm (common practice, no source)."""

WIDTHS = (300.0, 400.0, 450.0, 500.0, 600.0, 800.0, 900.0)
NARROWEST = 300.0

Span = tuple[float, float]


def hung_runs(brief: Brief, survey: Survey, plan: Plan) -> Iterator[Run]:
    """Runs of wall units over each arm, the hood among those over the hob."""
    if survey.height < TOP:
        return
    for i, arm in enumerate(plan.shape.arms):
        hob = (arm.at(plan.hob_unit[0]), arm.at(plan.hob_unit[1])) if plan.hob.arm == i else None
        for span in _free(survey, plan, i):
            yield from _runs(brief, arm, span, hob)


def _free(survey: Survey, plan: Plan, i: int) -> Iterator[Span]:
    """Where wall units can hang over an arm's row; corners are left open."""
    arm, (lo, hi) = plan.shape.arms[i], plan.spans[i]
    x0, x1 = arm.at(lo + arm.stops_inside[0]), arm.at(hi - arm.stops_inside[1])
    for s in free_stretches(survey, arm.wall, OUT, UNDERSIDE, TOP):
        left = s.x0 + (REVEAL if s.left.startswith("the window") else 0.0)
        right = s.x1 - (REVEAL if s.right.startswith("the window") else 0.0)
        if min(right, x1) - max(left, x0) >= NARROWEST:
            yield max(left, x0), min(right, x1)


def _runs(brief: Brief, arm: Arm, span: Span, hob: Span | None) -> Iterator[Run]:
    if hob is None or hob[0] >= span[1] or hob[1] <= span[0]:
        yield from _plain(brief, arm, span, from_right=False)
        return
    yield from _plain(brief, arm, (span[0], hob[0]), from_right=True)
    if brief.wishes.hood and span[0] <= hob[0] and hob[1] <= span[1]:
        units = (Unit(unit="hood", width=round(hob[1] - hob[0], 1)),)
        yield Run(wall=arm.wall.name, level="upper", start=round(hob[0], 1), units=units)
    yield from _plain(brief, arm, (hob[1], span[1]), from_right=False)


def _plain(brief: Brief, arm: Arm, span: Span, from_right: bool) -> Iterator[Run]:
    """As much of a span as wall units fill, from the hob's side."""
    cells = int(max(0.0, span[1] - span[0]) // CELL)
    widths = next((w for k in range(cells, 5, -1) if (w := fill(float(CELL * k), WIDTHS))), ())
    if widths and brief.wishes.wall_units:
        start = span[1] - sum(widths) if from_right else span[0]
        units = tuple(Unit(unit="wall-doors", width=w) for w in widths)
        yield Run(wall=arm.wall.name, level="upper", start=round(start, 1), units=units)
