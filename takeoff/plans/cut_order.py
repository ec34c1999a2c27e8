"""Cut order: the saw cuts of a length of stock, one after the other, as they are made.

The first end is squared; then each stretch is cut off square across, from the beginning of the stock on, so that
what is in hand becomes shorter with each cut. A stretch with two rows is ripped next, and its rows are cut across;
two slanting ends back to back are parted along the slant; last, what is less deep than its stock is ripped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from countersunk.model.tolerance import ON_LINE
from countersunk.takeoff.plans.tops import CLOSE, Bar, Laid


@dataclass(frozen=True)
class TopCut:
    """One saw cut and what it frees. ``at`` is mm from the beginning of the stock, of a rip from the front.

    A slanting cut has none: it lies midway between its two pieces.
    """

    kind: Literal["square", "across", "slanting", "rip"]
    at: float
    pieces: tuple[str, ...]


def cut_order(bar: Bar, kerf: float) -> tuple[TopCut, ...]:
    """Every saw cut of a length of stock, in turn; ``kerf`` in mm."""
    stretches = list(_stretches(bar.pieces))
    begin = [TopCut("square", bar.trim / 2, ())] if bar.trim > ON_LINE else []
    return (*begin, *(cut for some in stretches for cut in (*_off(some, bar), *_within(some, bar.depth, kerf))))


def _stretches(pieces: Sequence[Laid]) -> Iterator[list[Laid]]:
    """The pieces that one length of the stock between two cuts across holds, from its beginning on."""
    some: list[Laid] = []
    for piece in sorted(pieces, key=lambda p: (p.x, p.turned)):
        if some and piece.x >= _end(some) - ON_LINE:
            yield some
            some = []
        some.append(piece)
    if some:
        yield some


def _end(some: Sequence[Laid]) -> float:
    return max(p.x + p.length for p in some)


def _off(some: Sequence[Laid], bar: Bar) -> Iterator[TopCut]:
    """The cut that takes a stretch off the stock, unless that ends with it."""
    if _end(some) < bar.length - ON_LINE:
        yield TopCut("across", _end(some), tuple(p.id for p in some))


def _within(some: Sequence[Laid], depth: float, kerf: float) -> Iterator[TopCut]:
    """The cuts that part a stretch of a stock so deep."""
    front, behind = ([p for p in some if p.turned is turned] for turned in (False, True))
    if front and behind and max(p.y + p.depth for p in behind) <= min(p.y for p in front):
        row = max(p.depth for p in front)
        yield TopCut("rip", row, tuple(p.id for p in front))
        for one, deep in ((front, row), (behind, depth - row - kerf)):
            yield from (TopCut("across", _end([p]), (p.id,)) for p in one if _end([p]) < _end(some) - ON_LINE)
            yield from _to_depth(one, deep)
        return
    if len(some) > 1:
        yield TopCut("slanting", 0.0, tuple(p.id for p in some))
    yield from _to_depth(some, depth)


def _to_depth(some: Sequence[Laid], deep: float) -> Iterator[TopCut]:
    """The cuts behind what is less deep than what it is cut from."""
    return (TopCut("rip", p.depth, (p.id,)) for p in some if p.depth < deep - CLOSE)
