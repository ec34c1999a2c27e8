"""Quantities: what is measured and what is ordered of each article, from which parts, by which formula."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from countersunk.model.catalogue.catalogue import Decor
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting import wording
from countersunk.takeoff.counting.to_size import SizedPiece, sized_pieces
from countersunk.takeoff.measuring.measures import Share
from countersunk.takeoff.measuring.registry import MEASURES
from countersunk.takeoff.measuring.rules import TRADE_OF, Bring, Group, TakeoffRule, TakeoffRules, Trade
from countersunk.takeoff.plans.lengths import NEARLY, plan_lengths
from countersunk.takeoff.plans.strips import StripPiece
from countersunk.takeoff.stock.articles import Article, Articles
from countersunk.takeoff.stock.sources import cited
from countersunk.takeoff.stock.units import UNITS, USUAL, UnitCode

Measured = Mapping[str, tuple[Share, ...]]
Taken = list[tuple[Bring, tuple[Share, ...]]]


@dataclass(frozen=True)
class Contribution:
    """What one part, edge, join, cut-out or unit brings, in the quantity's unit, before any allowance."""

    id: str
    amount: float


@dataclass(frozen=True)
class Quantity:
    """One article: measured (``net``) and ordered are two things.

    ``net`` and ``allowance`` are in ``unit``; ``packs`` whole packs of ``pack`` are ordered. Where something is
    unknown ``packs`` is None and ``problem`` says what; nothing is ever silently zero. ``surplus`` is what is left
    of the order when the whole allowance is used up. ``decor`` is the code of the decor it comes in. ``pieces`` are
    those of what is made to measure. ``by_plan``: packs come from a plan of what is cut, not from the amount alone.
    ``share`` is what the allowance is of ``net``, None where it is an amount of its own.
    """

    item: str
    description: str
    group: Group
    unit: UnitCode
    net: float
    allowance: float
    pack: float | None
    pack_name: str
    packs: int | None
    formula: str
    contributions: tuple[Contribution, ...]
    rule: str
    source: str
    note: str = ""
    problem: str = ""
    decor: str = ""
    pieces: tuple[SizedPiece, ...] = ()
    by_plan: bool = True
    share: float | None = None
    trade: Trade | None = None

    @property
    def for_trade(self) -> Trade:
        """Whose work it is for."""
        return self.trade or TRADE_OF[self.group]

    @property
    def needed(self) -> float:
        """Net with its allowance."""
        return self.net + self.allowance

    @property
    def ordered(self) -> float | None:
        """What comes in the packs ordered."""
        return None if self.packs is None or self.pack is None else self.packs * self.pack

    @property
    def surplus(self) -> float | None:
        """Ordered less needed; rounded, so that a pack used up leaves nothing."""
        return None if self.ordered is None else max(0.0, round(self.ordered - self.needed, 9))

    @property
    def ids(self) -> tuple[str, ...]:
        """Where it came from, each once."""
        return tuple(dict.fromkeys(c.id for c in self.contributions))


def rule_quantities(
    kitchen: Kitchen, measured: Measured, rules: TakeoffRules, articles: Articles
) -> list[Quantity]:  # fmt: skip
    """Every rule applied, decor by decor; a rule whose measures find nothing brings nothing."""
    decors = kitchen.catalogue.decors
    found = (
        _in_decor(_quantity(rule, code, taken, articles.get(code)), decors.get(decor))
        for rule in rules.rules
        for (code, decor), taken in _by_article(kitchen, rule, measured, articles).items()
    )
    return [_with_pieces(quantity, kitchen, articles) for quantity in found]


def _with_pieces(quantity: Quantity, kitchen: Kitchen, articles: Articles) -> Quantity:
    """What is made to measure with the pieces that it is ordered in."""
    article = articles.get(quantity.item)
    if article is None or not article.to_size:
        return quantity
    return replace(quantity, pieces=sized_pieces(kitchen, quantity.ids))


def _in_decor(quantity: Quantity, decor: Decor | None) -> Quantity:
    if decor is None:
        return quantity
    return replace(quantity, decor=decor.code, description=f"{quantity.description}, {decor.name}")


def _by_article(
    kitchen: Kitchen, rule: TakeoffRule, measured: Measured, articles: Articles
) -> dict[tuple[str, str], Taken]:
    """The shares of a rule's measures, parted by the code of the article that they ask for and of its decor."""
    taken: dict[tuple[str, str], Taken] = {}
    for bring in rule.bring:
        wanted: dict[tuple[str, str], list[Share]] = {}
        for share in (s for s in measured[bring.measure] if bring.comes not in s.comes_with):
            code = rule.code(share.key)
            wanted.setdefault((code, _decor(kitchen, articles.get(code), share)), []).append(share)
        for both, shares in wanted.items():
            taken.setdefault(both, []).append((bring, tuple(shares)))
    return taken


def _decor(kitchen: Kitchen, article: Article | None, share: Share) -> str:
    """The code of the decor that an article comes in for a share; nothing where it comes in none."""
    if article is None or article.decor is None:
        return ""
    finishes = kitchen.document.finishes
    if article.decor in ("paint", "floor"):
        return (finishes.walls if article.decor == "paint" else finishes.floor) or ""
    return kitchen.fronts_at(share.id) if article.decor == "front" else kitchen.top_decor_at(share.id)


def _quantity(rule: TakeoffRule, code: str, taken: Taken, article: Article | None) -> Quantity:
    problem = _why_not(rule, code, article)
    if article is None or problem:
        usual = USUAL[rule.dimension]
        return _unordered(_measured(rule, code, taken, article, usual, UNITS[usual].size), problem)
    covered = rule.dimension == "area" and UNITS[article.unit].dimension == "volume"
    measured = _measured(rule, code, taken, article, article.unit, _per_unit(article, covered))
    packs = _packs(article, measured.needed, taken)
    if packs is None:
        return _unordered(measured, f"a piece is longer than a {article.packing}")
    plain = wording.is_plain(taken)
    order = wording.ordering(article, measured.net, measured.needed, packs, covered=covered, plain=plain)
    return replace(
        measured,
        pack=article.pack,
        pack_name=article.packing,
        packs=packs,
        formula=measured.formula + order,
        by_plan=article.pieces != "any",
    )


def _measured(
    rule: TakeoffRule, code: str, taken: Taken, article: Article | None, unit: UnitCode, per_unit: float
) -> Quantity:
    """What a rule measures for an article, in ``unit``, before anything is ordered."""
    shares = _contributions(taken, per_unit)
    net = sum(c.amount for c in shares)
    return Quantity(
        item=code,
        description=article.name if article else code,
        group=rule.group,
        unit=unit,
        net=net,
        allowance=net * rule.allowance,
        pack=None,
        pack_name="",
        packs=None,
        formula=wording.formula(taken),
        contributions=shares,
        rule=rule.id,
        source=cited((*rule.sources, *(article.sources if article else ()))),
        note=rule.note or (article.note if article else ""),
        share=rule.allowance,
        trade=rule.trade,
    )


def _unordered(measured: Quantity, problem: str) -> Quantity:
    """The same with the reason why nothing can be ordered."""
    return replace(measured, problem=problem, formula=f"{measured.formula}: {problem}")


def _why_not(rule: TakeoffRule, code: str, article: Article | None) -> str:
    """Why what a rule brings cannot be turned into an order of the article; empty where it can."""
    if article is None:
        return f"no article '{code}' in the catalogue"
    have, want = rule.dimension, UNITS[article.unit].dimension
    if have == want:
        return ""
    if (have, want) == ("area", "volume"):
        return "" if article.coverage else f"the coverage of '{code}' is unknown"
    return f"'{code}' is sold by {want}, and the rule measures {have}"


def _per_unit(article: Article, covered: bool) -> float:
    """How much of a rule's inside unit makes one of the article's; mm² to the litre where it is spread on faces."""
    size = UNITS[article.unit].size
    if not covered or article.coverage is None:
        return size
    return article.coverage.amount * UNITS["m2"].size * size / UNITS["L"].size


def _contributions(taken: Taken, per_unit: float) -> tuple[Contribution, ...]:
    return tuple(Contribution(s.id, b.turned(s.amount) / per_unit) for b, group in taken for s in group)


def _packs(article: Article, needed: float, taken: Taken) -> int | None:
    """Whole packs, as many as hold what is needed and every piece; None where one is longer than a pack."""
    by_amount = max(1, math.ceil(needed / article.pack * (1 - NEARLY)))
    if article.pieces == "any":
        return by_amount
    pieces = [StripPiece(s.id, b.turned(s.amount)) for b, group in taken for s in group]
    found = plan_lengths(article, pieces)
    return None if found is None else max(by_amount, found.packs)


def unused_measures(rules: TakeoffRules, also: Iterable[str]) -> set[str]:
    """Measures that neither a rule nor a caution nor ``also`` uses."""
    used = {b.measure for r in rules.rules for b in r.bring} | {c.when for c in rules.cautions} | set(also)
    return set(MEASURES) - used
