"""Best value: what to cut from one stock where not everything can be, so that it is worth the most.

A *build* is a rectangle put together of pieces by cuts from edge to edge. Builds are joined side by side and one
above the other, the most promising first (Viswanathan and Bagchi 1993, from memory): what a build can still become
is bounded by the unlimited problem on the rest of the sheet (Gilmore and Gomory 1966, from memory). When no waiting
build can become better than the best, that one is proven. Lengths are a plain knapsack.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from math import gcd, inf

from takeoff.cutting.clock import Clock
from takeoff.cutting.knapsack import knapsack
from takeoff.cutting.promise import Promise, promise
from takeoff.cutting.values import Cut, Piece, Saw, Stock, Used

JOINS = 300_000
"""Pairs of builds looked at before the search ends."""


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


def best_value(pieces: Sequence[Piece], stock: Stock, saw: Saw, *, seconds: float = inf) -> Valued:
    """The pieces worth the most that one ``stock`` holds."""
    clock = Clock(seconds)
    if not stock.width:
        return _best_length(pieces, stock, saw, clock)
    search = _Search(
        pieces, (stock.length + saw.kerf - 2 * saw.trim, stock.width + saw.kerf - 2 * saw.trim), saw.kerf
    )
    bound = search.run(clock)
    cuts = tuple(_cuts(search.best, pieces, saw.trim, saw.trim, saw.kerf)) if search.best else ()
    return Valued(Used(stock, cuts), search.worth, bound, clock.steps, clock.is_over)


def _best_length(pieces: Sequence[Piece], stock: Stock, saw: Saw, clock: Clock) -> Valued:
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
    return Valued(Used(stock, tuple(cuts)), worth, worth, clock.steps, False)


class _Search:
    """Builds by promise, until none can beat the best."""

    def __init__(self, pieces: Sequence[Piece], sheet: tuple[int, int], kerf: int) -> None:
        self.pieces, self.sheet, self.kerf = pieces, sheet, kerf
        self.limits = tuple(p.quantity for p in pieces)
        self.promise: Promise = promise([*_shapes(pieces, sheet, kerf)], sheet)
        self.best: Build | None = None
        self.worth = 0
        self.waiting: list[tuple[int, int, Build]] = []
        self.known: dict[tuple[int, ...], list[tuple[int, int]]] = {}
        self.number = count()

    def run(self, clock: Clock) -> int:
        """Search, and return what nothing exceeds."""
        for build in self._single():
            self._offer(build)
        done: list[Build] = []
        while self.waiting and -self.waiting[0][0] > self.worth:
            if clock.steps > JOINS or clock.is_over:
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


def _shapes(pieces: Sequence[Piece], sheet: tuple[int, int], kerf: int) -> Iterator[tuple[int, int, int]]:
    for p in pieces:
        for length, width in [(p.length, p.width)] + [(p.width, p.length)] * p.turns:
            if length + kerf <= sheet[0] and width + kerf <= sheet[1]:
                yield length + kerf, width + kerf, p.value


def _cuts(build: Build, pieces: Sequence[Piece], x: int, y: int, kerf: int) -> Iterator[Cut]:
    """The pieces of a build whose corner lies at x, y."""
    if len(build.made_of) == 2:
        number, turned = build.made_of
        yield Cut(pieces[number].id, x, build.length - kerf, y, build.width - kerf, turned)
    else:
        a, b, axis = build.made_of
        yield from _cuts(a, pieces, x, y, kerf)
        yield from _cuts(b, pieces, x + a.length * (axis == 0), y + a.width * (axis == 1), kerf)
