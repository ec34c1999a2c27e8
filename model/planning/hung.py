"""Hung: the hood over the hob, wall units where nothing is in their way, and one round each corner of the rows."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from countersunk.model.document.schema import Run, Unit
from countersunk.model.planning.arms import CELL, Arm
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.fitting import fill
from countersunk.model.planning.plan import RoomPlan
from countersunk.model.planning.stretches import FreeStretch, free_stretches
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.ties import rounded_down, settled
from countersunk.model.tolerance import CONTACT

UNDERSIDE, TOP = 1_408.0, 2_128.0
"""Between these heights wall units and hoods of the catalogue hang, mm."""

OUT = 340.0
REVEAL = 50.0
"""Kept free beside a window and at the ends of a row, mm (common practice, no source)."""

WIDTHS = (300.0, 400.0, 450.0, 500.0, 600.0, 800.0, 900.0)
NARROWEST = 300.0

ALONE = 400.0
"""A wall unit that hangs by itself is at least so wide, mm (common practice, no source)."""

CORNER, CORNER_WIDTH = "wall-l-corner", 600.0
FILLER, LEAST_FILLER = "wall-filler", 20.0


class HungSpan(NamedTuple):
    """Free for wall units along a wall, mm; whether it begins or ends at the unit in a corner.

    ``hob`` is the side at which the hob's span follows.
    """

    x0: float
    x1: float
    at_left: bool = False
    at_right: bool = False
    hob: str = ""


def hung_runs(brief: Brief, survey: Survey, plan: RoomPlan) -> Iterator[Run]:
    """Runs of wall units over each arm, the hood among those over the hob."""
    if survey.height < TOP:
        return
    arms = plan.shape.arms
    corners = [brief.wishes.wall_units and _takes_corner(survey, a, b) for a, b in pairwise(arms)]
    for i, arm in enumerate(arms):
        hob = (arm.at(plan.hob_unit[0]), arm.at(plan.hob_unit[1])) if plan.hob.arm == i else None
        before, after = i > 0 and corners[i - 1], i < len(corners) and corners[i]
        spans = [part for span in _free(survey, plan, i, before, after) for part in _parts(span, hob)]
        if hob and brief.wishes.hood and _is_free(survey, arm, hob):
            units = (Unit(unit="hood", width=round(hob[1] - hob[0], 1)),)
            yield Run(wall=arm.wall.name, level="upper", start=round(hob[0], 1), units=units)
        if brief.wishes.wall_units:
            yield from _filled(arm, spans, after)


def _takes_corner(survey: Survey, arm: Arm, other: Arm) -> bool:
    """Whether a unit hangs in the corner at the right of ``arm`` and the left of ``other``, clear on both walls."""
    if not arm.right.is_corner:
        return False
    need = CORNER_WIDTH + REVEAL
    right = [s for s in _upper(survey, arm.wall) if s.right == f"wall {other.wall.name}"]
    left = [s for s in _upper(survey, other.wall) if s.left == f"wall {arm.wall.name}"]
    return any(arm.wall.length - s.x0 >= need - CONTACT for s in right) and any(
        s.x1 >= need - CONTACT for s in left
    )


def corner_ends(wall: SurveyedWall, other: SurveyedWall) -> tuple[float, float]:
    """Where a square corner unit ends along ``wall``, at whose right it hangs, and along ``other``, mm."""
    along = wall.frame.from_room(other.frame.to_room((CORNER_WIDTH, 0.0, 0.0)))
    lean = max(0.0, wall.length - along[0])
    side = wall.length - lean
    points = [(side, CORNER_WIDTH, 0.0), (side - OUT, CORNER_WIDTH, 0.0)]
    wing = [other.frame.from_room(wall.frame.to_room(point))[0] for point in points]
    return side - CORNER_WIDTH, max(wing)


def _upper(survey: Survey, wall: SurveyedWall) -> tuple[FreeStretch, ...]:
    return free_stretches(survey, wall, OUT, UNDERSIDE, TOP)


def _is_free(survey: Survey, arm: Arm, hob: tuple[float, float]) -> bool:
    return any(s.x0 <= hob[0] + CONTACT and hob[1] <= s.x1 + CONTACT for s in _upper(survey, arm.wall))


def _free(survey: Survey, plan: RoomPlan, i: int, before: bool, after: bool) -> Iterator[HungSpan]:
    """Where wall units can hang over an arm's row; a corner is left open where no unit hangs in it."""
    arms, (lo, hi) = plan.shape.arms, plan.spans[i]
    arm = arms[i]
    x0, x1 = arm.at(lo + arm.stops_inside[0]), arm.at(hi - arm.stops_inside[1])
    x0 = corner_ends(arms[i - 1].wall, arm.wall)[1] if before else x0
    x1 = corner_ends(arm.wall, arms[i + 1].wall)[0] if after else x1
    for s in _upper(survey, arm.wall):
        left = max(x0, s.x0 + (REVEAL if s.left.startswith("the window") else 0.0))
        right = min(x1, s.x1 - (REVEAL if s.right.startswith("the window") else 0.0))
        yield HungSpan(left, right, before and left - x0 < CONTACT, after and x1 - right < CONTACT)


def _parts(span: HungSpan, hob: tuple[float, float] | None) -> Iterator[HungSpan]:
    """A span without what is over the hob."""
    if hob is None or hob[0] >= span.x1 or hob[1] <= span.x0:
        yield span
        return
    yield span._replace(x1=hob[0], at_right=False, hob="right")
    yield span._replace(x0=hob[1], at_left=False, hob="left")


def _filled(arm: Arm, spans: list[HungSpan], corner: bool) -> Iterator[Run]:
    """The runs that fill the spans, and the unit in the corner at the arm's right."""
    for span in spans:
        run = _run(arm, span)
        corner = corner and not span.at_right
        if run:
            yield run
    if corner:
        yield Run(wall=arm.wall.name, level="upper", units=(_corner(),))


def _run(arm: Arm, span: HungSpan) -> Run | None:
    """As much of a span as wall units fill, from the hob's side or the corner's; a filler before a corner."""
    widths = _widths(span)
    units = [Unit(unit="wall-doors", width=w) for w in widths]
    rest = rounded_down((span.x1 - span.x0 - sum(widths)) * 10) / 10
    filler = [Unit(unit=FILLER, width=rest)] if units and span.hob and rest >= LEAST_FILLER else []
    if span.at_right:
        return Run(wall=arm.wall.name, level="upper", units=(*units, *filler, _corner()))
    if not units:
        return None
    if span.at_left:
        return Run(wall=arm.wall.name, level="upper", units=(*filler, *units))
    start = span.x1 - sum(widths) if span.hob == "right" else span.x0
    return Run(wall=arm.wall.name, level="upper", start=round(settled(start), 1), units=tuple(units))


def _widths(span: HungSpan) -> tuple[float, ...]:
    least = NARROWEST if span.hob or span.at_left or span.at_right else ALONE
    cells = int(max(0.0, span.x1 - span.x0 + 0.01) // CELL)
    found = (fill(float(CELL * k), WIDTHS) for k in range(cells, int(least) // CELL - 1, -1))
    return next((widths for widths in found if widths), ())


def _corner() -> Unit:
    return Unit(unit=CORNER, width=CORNER_WIDTH, hand="right")
