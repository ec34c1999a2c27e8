"""Sawing: the straight cuts, from edge to edge of what is in hand, that part a stock into its pieces, in order; and
the offcuts that are left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from countersunk.takeoff.cutting.values import Blade, Cut, Used


@dataclass(frozen=True)
class Rest:
    """A rectangle of stock; in one dimension its width is 0."""

    x: int
    y: int
    length: int
    width: int

    @property
    def area(self) -> int:
        """Length × width, of a bar its length."""
        return self.length * (self.width or 1)


@dataclass(frozen=True)
class CutLine:
    """A saw cut: ``across`` the stock's length at x = ``at``, or along it at y = ``at``; the kerf lies beyond it.

    ``begin`` and ``end`` are where the board in hand begins and ends along the cut.
    """

    across: bool
    at: int
    begin: int
    end: int


@dataclass(frozen=True)
class Sawn:
    """The cuts in order, the pieces as they come off, and what is left."""

    lines: tuple[CutLine, ...]
    pieces: tuple[Cut, ...]
    offcuts: tuple[Rest, ...]


def sawn(used: Used, saw: Blade) -> Sawn:
    """How to saw ``used``, trimmed before. Raises ValueError where no cuts from edge to edge part the pieces."""
    stock, trim = used.stock, saw.on(used.stock).trim
    board = Rest(trim, trim if stock.width else 0, stock.length - 2 * trim, max(0, stock.width - 2 * trim))
    found = list(_parts(board, used.cuts, saw.kerf))
    return Sawn(
        tuple(f for f in found if isinstance(f, CutLine)),
        tuple(f for f in found if isinstance(f, Cut)),
        tuple(f for f in found if isinstance(f, Rest)),
    )


def _parts(board: Rest, cuts: Sequence[Cut], kerf: int) -> Iterator[CutLine | Cut | Rest]:
    """From sheets the largest offcut comes off first, if a cut leaves one; bars are sawn from their beginning."""
    if not cuts:
        yield board
        return
    ways = [way for axis in (0, 1) for way in _ways(board, cuts, axis, kerf)]
    if not ways:
        if len(cuts) > 1 or (cuts[0].length, cuts[0].width) != (board.length, board.width):
            raise ValueError(f"{', '.join(c.id for c in cuts)} cannot be parted by cuts from edge to edge")
        yield cuts[0]
        return
    line, first, second = max(ways, key=_freed) if board.width else ways[0]
    yield line
    for side, rest in (first, second):
        if side.length > 0 and (side.width > 0 or not board.width):
            yield from _parts(side, rest, kerf)


Side = tuple[Rest, list[Cut]]


def _freed(way: tuple[CutLine, Side, Side]) -> int:
    """The area of what comes off whole, and nothing for a cut through the middle."""
    return max((side.area for side, cuts in way[1:] if not cuts), default=0)


def _ways(board: Rest, cuts: Sequence[Cut], axis: int, kerf: int) -> Iterator[tuple[CutLine, Side, Side]]:
    """Every cut across one axis that goes through no piece."""
    begin, size = (board.x, board.length) if axis == 0 else (board.y, board.width)
    spans = sorted((((c.x, c.length) if axis == 0 else (c.y, c.width)), i) for i, c in enumerate(cuts))
    reach = begin - kerf
    for k, ((start, _), _) in enumerate(spans):
        if start - kerf >= reach and start > begin:
            yield _way(board, cuts, axis, reach if k else start - kerf, kerf, {i for _, i in spans[:k]})
        reach = max(reach, start + spans[k][0][1])
    if reach < begin + size:
        yield _way(board, cuts, axis, reach, kerf, set(range(len(cuts))))


def _way(
    board: Rest, cuts: Sequence[Cut], axis: int, at: int, kerf: int, before: set[int]
) -> tuple[CutLine, Side, Side]:
    """The board parted at ``at``."""
    first, second = (
        [c for i, c in enumerate(cuts) if i in before],
        [c for i, c in enumerate(cuts) if i not in before],
    )
    if axis == 0:
        line = CutLine(True, at, board.y, board.y + board.width)
        a = Rest(board.x, board.y, at - board.x, board.width)
        b = Rest(at + kerf, board.y, board.x + board.length - at - kerf, board.width)
    else:
        line = CutLine(False, at, board.x, board.x + board.length)
        a = Rest(board.x, board.y, board.length, at - board.y)
        b = Rest(board.x, at + kerf, board.length, board.y + board.width - at - kerf)
    return line, (a, first), (b, second)
