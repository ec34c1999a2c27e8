"""Propose: the best different layouts for a brief, each built and checked before it is shown."""

from __future__ import annotations

import time
from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field

from model.checks import check
from model.checks.finding import Finding
from model.document import Document
from model.errors import InputError
from model.kitchen import Kitchen, build
from model.planning.arms import Shape
from model.planning.brief import Brief
from model.planning.compose import composed
from model.planning.explain import refused, words
from model.planning.score import Judge, points
from model.planning.search import Found, Order, best_plan, orders
from model.planning.shapes import Site, shapes
from model.survey import survey_room

SHOWN = 3
SPARE = 3
"""So many plans more are looked for, in case one does not pass its checks."""

Progress = Callable[[str], object]
Among = tuple[Order, ...]


@dataclass(frozen=True)
class Proposal:
    """A layout with the document that builds it. ``why`` and ``trades`` say in plain words what it gives and what
    it costs; ``terms`` is what it is short of or takes, in mm.
    """

    document: Document
    kitchen: Kitchen
    findings: tuple[Finding, ...]
    found: Found
    terms: dict[str, int]
    name: str
    why: tuple[str, ...]
    trades: tuple[str, ...]


@dataclass
class Proposals:
    """What was proposed, the best first; ``dropped`` says what was not shown and why, ``left`` how many shapes the
    time did not reach.
    """

    shown: list[Proposal] = field(default_factory=list)
    dropped: list[str] = field(default_factory=list)
    shapes: int = 0
    left: int = 0


def propose(brief: Brief, seconds: float = 10.0, report: Progress = lambda _: None) -> Proposals:
    """Up to three layouts that differ in their walls, or where the room has but one, in their order.

    Raises InputError for a room in which none has place. ``seconds`` end the search only where it takes longer;
    `Proposals.left` then tells it.
    """
    _check_wishes(brief)
    survey = survey_room(brief.room)
    judge, site = Judge(brief, survey), Site(brief, survey)
    looked = sorted(shapes(site), key=lambda s: points(judge.shape_terms(s)))
    result = Proposals(shapes=len(looked))
    best = _best(looked, judge, time.monotonic() + 0.7 * seconds, report, result)
    if not best and result.left:
        raise InputError.at(
            "seconds", found=f"{seconds:g}, in which {len(looked) - result.left} of {len(looked)} shapes were seen",
            allowed="time enough to find a first layout", advice="more seconds",
        )  # fmt: skip
    if not best:
        raise refused(brief, survey, site, looked)
    for found in best:
        if len(result.shown) == SHOWN:
            break
        report(f"building and checking {found.plan.shape.name}")
        _add(result, brief, judge, found)
    return result


def _check_wishes(brief: Brief) -> None:
    wishes = brief.wishes
    if wishes.oven == "under-hob" and wishes.hob.width != 600:
        raise InputError.at(
            "wishes.oven", found=f"under-hob with a hob {wishes.hob.width} wide", allowed="under a hob of 600",
            advice="oven: tall, or a hob of 600",
        )  # fmt: skip
    if wishes.hob.fuel == "gas" and wishes.hob.width != 600:
        raise InputError.at(
            "wishes.hob.width", found=f"{wishes.hob.width} for gas", allowed="600 for gas",
            advice="an electric hob, or a width of 600",
        )  # fmt: skip


def _best(looked: list[Shape], judge: Judge, until: float, report: Progress, result: Proposals) -> list[Found]:
    """The best plan of each kind that can be among the first few, in the order of points."""
    best: dict[Hashable, Found] = {}
    coarse = len({_walls(shape) for shape in looked}) >= SHOWN
    for n, shape in enumerate(looked):
        if time.monotonic() > until:
            result.left = len(looked) - n
            break
        report(f"looking at {shape.name} ({n + 1} of {len(looked)})")
        for key, among in _kinds(shape, judge, coarse):
            found = best_plan(shape, judge, _limit(best, key), among)
            if found:
                best[key] = found
    return sorted(best.values(), key=lambda f: (f.points, f.plan.shape.name))


def _walls(shape: Shape) -> Hashable:
    return shape.kind, tuple(arm.wall.name for arm in shape.arms)


def _kinds(shape: Shape, judge: Judge, coarse: bool) -> Iterator[tuple[Hashable, Among]]:
    """What counts as different: other walls, or finer, another order from left to right."""
    every = tuple(orders(shape, judge))
    if coarse:
        yield _walls(shape), every
        return
    for first in (True, False):
        yield (_walls(shape), shape.tall_ends, first), tuple(o for o in every if o.sink_first == first)


def _limit(best: dict[Hashable, Found], key: Hashable) -> int | None:
    """Points that a plan must stay below to be wanted."""
    scores = sorted(f.points for f in best.values())
    bounds = [best[key].points] if key in best else []
    bounds += scores[SHOWN + SPARE - 1 : SHOWN + SPARE]
    return min(bounds, default=None)


def _add(result: Proposals, brief: Brief, judge: Judge, found: Found) -> None:
    """Build and check a plan; what cannot be built or misses a must is dropped by name."""
    name = found.plan.shape.name
    try:
        document = composed(brief, judge.survey, found.plan)
        kitchen = build(document)
    except InputError as error:
        result.dropped.append(f"{name}: {error.problems[0]}")
        return
    findings = check(kitchen)
    missed = [f for f in findings if f.serious]
    if missed:
        result.dropped.append(f"{name}: {missed[0].question} {missed[0].place}: not met")
        return
    terms, why, trades = words(found, judge, findings)
    result.shown.append(Proposal(document, kitchen, findings, found, terms, name, why, trades))
