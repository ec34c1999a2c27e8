"""Tops: the lengths of worktop put on what is bought, at the least price; and a bound that proves it.

Lengths that share a section (thickness, nose, core) may come from any stock of that section that is deep enough, in
one decor, and several from one length. Fronts lie on a finished edge. Where the back shows or is finished as well,
only stock of the same depth will do. Slanting ends may be nested, and stock with two finished edges ripped into two
rows: `takeoff.cutting.stretches`. Sizes are rounded up to hundredths of a millimetre.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from shapely import MultiPoint

from model.kitchen import Kitchen
from model.tolerance import ON_LINE
from model.worktops import Length
from takeoff import cutting
from takeoff.lengths import Piece
from takeoff.offcuts import Offcut, new_offcut
from takeoff.prices import PriceBook
from takeoff.rules import Saw
from takeoff.steps import FINE, down, up
from takeoff.top_offers import COINS, Offer, Section, offers, section_of


@dataclass(frozen=True)
class Laid:
    """A length on its stock, mm: the corner nearest the stock's beginning and its back edge, and its extent.

    Its front is on the edge at the stock's depth, or ``turned`` by half a turn on the other. ``corners`` are those
    of its convex hull where it lies. The frame is that of a part, left-handed with the decor up: x to the right and
    y up shows the underside.
    """

    id: str
    x: float
    y: float
    length: float
    depth: float
    turned: bool
    corners: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Bar:
    """A length of stock, mm, and what is cut from it; ``price`` None is not known. ``offcut`` names one kept."""

    stock: str
    length: float
    depth: float
    pieces: tuple[Laid, ...]
    price: Decimal | None = None
    offcut: str = ""
    left: tuple[Offcut, ...] = ()

    @property
    def net(self) -> float:
        """What its pieces measure along it, mm."""
        return sum(p.length for p in self.pieces)

    @property
    def end(self) -> float:
        """Where the last piece ends, mm from the stock's beginning."""
        return max(p.x + p.length for p in self.pieces)

    @property
    def has_rows(self) -> bool:
        """Whether somewhere two pieces lie side by side, each with its front on its own edge."""
        pairs = [(a, b) for a in self.pieces for b in self.pieces if a.turned is not b.turned]
        along = [(a, b) for a, b in pairs if a.x < b.x + b.length and b.x < a.x + a.length]
        return any(a.y + a.depth <= b.y for a, b in along)


@dataclass(frozen=True)
class Plan:
    """Bars of one section. No purchase can cost less than ``bound``.

    ``stocks`` are the codes that were asked for; ``unplaced`` is what no stock holds. Prices are those of the book;
    where none of these stocks has one (``priced`` is False) a metre of every stock costs 1 for each metre of depth.
    """

    stocks: tuple[str, ...]
    bars: tuple[Bar, ...]
    cost: Decimal
    bound: Decimal
    priced: bool = True
    unplaced: tuple[Piece, ...] = ()

    @property
    def at_bound(self) -> bool:
        """Whether nothing costs less."""
        return self.cost <= self.bound


def plan_tops(kitchen: Kitchen, saw: Saw, book: PriceBook, offcuts: Sequence[Offcut] = ()) -> tuple[Plan, ...]:
    """A plan for each section that the kitchen uses. What is kept is used before anything is bought."""
    return plan_together([kitchen], saw, book, offcuts)


def plan_together(
    kitchens: Sequence[Kitchen], saw: Saw, book: PriceBook, offcuts: Sequence[Offcut] = ()
) -> tuple[Plan, ...]:  # fmt: skip
    """The same for kitchens of one catalogue that share lengths where their decor is the same."""
    shared: dict[tuple[str, Section], list[Length]] = {}
    for kitchen in kitchens:
        for length in kitchen.lengths:
            key = kitchen.document.worktop.decor, section_of(length.run.stock)
            shared.setdefault(key, []).append(length)
    stocks = kitchens[0].catalogue.stocks
    plans = []
    for (decor, section), lengths in shared.items():
        asked = tuple(dict.fromkeys(length.run.stock.code for length in lengths))
        found = offers(stocks, section, asked, book, decor, offcuts)
        wanted = tuple(Wanted(_blank(length, f"{i}"), length.id) for i, length in enumerate(lengths))
        plans.append(_planned(asked, decor, wanted, tuple(found), saw.kerf, saw.trim, saw.keep))
    return tuple(plans)


@dataclass(frozen=True)
class Wanted:
    """A length as a blank in steps, and its id in the kitchen."""

    blank: cutting.Blank
    id: str

    @property
    def mm(self) -> float:
        """Its extent along the run."""
        return self.blank.length / FINE


def _blank(length: Length, name: str) -> cutting.Blank:
    """The convex hull of a length, no corner nearer its middle than it is; rounded first, which may hollow it."""
    depth, part = length.run.stock.depth, length.part
    x0, y0, x1, y1 = part.outline.bounds
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    rounded = [
        tuple(_away(v, m) for v, m in zip((x, y + depth - y1), middle, strict=True))
        for x, y in part.outline.exterior.coords
    ]
    corners = [(int(x), int(y)) for x, y in MultiPoint(rounded).convex_hull.boundary.coords[:-1]]
    left, low = (min(values) for values in zip(*corners, strict=True))
    finished = length.run.stock.both_edges and y0 < ON_LINE
    return cutting.Blank(name, tuple((x - left, y - low) for x, y in corners), finished)


def _away(mm: float, middle: float) -> int:
    """In steps, rounded away from the middle."""
    return (up if mm > middle else down)(mm, FINE)


@lru_cache(maxsize=256)
def _planned(
    asked: tuple[str, ...], decor: str, wanted: tuple[Wanted, ...], found: tuple[Offer, ...], kerf: float,
    trim: float, keep: tuple[float, float],
) -> Plan:  # fmt: skip
    """The same lengths give the same plan, and give it at once again."""
    stocks = [_stock(f"{i}", offer, trim) for i, offer in enumerate(found)]
    loose = [w for w in wanted if any(_holds(w, s) for s in stocks)]
    alone = [(w, _untrimmed(w, found)) for w in wanted if w not in loose]
    tight = [(w, offer) for w, offer in alone if offer]
    plan = cutting.cut_edged([w.blank for w in loose], stocks, cutting.Saw(kerf=up(kerf, FINE)))
    makes = _Maker(wanted, decor, kerf, trim, keep)
    bars = [makes.bar(found[int(used.stock.id)], used.cuts) for used in plan.used]
    bars += [makes.alone(offer, w) for w, offer in tight]
    extra = sum((offer.price for _, offer in tight), Decimal(0))
    left = [w for w, offer in alone if not offer] + [wanted[int(name)] for name in plan.unplaced]
    return Plan(
        asked,
        tuple(sorted(bars, key=lambda b: (-b.length, b.pieces[0].id))),
        sum((found[int(u.stock.id)].price for u in plan.used), extra),
        Decimal(plan.lower_bound) / COINS + extra,
        all(o.priced for o in found if o.stock in asked and not o.offcut),
        tuple(Piece(w.id, w.mm) for w in left),
    )


def _untrimmed(wanted: Wanted, found: Sequence[Offer]) -> Offer | None:
    """The cheapest length that holds a piece which leaves less than the trim."""
    whole = [offer for offer in found if not offer.offcut and _holds(wanted, _stock("", offer, 0.0))]
    return min(whole, key=lambda offer: offer.price, default=None)


def _holds(wanted: Wanted, stock: cutting.Stock) -> bool:
    return cutting.can_hold(stock, wanted.blank) and wanted.blank.length <= stock.length


def _stock(name: str, offer: Offer, trim: float) -> cutting.Stock:
    """In steps, without its trim."""
    length, depth = (down(v, FINE) for v in (offer.length - trim, offer.depth))
    quantity = offer.offcut.quantity if offer.offcut else None
    return cutting.Stock(name, max(0, length), int(offer.price * COINS), quantity, depth, offer.both_edges)


@dataclass(frozen=True)
class _Maker:
    """Turns a plan in steps into bars in mm, half of the trim before the first piece."""

    wanted: tuple[Wanted, ...]
    decor: str
    kerf: float
    trim: float
    keep: tuple[float, float]

    def bar(self, offer: Offer, cuts: Sequence[cutting.Cut]) -> Bar:
        """A length of stock with its pieces from the beginning on, and what is worth keeping of it."""
        pieces = [self._laid(cut, offer, self.trim / 2) for cut in sorted(cuts, key=lambda c: (c.x, c.rotated))]
        bar = _bar(offer, pieces)
        left = tuple(new_offcut(offer.stock, self.decor, *size) for size in self._left(bar) if self._is_kept(*size))
        return replace(bar, left=left)

    def alone(self, offer: Offer, wanted: Wanted) -> Bar:
        """A piece that leaves less than the trim."""
        cut = wanted.blank.cut(0, _stock("", offer, 0.0), False)
        return _bar(offer, [self._laid(cut, offer, 0.0)])

    def _laid(self, cut: cutting.Cut, offer: Offer, begin: float) -> Laid:
        wanted = self.wanted[int(cut.id)]
        x, y = cut.x / FINE + begin, cut.y / FINE
        outline = wanted.blank.lying(_stock("", offer, 0.0), cut.rotated).exterior.coords[:-1]
        corners = tuple((px / FINE + x, py / FINE) for px, py in outline)
        return Laid(wanted.id, x, y, cut.length / FINE, cut.width / FINE, cut.rotated, corners)

    def _left(self, bar: Bar) -> Iterator[tuple[float, float]]:
        """What is left behind the last piece, and of each row beside a longer one, with its finished edge."""
        yield bar.length - self.trim / 2 - bar.end - self.kerf, bar.depth
        for turned in (False, True):
            row, other = ([p for p in bar.pieces if p.turned is side] for side in (turned, not turned))
            end = max((p.x + p.length for p in row), default=bar.end)
            beside = [p.depth for p in other if p.x + p.length > end]
            if beside and min(p.x for p in other if p.x + p.length > end) <= end:
                yield bar.end - end - self.kerf, bar.depth - max(beside) - self.kerf

    def _is_kept(self, length: float, depth: float) -> bool:
        return length >= max(self.keep) and depth >= min(self.keep)


def _bar(offer: Offer, pieces: Sequence[Laid]) -> Bar:
    name = offer.offcut.id if offer.offcut else ""
    return Bar(offer.stock, offer.length, offer.depth, tuple(pieces), offer.price if offer.priced else None, name)
