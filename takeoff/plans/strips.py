"""Strips: put on lengths that are bought, so that the least length is bought; and a bound that proves it.

Worktops have a front to keep and stand in `takeoff.plans.tops`. Sizes are rounded up to hundredths of a millimetre,
and `takeoff.cutting` does the rest. `StripPlan.bound` says how far from the best a plan could be; for the few
pieces of a kitchen the two are the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from countersunk.takeoff import cutting
from countersunk.takeoff.stock.steps import FINE, down, up

CLOSE = 1e-6
"""mm."""


@dataclass(frozen=True)
class StripPiece:
    """Something to cut by its length, mm."""

    id: str
    length: float


@dataclass(frozen=True)
class StripBar:
    """A length that is bought, mm, and the pieces that are cut from it."""

    length: float
    pieces: tuple[StripPiece, ...]

    @property
    def net(self) -> float:
        """What its pieces measure, mm."""
        return sum(p.length for p in self.pieces)


@dataclass(frozen=True)
class StripPlan:
    """Bars of one stock. ``bound`` is a total length (mm) below which no purchase can hold the pieces.

    ``unplaced`` are pieces longer than any stock length.
    """

    stock: str
    bars: tuple[StripBar, ...]
    bound: float
    unplaced: tuple[StripPiece, ...] = ()

    @property
    def bought(self) -> float:
        """Total length bought, mm."""
        return sum(bar.length for bar in self.bars)

    @property
    def at_bound(self) -> bool:
        """Whether no purchase of less length is possible."""
        return self.bought <= self.bound + CLOSE


def plan(
    stock: str, pieces: Sequence[StripPiece], lengths: Sequence[float], *, kerf: float, trim: float
) -> StripPlan:
    """The least length that holds all pieces; the same pieces give the same plan, and give it at once again.

    A piece that leaves less than the trim on the longest stock takes one for itself, untrimmed.
    """
    longest = max(lengths)
    unplaced = tuple(p for p in pieces if p.length > longest + CLOSE)
    tight = [p for p in pieces if longest - trim + CLOSE < p.length <= longest + CLOSE]
    loose = tuple(p for p in pieces if p.length <= longest - trim + CLOSE)
    bars, bound = _least(loose, tuple(sorted(lengths)), kerf, trim)
    alone = tuple(StripBar(longest, (p,)) for p in sorted(tight, key=lambda p: p.id))
    return StripPlan(stock, (*alone, *bars), bound + longest * len(alone), unplaced)


def used(pieces: Sequence[StripPiece], *, kerf: float, trim: float) -> float:
    """What the pieces take of one stock length: themselves, the cuts between them, and trim once, mm."""
    return sum(p.length for p in pieces) + kerf * (len(pieces) - 1) + trim


@lru_cache(maxsize=256)
def _least(
    pieces: tuple[StripPiece, ...], lengths: tuple[float, ...], kerf: float, trim: float
) -> tuple[tuple[StripBar, ...], float]:
    """Bars and the least total length, mm."""
    found = cutting.cut_lengths(
        [cutting.CutPiece(str(i), up(p.length, FINE)) for i, p in enumerate(pieces)],
        [cutting.CutStock(str(i), down(s - trim, FINE), down(s, FINE)) for i, s in enumerate(lengths)],
        cutting.Blade(kerf=up(kerf, FINE)),
    )
    bars = [StripBar(lengths[int(u.stock.id)], tuple(pieces[int(cut.id)] for cut in u.cuts)) for u in found.used]
    return tuple(sorted(bars, key=lambda b: (-b.length, b.pieces[0].id))), found.lower_bound / FINE
