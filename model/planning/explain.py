"""Explain: a proposal in plain words: why things stand where they do, and which guideline costs it points."""

from __future__ import annotations

from collections.abc import Sequence

from countersunk.model.checks.finding import Finding, Verdict
from countersunk.model.kitchen import Kitchen
from countersunk.model.planning.arms import CELL, Isle
from countersunk.model.planning.costs import Costs
from countersunk.model.planning.islands import WALKWAY
from countersunk.model.planning.plan import Landings, RoomPlan, beside
from countersunk.model.planning.score import NO_WINDOW, WEIGHT, Judge, corners_of, terms
from countersunk.model.planning.search import Found

STORAGE = "units.storage_frontage"
"""The measure of what a kitchen stores."""

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
    "tall units where wished": "{mm} mm of tall units stand at another end than wished",
    "tall units together": "{mm} mm of tall units stand apart from the others",
    "an island where wished": "no island: round none is the floor wide enough in this shape",
    "enough worktop": "{mm} mm of worktop are lacking in all",
    "storage": "{mm} mm of drawer units are lacking for what a kitchen stores",
    "width of the aisle": "the aisle is too narrow by {mm} mm, or too wide by twice that",
}


def words(
    found: Found, judge: Judge, findings: Sequence[Finding], kitchen: Kitchen
) -> tuple[dict[str, int], tuple[str, ...], tuple[str, ...]]:
    """The terms of a plan, why it is good, and what it trades away."""
    plan = found.plan
    mm = terms(plan, judge)
    why = (
        *_why(plan, judge, mm),
        *_stores(findings),
        _cost(plan, mm, judge.costs is not None),
        *_money(judge.costs, kitchen),
    )
    traded = sorted((name for name in SHORTFALLS if mm[name]), key=lambda name: -WEIGHT[name] * mm[name])
    trades = [f"{_shortfall(name, mm)}: {WEIGHT[name] * mm[name]} points" for name in traded]
    advice = list(dict.fromkeys(f.question for f in findings if f.verdict is Verdict.SHORT))
    trades += [f"advice not kept: {question}" for question in advice]
    return mm, why, tuple(trades or ["nothing that was asked for"])


def _shortfall(name: str, mm: dict[str, int]) -> str:
    if name == "sink at the window" and not _at_window(mm):
        return "the sink is not at a window"
    return SHORTFALLS[name].format(mm=mm[name])


def _stores(findings: Sequence[Finding]) -> list[str]:
    """What the kitchen stores, against the guideline for a room of its size."""
    found = [f for f in findings if f.measure == STORAGE and f.value is not None]
    return [
        f"It has {(f.value or 0) / 1000:.1f} m of shelves and drawers, counted a foot deep; the planning guideline"
        f" for a room of this size is {f.limit / 1000:.1f} m."
        for f in found
    ]


def _cost(plan: RoomPlan, mm: dict[str, int], priced: bool) -> str:
    row = CELL * sum(hi - lo for lo, hi in plan.spans)
    rest = (
        f", {mm['cost'] - row} mm of it for corners, further rows and an island"
        if mm["cost"] > row and not priced
        else ""
    )
    return f"It costs about as much as {mm['cost']} mm of plain row{rest}."


def _money(costs: Costs | None, kitchen: Kitchen) -> list[str]:
    if costs is None:
        return []
    money, unpriced = costs.of(kitchen)
    rest = f"; {unpriced} units have no price there" if unpriced else ""
    return [f"Units and worktops cost about {costs.currency} {money:,.0f} by the prices given, as material{rest}."]


def _at_window(mm: dict[str, int]) -> bool:
    return mm["sink at the window"] < NO_WINDOW


def _why(plan: RoomPlan, judge: Judge, mm: dict[str, int]) -> list[str]:
    arms, judged = plan.shape.arms, judge.brief.wishes
    sink, hob = arms[plan.sink.arm].wall.name, arms[plan.hob.arm].wall.name
    window = bool(judge.windows) and judged.sink_at_window and _at_window(mm)
    washer = f", the dishwasher on its {plan.sink.side}" if plan.sizes.dishwasher else ""
    wet, hot = judge.to_pipes(plan.shape, plan.sink), judge.to_outlet(plan.shape, plan.hob)
    said = [
        f"The sink is on wall {sink}{' and looks out of the window' if window else ''}"
        f"{_way(wet, 'water and waste', 'water', judge)}{washer}; {_sides(beside(plan, 'sink'))}.",
        f"The hob is on wall {hob}{_way(hot, 'its connection', judge.outlet, judge)}; "
        f"{_sides(beside(plan, 'hob'))}.",
    ]
    for index, side, talls in plan.shape.tall_ends:
        names = " and ".join(talls)
        said.append(f"Tall at the {side} end of wall {arms[index].wall.name}, where it parts nothing: {names}.")
    said += _island(plan.shape.island)
    row = CELL * sum(hi - lo for lo, hi in plan.spans)
    centres = "sink, hob and fridge" if len(corners_of(plan, judge)) == 3 else "sink and hob"
    said.append(f"{row} mm of row; {mm['way between the centres']} mm between {centres} along the fronts.")
    if not judge.survey.services:
        said.append("No pipes and outlets were surveyed, so that none drew sink or hob to them.")
    return said


def _way(mm: int, to: str, kind: str, judge: Judge) -> str:
    """How far along the walls a service is, where any of its kind was surveyed."""
    known = any(s.kind == kind for s in judge.survey.services)
    return f", {mm} mm along the walls from {to}" if known else ""


def _island(isle: Isle | None) -> list[str]:
    if isle is None:
        return []
    return [
        f"An island {isle.width:g} mm long stands before wall {isle.wall}, with {isle.aisle:g} mm free to the row's"
        f" worktop and at least {WALKWAY:g} on its other sides."
    ]


def _sides(room: Landings) -> str:
    return f"{CELL * room.left} mm of worktop to its left and {CELL * room.right} mm to its right"
