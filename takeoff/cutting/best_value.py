"""Best value: what to cut from one stock where not everything can be, so that it is worth the most.

A *build* is a rectangle put together of pieces by cuts from edge to edge. Builds are joined side by side and one
above the other, the most promising first (Viswanathan and Bagchi 1993, from memory): what a build can still become
is bounded by the unlimited problem on the rest of the sheet (Gilmore and Gomory 1966, from memory). A packing comes
first, and builds that cannot beat it are left out; when none is left, the best is proven. Lengths are a plain
knapsack.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count
from math import gcd, inf

from countersunk.takeoff.cutting.clock import Clock
from countersunk.takeoff.cutting.knapsack import knapsack
from countersunk.takeoff.cutting.promise import Promise, promise
from countersunk.takeoff.cutting.sheets import pack_valuable
from countersunk.takeoff.cutting.values import Blade, Cut, CutPiece, CutStock, Used, fits
from countersunk.takeoff.cutting.verify import checked_one

JOINS = 1_500_000
"""Pairs of builds looked at before the search ends, shared among the pieces."""


@dataclass(frozen=True)
class Valued:
    """What is cut from one stock, what it is worth, and a worth that nothing exceeds."""

    used: Used
    value: int
    bound: int
    effort: int
    hurried: bool

    @property
    def proven(self) -> bool:
        """Whether nothing else is worth more."""
        return self.value == self.bound


@dataclass(frozen=True)
class Build:
    """A rectangle and what is in it: a piece (its number, and whether turned), or two builds and their axis."""

    length: int
    width: int
    value: int
    counts: tuple[int, ...]
    made_of: tuple[int, bool] | tuple[Build, Build, int]


def best_value(pieces: Sequence[CutPiece], stock: CutStock, saw: Blade, *, seconds: float = inf) -> Valued:
    """The pieces worth the most that one ``stock`` holds."""
    clock, saw = Clock(seconds), saw.on(stock)
    if not stock.width:
        return _best_length(pieces, stock, saw, clock)
    fit = [p for p in pieces if fits(p, stock, saw)]
    if not fit:
        return Valued(Used(stock, ()), 0, 0, clock.steps, False)
    packed = pack_valuable(fit, stock, saw, clock)
    room = saw.kerf - 2 * saw.trim
    search = _Search(fit, (stock.length + room, stock.width + room), saw.kerf, _worth(packed, fit))
    clock.steps = 0
    bound = min(search.run(clock), _by_area(fit, stock, saw))
    cuts = tuple(_cuts(search.best, fit, saw.trim, saw.trim, saw.kerf)) if search.best else packed.cuts
    used = checked_one(Used(stock, cuts), pieces, saw)
    return Valued(used, search.worth, bound, clock.steps, clock.is_over)


def _by_area(pieces: Sequence[CutPiece], stock: CutStock, saw: Blade) -> int:
    """The most value if pieces could be poured: the dearest for their area first, the last in part."""
    grown = saw.kerf - 2 * saw.trim
    room, worth = (stock.length + grown) * (stock.width + grown), Fraction(0)
    for dear, area in sorted((_dear(p, saw.kerf) for p in pieces), reverse=True):
        poured = min(room, area)
        worth += poured * dear
        room -= poured
    return int(worth)


def _dear(piece: CutPiece, kerf: int) -> tuple[Fraction, int]:
    """What a piece is worth for its area, and the area of all of its kind."""
    area = (piece.length + kerf) * (piece.width + kerf)
    return Fraction(piece.value, area), area * piece.quantity


def _worth(used: Used, pieces: Sequence[CutPiece]) -> int:
    values = {p.id: p.value for p in pieces}
    return sum(values[cut.id] for cut in used.cuts)


def _best_length(pieces: Sequence[CutPiece], stock: CutStock, saw: Blade, clock: Clock) -> Valued:
    """One dimension: exact at once."""
    room = stock.length + saw.kerf - 2 * saw.trim
    fit = [p for p in pieces if p.length + saw.kerf <= room]
    if not fit:
        return Valued(Used(stock, ()), 0, 0, clock.steps, False)
    step = gcd(*(p.length + saw.kerf for p in fit))
    sizes = [(p.length + saw.kerf) // step for p in fit]
    table = knapsack(sizes, [p.quantity for p in fit], [p.value for p in fit], room // step)
    cuts, at = [], saw.trim
    for piece, number in zip(fit, table.best(room // step), strict=True):
        for _ in range(number if piece.value else 0):
            cuts.append(Cut(piece.id, at, piece.length))
            at += piece.length + saw.kerf
    worth = table.worth(room // step)
    return Valued(checked_one(Used(stock, tuple(cuts)), pieces, saw), worth, worth, clock.steps, False)


class _Search:
    """Builds by promise, until none can beat the best; at first that is worth as much as is already packed."""

    def __init__(self, pieces: Sequence[CutPiece], sheet: tuple[int, int], kerf: int, worth: int) -> None:
        self.pieces, self.sheet, self.kerf = pieces, sheet, kerf
        self.limits = tuple(p.quantity for p in pieces)
        self.promise: Promise = promise([*_shapes(pieces, sheet, kerf)], sheet)
        self.best: Build | None = None
        self.worth = worth
        self.waiting: list[tuple[int, int, Build]] = []
        self.known: dict[tuple[int, ...], list[tuple[int, int]]] = {}
        self.number = count()

    def run(self, clock: Clock) -> int:
        """Search, and return what nothing exceeds."""
        for build in self._single():
            self._offer(build)
        done: list[Build] = []
        while self.waiting and -self.waiting[0][0] > self.worth:
            if clock.steps * max(10, len(self.pieces)) > JOINS or clock.is_over:
                return -self.waiting[0][0]
            build = heapq.heappop(self.waiting)[2]
            done.append(build)
            clock.steps += len(done)
            for other in done:
                self._join(build, other)
        return self.worth

    def _single(self) -> Iterator[Build]:
        for i, piece in enumerate(self.pieces):
            counts = tuple(int(j == i) for j in range(len(self.pieces)))
            for turned in (False, True) if piece.turns else (False,):
                sides = (piece.width, piece.length) if turned else (piece.length, piece.width)
                length, width = (side + self.kerf for side in sides)
                if length <= self.sheet[0] and width <= self.sheet[1]:
                    yield Build(length, width, piece.value, counts, (i, turned))

    def _join(self, a: Build, b: Build) -> None:
        """Side by side and one above the other, as far as the sheet and the demand go."""
        counts = tuple(map(sum, zip(a.counts, b.counts, strict=True)))
        if any(n > limit for n, limit in zip(counts, self.limits, strict=True)):
            return
        value = a.value + b.value
        if a.length + b.length <= self.sheet[0]:
            self._offer(Build(a.length + b.length, max(a.width, b.width), value, counts, (a, b, 0)))
        if a.width + b.width <= self.sheet[1]:
            self._offer(Build(max(a.length, b.length), a.width + b.width, value, counts, (a, b, 1)))

    def _offer(self, build: Build) -> None:
        """Keep a build that may become the best, unless the same pieces are known in no more room."""
        rest = sum((m - n) * p.value for m, n, p in zip(self.limits, build.counts, self.pieces, strict=True))
        hope = build.value + min(rest, self.promise.around(build.length, build.width))
        rooms = self.known.setdefault(build.counts, [])
        if hope <= self.worth or any(x <= build.length and y <= build.width for x, y in rooms):
            return
        rooms.append((build.length, build.width))
        if build.value > self.worth:
            self.best, self.worth = build, build.value
        heapq.heappush(self.waiting, (-hope, next(self.number), build))


def _shapes(pieces: Sequence[CutPiece], sheet: tuple[int, int], kerf: int) -> Iterator[tuple[int, int, int]]:
    for p in pieces:
        for length, width in [(p.length, p.width)] + [(p.width, p.length)] * p.turns:
            if length + kerf <= sheet[0] and width + kerf <= sheet[1]:
                yield length + kerf, width + kerf, p.value


def _cuts(build: Build, pieces: Sequence[CutPiece], x: int, y: int, kerf: int) -> Iterator[Cut]:
    """The pieces of a build whose corner lies at x, y."""
    if len(build.made_of) == 2:
        number, turned = build.made_of
        yield Cut(pieces[number].id, x, build.length - kerf, y, build.width - kerf, turned)
    else:
        a, b, axis = build.made_of
        yield from _cuts(a, pieces, x, y, kerf)
        yield from _cuts(b, pieces, x + a.length * (axis == 0), y + a.width * (axis == 1), kerf)
