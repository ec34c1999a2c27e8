"""Strips: put on lengths that are bought, so that the least length is bought; and a bound that proves it.

Worktops have a front to keep and stand in `takeoff.plans.tops`. Sizes are rounded up to hundredths of a millimetre,
and `takeoff.cutting` does the rest. `StripPlan.bound` says how far from the best a plan could be; for the few
pieces of a kitchen the two are the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
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
    """A length that is bought, mm, or the ``offcut`` that it is, and the pieces that are cut from it."""

    length: float
    pieces: tuple[StripPiece, ...]
    offcut: str = ""

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
        return sum(bar.length for bar in self.bars if not bar.offcut)

    @property
    def at_bound(self) -> bool:
        """Whether no purchase of less length is possible."""
        return self.bought <= self.bound + CLOSE


def plan(
    stock: str,
    pieces: Sequence[StripPiece],
    lengths: Sequence[float],
    *,
    kerf: float,
    trim: float,
    kept: Sequence[tuple[str, float]] = (),
) -> StripPlan:
    """The least length that holds all pieces; the same pieces give the same plan, and give it at once again.

    A piece that leaves less than the trim on the longest stock takes one for itself, untrimmed. ``kept`` are ids
    and lengths (mm) of single offcuts, from which whatever they hold is taken first; they are not trimmed again.
    """
    longest = max(lengths)
    if kept:
        held = max(longest, *(length for _, length in kept))
        unplaced = tuple(p for p in pieces if p.length > held + CLOSE)
        bars, bound = _least(
            tuple(p for p in pieces if p not in unplaced), tuple(sorted(lengths)), kerf, trim, tuple(kept)
        )
        return StripPlan(stock, tuple(_onto_kept(bars, kept, kerf)), bound, unplaced)
    unplaced = tuple(p for p in pieces if p.length > longest + CLOSE)
    tight = [p for p in pieces if longest - trim + CLOSE < p.length <= longest + CLOSE]
    loose = tuple(p for p in pieces if p.length <= longest - trim + CLOSE)
    bars, bound = _least(loose, tuple(sorted(lengths)), kerf, trim)
    alone = tuple(StripBar(longest, (p,)) for p in sorted(tight, key=lambda p: p.id))
    return StripPlan(stock, (*alone, *bars), bound + longest * len(alone), unplaced)


def used(pieces: Sequence[StripPiece], *, kerf: float, trim: float) -> float:
    """What the pieces take of one stock length: themselves, the cuts between them, and trim once, mm."""
    return sum(p.length for p in pieces) + kerf * (len(pieces) - 1) + trim


def _onto_kept(
    bars: Sequence[StripBar], kept: Sequence[tuple[str, float]], kerf: float
) -> Iterator[StripBar]:  # fmt: skip
    """The bars, with each piece of a bought one moved onto the shortest offcut that has room for it."""
    waiting, own = list(kept), [bar for bar in bars if bar.offcut]
    for bar in own:
        waiting.remove((bar.offcut, bar.length))
    own += [StripBar(length, (), id_) for id_, length in waiting]
    own.sort(key=lambda bar: bar.length)
    for bar in (bar for bar in bars if not bar.offcut):
        stay = []
        for piece in bar.pieces:
            at = next((i for i, o in enumerate(own) if _room(o, kerf) >= piece.length - CLOSE), None)
            if at is None:
                stay.append(piece)
            else:
                own[at] = replace(own[at], pieces=(*own[at].pieces, piece))
        if stay:
            yield replace(bar, pieces=tuple(stay))
    yield from (bar for bar in own if bar.pieces)


def _room(bar: StripBar, kerf: float) -> float:
    """What a further piece may measure."""
    return bar.length - bar.net - kerf * len(bar.pieces)


@lru_cache(maxsize=256)
def _least(
    pieces: tuple[StripPiece, ...],
    lengths: tuple[float, ...],
    kerf: float,
    trim: float,
    kept: tuple[tuple[str, float], ...] = (),
) -> tuple[tuple[StripBar, ...], float]:
    """Bars and the least total length, mm."""
    own = [cutting.CutStock(f"own {i}", down(mm, FINE), 0, 1, kept=True) for i, (_, mm) in enumerate(kept)]
    found = cutting.cut_lengths(
        [cutting.CutPiece(str(i), up(p.length, FINE)) for i, p in enumerate(pieces)],
        [*own, *(cutting.CutStock(str(i), down(s - trim, FINE), down(s, FINE)) for i, s in enumerate(lengths))],
        cutting.Blade(kerf=up(kerf, FINE)),
    )
    bars = []
    for used_up in found.used:
        cut, i = tuple(pieces[int(c.id)] for c in used_up.cuts), int(used_up.stock.id.split()[-1])
        bars.append(StripBar(kept[i][1], cut, kept[i][0]) if used_up.stock.kept else StripBar(lengths[i], cut))
    return tuple(sorted(bars, key=lambda b: (-b.length, b.pieces[0].id))), found.lower_bound / FINE
