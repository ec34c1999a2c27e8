"""Values: what is to be cut, what it is cut from, and the plan.

Every size is a whole number of steps, and every price a whole number of the smallest coin: the caller chooses both,
so that nothing is ever rounded here. Along a length, or along and across a sheet: x runs along the stock's length
from its corner and y across it, trim included. In one dimension ``width``, ``y`` and ``rotated`` rest unused.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class CutPiece:
    """So many pieces of one size. ``turns`` lets a panel be turned by 90°, which grain forbids."""

    id: str
    length: int
    quantity: int = 1
    width: int = 0
    turns: bool = False
    value: int = 0


@dataclass(frozen=True)
class CutStock:
    """A length or sheet that can be bought; ``quantity`` None is as many as one likes.

    ``both_edges`` is said of lengths for pieces with a finished front (`takeoff.cutting.edged`). What is ``kept``
    of earlier jobs has sawn edges, which nobody trims again; ``new`` is what as much of it costs when it is bought.
    """

    id: str
    length: int
    price: int
    quantity: int | None = None
    width: int = 0
    both_edges: bool = False
    kept: bool = False
    new: int = 0


@dataclass(frozen=True)
class Blade:
    """``kerf`` is lost between two pieces, ``trim`` at each end of a length and on each side of a sheet."""

    kerf: int = 0
    trim: int = 0

    def on(self, stock: CutStock) -> Blade:
        """As it works on a stock: one that is kept is not trimmed."""
        return replace(self, trim=0) if stock.kept else self


@dataclass(frozen=True)
class Cut:
    """One piece where it lies on its stock; ``length`` and ``width`` as it lies there, turned or not."""

    id: str
    x: int
    length: int
    y: int = 0
    width: int = 0
    rotated: bool = False


@dataclass(frozen=True)
class Used:
    """One stock and the pieces cut from it."""

    stock: CutStock
    cuts: tuple[Cut, ...]


@dataclass(frozen=True)
class CutPlan:
    """What is cut from what. No plan for the same pieces can cost less than ``lower_bound``.

    ``besides`` is what it costs besides its stock, less than 0 where what is left is worth more.

    ``unplaced`` names, once for each piece, what the stock in hand did not hold. ``effort`` counts the steps of
    the search (the same on every machine), and ``hurried`` says that a time limit ended it.
    """

    used: tuple[Used, ...]
    lower_bound: int
    effort: int = 0
    hurried: bool = False
    unplaced: tuple[str, ...] = ()
    besides: int = 0

    @property
    def cost(self) -> int:
        """What the stock costs, and what is besides."""
        return sum(u.stock.price for u in self.used) + self.besides

    @property
    def proven(self) -> bool:
        """Whether every piece is cut and no plan can cost less."""
        return not self.unplaced and self.cost == self.lower_bound

    @property
    def bought(self) -> dict[str, int]:
        """How many of each stock, in the order of their ids."""
        return dict(sorted(Counter(u.stock.id for u in self.used).items()))


def fits(piece: CutPiece, stock: CutStock, saw: Blade) -> bool:
    """Whether a piece lies inside the trimmed stock, turned if it may be."""
    trim = saw.on(stock).trim
    room = (stock.length - 2 * trim, stock.width - 2 * trim if stock.width else 0)
    ways = [(piece.length, piece.width)] + [(piece.width, piece.length)] * piece.turns
    return any(a <= room[0] and b <= room[1] for a, b in ways)
