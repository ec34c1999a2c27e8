"""Effort: what a plan of tops costs besides its stock: sawing along it, less what its rests are worth, and what
taking from one's own stock costs.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from countersunk.takeoff.cutting.values import Cut, Used


@dataclass(frozen=True)
class Effort:
    """What ripping costs and what a rest is worth.

    ``rip`` is in coins a step of ripping. A rest no shorter and no narrower than ``keep`` (steps) is worth a
    ``share`` of what its area of the stock costs. All are rounded to ``coin`` coins.

    What is kept is worth as much before it is taken; what is cut from it counts twice that in its favour, so that
    it is taken first, and the one that leaves least is.
    """

    rip: float
    share: float
    keep: tuple[int, int]
    coin: int = 1

    def labour(self, used: Used, kerf: int) -> int:
        """What ripping a length of stock costs, in coins."""
        return self._rounded(ripped(used, kerf) * self.rip)

    def worth(self, used: Used, kerf: int) -> int:
        """What the rests of a length of stock that are kept are worth, in coins."""
        return self._of_area(used, sum(length * depth for length, depth in self.kept(used, kerf)))

    def drawn(self, used: Used) -> int:
        """What taking a length that is kept costs, in coins; less than 0 where it is well used, 0 if bought."""
        if not used.stock.kept:
            return 0
        size, cut = used.stock.length * used.stock.width, sum(c.length * c.width for c in used.cuts)
        return self._of_area(used, size - 2 * cut)

    def besides(self, used: Used, kerf: int) -> int:
        """What a length of stock costs besides its price, in coins; less than 0 where its rests are worth more."""
        return self.labour(used, kerf) - self.worth(used, kerf) + self.drawn(used)

    def _of_area(self, used: Used, area: int) -> int:
        """What so much of a stock is worth as a rest, in coins."""
        price = used.stock.new if used.stock.kept else used.stock.price
        return self._rounded(self.share * price * area / (used.stock.length * used.stock.width))

    def kept(self, used: Used, kerf: int) -> Iterator[tuple[int, int]]:
        """Length and depth of each rest that is worth keeping."""
        for length, depth in rests(used, kerf):
            if length >= max(self.keep) and depth >= min(self.keep):
                yield length, depth

    def _rounded(self, coins: float) -> int:
        return round(coins / self.coin) * self.coin


def ripped(used: Used, kerf: int) -> int:
    """How long all cuts along the stock are: one behind each piece less deep than it, or one between two."""
    lines = defaultdict[int, list[tuple[int, int]]](list)
    for cut in used.cuts:
        if cut.width < used.stock.width:
            lines[_back(cut, kerf)].append((cut.x, cut.x + cut.length))
    return sum(_covered(spans) for spans in lines.values())


def rests(used: Used, kerf: int) -> Iterator[tuple[int, int]]:
    """Length and depth of what is left behind the last piece, and of each row beside a longer one."""
    stock, end = used.stock, max(cut.x + cut.length for cut in used.cuts)
    yield stock.length - end - kerf, stock.width
    for turned in (False, True) if stock.both_edges else ():
        row, other = ([c for c in used.cuts if c.rotated is side] for side in (turned, not turned))
        begin = max((c.x + c.length + kerf for c in row), default=min(c.x for c in used.cuts))
        beside = [c for c in other if c.x + c.length > begin]
        if beside and min(c.x for c in beside) <= begin:
            yield end - begin, stock.width - max(c.width for c in beside) - kerf


def _back(cut: Cut, kerf: int) -> int:
    """Twice the place, across the stock, of the middle of the cut along a piece's back."""
    return 2 * (cut.y + cut.width) + kerf if cut.rotated else 2 * cut.y - kerf


def _covered(spans: list[tuple[int, int]]) -> int:
    """How much of a line spans cover."""
    total, reached = 0, 0
    for low, high in sorted(spans):
        total += max(0, high - max(low, reached))
        reached = max(reached, high)
    return total
