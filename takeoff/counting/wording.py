"""Wording: a quantity's formula with its numbers filled in, as an estimator would write it down."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from countersunk.model.ties import settled
from countersunk.takeoff.measuring.measures import Share
from countersunk.takeoff.measuring.registry import MEASURES
from countersunk.takeoff.measuring.rules import Bring
from countersunk.takeoff.plans.tops import Bar, Laid, TopPlan
from countersunk.takeoff.stock.articles import Article
from countersunk.takeoff.stock.units import UNITS, USUAL, amount, number

Taken = Sequence[tuple[Bring, Sequence[Share]]]
"""Measures with their shares, as a rule brings them to one article."""


def counted(count: int, noun: str) -> str:
    """``1 door``, ``6 doors``; of a compound such as ``length of worktop`` the first word takes the s."""
    if count == 1:
        return f"1 {noun}"
    head, *rest = noun.split(" ")
    if rest and rest[0] in ("of", "on", "at", "between"):
        return f"{count} {head}s {' '.join(rest)}"
    return f"{count} {noun[:-1]}ves" if noun.endswith("f") else f"{count} {noun}s"


def formula(taken: Taken) -> str:
    """Every measure with its terms: ``6 raw edges, 4.38 m × 38 mm × 2 coats``."""
    return " and ".join(f"{_shares(b, shares)}{_terms(b)}" for b, shares in taken)


def ordering(article: Article, net: float, needed: float, packs: int, *, covered: bool, plain: bool) -> str:
    """From the sum to the packs: ``÷ 10 m²/L = 0.067 L → 1 × tin of 0.5 L``; ``plain`` where there is no sum."""
    spread = f" ÷ {number(article.coverage.amount)} m²/L" if covered and article.coverage else ""
    result = "" if plain and not covered else f" = {amount(net, article.unit)}"
    percent = round((needed / net - 1) * 100, 6) if net else 0.0
    waste = f" + {number(percent)} % = {amount(needed, article.unit)}" if percent else ""
    packing = f" → {packs} × {article.packing}" if article.packing else ""
    return f"{spread}{result}{waste}{packing}"


def is_plain(taken: Taken) -> bool:
    """Whether the formula is one measure as it is, so that its sum is already said."""
    bring = taken[0][0]
    converted = bring.extra or bring.each or bring.steps or bring.every or bring.section
    return len(taken) == 1 and not converted and bring.multiplier == 1


def bar(stock: Bar, kerf: float) -> str:
    """One length and what it is cut into: ``T2 1905 + T4 1820 + kerf 4 + trim 10 on 4100``.

    Rows stand beside one another, as in ``T1 3612 | T2 1905 + T3 1400``; the kerf is that of the cuts across.
    """
    trim = f" + trim {stock.trim:g}" if stock.trim else ""
    if stock.has_rows:
        rows = [[p for p in stock.pieces if p.turned is turned] for turned in (False, True)]
        return f"{' | '.join(_added(row) for row in rows)} + kerf {kerf:g}{trim} on {stock.length:g}"
    count = len(stock.pieces)
    cuts = f" + kerf {kerf * (count - 1):g}" if count > 1 else ""
    saved = stock.net + kerf * (count - 1) + stock.pieces[0].x - stock.end
    nested = f" - {settled(saved):.0f} nested" if saved > 0.5 else ""
    return f"{_added(stock.pieces)}{cuts}{nested}{trim} on {stock.length:g}"


def _added(pieces: Sequence[Laid]) -> str:
    return " + ".join(f"{p.id} {settled(p.length):.0f}" for p in pieces)


def bound(plan: TopPlan) -> str:
    """How far a plan can be from the best one."""
    if not plan.priced:
        return "no price is known, so by area; " + (
            "less is impossible" if plan.at_bound else "a better plan may exist"
        )
    text = f"worktops {plan.cost:.2f} before discounts"
    text += f", ripping them {plan.labour:.2f}" if plan.labour else ""
    text += f", offcuts kept worth {plan.worth:.2f}" if plan.worth else ""
    if plan.at_bound:
        return f"{text}; cheaper is impossible"
    return f"{text}; below {plan.bound:.2f} is impossible, a cheaper plan may exist"


def _shares(bring: Bring, shares: Sequence[Share]) -> str:
    """How many things, and how much of them."""
    measure = MEASURES[bring.measure]
    things, strips = counted(len(shares), measure.noun), _strips(shares)
    if bring.steps or bring.every:
        return f"{things}{_spacing(bring)}: {_numbers(bring, shares)}"
    if measure.dimension == "count":
        total = sum(s.amount for s in shares)
        return things if total == len(shares) else f"{number(total)} for {things}"
    return f"{things}, {strips or _sum(bring, shares)}"


def _sum(bring: Bring, shares: Sequence[Share]) -> str:
    """Their sum in the usual unit, and what is added to each."""
    unit = USUAL[MEASURES[bring.measure].dimension]
    text = amount(sum(s.amount for s in shares) / UNITS[unit].size, unit)
    return f"{text} + {len(shares)} × {bring.extra:g} mm" if bring.extra else text


def _strips(shares: Sequence[Share]) -> str:
    """Lengths added up for each width, where every share is a strip."""
    widths: dict[float, float] = {}
    for share in shares:
        if share.along is None or share.across is None:
            return ""
        widths[share.across] = widths.get(share.across, 0.0) + share.along
    texts = [f"{number(along / 1000)} m × {across:g} mm" for across, along in widths.items()]
    return texts[0] if len(texts) == 1 else f"({' + '.join(texts)})"


def _spacing(bring: Bring) -> str:
    return f" at most {bring.every:g} mm apart, {bring.from_end:g} from the ends" if bring.every else " by size"


def _numbers(bring: Bring, shares: Sequence[Share]) -> str:
    """How many take how many: ``13 × 2 + 1 × 4``."""
    takes = Counter(round(bring.turned(s.amount) / bring.multiplier) for s in shares)
    text = " + ".join(f"{count} × {take}" for take, count in sorted(takes.items()))
    return f"({text})" if len(takes) > 1 and bring.multiplier != 1 else text


def _terms(bring: Bring) -> str:
    texts = [
        f"{amount(bring.each.amount, bring.each.unit)} each" if bring.each else "",
        f"{bring.section}" if bring.section else "",
        number(bring.factor) if bring.factor != 1 else "",
        f"{bring.coats} coats" if bring.coats > 1 else "",
        f"{bring.faces} faces" if bring.faces > 1 else "",
        f"{number(bring.thirst)} for a raw face" if bring.thirst > 1 else "",
    ]
    return "".join(f" × {t}" for t in texts if t)
