"""Every plan of a shape, tried one by one: it shares what is scored with the program, and none of its search.

The rules are said once more in other words, by what stands in each cell of a row written as text: ``c`` a corner
unit, ``s`` the sink's unit, ``w`` the dishwasher, ``h`` the hob's unit, ``.`` what plain units fill.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import groupby, product

from countersunk.model.planning.arms import Arm, Shape
from countersunk.model.planning.plan import HobAt, RoomPlan, SinkAt
from countersunk.model.planning.score import Judge, points, terms

PLAIN = (6, 8, 9, 10, 12, 16, 18, 20)
"""Widths of plain units from 300 to 1000 in cells of 50."""

ELBOW = "......"
"""300 mm beside a hob or a sink."""


def best_of_all(shape: Shape, judge: Judge) -> int | None:
    """The fewest points of any plan, or None where none keeps the rules."""
    return min((points(terms(plan, judge)) for plan in every_plan(shape, judge)), default=None)


def every_plan(shape: Shape, judge: Judge) -> Iterator[RoomPlan]:
    """All that keep the rules."""
    sides = ("left", "right") if judge.sizes.dishwasher else ("left",)
    rows = [[(lo, hi) for lo in a.starts for hi in a.stops if hi - lo >= 12] for a in shape.arms]
    for sink, hob in product(_places(shape), repeat=2):
        for side in sides:
            at, over = SinkAt(*sink, side), HobAt(*hob)
            if judge.sink_terms(shape, at) is None or judge.hob_terms(shape, over) is None:
                continue
            for spans in product(*rows):
                plan = RoomPlan(shape, judge.sizes, at, over, spans)
                if all(_is_row(_text(plan, i), arm) for i, arm in enumerate(shape.arms)):
                    yield plan


def few_ends(shape: Shape) -> Shape:
    """The same shape with only a few places at which its rows may begin and end, so that all can be tried."""
    arms = (replace(a, starts=a.starts[:2], stops=a.stops[:2]) for a in shape.arms)
    return replace(shape, arms=tuple(arms))


def _places(shape: Shape) -> list[tuple[int, int]]:
    return [(i, k) for i, arm in enumerate(shape.arms) for k in range(arm.cells)]


def _text(plan: RoomPlan, i: int) -> str:
    """A row as text; empty where two things would stand in one cell or outside of the row."""
    arm, (lo, hi), sizes = plan.shape.arms[i], plan.spans[i], plan.sizes
    row = ["."] * (hi - lo)
    washer = "w" * sizes.dishwasher
    wet = washer + "s" * sizes.sink if plan.sink.side == "left" else "s" * sizes.sink + washer
    corner = "c" * 22
    things = [(lo, corner)] * (arm.left.kind == "corner-unit") + [(hi - 22, corner)] * (
        arm.right.kind == "corner-unit"
    )
    things += [(plan.sink.cell, wet)] * (plan.sink.arm == i) + [(plan.hob.cell, "h" * sizes.hob)] * (
        plan.hob.arm == i
    )
    for at, what in things:
        for n, letter in enumerate(what, at - lo):
            if not 0 <= n < len(row) or row[n] != ".":
                return ""
            row[n] = letter
    return "".join(row)


def _is_row(text: str, arm: Arm) -> bool:
    return text != "" and _is_filled(text) and _has_elbows(text, arm)


@cache
def _is_filled(text: str) -> bool:
    return all(_sums(len(list(cells))) for letter, cells in groupby(text) if letter == ".")


@cache
def _sums(cells: int) -> bool:
    return cells == 0 or any(_sums(cells - width) for width in PLAIN if width <= cells)


def _has_elbows(text: str, arm: Arm) -> bool:
    """Beside a hob and a sink 300 of plain units before a row's end, and 300 of anything dry between the two."""
    for letter in set(text) & {"h", "s"}:
        left, right = text[: text.index(letter)], text[text.rindex(letter) + 1 :]
        if not left.strip(".") and arm.left.kind != "corner-unit" and not left.endswith(ELBOW):
            return False
        if not right.strip(".") and arm.right.kind != "corner-unit" and not right.startswith(ELBOW):
            return False
        if letter == "h" and "s" in left[-6:] + right[:6]:
            return False
    return True
