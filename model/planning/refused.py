"""Refused: which rule stands in the way of a room that takes no layout.

Wishes are given up one at a time, then several together, and the room is tried again; the least that lets a layout
in is named. Where none does, every wall says what it lacks.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from countersunk.model.errors import InputError, Problem
from countersunk.model.planning.arms import AT_WALL, CELL, LEAST_FILLER, OVERHANG, tall_widths
from countersunk.model.planning.brief import Brief, Wishes
from countersunk.model.planning.plan import AWAY
from countersunk.model.planning.score import Judge
from countersunk.model.planning.search import has_plan
from countersunk.model.planning.shapes import NARROWEST_AISLE, Site, free_before, shapes
from countersunk.model.survey import Survey
from countersunk.model.ties import most
from countersunk.model.tolerance import CONTACT

FAR = 10_000.0
Progress = Callable[[str], object]


class Relaxation(NamedTuple):
    """A wish and what takes its place, as fields of the wishes; ``problem`` says so where it stands in the way."""

    changes: dict[str, Any]
    problem: Problem


def refused(brief: Brief, survey: Survey, report: Progress, until: float) -> InputError:
    """Why ``brief`` takes no layout: the wishes that stand in the way, or every wall too short and by how much.

    Nothing more is tried after ``until`` on the monotonic clock; it is told where that leaves the question open.
    """
    steps = list(_steps(brief.wishes))
    enough: list[Relaxation] = []
    for step in steps:
        report(f"looking for what stands in the way: {step.problem.field}")
        if _is_possible(brief, [step], until):
            enough.append(step)
    if enough:
        return InputError([step.problem for step in enough])
    if steps and _is_possible(brief, steps, until):
        return InputError([step.problem for step in _fewest(brief, steps, until)])
    if time.monotonic() > until:
        return InputError.at(
            "wishes", found="no layout, and too little time to find which wish stands in its way",
            allowed="wishes that the room has place for", advice="more seconds, or fewer wishes",
        )  # fmt: skip
    site = Site(brief, survey)
    return InputError([_short_wall(survey, site, wall.name, _needed(brief, site)) for wall in survey.walls])


def _fewest(brief: Brief, steps: list[Relaxation], until: float) -> list[Relaxation]:
    """Those of ``steps`` that cannot be left out, one after the other."""
    for step in list(steps):
        rest = [s for s in steps if s is not step]
        if _is_possible(brief, rest, until):
            steps = rest
    return steps


def _is_possible(brief: Brief, steps: list[Relaxation], until: float) -> bool:
    """Whether any shape of the room is seen in time to have a plan with the wishes so changed."""
    changes = {name: value for step in steps for name, value in step.changes.items()}
    other = brief.model_copy(update={"wishes": brief.wishes.model_copy(update={"island": False, **changes})})
    site = Site.of(other)
    judge = Judge(other, site.survey)
    return any(time.monotonic() < until and has_plan(shape, judge) for shape in shapes(site))


def _steps(wishes: Wishes) -> Iterator[Relaxation]:
    """What may be given up, what costs least first."""
    for wish, to in (("pipes", "water and waste"), ("cable", "the hob's connection")):
        yield Relaxation({wish: FAR}, Problem(
            f"wishes.{wish}", f"{getattr(wishes, wish):g}, from which no place reaches {to}",
            "as far as the nearest place that is free", "a longer way for it, or move the connection",
        ))  # fmt: skip
    for name, value, advice in _smaller(wishes):
        found = getattr(wishes, name)
        yield Relaxation({name: value}, Problem(
            f"wishes.{name}", f"{found}, for which no place is left", f"{value}, with which a layout fits", advice,
        ))  # fmt: skip


def _smaller(wishes: Wishes) -> Iterator[tuple[str, Any, str]]:
    if wishes.sink == "bowl-drainer":
        yield "sink", "one-bowl", "a sink without a drainer is 400 mm narrower"
    if wishes.dishwasher == "600":
        yield "dishwasher", "450", "a dishwasher of 450"
    if wishes.larders:
        yield "larders", 0, "fewer larders; base units store too"
    if wishes.oven == "tall":
        yield "oven", "under-hob" if wishes.hob.width == 600 else "none", "an oven under the hob"
    if wishes.dishwasher != "none":
        yield "dishwasher", "none", "no dishwasher, or one in another room"
    if wishes.fridge:
        yield "fridge", False, "a fridge that stands elsewhere"


def _needed(brief: Brief, site: Site) -> float:
    """The least length of wall for everything in one straight run, mm.

    A dishwasher keeps the sink off the hob, or off the end of the row.
    """
    sizes, elbow = Judge(brief, site.survey).sizes, AWAY // CELL
    cells = sum(sizes) + elbow * (2 if sizes.dishwasher >= elbow else 3)
    ends = AT_WALL + LEAST_FILLER["wall"] + (OVERHANG + tall_widths(site.talls) if site.talls else AT_WALL)
    return CELL * cells + ends


def _short_wall(survey: Survey, site: Site, name: str, needed: float) -> Problem:
    free = site.free[name]
    longest = most(free, key=lambda s: s.length) if free else None
    found = f"{longest.length:.0f} mm free, from {longest.left} to {longest.right}" if longest else "nothing free"
    lacking = needed - (longest.length if longest else 0.0)
    why = f"{lacking:.0f} mm are lacking" if lacking > CONTACT else _aisle_or_height(survey, name)
    return Problem(
        f"room.walls[{[w.name for w in survey.walls].index(name)}]",
        f"wall {name} with {found}",
        f"{needed:.0f} mm for all that is wished in one straight run, {why}",
        "fewer wishes, such as no dishwasher, one of 450 or no larder; or a door that opens out",
    )


def _aisle_or_height(survey: Survey, name: str) -> str:
    """What else keeps a long wall from carrying a row."""
    aisle = free_before(survey, [survey.wall(name)])
    if aisle < NARROWEST_AISLE:
        return f"but only {aisle:.0f} mm of {NARROWEST_AISLE:.0f} are free before it"
    return "but tall units find no end where nothing hangs or slopes over them"
