"""Fitting: widths, fillers and what stands at the ends, so that a row of units fills a length exactly.

Solved exactly, by which sums of widths can be reached (a subset-sum table). The least is chosen of, in this order:
what is left over; then *points*, one for each millimetre of filler, `ANOTHER_WIDTH` for each further width beside
the first, a tenth of the difference between the widest and the narrowest; then the wider unit farther left.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product

from countersunk.model.catalogue.catalogue import Family

TICK = 10
"""Widths are added up in tenths of a millimetre, finer than any tape."""

ANOTHER_WIDTH = 50.0
"""A second width in a run is worth so many mm of filler (common practice, no source)."""

SPREAD = 0.1


@dataclass(frozen=True)
class Slot:
    """One place in a row: any of ``widths`` (mm) for a unit, or ``low`` to ``high`` for a filler.

    An ``optional`` filler may also be left out, width 0.
    """

    widths: tuple[float, ...] = ()
    low: float = 0.0
    high: float = 0.0
    optional: bool = False

    @property
    def is_filler(self) -> bool:
        """Whether any width within limits will do."""
        return not self.widths


@dataclass(frozen=True)
class Fitted:
    """A width for every slot, and what they leave of the length (mm): 0 where they fill it.

    ``left_over`` is negative by how much even the narrowest are too long.
    """

    widths: tuple[float, ...]
    left_over: float


def slot_of(family: Family, width: float | None = None, least: float = 0.0, listed: bool = False) -> Slot:
    """The slot of a unit: of one width where it is given, else of all that its family has.

    A filler must be there if it is ``listed``, since somebody wants it, or has a ``least`` width, as one in a
    corner that lets handles pass.
    """
    if width is not None:
        return Slot(widths=(width,))
    if family.width_range is None:
        return Slot(widths=family.widths)
    low, high = family.width_range
    if low == high:
        return Slot(widths=(low,))
    return Slot(low=max(low, least), high=high, optional=least == 0.0 and not listed)


def fit(slots: Sequence[Slot], length: float) -> Fitted:
    """The best widths for ``slots`` side by side in ``length`` mm."""
    target, units = _ticks(length), [s for s in slots if not s.is_filler]
    fillers = [s for s in slots if s.is_filler]
    best = min(_offers(units, fillers, target), default=None)
    if best is None:
        least = [0.0 if s.optional else s.low or min(s.widths) for s in slots]
        return Fitted(tuple(least), round(length - sum(least), 1))
    left, _, _, total, allowed = best
    chosen = iter(_spelt(units, allowed, total))
    shared = iter(_shares(fillers, target - total - left))
    widths = tuple(next(shared if s.is_filler else chosen) / TICK for s in slots)
    return Fitted(widths, left / TICK)


def points(widths: Sequence[float], filler: float) -> float:
    """What a choice of unit widths costs beside ``filler`` mm of fillers; see the module."""
    several = sorted(set(widths))
    spread = several[-1] - several[0] if several else 0.0
    return round(filler + ANOTHER_WIDTH * max(0, len(several) - 1) + SPREAD * spread, 3)


@lru_cache(maxsize=4096)
def fill(length: float, widths: tuple[float, ...]) -> tuple[float, ...] | None:
    """The fewest units of ``widths`` that fill ``length`` exactly, few different ones; None where none do."""
    if length == 0:
        return ()
    for count in range(1, int(length // min(widths)) + 1):
        found = fit([Slot(widths=tuple(widths))] * count, length)
        if found.left_over == 0:
            return found.widths
    return None


def _ticks(value: float) -> int:
    return round(value * TICK)


def _offers(
    units: Sequence[Slot], fillers: Sequence[Slot], target: int
) -> Iterator[tuple[int, float, tuple[float, ...], int, tuple[int, ...]]]:
    """Every set of chosen free widths with every sum that it reaches: left over, points, tie-break, sum, set.

    Slots of one width are there whatever is chosen, and count for nothing in the points.
    """
    free = sorted({_ticks(w) for s in units if len(s.widths) > 1 for w in s.widths})
    for count in range(min(1, len(free)), max(1, len([s for s in units if len(s.widths) > 1])) + 1):
        for allowed in combinations(free, min(count, len(free))):
            mm = [w / TICK for w in allowed]
            for total in _sums(_columns(units, allowed)):
                rest = target - total
                used = _most_filled(fillers, rest)
                if rest >= 0 and used is not None:
                    yield rest - used, points(mm, used / TICK), tuple(-w for w in mm), total, allowed


def _columns(units: Sequence[Slot], allowed: Iterable[int]) -> tuple[tuple[int, ...], ...]:
    """What each unit may measure, in ticks: one width stays, several are cut down to those allowed."""
    picked = set(allowed)
    ticks = ([_ticks(w) for w in slot.widths] for slot in units)
    return tuple(tuple(sorted((w for w in t if len(t) == 1 or w in picked), reverse=True)) for t in ticks)


@lru_cache(maxsize=4096)
def _sums(columns: tuple[tuple[int, ...], ...]) -> frozenset[int]:
    """Every sum with one number out of each column."""
    if not columns:
        return frozenset({0})
    rest = _sums(columns[1:])
    return frozenset(w + s for w in columns[0] for s in rest)


def _spelt(units: Sequence[Slot], allowed: Iterable[int], total: int) -> list[int]:
    """One number out of each column that make ``total``, the largest first."""
    columns, chosen = _columns(units, allowed), []
    for i, column in enumerate(columns):
        width = next(w for w in column if total - w in _sums(columns[i + 1 :]))
        chosen.append(width)
        total -= width
    return chosen


def _bands(fillers: Sequence[Slot]) -> Iterator[tuple[tuple[bool, ...], int, int]]:
    """Which fillers are there, and what they take at least and at most; the fewest first."""
    ways = product(*((False, True) if s.optional else (True,) for s in fillers))
    for there in sorted(ways, key=sum):
        used = [s for s, is_there in zip(fillers, there, strict=True) if is_there]
        yield there, sum(_ticks(s.low) for s in used), sum(_ticks(s.high) for s in used)


def _most_filled(fillers: Sequence[Slot], rest: int) -> int | None:
    """As much of ``rest`` as fillers can take, in ticks; None where those that must be there take more."""
    return max((min(rest, high) for _, low, high in _bands(fillers) if low <= rest), default=None)


def _shares(fillers: Sequence[Slot], filled: int) -> list[int]:
    """``filled`` ticks on the fewest fillers, each at its least and then as evenly as their limits let them."""
    there = next(there for there, low, high in _bands(fillers) if low <= filled <= high)
    shares = [_ticks(s.low) if used else 0 for s, used in zip(fillers, there, strict=True)]
    spare = filled - sum(shares)
    open_ = [i for i, used in enumerate(there) if used]
    for n, i in enumerate(open_):
        take = min(_ticks(fillers[i].high) - shares[i], -(-spare // (len(open_) - n)))
        shares[i], spare = shares[i] + take, spare - take
    if spare:
        return _topped_up(fillers, open_, shares, spare)
    return shares


def _topped_up(fillers: Sequence[Slot], open_: list[int], shares: list[int], spare: int) -> list[int]:
    """The rest on whatever is not yet full."""
    for i in open_:
        take = min(_ticks(fillers[i].high) - shares[i], spare)
        shares[i], spare = shares[i] + take, spare - take
    return shares
