"""Stretches: the least length of stock that a set of pieces with a finished front takes, and how they lie.

A length is cut square across into *stretches*. A stretch holds one piece; or two whose slanting ends lie back to
back, a straight saw cut apart; or it is ripped once into two *rows*, each with its pieces' fronts on an edge of the
stock. A front never leaves a finished edge: on stock with one edge no piece is turned, on stock with two a piece
may be turned by half a turn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from shapely import Polygon
from shapely.affinity import affine_transform

from countersunk.takeoff.cutting.values import Cut, CutStock

Point = tuple[int, int]
Stretch = tuple[int, tuple[Cut, ...]]
"""A length, and the pieces in it from its beginning on."""


@dataclass(frozen=True)
class Blank:
    """A piece by the corners of its convex hull: x from its left end, y from its back to its front.

    ``both_edges`` says that its back is finished as well: it needs stock of its own depth with two edges.
    """

    id: str
    corners: tuple[Point, ...]
    both_edges: bool = False

    @cached_property
    def length(self) -> int:
        """Its extent along the stock."""
        return max(x for x, _ in self.corners)

    @cached_property
    def depth(self) -> int:
        """Its extent across the stock."""
        return max(y for _, y in self.corners)

    @cached_property
    def slants(self) -> tuple[bool, bool]:
        """Whether its left and its right end is anything but square."""
        ends = [{y for x, y in self.corners if x == end} for end in (0, self.length)]
        left, right = (not {0, self.depth} <= ys for ys in ends)
        return left, right

    def lying(self, stock: CutStock, turned: bool) -> Polygon:
        """Where it lies with its left end at 0: the front on the far edge, or turned and on the near one."""
        place = [-1, 0, 0, -1, self.length, self.depth] if turned else [1, 0, 0, 1, 0, stock.width - self.depth]
        return affine_transform(Polygon(self.corners), place)

    def cut(self, x: int, stock: CutStock, turned: bool) -> Cut:
        """The same as a cut that begins at ``x``."""
        return Cut(self.id, x, self.length, 0 if turned else stock.width - self.depth, self.depth, turned)


def can_hold(stock: CutStock, blank: Blank) -> bool:
    """Whether depth and edges of the stock suit; its length aside."""
    if blank.both_edges:
        return stock.both_edges and stock.width == blank.depth
    return blank.depth <= stock.width


@dataclass
class Least:
    """The least length that a set of blanks takes of a stock, and how; ripped only where ``in_rows``."""

    blanks: Sequence[Blank]
    stock: CutStock
    kerf: int
    in_rows: bool = True
    known: dict[int, Stretch] = field(default_factory=dict)
    rows: dict[int, Stretch | None] = field(default_factory=dict)
    nests: dict[tuple[int, int], Stretch | None] = field(default_factory=dict)

    def suits(self, members: int) -> bool:
        """Whether depth and edges suit every blank of the set."""
        return all(can_hold(self.stock, self.blanks[i]) for i in numbers(members))

    def of(self, members: int) -> Stretch:
        """Over all ways to part the set into stretches, by that of its first blank."""
        if members not in self.known:
            ways = (_behind(one, self.of(rest), self.kerf) for one, rest in self._first(members))
            self.known[members] = min(ways, key=lambda way: way[0], default=(0, ()))
        return self.known[members]

    def _first(self, members: int) -> Iterator[tuple[Stretch, int]]:
        """Every stretch with the first blank in it, and the blanks that are left."""
        if not members:
            return
        first, *others = numbers(members)
        yield self._alone(first), members & ~(1 << first)
        for other in others:
            nest = self._nested(first, other)
            if nest:
                yield nest, members & ~(1 << first | 1 << other)
        if self.stock.both_edges and self.in_rows:
            beside = [i for i in others if self._go_beside(first, i)]
            for some in _subsets(beside):
                ripped = self._ripped(some | 1 << first)
                if ripped:
                    yield ripped, members & ~(some | 1 << first)

    def _alone(self, i: int) -> Stretch:
        return self.blanks[i].length, (self.blanks[i].cut(0, self.stock, False),)

    def _nested(self, i: int, j: int) -> Stretch | None:
        """Both back to back in the order that takes least, if that saves anything."""
        if (i, j) not in self.nests:
            turns = (False, True) if self.stock.both_edges else (False,)
            pairs = [(a, b, s, t) for a, b in ((i, j), (j, i)) for s in turns for t in turns]
            best = min((self._pair(*pair) for pair in pairs), key=lambda pair: pair[0])
            plain = self.blanks[i].length + self.kerf + self.blanks[j].length
            self.nests[i, j] = best if best[0] < plain else None
        return self.nests[i, j]

    def _pair(self, a: int, b: int, turn_a: bool, turn_b: bool) -> Stretch:
        one, two = self.blanks[a], self.blanks[b]
        if not (one.slants[not turn_a] and two.slants[turn_b]):
            return one.length + self.kerf + two.length, ()
        at = nearest(one.lying(self.stock, turn_a), two.lying(self.stock, turn_b), one.length, self.kerf)
        length = max(one.length, at + two.length)
        return length, (one.cut(0, self.stock, turn_a), two.cut(at, self.stock, turn_b))

    def _go_beside(self, i: int, j: int) -> bool:
        """Whether both may be in one ripped stretch."""
        one, two = self.blanks[i], self.blanks[j]
        return not (one.both_edges or two.both_edges) and max(one.depth, two.depth) < self.stock.width - self.kerf

    def _ripped(self, members: int) -> Stretch | None:
        """All in two rows, the shorter the better; None where no cut parts them."""
        if members not in self.rows:
            others = numbers(members)[1:]
            splits = ((members & ~some, some) for some in _subsets(others))
            ways = [self._in_rows(*split) for split in splits if self._have_room(*split)]
            self.rows[members] = min(ways, key=lambda way: way[0], default=None)
        return self.rows[members]

    def _have_room(self, one: int, two: int) -> bool:
        depths = [max(self.blanks[i].depth for i in numbers(row)) for row in (one, two)]
        return sum(depths) + self.kerf <= self.stock.width

    def _in_rows(self, one: int, two: int) -> Stretch:
        rows = [self._row(numbers(one), False), self._row(numbers(two), True)]
        return max(length for length, _ in rows), (*rows[0][1], *rows[1][1])

    def _row(self, some: Sequence[int], turned: bool) -> Stretch:
        x, cuts = 0, []
        for i in some:
            cuts.append(self.blanks[i].cut(x, self.stock, turned))
            x += self.blanks[i].length + self.kerf
        return x - self.kerf, tuple(cuts)


def numbers(members: int) -> list[int]:
    return [i for i in range(members.bit_length()) if members >> i & 1]


def _subsets(some: Sequence[int]) -> Iterator[int]:
    """Every set of these but the empty one, as bits."""
    for chosen in range(1, 1 << len(some)):
        yield sum(1 << i for k, i in enumerate(some) if chosen >> k & 1)


def _behind(one: Stretch, rest: Stretch, kerf: int) -> Stretch:
    """A stretch with others behind it, a saw cut apart."""
    if not rest[1]:
        return one
    at = one[0] + kerf
    return at + rest[0], (*one[1], *(replace(cut, x=cut.x + at) for cut in rest[1]))


def nearest(one: Polygon, two: Polygon, length: int, kerf: int) -> int:
    """The least place of ``two`` beside ``one`` at which a straight saw cut passes between them.

    Both begin at 0 and are convex: a strip as wide as the kerf parts them where they are as far apart.
    """
    low, high = max(one.bounds[1], two.bounds[1]), min(one.bounds[3], two.bounds[3])
    if low >= high:
        return length + kerf
    apart = max(1, kerf)  # without a kerf a step, for what overlaps is 0 apart as well
    within, enough = 0, length + kerf
    while enough - within > 1:
        middle = (within + enough) // 2
        if one.distance(affine_transform(two, [1, 0, 0, 1, middle, 0])) >= apart and middle > 0:
            enough = middle
        else:
            within = middle
    return enough
