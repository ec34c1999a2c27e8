"""Consequences: what a change of a kitchen means for what was ordered or cut for it, piece by piece.

A comparison of two takeoffs says what the new kitchen costs by itself. Once pieces are cut that is not the truth:
a top that has come out 4 mm longer cannot be made of the one there is. Pieces are compared as shapes, never by name
or place, since a name moves when a unit is put in before it.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import product

from shapely import get_coordinates, get_rings
from shapely.affinity import translate
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.terms import Terms
from countersunk.takeoff.measuring.rules import TakeoffRules, default_rules
from countersunk.takeoff.plans.boards import board_plans, sheet_parts
from countersunk.takeoff.plans.tops import plan_tops
from countersunk.takeoff.stock.money import HUNDRED, cents
from countersunk.takeoff.stock.prices import Price, PriceBook

STEP = 100
"""Outlines are compared by hundredths of a millimetre."""

SPARE = 0.01
"""A piece may stand out of the one that it is cut down from by less than this, mm."""


@dataclass(frozen=True)
class SawnPiece:
    """A part that is sawn, and the code of the decor of its board or stock."""

    part: Part
    decor: str

    @property
    def makeup(self) -> tuple[object, ...]:
        """What two pieces must have in common for one to be cut down from the other."""
        p = self.part
        section = _corners(p.section) if p.section else ()
        return p.material, self.decor, round(p.thickness * STEP), p.grain, section

    @property
    def shape(self) -> tuple[object, ...]:
        """The same for two pieces that are alike in all that a saw, an edge bander and a drill does."""
        p = self.part
        x, y, *_ = p.outline.bounds
        pockets = sorted(
            (_corners(translate(k.outline, -x, -y)), round(k.low * STEP), round(k.high * STEP)) for k in p.pockets
        )
        return self.makeup, _corners(translate(p.outline, -x, -y)), tuple(sorted(p.banded)), tuple(pockets)


@dataclass(frozen=True)
class Consequence:
    """Pieces of a kitchen now, beside those of the one for which they were ordered or cut.

    ``kept`` and ``cut_down`` are pairs of the piece there is and the piece that it becomes; ``new`` is made anew
    and ``left_over`` is of no use for this kitchen. ``cost`` is that of the sheets and lengths bought for what is
    new, without tax and mark-up, suppliers' discounts taken off; None where one has no price.
    """

    kept: tuple[tuple[SawnPiece, SawnPiece], ...]
    cut_down: tuple[tuple[SawnPiece, SawnPiece], ...]
    new: tuple[SawnPiece, ...]
    left_over: tuple[SawnPiece, ...]
    cost: Decimal | None


def sawn_pieces(kitchen: Kitchen) -> Iterator[SawnPiece]:
    """Every piece that is sawn: the lengths of the tops, and what is cut from sheets."""
    for length in kitchen.lengths:
        yield SawnPiece(length.part, length.run.top)
    for part in sheet_parts(kitchen):
        yield SawnPiece(part, kitchen.decor_of(part))


def consequence(
    ordered: Kitchen, now: Kitchen, book: PriceBook, terms: Terms, rules: TakeoffRules | None = None
) -> Consequence:
    """What becomes of the pieces of ``ordered`` if the kitchen is made as it is ``now``."""
    kept, old, new = _alike(sawn_pieces(ordered), sawn_pieces(now))
    cut_down, left, anew = _cut_down(old, new)
    return Consequence(kept, cut_down, anew, left, _cost(now, anew, book, terms, rules or default_rules()))


Pairs = tuple[tuple[SawnPiece, SawnPiece], ...]
Pieces = tuple[SawnPiece, ...]


def _alike(old: Iterable[SawnPiece], new: Iterable[SawnPiece]) -> tuple[Pairs, Pieces, Pieces]:
    """Pairs of one shape, and what is left of either side."""
    there: dict[object, list[SawnPiece]] = defaultdict(list)
    for piece in old:
        there[piece.shape].append(piece)
    pairs, lacking = [], []
    for piece in new:
        same = there[piece.shape]
        if same:
            pairs.append((same.pop(0), piece))
        else:
            lacking.append(piece)
    return tuple(pairs), tuple(piece for rest in there.values() for piece in rest), tuple(lacking)


def _cut_down(old: Pieces, new: Pieces) -> tuple[Pairs, Pieces, Pieces]:
    """The largest new pieces first, each from the smallest old one that holds it."""
    rest = sorted(old, key=lambda piece: round(piece.part.area))
    pairs, anew = [], []
    for piece in sorted(new, key=lambda piece: -round(piece.part.area)):
        found = next((o for o in rest if _holds(o, piece)), None)
        if found is None:
            anew.append(piece)
        else:
            rest.remove(found)
            pairs.append((found, piece))
    return tuple(pairs), tuple(rest), tuple(anew)


def _holds(old: SawnPiece, new: SawnPiece) -> bool:
    """Whether a piece can be cut from another: as it lies, from one of its corners, clear of its holes and slots.

    A top keeps its front on the front of the old one, since that has the finished edge.
    """
    if old.makeup != new.makeup:
        return False
    there: BaseGeometry = old.part.outline
    for pocket in old.part.pockets:
        there = there.difference(pocket.outline)
    x0, y0, x1, y1 = old.part.outline.bounds
    u0, v0, u1, v1 = new.part.outline.bounds
    if u1 - u0 > x1 - x0 + SPARE or v1 - v0 > y1 - y0 + SPARE:
        return False
    across = (y1 - v1,) if old.part.section else (y0 - v0, y1 - v1)
    room = there.buffer(SPARE, join_style="mitre")
    return any(room.covers(translate(new.part.outline, dx, dy)) for dx, dy in product((x0 - u0, x1 - u1), across))


def _cost(now: Kitchen, anew: Pieces, book: PriceBook, terms: Terms, rules: TakeoffRules) -> Decimal | None:
    """What the lengths and sheets cost that the new pieces are cut from."""
    packs = _packs(now, {piece.part.id for piece in anew}, book, rules)
    costs = [_paid(book.find(code, decor), number, terms) for (code, decor), number in packs.items()]
    known = [cost for cost in costs if cost is not None]
    return sum(known, Decimal("0.00")) if len(known) == len(costs) else None


def _packs(now: Kitchen, ids: Collection[str], book: PriceBook, rules: TakeoffRules) -> Counter[tuple[str, str]]:
    """How many of each length and sheet, by its code and decor."""
    lengths = {length.id: length for length in now.lengths if length.part.id in ids}
    tops = plan_tops(replace(now, lengths=tuple(lengths.values())), rules.saw, book) if lengths else ()
    boards = board_plans(replace(now, parts=tuple(part for part in now.parts if part.id in ids)), rules)
    bars = [bar for plan in tops for bar in plan.bars]
    found = Counter((f"{bar.stock}.{bar.length:g}", lengths[bar.pieces[0].id].run.top) for bar in bars)
    return found + Counter({(plan.board.code, plan.decor_code): plan.bought for plan in boards})


def _paid(price: Price | None, packs: int, terms: Terms) -> Decimal | None:
    if price is None:
        return None
    listed = cents(price.price * packs)
    return listed - cents(listed * terms.discount(price.supplier) / HUNDRED)


def _corners(shape: Polygon) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Its rings in hundredths of a millimetre, each from its least corner on, the outer one anticlockwise."""
    return tuple(
        tuple((round(x * STEP), round(y * STEP)) for x, y in get_coordinates(ring)[:-1])
        for ring in get_rings(shape.normalize())
    )
