"""Explain: a proposal in plain words, and why a room takes none."""

from __future__ import annotations

from collections.abc import Sequence

from model.checks.finding import Finding, Verdict
from model.errors import InputError, Problem
from model.planning.arms import AT_WALL, CELL, LEAST_FILLER, OVERHANG, Shape, tall_widths
from model.planning.brief import Brief
from model.planning.plan import Plan, Room, beside
from model.planning.score import NO_WINDOW, WEIGHT, Judge, corners_of, terms
from model.planning.search import Found, best_plan
from model.planning.shapes import Site
from model.survey import Survey

SHORTFALLS = {
    "sink at the window": "the sink is {mm} mm off the middle of the window",
    "near water and waste": "pipes run {mm} mm farther along the walls than would be free of cost",
    "hob clear of windows and doors": "the hob is {mm} mm nearer to a window or door than 300",
    "near the hob's connection": "the hob's connection runs {mm} mm farther than would be free of cost",
    "worktop beside the hob": "{mm} mm of worktop are lacking beside the hob",
    "worktop to prepare food": "{mm} mm are lacking of 900 beside the sink to prepare food",
    "worktop beside the sink": "{mm} mm of worktop are lacking on the sink's shorter side",
    "standing room at the dishwasher": "{mm} mm are lacking to stand beside the open dishwasher",
    "legs of the triangle": "ways between sink, hob and fridge are {mm} mm too short or too long",
    "tall units at the wall's end": "the tall units stand {mm} mm away from the end of their wall",
    "worktop beside the tall units": "{mm} mm of worktop are lacking beside the tall units",
    "enough worktop": "{mm} mm of worktop are lacking in all",
    "width of the aisle": "the aisle is too narrow by {mm} mm, or too wide by twice that",
}


def words(
    found: Found, judge: Judge, findings: Sequence[Finding]
) -> tuple[dict[str, int], tuple[str, ...], tuple[str, ...]]:
    """The terms of a plan, why it is good, and what it trades away."""
    plan = found.plan
    mm = terms(plan, judge)
    why = tuple(_why(plan, judge, mm))
    traded = sorted((name for name in SHORTFALLS if mm[name]), key=lambda name: -WEIGHT[name] * mm[name])
    trades = [SHORTFALLS[name].format(mm=mm[name]) for name in traded]
    if mm["sink at the window"] and not _at_window(mm):
        trades = [t for t in trades if not t.startswith("the sink is")]
        trades.insert(0, "the sink is not at a window")
    advice = list(dict.fromkeys(f.question for f in findings if f.verdict is Verdict.SHORT))
    trades += [f"advice not kept: {question}" for question in advice]
    return mm, why, tuple(trades or ["nothing that was asked for"])


def _at_window(mm: dict[str, int]) -> bool:
    return mm["sink at the window"] < NO_WINDOW


def _why(plan: Plan, judge: Judge, mm: dict[str, int]) -> list[str]:
    arms = plan.shape.arms
    sink, hob = arms[plan.sink.arm].wall.name, arms[plan.hob.arm].wall.name
    window = bool(judge.windows) and judge.brief.wishes.sink_at_window and _at_window(mm)
    washer = f", the dishwasher on its {plan.sink.side}" if plan.sizes.dishwasher else ""
    said = [
        f"The sink is on wall {sink}{' and looks out of the window' if window else ''}{washer}; "
        f"{_sides(beside(plan, 'sink'))}.",
        f"The hob is on wall {hob}; {_sides(beside(plan, 'hob'))}.",
    ]
    for index, side, talls in plan.shape.tall_ends:
        names = " and ".join(talls)
        said.append(f"Tall at the {side} end of wall {arms[index].wall.name}, where it parts nothing: {names}.")
    row = CELL * sum(hi - lo for lo, hi in plan.spans)
    centres = "sink, hob and fridge" if len(corners_of(plan, judge)) == 3 else "sink and hob"
    said.append(f"{row} mm of row; {mm['way between the centres']} mm between {centres} along the fronts.")
    if not judge.survey.services:
        said.append("No pipes and outlets were surveyed, so that none drew sink or hob to them.")
    return said


def _sides(room: Room) -> str:
    return f"{CELL * room.left} mm of worktop to its left and {CELL * room.right} mm to its right"


def refused(brief: Brief, survey: Survey, site: Site, looked: list[Shape]) -> InputError:
    """Why a room takes no layout: pipes too short, or every wall too short and by how much."""
    for wish, why in (("pipes", "water and waste"), ("cable", "the hob's connection")):
        longer = brief.model_copy(update={"wishes": brief.wishes.model_copy(update={wish: 10_000.0})})
        if any(best_plan(shape, Judge(longer, survey)) for shape in looked):
            return InputError.at(
                f"wishes.{wish}",
                found=f"{getattr(brief.wishes, wish):g}, from which no place reaches {why}",
                allowed="as far as the nearest place that is free",
                advice="a longer way for it, or move the connection",
            )
    needed = _needed(brief, site)
    return InputError([_short_wall(survey, site, wall.name, needed) for wall in survey.walls])


def _needed(brief: Brief, site: Site) -> float:
    """The least length of wall for everything in one straight run, mm."""
    sizes = Judge(brief, site.survey).sizes
    cells = sizes.sink + sizes.dishwasher + sizes.hob + 6 + (0 if sizes.dishwasher >= 6 else 6)
    ends = AT_WALL + LEAST_FILLER["wall"] + (OVERHANG + tall_widths(site.talls) if site.talls else AT_WALL)
    return CELL * cells + ends


def _short_wall(survey: Survey, site: Site, name: str, needed: float) -> Problem:
    free = site.free[name]
    longest = max(free, key=lambda s: s.length, default=None)
    found = f"{longest.length:.0f} mm free, from {longest.left} to {longest.right}" if longest else "nothing free"
    lacking = needed - (longest.length if longest else 0.0)
    why = f"{lacking:.0f} mm are lacking" if lacking > 0 else "but no order of sink, hob and tall units fits it"
    return Problem(
        f"room.walls[{[w.name for w in survey.walls].index(name)}]",
        f"wall {name} with {found}",
        f"{needed:.0f} mm for all that is wished in one straight run, {why}",
        "fewer wishes, such as no dishwasher, one of 450 or no larder; or a door that opens out",
    )
