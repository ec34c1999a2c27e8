"""Join plans: every way to place the joins of a kitchen's tops, what speaks against some, and what the others cost.

A plan says for each corner which top runs through and how the other meets it, and for each row of units longer than
its stock where the top is parted in line; the other rows are parted only where no plan can be carried in otherwise.
Each is built and priced as a whole kitchen; what cannot be built or carried in, or is not borne, is kept with the
reason. The others are ranked by their total price, then by the heaviest piece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations, product
from typing import Any

from countersunk.model.carry import passes
from countersunk.model.catalogue.catalogue import Catalogue, catalogue_of
from countersunk.model.document.schema import CornerJoin, Document, InLineJoin
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.facts.plans import overlap, unit_plan
from countersunk.model.kitchen import Kitchen, build
from countersunk.model.layout.placing import PlacedRun, place_runs
from countersunk.model.survey import Survey, survey_room
from countersunk.model.ties import ranked, settled
from countersunk.model.tops.in_line import CLEAR_OF_CUTOUTS, SHORTEST
from countersunk.model.tops.joins import Join
from countersunk.model.tops.rows import Stretch, shared_corners, stretches
from countersunk.takeoff.counting.takeoff import take_off
from countersunk.takeoff.stock.prices import PriceBook

MOST = 300
"""No more plans than this are tried; who has more corners pins some of them."""

NEAR_SINK = 300.0
"""A sink this near to a join hangs its weight on it, mm (common practice, no source)."""

Progress = Callable[[int, int], object]
Choice = tuple[tuple[CornerJoin, ...], tuple[InLineJoin, ...]]


@dataclass(frozen=True)
class PlannedLength:
    """A length of a plan: its measure along the run, mm, and its mass, kg."""

    id: str
    length: float
    mass: float


@dataclass(frozen=True)
class JoinPlan:
    """One way to place the joins. ``reasons`` are why it cannot be; ``notes`` what to know of it.

    ``total`` is the price of the whole kitchen without tax, None where it cannot be built.
    """

    corners: tuple[CornerJoin, ...]
    in_line: tuple[InLineJoin, ...]
    reasons: tuple[str, ...]
    notes: tuple[str, ...] = ()
    total: Decimal | None = None
    pieces: tuple[PlannedLength, ...] = ()

    @property
    def admissible(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.reasons

    @property
    def words(self) -> str:
        """The plan in words."""
        corners = [f"corner {c.corner}: {c.female} runs through, {c.kind}" for c in self.corners]
        parted = [f"{j.run} parted at {settled(j.at):.0f}" for j in self.in_line]
        return "; ".join([*corners, *parted]) or "no joins"


def join_plans(
    document: Document,
    catalogue: Catalogue | None = None,
    prices: PriceBook | None = None,
    progress: Progress | None = None,
) -> list[JoinPlan]:
    """Every plan, the admissible ones first, the cheapest at the top.

    Raises InputError for a kitchen that cannot be laid out, or that has more than `MOST` plans.
    """
    catalogue = catalogue or catalogue_of(document)
    survey = survey_room(document.room)
    runs = place_runs(document, survey, catalogue)
    plans = _all_tried(document, catalogue, prices, list(_choices(document, survey, runs, smaller=False)), progress)
    if document.access and not any(plan.admissible for plan in plans):
        smaller = list(_choices(document, survey, runs, smaller=True))
        plans += _all_tried(document, catalogue, prices, smaller, progress)
    return ranked(_once(plans), key=_rank, tie=lambda plan: plan.words)


def _all_tried(
    document: Document,
    catalogue: Catalogue,
    prices: PriceBook | None,
    choices: list[Choice],
    progress: Progress | None,
) -> list[JoinPlan]:
    if len(choices) > MOST:
        raise InputError.at(
            "worktop.joins",
            found=f"{len(choices)} ways to place the joins",
            allowed=f"at most {MOST}",
            advice="pin some corners: say their female and kind in the file",
        )
    plans = []
    for i, choice in enumerate(choices, start=1):
        plans.append(_tried(document, catalogue, prices, *choice))
        if progress:
            progress(i, len(choices))
    return plans


def unpinned(document: Document) -> Document:
    """The document without its joins, so that every way is open again."""
    return edited(document, {"worktop.joins": None, "worktop.in_line": None})


def pinned(document: Document, plan: JoinPlan) -> Document:
    """The document with the plan's joins in place of its own; a join at the same place keeps its key."""
    top = document.worktop
    keys = {wish.corner: wish.key for wish in top.joins} | {(wish.run, wish.at): wish.key for wish in top.in_line}
    joins = tuple(_keyed(join, keys.get(join.corner)) for join in plan.corners)
    in_line = tuple(_keyed(join, keys.get((join.run, join.at))) for join in plan.in_line)
    return edited(document, {"worktop.joins": joins or None, "worktop.in_line": in_line or None})


def _keyed(join: CornerJoin | InLineJoin, key: str | None) -> dict[str, Any]:
    plain = join.model_dump(exclude_none=True, exclude={"key"})
    return {**plain, "key": key} if key else plain


def _rank(plan: JoinPlan) -> tuple[bool, bool, float, float, int]:
    heaviest = max((p.mass for p in plan.pieces), default=0.0)
    total = plan.total if plan.total is not None else Decimal(0)
    return (not plan.admissible, plan.total is None, float(total), heaviest, len(plan.in_line))


def _once(plans: Sequence[JoinPlan]) -> list[JoinPlan]:
    """Each plan once, by what it says."""
    return list({plan.words: plan for plan in plans}.values())


def _choices(document: Document, survey: Survey, runs: tuple[PlacedRun, ...], *, smaller: bool) -> Iterator[Choice]:
    """Every corner either way round with either join, and every row whole or parted over its units.

    ``smaller`` parts rows too that are not longer than their stock.
    """
    rows = stretches(runs)
    wished = {wish.corner: wish for wish in document.worktop.joins}
    corners = [_ways(shared.corner.name, wished) for shared in shared_corners(rows, survey, unpinned(document))]
    parted = [_partings(row, document, smaller) for row in rows]
    for some, parts in product(product(*corners), product(*parted)):
        yield some, tuple(join for part in parts for join in part)


def _ways(corner: str, wished: dict[str, CornerJoin]) -> list[CornerJoin]:
    """A corner's four ways; only those that the document leaves open, if it says some of it."""
    wish = wished.get(corner, CornerJoin(corner=corner))
    females = [wish.female] if wish.female else corner.split("-")
    kinds = [wish.kind] if wish.kind else ["mitre", "butt"]
    return [wish.model_copy(update={"female": f, "kind": k}) for k in kinds for f in females]


def _partings(row: Stretch, document: Document, smaller: bool) -> list[tuple[InLineJoin, ...]]:
    """The row whole, or parted over the middles of as many units as its stock asks for, or as it is wished."""
    wishes = tuple(w for w in document.worktop.in_line if w.run == row.run.name and row.left < w.at < row.right)
    if wishes:
        return [wishes]
    middles = [InLineJoin(run=row.run.name, at=(u.x + u.right) / 2) for u in row.units]
    needed = int((row.right - row.left) // max(row.run.stock.lengths))
    return [some for n in {needed, needed + smaller} for some in combinations(middles, n)]


def _tried(
    document: Document,
    catalogue: Catalogue,
    prices: PriceBook | None,
    corners: tuple[CornerJoin, ...],
    in_line: tuple[InLineJoin, ...],
) -> JoinPlan:
    """The plan with what speaks against it, or with its price."""
    plan = JoinPlan(corners, in_line, ())
    try:
        kitchen = build(pinned(document, plan), catalogue)
    except InputError as error:
        return JoinPlan(corners, in_line, tuple(p.found for p in error.problems))
    reasons = (*_not_carried(kitchen), *(why for join in kitchen.joins for why in _against(join, kitchen)))
    pieces = tuple(PlannedLength(t.id, t.part.length, t.mass) for t in kitchen.lengths)
    notes = tuple(note for join in kitchen.joins for note in _to_know(join, kitchen))
    counted = take_off(kitchen, prices)
    return JoinPlan(corners, in_line, tuple(reasons), notes, counted.totals.net, pieces)


def _not_carried(kitchen: Kitchen) -> Iterator[str]:
    """The pieces that cannot be brought in."""
    if kitchen.document.access:
        for length in kitchen.lengths:
            part = length.part
            passage = passes(part.outline, part.thickness, kitchen.document.access, kitchen.allowances)
            if not passage.ok:
                size = settled(part.length)
                yield f"{length.id}, {size:.0f} long, cannot be carried in: {passage.sentence}"


def _against(join: Join, kitchen: Kitchen) -> Iterator[str]:
    """What no fitter would do: a join over an appliance, over nothing, hard by a cut-out, or for a short piece."""
    under = [u for id_ in (join.female, join.male) for u in kitchen.length(id_).stretch.units]
    band = join.line.buffer(1.0)
    if join.kind == "in line":
        borne = [u for u in under if overlap(unit_plan(u), band)]
        for unit in borne:
            if not unit.family.kind.bears_join:
                yield f"{join.id} lies over {unit.name}, {unit.family.name}, which does not bear it"
        if not borne:
            yield f"{join.id} lies over no unit that bears it"
        yield from (f"{short}, in line with another; at least {SHORTEST:g}" for short in _short(join, kitchen))
    for name, distance in _cutouts_near(join, kitchen):
        if distance < CLEAR_OF_CUTOUTS[1]:
            yield f"{join.id} lies {distance:.0f} from the line of {name}; at least {CLEAR_OF_CUTOUTS[1]:g}"


def _short(join: Join, kitchen: Kitchen) -> Iterator[str]:
    """The pieces at a join that are hard to hold, to cut and to bear."""
    lengths = {id_: settled(kitchen.length(id_).part.length) for id_ in (join.female, join.male)}
    yield from (f"{id_} is {length:.0f} long" for id_, length in lengths.items() if length < SHORTEST)


def _to_know(join: Join, kitchen: Kitchen) -> Iterator[str]:
    if join.kind != "in line":
        yield from (f"{short}: see whether the unit below holds it" for short in _short(join, kitchen))
    sinks = {c.name for c in kitchen.cutouts if c.template.kind == "sink"}
    for name, distance in _cutouts_near(join, kitchen):
        if CLEAR_OF_CUTOUTS[1] <= distance < CLEAR_OF_CUTOUTS[0]:
            why = ", and the sink's weight hangs beside it" if name in sinks and distance < NEAR_SINK else ""
            yield f"{join.id} lies {distance:.0f} from {name}; {CLEAR_OF_CUTOUTS[0]:g} is often asked{why}"


def _cutouts_near(join: Join, kitchen: Kitchen) -> Iterator[tuple[str, float]]:
    """Every cut-out of either half with its distance from the joint, mm."""
    for cutout in kitchen.cutouts:
        if cutout.length in (join.female, join.male):
            yield cutout.name, settled(cutout.line_in_room.distance(join.line))
