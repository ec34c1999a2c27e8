"""Propose: the best different layouts for a brief, each built and checked before it is shown."""

from __future__ import annotations

import time
from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field

from countersunk.model.catalogue.catalogue import Catalogue, catalogue_named
from countersunk.model.checks import check
from countersunk.model.checks.finding import Finding
from countersunk.model.checks.survey import AGREEMENT
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError, SolidError
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.planning.arms import Shape
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.compose import composed
from countersunk.model.planning.costs import Costs
from countersunk.model.planning.differ import LEAST, PlanDistance, difference
from countersunk.model.planning.explain import words
from countersunk.model.planning.orders import ArmOrder, orders
from countersunk.model.planning.ranges import check_range
from countersunk.model.planning.refused import refused
from countersunk.model.planning.score import Judge, points
from countersunk.model.planning.search import Found, best_plan
from countersunk.model.planning.shapes import Site, shapes

SHOWN = 3
SPARE = 3
"""So many plans more are looked for, in case one does not pass its checks."""

Progress = Callable[[str], object]
Among = tuple[ArmOrder, ...]


@dataclass(frozen=True)
class Proposal:
    """A layout with the document that builds it. ``why`` and ``trades`` say in plain words what it gives and what
    it costs; ``terms`` is what it is short of or takes, in mm. ``difference`` is to the nearest of those before it
    and ``differs`` says it; the first has none.
    """

    document: Document
    kitchen: Kitchen
    findings: tuple[Finding, ...]
    found: Found
    terms: dict[str, int]
    name: str
    why: tuple[str, ...]
    trades: tuple[str, ...]
    difference: int = 0
    differs: str = ""


@dataclass
class Proposals:
    """What was proposed, the best first; ``dropped`` says what was not shown and why, ``left`` how many shapes the
    time did not reach.
    """

    shown: list[Proposal] = field(default_factory=list)
    dropped: list[str] = field(default_factory=list)
    shapes: int = 0
    left: int = 0


def propose(
    brief: Brief,
    seconds: float = 10.0,
    report: Progress = lambda _: None,
    costs: Costs | None = None,
    catalogue: Catalogue | None = None,
) -> Proposals:
    """Up to three layouts, each at least `model.planning.differ.LEAST` mm from the others.

    Raises InputError for a room in which none has place, and says what stands in the way. ``seconds`` end the
    search only where it takes longer; `Proposals.left` then tells it. ``costs`` are what units cost, for the score,
    and ``catalogue`` is what units are of, where that is a folder of its own.
    """
    _check_wishes(brief)
    known = catalogue or catalogue_named(brief.catalogue)
    check_range(known)
    site = Site.of(brief, known)
    judge = Judge(brief, site.survey, costs)
    looked = sorted(shapes(site), key=lambda s: points(judge.shape_terms(s)))
    result, until = Proposals(shapes=len(looked)), time.monotonic() + 0.7 * seconds
    best = _best(looked, judge, until, report, result, fine=False)
    tried = _shown(result, brief, judge, best, report, known)
    if tried and len(result.shown) < SHOWN:
        rest = [f for f in _best(looked, judge, until, report, result, fine=True) if _place(f) not in tried]
        _shown(result, brief, judge, rest, report, known)
    if not result.shown:
        raise _none(brief, site, result, seconds, report)
    return result


def _shown(
    result: Proposals, brief: Brief, judge: Judge, best: list[Found], report: Progress, catalogue: Catalogue
) -> set[Hashable]:
    """Build and check plans that differ from those that are shown, until there are enough; tells which it tried."""
    tried = set()
    for found in best:
        others = [difference(found.plan, other.found.plan, judge) for other in result.shown]
        if len(result.shown) < SHOWN and all(other.total >= LEAST for other in others):
            report(f"building and checking {found.plan.shape.name}")
            _add(result, brief, judge, found, others, catalogue)
            tried.add(_place(found))
    return tried


def _place(found: Found) -> Hashable:
    """What tells plans apart."""
    plan = found.plan
    return plan.shape.name, plan.shape.tall_ends, plan.sink, plan.hob, plan.spans


def _none(brief: Brief, site: Site, result: Proposals, seconds: float, report: Progress) -> InputError:
    """Why nothing is shown: no time, every plan misses a must, or no plan at all."""
    if result.left:
        return InputError.at(
            "seconds",
            found=f"{seconds:g}, in which {result.shapes - result.left} of {result.shapes} shapes were seen",
            allowed="time enough to find a first layout", advice="more seconds",
        )  # fmt: skip
    if result.dropped:
        return InputError.at(
            "room", found=f"{len(result.dropped)} layouts that miss a must, such as {result.dropped[0]}",
            allowed="a layout that keeps every must", advice="move what stands in the way, or fewer wishes",
        )  # fmt: skip
    return refused(brief, site.survey, report, time.monotonic() + 0.5 * seconds)


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


def _best(
    looked: list[Shape], judge: Judge, until: float, report: Progress, result: Proposals, fine: bool
) -> list[Found]:
    """The best plan of each kind that can be among the first few, in the order of points."""
    best: dict[Hashable, Found] = {}
    for n, shape in enumerate(looked):
        if time.monotonic() > until:
            result.left = result.left if fine else len(looked) - n
            break
        report(f"looking at {shape.name} ({n + 1} of {len(looked)})")
        for key, among in _kinds(shape, judge, fine):
            found = best_plan(shape, judge, _limit(best, key), among)
            if found:
                best[key] = found
    return sorted(best.values(), key=lambda f: (f.points, f.plan.shape.name))


def _walls(shape: Shape) -> Hashable:
    return shape.kind, tuple(arm.wall.name for arm in shape.arms)


def _kinds(shape: Shape, judge: Judge, fine: bool) -> Iterator[tuple[Hashable, Among]]:
    """What counts as different: other walls, or finer, other ends for tall units and other arms and orders."""
    every = tuple(orders(shape, judge))
    if not fine:
        yield _walls(shape), every
        return
    for kind in dict.fromkeys(order[:3] for order in every):
        yield (_walls(shape), shape.tall_ends, kind), tuple(o for o in every if o[:3] == kind)


def _limit(best: dict[Hashable, Found], key: Hashable) -> int | None:
    """Points that a plan must stay below to be wanted."""
    scores = sorted(f.points for f in best.values())
    bounds = [best[key].points] if key in best else []
    bounds += scores[SHOWN + SPARE - 1 : SHOWN + SPARE]
    return min(bounds, default=None)


def _add(
    result: Proposals, brief: Brief, judge: Judge, found: Found, others: list[PlanDistance], catalogue: Catalogue
) -> None:
    """Build and check a plan; what cannot be built or misses a must is dropped by name."""
    name = found.plan.shape.name
    try:
        document = composed(brief, judge.survey, found.plan)
        kitchen = build(document, catalogue)
        findings = check(kitchen)
    except InputError as error:
        result.dropped.append(f"{name}: {error.problems[0]}")
        return
    except SolidError as error:
        result.dropped.append(f"{name}: its solids do not close: {error}")
        return
    missed = [f for f in findings if f.serious and f.measure != AGREEMENT]
    if missed:
        result.dropped.append(f"{name}: {missed[0].question} {missed[0].place}: not met")
        return
    terms, why, trades = words(found, judge, findings, kitchen)
    near = min(range(len(others)), key=lambda n: others[n].total, default=None)
    told = (0, "") if near is None else (others[near].total, others[near].words(near + 1))
    result.shown.append(Proposal(document, kitchen, findings, found, terms, name, why, trades, *told))
