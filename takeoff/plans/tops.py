"""Tops: the lengths of worktop put on what is bought, at the least price; and a bound that proves it.

Lengths that share a section (thickness, nose, core) may come from any stock of that section that is deep enough, in
one decor, and several from one length. Fronts lie on a finished edge. Where the back shows or is finished as well,
only stock of the same depth will do. Slanting ends may be nested, and stock with two finished edges ripped into two
rows: `takeoff.cutting.stretches`. Sizes are rounded up to hundredths of a millimetre.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from shapely import MultiPoint, Polygon, union_all
from shapely import box as rectangle
from shapely.affinity import rotate, translate

from countersunk.model.geometry.profile import one_polygon
from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import ON_LINE
from countersunk.model.tops.worktops import Length
from countersunk.takeoff import cutting
from countersunk.takeoff.measuring.rules import Saw
from countersunk.takeoff.plans.strips import StripPiece
from countersunk.takeoff.plans.top_offers import COINS, Section, TopOffer, offers, section_of
from countersunk.takeoff.stock.offcuts import Offcut, new_offcut
from countersunk.takeoff.stock.prices import PriceBook
from countersunk.takeoff.stock.steps import FINE, down, up

CLOSE = 0.05
"""Sizes of a plan are rounded up by less than this, mm."""


@dataclass(frozen=True)
class Laid:
    """A length on its stock, mm: the corner nearest the stock's beginning and its back edge, and its extent.

    Its front is on the edge at the stock's depth, or ``turned`` by half a turn on the other. At an end that is
    routed the extent goes on by the room for that; ``corners`` are those of the convex hull of all of it where it
    lies, and `shape_on` is the piece itself. The frame is that of a part, left-handed with the decor up: x to the
    right and y up shows the underside.
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
    def trim(self) -> float:
        """What is taken off its ends together, mm; its first piece begins behind half of that."""
        return 2 * min(p.x for p in self.pieces)

    @property
    def has_rows(self) -> bool:
        """Whether somewhere two pieces lie side by side, each with its front on its own edge."""
        pairs = [(a, b) for a in self.pieces for b in self.pieces if a.turned is not b.turned]
        along = [(a, b) for a, b in pairs if a.x < b.x + b.length and b.x < a.x + a.length]
        return any(a.y + a.depth <= b.y for a, b in along)


@dataclass(frozen=True)
class TopPlan:
    """Bars of one section. No plan has a lower price than ``bound``.

    ``stocks`` are the codes that were asked for; ``unplaced`` is what no stock holds. Prices are those of the book;
    where none of these stocks has one (``priced`` is False) a metre of every stock costs 1 for each metre of depth.
    ``cost`` is of the stock, ``labour`` of ripping it, ``worth`` that of the offcuts kept, ``drawn`` what taking
    offcuts costs or, below 0, is worth; only the first is paid to a supplier. ``ripped`` is how long all cuts along
    the stock are, mm.
    """

    stocks: tuple[str, ...]
    bars: tuple[Bar, ...]
    cost: Decimal
    bound: Decimal
    priced: bool = True
    unplaced: tuple[StripPiece, ...] = ()
    labour: Decimal = Decimal(0)
    worth: Decimal = Decimal(0)
    ripped: float = 0.0
    drawn: Decimal = Decimal(0)

    @property
    def price(self) -> Decimal:
        """What plans are compared by: the stock and the work of ripping it, less what is left of it."""
        return self.cost + self.labour - self.worth + self.drawn

    @property
    def at_bound(self) -> bool:
        """Whether nothing costs less."""
        return self.price <= self.bound


def plan_tops(kitchen: Kitchen, saw: Saw, book: PriceBook, offcuts: Sequence[Offcut] = ()) -> tuple[TopPlan, ...]:
    """A plan for each section that the kitchen uses. What is kept is used before anything is bought."""
    return plan_together([kitchen], saw, book, offcuts)


def plan_together(
    kitchens: Sequence[Kitchen], saw: Saw, book: PriceBook, offcuts: Sequence[Offcut] = ()
) -> tuple[TopPlan, ...]:  # fmt: skip
    """The same for kitchens of one catalogue that share lengths where their decor is the same."""
    shared: dict[tuple[str, Section], list[tuple[Length, float]]] = {}
    for kitchen in kitchens:
        router = kitchen.allowances.router
        for length in kitchen.cut_here.lengths:
            key = length.run.top, section_of(length.run.stock)
            shared.setdefault(key, []).append((length, router))
    stocks = kitchens[0].catalogue.stocks
    plans = []
    for (decor, section), some in shared.items():
        lengths = [length for length, _ in some]
        asked = tuple(dict.fromkeys(length.run.stock.code for length in lengths))
        found = offers(stocks, section, asked, book, decor, offcuts)
        longest = max((offer.length for offer in found), default=0.0)
        shapes = (_roomy(length, saw.kerf, router, longest) for length, router in some)
        blanks = (
            _blank(length, f"{i}", shape) for i, (length, shape) in enumerate(zip(lengths, shapes, strict=True))
        )
        wanted = tuple(Wanted(blank, length.id) for blank, length in zip(blanks, lengths, strict=True))
        effort = _effort(saw, book, all(o.priced for o in found if o.stock in asked))
        plans.append(_planned(asked, decor, wanted, tuple(found), saw.kerf, saw.trim, effort))
    return tuple(plans)


def _effort(saw: Saw, book: PriceBook, priced: bool) -> cutting.Effort:
    """What ripping costs and rests are worth by the rules; nothing where there are no prices to go by."""
    rate = book.find(saw.rate) if priced else None
    metre = float(rate.price) * saw.rip / 60 if rate else 0.0
    keep = (up(saw.keep[0], FINE), up(saw.keep[1], FINE))
    return cutting.Effort(metre * COINS / 1000 / FINE, saw.worth if priced else 0.0, keep, COINS // 100)


@dataclass(frozen=True)
class Wanted:
    """A length as a blank in steps, and what today's numbering calls it: a plan is read on paper."""

    blank: cutting.Blank
    id: str

    @property
    def mm(self) -> float:
        """Its extent along the run."""
        return self.blank.length / FINE


def shape_on(length: Length, laid: Laid, kerf: float, router: float) -> Polygon:
    """A length as it is, where it lies on its stock, mm; holes are left out."""
    outline, whole = Polygon(length.part.outline.exterior), _roomy(length, kerf, router, laid.length + CLOSE)
    if laid.turned:
        outline, whole = (rotate(shape, 180.0, origin=(0.0, 0.0)) for shape in (outline, whole))
    x, y, *_ = whole.bounds
    corner = [min(values) for values in zip(*laid.corners, strict=True)]
    return translate(outline, corner[0] - x, corner[1] - y)


def _roomy(length: Length, kerf: float, router: float, longest: float) -> Polygon:
    """A length with what its routed ends take besides the saw cut, half of the router's room each.

    One that would then be longer than ``longest`` is alone on its stock, and needs no room for another.
    """
    part, half = length.part, (router - kerf) / 2
    routed = [e.joint.line_of(e.sex) for e in (length.left, length.right) if e.joint and not e.joint.has_strip]
    if half <= 0.0 or not routed:
        return Polygon(part.outline.exterior)
    rooms = [part.pose.plan_from_room(line).buffer(half, cap_style="square", join_style="mitre") for line in routed]
    x0, y0, x1, y1 = part.outline.bounds
    band = rectangle(x0 - router, y0, x1 + router, y1)
    roomy = one_polygon(union_all([Polygon(part.outline.exterior), *rooms]).intersection(band))
    low, _, high, _ = roomy.bounds
    return roomy if high - low <= longest else Polygon(part.outline.exterior)


def _blank(length: Length, name: str, outline: Polygon) -> cutting.Blank:
    """The convex hull of an ``outline`` of a length, no corner nearer its middle than it is.

    Rounded first, which may hollow it; from its left end on, so that a mirrored one is as long.
    """
    depth = length.run.stock.depth
    x0, y0, x1, y1 = outline.bounds
    middle = ((x1 - x0) / 2, (y0 + y1) / 2)
    rounded = [
        tuple(_away(v, m) for v, m in zip((x - x0, y + depth - y1), middle, strict=True))
        for x, y in outline.exterior.coords
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
    asked: tuple[str, ...], decor: str, wanted: tuple[Wanted, ...], found: tuple[TopOffer, ...], kerf: float,
    trim: float, effort: cutting.Effort,
) -> TopPlan:  # fmt: skip
    """The same lengths give the same plan, and give it at once again.

    A length that would leave less than the trim of whatever is sold comes from one that is not trimmed.
    """
    trimmed, whole = _stocks(found, trim), [s for s in _stocks(found, 0.0) if s.quantity is None]
    loose = [w for w in wanted if any(_holds(w, s) for s in trimmed)]
    tight = [w for w in wanted if w not in loose and any(_holds(w, s) for s in whole)]
    left = [w for w in wanted if w not in loose and w not in tight]
    saw, makes = cutting.Blade(kerf=up(kerf, FINE)), _Maker(wanted, decor, up(kerf, FINE), effort)
    bars, cost, bound, labour, worth, drawn, along = [], Decimal(0), Decimal(0), 0, 0, 0, 0
    for some, stocks, off in ((loose, trimmed, trim), (tight, whole, 0.0)):
        plan = cutting.cut_edged([w.blank for w in some], stocks, saw, effort)
        bars += [makes.bar(found[int(u.stock.id)], u, 0.0 if u.stock.kept else off) for u in plan.used]
        labour += sum(effort.labour(used, saw.kerf) for used in plan.used)
        along += sum(cutting.ripped(used, saw.kerf) for used in plan.used)
        worth += sum(effort.worth(used, saw.kerf) for used in plan.used)
        drawn += sum(effort.drawn(used) for used in plan.used)
        left += [wanted[int(name)] for name in plan.unplaced]
        cost += sum(found[int(used.stock.id)].price for used in plan.used)
        bound += Decimal(plan.lower_bound) / COINS
    return TopPlan(
        asked,
        tuple(sorted(bars, key=lambda b: (-b.length, b.pieces[0].id))),
        cost,
        bound,
        all(o.priced for o in found if o.stock in asked and not o.offcut),
        tuple(StripPiece(w.id, w.mm) for w in left),
        Decimal(labour) / COINS,
        Decimal(worth) / COINS,
        along / FINE,
        Decimal(drawn) / COINS,
    )


def _holds(wanted: Wanted, stock: cutting.CutStock) -> bool:
    return cutting.can_hold(stock, wanted.blank) and wanted.blank.length <= stock.length


def _stocks(found: Sequence[TopOffer], trim: float) -> list[cutting.CutStock]:
    return [_stock(f"{i}", offer, trim) for i, offer in enumerate(found)]


def _stock(name: str, offer: TopOffer, trim: float) -> cutting.CutStock:
    """In steps, without its trim; the ends of what is kept are sawn."""
    length, depth = (down(v, FINE) for v in (offer.length - (0.0 if offer.is_kept else trim), offer.depth))
    quantity = offer.offcut.quantity if offer.offcut else None
    return cutting.CutStock(
        name, max(0, length), int(offer.price * COINS), quantity, depth, offer.both_edges, offer.is_kept,
        int(offer.new * COINS),
    )  # fmt: skip


@dataclass(frozen=True)
class _Maker:
    """Turns a plan in steps into bars in mm, half of the trim before the first piece."""

    wanted: tuple[Wanted, ...]
    decor: str
    kerf: int
    effort: cutting.Effort

    def bar(self, offer: TopOffer, used: cutting.Used, trim: float) -> Bar:
        """A length of stock with its pieces from the beginning on, and what is worth keeping of it."""
        pieces = [self._laid(cut, offer, trim / 2) for cut in sorted(used.cuts, key=lambda c: (c.x, c.rotated))]
        kept = [(length / FINE, depth / FINE) for length, depth in self.effort.kept(used, self.kerf)]
        return replace(_bar(offer, pieces), left=tuple(new_offcut(offer.stock, self.decor, *size) for size in kept))

    def _laid(self, cut: cutting.Cut, offer: TopOffer, begin: float) -> Laid:
        wanted = self.wanted[int(cut.id)]
        x, y = cut.x / FINE + begin, cut.y / FINE
        outline = wanted.blank.lying(_stock("", offer, 0.0), cut.rotated).exterior.coords[:-1]
        corners = tuple((px / FINE + x, py / FINE) for px, py in outline)
        return Laid(wanted.id, x, y, cut.length / FINE, cut.width / FINE, cut.rotated, corners)


def _bar(offer: TopOffer, pieces: Sequence[Laid]) -> Bar:
    kept, price = offer.offcut, offer.price if offer.priced else None
    own = (kept.price, kept.id) if kept else (price, "")
    return Bar(offer.stock, offer.length, offer.depth, tuple(pieces), *own)
