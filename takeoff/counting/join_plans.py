"""Join plans: every way to place the joins of a kitchen's tops, what speaks against some, and what the others cost.

A plan says for each corner which top runs through and how the other meets it, and for each row of units longer than
its stock where the top is parted in line, in as few pieces as can be; other rows are parted only where no plan can
be carried in otherwise. A join in line may lie anywhere in its bands (`model.tops.bands`). Along them
the price changes only where a piece grows past a length that is sold, so these places stand for all: the ends of
bands, sides and middles of units, where stock lengths end, and where the program itself would part the row. Of a
row with several joins, each set of lengths that may be bought is tried with its best places.

Each is built and priced as a whole kitchen; what cannot be built or carried in, or is not borne, is kept with the
reason. The program's own comes first: it knows lengths and no prices, by the rule that `OWN_RULES` says, so that a
file which names no place never changes with a price book. The others follow by their total price; of those that
cost the same what keeps further from cut-outs, then the one whose heaviest piece is lighter. Where the file wants
joins by stock, they follow by that: those of the same kinds of join first, by joins in line, cut-outs near, stock,
price. Of these none needs less than the program's own (`is_less`). `cheapest` names the one that costs least.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import product

from countersunk.model.catalogue.catalogue import Catalogue, catalogue_of
from countersunk.model.document.schema import CornerJoin, Document, InLineJoin
from countersunk.model.errors import InputError
from countersunk.model.layout.placing import PlacedRun, place_runs
from countersunk.model.survey import Survey, survey_room
from countersunk.model.ties import ranked, settled
from countersunk.model.tops.bands import contains
from countersunk.model.tops.placed_joins import placed_joins
from countersunk.model.tops.rows import Stretch, shared_corners, stretches
from countersunk.model.tops.worktops import extents
from countersunk.takeoff.counting.join_plan import JoinPlan, pinned, unpinned
from countersunk.takeoff.counting.join_trials import tried
from countersunk.takeoff.counting.rows_to_part import RowToPart
from countersunk.takeoff.stock.prices import PriceBook

MOST = 300
"""No more plans than this are tried; who has more corners pins some of them."""

OWN_RULES = {
    "order": "at a corner the left wall's top runs through; a row has the fewest pieces, then the least stock by "
    "length, then joins far from cut-outs",
    "stock": "corners are joined as their edges suit, the way round that needs the fewest joins in line, then none "
    "near a cut-out, then the least stock by length",
}
"""How the program places joins where nobody says, by lengths and not prices, for each word of ``joins_by``
(`model.tops.in_line`, `model.tops.placed_joins`)."""

Progress = Callable[[int, int], object]
Choice = tuple[tuple[CornerJoin, ...], tuple[InLineJoin, ...]]


def join_plans(
    document: Document,
    catalogue: Catalogue | None = None,
    prices: PriceBook | None = None,
    progress: Progress | None = None,
) -> list[JoinPlan]:
    """Every plan, the program's own first, then the admissible ones by price, then what cannot be.

    Raises InputError for a kitchen that cannot be laid out, or that has more than `MOST` plans.
    """
    catalogue = catalogue or catalogue_of(document)
    survey = survey_room(document.room)
    site = _Site(document, catalogue, survey, place_runs(document, survey, catalogue))
    plans = [*site.all_tried(smaller=False, prices=prices, progress=progress), *site.out_of_place()]
    if document.access and not any(plan.admissible for plan in plans):
        plans += site.all_tried(smaller=True, prices=prices, progress=progress)
    kinds = JoinPlan(*site.own(), ()).kinds if document.worktop.joins_by == "stock" else None
    return ranked(_once(plans), key=lambda plan: _rank(plan, kinds), tie=lambda plan: plan.words)


def cheapest(plans: Sequence[JoinPlan]) -> JoinPlan | None:
    """The plan of a list that costs least, the first of those that cost the same; None where none can be."""
    priced = [(plan.total, i) for i, plan in enumerate(plans) if plan.total is not None]
    return plans[min(priced)[1]] if priced else None


def is_less(plan: JoinPlan, own: JoinPlan) -> bool:
    """Whether a plan with the same kinds of join needs less than the program's own, by its rule for stock."""
    return plan.admissible and plan.kinds == own.kinds and _need(plan) < _need(own)


def _need(plan: JoinPlan) -> tuple[int, bool, float]:
    joins, near, stock = plan.need
    return joins, near, settled(stock)


def _rank(plan: JoinPlan, kinds: tuple[str | None, ...] | None) -> tuple[float, ...]:
    """The less the sooner; of joins by stock with the ``kinds`` that suit."""
    heaviest = max((p.mass for p in plan.pieces), default=0.0)
    total = plan.total if plan.total is not None else Decimal(0)
    by_stock = (plan.kinds != kinds, *plan.need) if kinds is not None else ()
    return (
        not plan.admissible, not plan.own, *by_stock, float(total), len(plan.notes), heaviest, len(plan.in_line)
    )  # fmt: skip


def _once(plans: Sequence[JoinPlan]) -> list[JoinPlan]:
    """Each plan once, by what it says."""
    return list({plan.words: plan for plan in reversed(plans)}.values())


@dataclass(frozen=True)
class _Site:
    """A document with its room and runs, whose joins are to be placed."""

    document: Document
    catalogue: Catalogue
    survey: Survey
    runs: tuple[PlacedRun, ...]

    def all_tried(self, *, smaller: bool, prices: PriceBook | None, progress: Progress | None) -> list[JoinPlan]:
        """Every plan that nothing speaks against beforehand; ``smaller`` parts every row once more than it needs.

        Raises InputError for more than `MOST`.
        """
        choices = list(self._choices(smaller))
        if len(choices) > MOST:
            raise InputError.at(
                "worktop.joins",
                found=f"{len(choices)} ways to place the joins",
                allowed=f"at most {MOST}",
                advice="pin some: say female and kind of a corner, or where a row is parted, in the file",
            )
        own, plans = JoinPlan(*self.own(), ()).words, []
        for i, choice in enumerate(choices, start=1):
            plan = tried(self.document, self.catalogue, prices, *choice)
            plans.append(replace(plan, own=plan.words == own))
            if progress:
                progress(i, len(choices))
        return plans

    def out_of_place(self) -> Iterator[JoinPlan]:
        """Sides and middles of units where the one join of a row must not lie, with why, for its own corners."""
        corners, _ = self.own()
        for row in self._rows(corners) or ():
            if row.needed == 1 and not self._asked_for(row.stretch):
                (band,) = row.pieces.bands(row.allowed, row.extent, 1)
                for x in (x for x in row.landmarks if not contains(band, x)):
                    yield JoinPlan(corners, (self._join(row, x),), tuple(row.against(x)))

    def own(self) -> Choice:
        """What the program does by itself, as far as the document leaves it open."""
        placed = placed_joins(self.runs, self.survey, self.document, self.catalogue)
        shared = shared_corners(stretches(self.runs), self.survey, placed)
        corners = tuple(
            s.corner.wish.model_copy(update={"female": s.corner.female.name, "kind": s.corner.kind}) for s in shared
        )
        if placed is not self.document:
            return corners, tuple(join.model_copy(update={"key": ""}) for join in placed.worktop.in_line)
        rows = self._rows(corners) or ()
        return corners, tuple(self._join(row, x) for row in rows for x in row.own())

    def _choices(self, smaller: bool) -> Iterator[Choice]:
        """Every corner either way round with every join, and every row whole or parted."""
        shared = shared_corners(stretches(self.runs), self.survey, unpinned(self.document))
        asked = {wish.corner: wish for wish in self.document.worktop.joins}
        for corners in product(*(_ways(s.corner.name, asked) for s in shared)):
            rows = self._rows(corners)
            if rows is None:
                yield corners, self.document.worktop.in_line  # built all the same, for the reason
            else:
                for parts in product(*(self._partings(row, smaller) for row in rows)):
                    yield corners, tuple(join for part in parts for join in part)

    def _rows(self, corners: tuple[CornerJoin, ...]) -> list[RowToPart] | None:
        """Every row as it is with these corners; None where they leave no one piece."""
        document = pinned(self.document, JoinPlan(corners, self.document.worktop.in_line, ()))
        try:
            found = extents(self.runs, self.survey, document, self.catalogue)
        except InputError:
            return None
        return [RowToPart(*one, document, self.catalogue) for one in found]

    def _partings(self, row: RowToPart, smaller: bool) -> list[tuple[InLineJoin, ...]]:
        """The row whole, or parted as the file asks or in every way; as the program does where there is none."""
        asked = self._asked_for(row.stretch)
        if asked:
            return [asked]
        ways = [points for n in {row.needed, row.needed + smaller} for points in row.partings(n)]
        every = dict.fromkeys([*ways, row.own()] if row.needed else ways)
        return [tuple(self._join(row, x) for x in points) for points in every]

    def _asked_for(self, row: Stretch) -> tuple[InLineJoin, ...]:
        asked = self.document.worktop.in_line
        return tuple(w for w in asked if w.run == row.run.name and row.left < w.at < row.right)

    def _join(self, row: RowToPart, x: float) -> InLineJoin:
        return InLineJoin(run=row.stretch.run.name, at=x)


def _ways(corner: str, asked: dict[str, CornerJoin]) -> list[CornerJoin]:
    """A corner's five ways; only those that the document leaves open, if it says some of it.

    The halves of a full mitre are alike: it is one way, whichever is called the female.
    """
    wish = asked.get(corner, CornerJoin(corner=corner))
    females = [wish.female] if wish.female else corner.split("-")
    kinds = [wish.kind] if wish.kind else ["mitre", "butt", *([] if wish.notch else ["full-mitre"])]
    ways = [(kind, female) for kind in kinds for female in (females[:1] if kind == "full-mitre" else females)]
    return [wish.model_copy(update={"female": female, "kind": kind}) for kind, female in ways]
