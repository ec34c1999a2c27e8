"""Length quantities: plinths, strips and rolls, with what is taken from offcuts, and a plan of what is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from countersunk.takeoff.counting.quantities import Contribution, Quantity
from countersunk.takeoff.counting.wording import counted
from countersunk.takeoff.plans.lengths import LengthPlan, plan_lengths
from countersunk.takeoff.plans.strips import StripBar, StripPiece
from countersunk.takeoff.stock.articles import Articles
from countersunk.takeoff.stock.offcuts import Offcut, item_of
from countersunk.takeoff.stock.units import UNITS, amount, number


def on_lengths(
    quantities: Iterable[Quantity], articles: Articles, offcuts: Sequence[Offcut], keep: float
) -> tuple[list[Quantity], tuple[LengthPlan, ...]]:
    """The same quantities, those of which rests are kept with what they take from ``offcuts``, and their plans.

    ``articles`` are those that are bought; ``keep`` (mm) is the least that is worth keeping.
    """
    found: list[Quantity] = []
    plans: list[LengthPlan] = []
    for quantity in quantities:
        plan = _plan(quantity, articles, offcuts, keep)
        found += [quantity] if plan is None else _split(quantity, plan)
        plans += [plan] if plan else []
    return found, tuple(plans)


def _plan(
    quantity: Quantity, articles: Articles, offcuts: Sequence[Offcut], keep: float
) -> LengthPlan | None:  # fmt: skip
    article = articles.get(quantity.item)
    if article is None or not article.kept or quantity.packs is None:
        return None
    size = UNITS[quantity.unit].size
    pieces = [StripPiece(c.id, c.amount * size) for c in quantity.contributions]
    return plan_lengths(article, pieces, quantity.decor, quantity.share or 0.0, offcuts, keep)


def _split(quantity: Quantity, plan: LengthPlan) -> list[Quantity]:
    """What is bought, if anything, and every offcut that is taken."""
    if not any(plan.used):
        return [quantity]
    bought = [bar for bar in plan.bars if not bar.offcut]
    taken = {id_: [bar for bar in plan.bars if bar.offcut == id_] for id_ in plan.used}
    first = [_bought(quantity, plan, bought)] if plan.packs else []
    return [*first, *(_taken(quantity, plan, id_, bars) for id_, bars in taken.items())]


def _bought(quantity: Quantity, plan: LengthPlan, bars: Sequence[StripBar]) -> Quantity:
    shares = tuple(_shares(quantity, plan, bars))
    size = UNITS[quantity.unit].size
    net, cut = sum(c.amount for c in shares), sum(bar.net for bar in bars) / size
    own = sum(bar.net for bar in plan.bars if bar.offcut)
    return replace(
        quantity,
        net=net,
        allowance=plan.allowance / size + max(0.0, cut - net),
        packs=plan.packs,
        formula=f"{quantity.formula}, of which {amount(own / size, quantity.unit)} from offcuts",
        contributions=shares,
        by_plan=True,
        share=None,
    )


def _taken(quantity: Quantity, plan: LengthPlan, offcut: str, bars: Sequence[StripBar]) -> Quantity:
    """An offcut that the firm has, as often as it is taken; nothing is bought."""
    shares, length = tuple(_shares(quantity, plan, bars)), bars[0].length
    net = sum(c.amount for c in shares)
    spent = sum(bar.net for bar in bars) / UNITS[quantity.unit].size
    pieces = counted(len({c.id for c in shares}), "piece")
    return replace(
        quantity,
        item=item_of(offcut),
        description=f"offcut {offcut}, {quantity.description} {number(length)}",
        net=net,
        allowance=max(0.0, spent - net),
        pack=length / UNITS[quantity.unit].size,
        pack_name=f"offcut of {number(length)} mm",
        packs=len(bars),
        formula=f"{pieces}, {amount(net, quantity.unit)} → {len(bars)} × offcut {offcut}",
        contributions=shares,
        rule="offcuts",
        note="",
        decor="",
        by_plan=True,
        share=None,
    )


def _shares(quantity: Quantity, plan: LengthPlan, bars: Iterable[StripBar]) -> Iterator[Contribution]:
    """What each piece brings to some lengths, without any allowance that it has in it."""
    laid = sum(bar.net for bar in plan.bars)
    per_mm = quantity.net / laid if laid else 0.0
    return (Contribution(p.id, p.length * per_mm) for bar in bars for p in bar.pieces)
