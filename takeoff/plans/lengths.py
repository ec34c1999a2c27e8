"""Lengths: pieces put on lengths and rolls that are bought by the pack, and first on what is left of earlier jobs.

A piece comes ``whole`` from one length, is ``joined`` over several where it must be, or only the sum matters
(``any``): its article says it. No saw cut and no trim is counted: what is cut away is in the pieces.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, repeat

from countersunk.takeoff.plans.strips import StripBar, StripPiece, plan
from countersunk.takeoff.stock.articles import Article
from countersunk.takeoff.stock.offcuts import Offcut, new_offcut
from countersunk.takeoff.stock.units import UNITS

NEARLY = 1e-9
"""A pack that is full to this relative amount is full: sums of decimals are not exact."""


@dataclass(frozen=True)
class LengthPlan:
    """Lengths of one article in one decor, mm, and what is cut from each; ``keep`` is the least that is kept.

    ``allowance`` (mm) is used up besides the pieces; where only the sum matters, pieces have it in them.
    """

    code: str
    decor: str
    pack: float
    packs: int
    bars: tuple[StripBar, ...]
    allowance: float
    keep: float

    @property
    def used(self) -> Iterator[str]:
        """The id of every offcut that is taken, once for each."""
        return (bar.offcut for bar in self.bars if bar.offcut)

    @property
    def left(self) -> Iterator[Offcut]:
        """What is left and worth keeping, when the allowance is used up, of the shortest rests first."""
        opened = sum(not bar.offcut for bar in self.bars)
        rests = sorted([*(bar.length - bar.net for bar in self.bars), *[self.pack] * (self.packs - opened)])
        spent = self.allowance
        for rest in rests:
            over, spent = max(0.0, rest - spent), max(0.0, spent - rest)
            if over >= self.keep:
                yield new_offcut(self.code, self.decor, over)


def plan_lengths(
    article: Article,
    pieces: Sequence[StripPiece],
    decor: str = "",
    share: float = 0.0,
    offcuts: Sequence[Offcut] = (),
    keep: float = 0.0,
) -> LengthPlan | None:
    """A plan for ``pieces`` (mm), offcuts taken first, with an allowance of ``share`` of them; None where a piece
    is longer than what it must come from.
    """
    size = article.pack * UNITS[article.unit].size
    kept = sorted(
        (o for o in offcuts if (o.material, o.decor) == (article.code, decor) and not o.width),
        key=lambda o: (o.length, o.id),
    )
    lengths = [o for o in kept for _ in range(o.quantity)]
    if article.pieces == "any":
        pieces, share = [replace(p, length=p.length * (1 + share)) for p in pieces], 0.0
        bars: list[StripBar] | None = _poured(pieces, size, lengths)
    else:
        bars = _cut(pieces, size, lengths, joined=article.pieces == "joined")
    if bars is None:
        return None
    allowance = share * sum(p.length for p in pieces)
    own = sum(bar.length for bar in bars if bar.offcut)
    needed = sum(p.length for p in pieces) + allowance - own
    opened = sum(not bar.offcut for bar in bars)
    packs = max(opened, _whole(needed / size))
    return LengthPlan(article.code, decor, size, packs, tuple(bars), allowance, keep)


def _whole(packs: float) -> int:
    """Packs, none more for what sums of decimals are not exact by."""
    return max(0, math.ceil(packs * (1 - NEARLY)))


def _cut(
    pieces: Sequence[StripPiece], size: float, kept: Sequence[Offcut], *, joined: bool
) -> list[StripBar] | None:  # fmt: skip
    """Each piece from one length; of a longer one that may be joined first whole packs, then what is left of it."""
    bars = []
    if joined:
        bars = [StripBar(size, (replace(p, length=size),)) for p in pieces for _ in range(int(p.length // size))]
        pieces = [replace(p, length=rest) for p in pieces if (rest := p.length % size) > NEARLY]
    placed = plan("", pieces, (size,), kerf=0.0, trim=0.0, kept=[(o.id, o.length) for o in kept])
    return None if placed.unplaced else [*bars, *placed.bars]


def _poured(pieces: Sequence[StripPiece], size: float, kept: Sequence[Offcut]) -> list[StripBar]:
    """Pieces one after the other, over what is kept and then over packs, wherever one ends."""
    waiting, bars = list(pieces), []
    sources = chain(((o.length, o.id) for o in kept), repeat((size, "")))
    while waiting:
        (length, id_), cut = next(sources), list[StripPiece]()
        room = length
        while waiting and room > NEARLY:
            piece = waiting.pop(0)
            part = min(room, piece.length)
            cut.append(replace(piece, length=part))
            room -= part
            if piece.length - part > NEARLY:
                waiting.insert(0, replace(piece, length=piece.length - part))
        bars.append(StripBar(length, tuple(cut), id_))
    return bars
