"""Lengths: pieces put on lengths that are bought, by first fit; and a bound that no purchase can go below.

Pieces are taken by their extent; pieces with ends at an angle are not nested into one another. This is a plain
plan that can be followed, not one proven best: `Plan.bound` says how far it could be from that.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from dataclasses import dataclass

CLOSE = 1e-6


@dataclass(frozen=True)
class Piece:
    """Something to cut, mm."""

    id: str
    length: float


@dataclass(frozen=True)
class Bar:
    """A length that is bought, mm, and the pieces that are cut from it."""

    length: float
    pieces: tuple[Piece, ...]

    @property
    def net(self) -> float:
        """What its pieces measure, mm."""
        return sum(p.length for p in self.pieces)


@dataclass(frozen=True)
class Plan:
    """Bars of one stock. ``bound`` is a total length (mm) below which no purchase can hold the pieces.

    ``unplaced`` are pieces longer than any stock length.
    """

    stock: str
    bars: tuple[Bar, ...]
    bound: float
    unplaced: tuple[Piece, ...] = ()

    @property
    def bought(self) -> float:
        """Total length bought, mm."""
        return sum(bar.length for bar in self.bars)

    @property
    def at_bound(self) -> bool:
        """Whether no purchase of less length is possible."""
        return self.bought <= self.bound + CLOSE


def plan(stock: str, pieces: Sequence[Piece], lengths: Sequence[float], *, kerf: float, trim: float) -> Plan:
    """First fit, longest piece first, opening the shortest or the longest stock; the better of the two."""
    sizes = sorted(lengths)
    fit = sorted((p for p in pieces if p.length <= sizes[-1] + CLOSE), key=lambda p: (-p.length, p.id))
    plans = [_first_fit(fit, sizes, kerf, trim, longest) for longest in (False, True)]
    bars = min(plans, key=lambda bars: sum(b.length for b in bars))
    unplaced = tuple(p for p in pieces if p not in fit)
    return Plan(stock, tuple(bars), _bound(fit, sizes, kerf, trim), unplaced)


def used(pieces: Sequence[Piece], *, kerf: float, trim: float) -> float:
    """What the pieces take of one stock length: themselves, the cuts between them, and trim once, mm."""
    return sum(p.length for p in pieces) + kerf * (len(pieces) - 1) + trim


def _first_fit(pieces: list[Piece], sizes: list[float], kerf: float, trim: float, longest: bool) -> list[Bar]:
    open_: list[list[Piece]] = []
    for piece in pieces:
        room = next(
            (b for b in open_ if _fits([*b, piece], _opened(b, sizes, kerf, trim, longest), kerf, trim)), None
        )
        if room is None:
            open_.append([piece])
        else:
            room.append(piece)
    return [Bar(_shortest(b, sizes, kerf, trim), tuple(b)) for b in open_]


def _opened(pieces: list[Piece], sizes: list[float], kerf: float, trim: float, longest: bool) -> float:
    return sizes[-1] if longest else _shortest(pieces[:1], sizes, kerf, trim)


def _shortest(pieces: list[Piece], sizes: list[float], kerf: float, trim: float) -> float:
    """The shortest stock that holds them; the longest where a piece leaves no room to trim."""
    return next((s for s in sizes if _fits(pieces, s, kerf, trim)), sizes[-1])


def _fits(pieces: list[Piece], size: float, kerf: float, trim: float) -> bool:
    return used(pieces, kerf=kerf, trim=trim) <= size + CLOSE


def _bound(pieces: list[Piece], sizes: list[float], kerf: float, trim: float) -> float:
    """The least total of stock lengths of which one holds each piece that can share with none, and all hold all.

    A relaxation: the rest of the pieces counts by its sum alone, so no purchase can be below it.
    """
    if not pieces:
        return 0.0
    half = (sizes[-1] - trim - kerf) / 2
    big = [p for p in pieces if p.length > half + CLOSE] or pieces[:1]
    starts = {0.0}
    for piece in big:
        least = _shortest([piece], sizes, kerf, trim)
        starts = {round(total + s, 3) for total in starts for s in sizes if s >= least}
    roomy = pieces[0].length + trim <= sizes[-1] + CLOSE
    need = sum(p.length for p in pieces) + (trim * len(big) if roomy else 0.0)
    return min(start + _least_total(need - start, sizes) for start in starts)


def _least_total(need: float, sizes: list[float]) -> float:
    """The least sum of stock lengths, each taken as often as one likes, that is not below ``need``."""
    totals, seen = [0.0], {0.0}
    while totals[0] < need - CLOSE:
        total = heapq.heappop(totals)
        for size in sizes:
            following = round(total + size, 3)
            if following not in seen:
                seen.add(following)
                heapq.heappush(totals, following)
    return totals[0]
