"""Cut plans: everything of a kitchen that is cut from lengths of worktop and sheets of board."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.measuring.rules import default_rules
from countersunk.takeoff.plans.boards import BoardPlan, board_plans
from countersunk.takeoff.plans.lengths import LengthPlan
from countersunk.takeoff.plans.tops import TopPlan, plan_tops
from countersunk.takeoff.stock.offcuts import Offcut
from countersunk.takeoff.stock.prices import PriceBook, prices_of


@dataclass(frozen=True)
class CutPlans:
    """A plan for each section of worktop, for each board, and for each other length or roll of which rests are
    kept.
    """

    tops: tuple[TopPlan, ...]
    boards: tuple[BoardPlan, ...]
    lengths: tuple[LengthPlan, ...] = ()

    @property
    def used(self) -> Iterator[str]:
        """The id of every offcut that is taken, once for each."""
        yield from (bar.offcut for plan in self.tops for bar in plan.bars if bar.offcut)
        yield from (sheet.offcut for plan in self.boards for sheet in plan.sheets if sheet.offcut)
        yield from (id_ for plan in self.lengths for id_ in plan.used)

    @property
    def left(self) -> Iterator[Offcut]:
        """Every offcut of this job that is worth keeping."""
        yield from (o for plan in self.tops for bar in plan.bars for o in bar.left)
        yield from (o for plan in self.boards for o in plan.left)
        yield from (o for plan in self.lengths for o in plan.left)


def cut_plans(kitchen: Kitchen, book: PriceBook | None = None, offcuts: Sequence[Offcut] = ()) -> CutPlans:
    """Return the cheapest plans by ``book`` (its catalogue's if left out), taking from ``offcuts`` first.

    >>> from countersunk import open_kitchen, plan
    >>> plans = plan(open_kitchen("straight"))
    >>> [bar.length for top in plans.tops for bar in top.bars], [board.is_least for board in plans.boards]
    ([3600.0], [True, True, True, True])
    """
    tops = plan_tops(kitchen, default_rules().saw, book or prices_of(kitchen.catalogue), offcuts)
    return CutPlans(tops, board_plans(kitchen, offcuts=offcuts))
