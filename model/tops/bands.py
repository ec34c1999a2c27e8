"""Bands: from where to where along its run an in-line join may lie, exactly.

A join lies over one unit that bears it, clear of the unit's sides, so that its bolts can be reached; clear of what
is cut out of the top; and so that no piece is shorter than can be held or longer than what is sold. Each of these
leaves whole intervals, so what is left of all of them is intervals too: no place between their ends is lost.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.joins import BOLT_CHANNEL, Interval, Joint
from countersunk.model.tops.rows import Stretch

CLEAR_OF_CUTOUTS = (300.0, 100.0)
"""What a join keeps from a line to cut, mm: what is often asked for laminate (from memory, low confidence), and
where that cannot be had, what a guide for solid timber asks (quoted)."""

CLEAR_OF_SIDES = 18.0 + BOLT_CHANNEL[1] + 5.0
"""From the outside of a unit to a join over it, so that bolts can be reached between its sides, mm (common
practice, no source)."""

SHORTEST = 300.0
"""No piece is shorter than this, mm (common practice, no source)."""

Band = tuple[Interval, ...]
"""Intervals along a run from left to right, mm; both ends of each belong to it."""


def borne(row: Stretch, cutouts: Iterable[Interval], clear: float) -> Band:
    """Where units bear a join, ``clear`` mm and more from each of the ``cutouts`` along the row."""
    bears = (u for u in row.units if u.family.kind.bears_join)
    spans = ((u.x + CLEAR_OF_SIDES, u.right - CLEAR_OF_SIDES) for u in bears)
    band = tuple(span for span in spans if span[0] <= span[1])
    for low, high in cutouts:
        band = tuple(_without(band, low - clear, high + clear))
    return band


@dataclass(frozen=True)
class Pieces:
    """What a piece must be: over one of the ``middles`` of its units, from `SHORTEST` to ``longest`` mm long."""

    middles: tuple[float, ...]
    longest: float

    @classmethod
    def of(cls, row: Stretch) -> Pieces:
        """Those of a row, from its stock."""
        return cls(tuple((u.x + u.right) / 2 for u in row.units), max(row.run.stock.lengths))

    def between(self, band: Band, before: float, after: float) -> Band:
        """The part of a band that leaves such a piece on either side."""
        return _shared(_shared(band, self.beyond(((before, before),))), self.short_of(((after, after),)))

    def bands(self, band: Band, extent: Interval, count: int) -> list[Band]:
        """For each of ``count`` joins, from left to right, every place that it may have if the others give way."""
        from_left: list[Band] = [((extent[0], extent[0]),)]
        from_right: list[Band] = [((extent[1], extent[1]),)]
        for _ in range(count):
            from_left.append(_shared(band, self.beyond(from_left[-1])))
            from_right.append(_shared(band, self.short_of(from_right[-1])))
        both = zip(from_left[1:], reversed(from_right[:-1]), strict=True)
        return [_shared(left, self.short_of(right)) for left, right in both]

    def beyond(self, places: Band) -> Band:
        """Where a piece ends that begins at any of these places."""
        ends = ((low, high, self._after(low)) for low, high in self._parted(places))
        return _joined((max(low + SHORTEST, m), high + self.longest) for low, high, m in ends if m is not None)

    def short_of(self, places: Band) -> Band:
        """Where a piece begins that ends at any of these places."""
        ends = ((low, high, self._before(high)) for low, high in self._parted(places))
        return _joined(
            (low - self.longest, min(high - SHORTEST, m - 2 * CONTACT)) for low, high, m in ends if m is not None
        )

    def _parted(self, places: Band) -> Iterator[Interval]:
        """The same intervals, none with a middle between its ends."""
        for low, high in places:
            yield from pairwise([low, *(m for m in self.middles if low < m < high), high])

    def _after(self, x: float) -> float | None:
        """The first middle beyond a place."""
        return next((m for m in self.middles if m > x + CONTACT), None)

    def _before(self, x: float) -> float | None:
        """The last middle up to a place."""
        return next((m for m in reversed(self.middles) if m <= x + CONTACT), None)


def contains(band: Band, x: float) -> bool:
    """Whether a place lies in a band."""
    return any(low - CONTACT <= x <= high + CONTACT for low, high in band)


def in_words(band: Band) -> str:
    """``683 to 917, 1283 to 1517``, in whole millimetres that all lie within; ``nowhere`` of no band."""
    return ", ".join(_words(*interval) for interval in band) or "nowhere"


def where_else(joint: Joint) -> str:
    """Where a join in line may lie, as advice; empty for any other."""
    return f"put the join at {in_words(joint.band)} along its run" if joint.band else ""


def _words(low: float, high: float) -> str:
    first, last = -int(-(low - CONTACT) // 1), int((high + CONTACT) // 1)
    return f"{first} to {last}" if first < last else f"{first}" if first == last else f"{low:.1f} to {high:.1f}"


def _without(band: Band, low: float, high: float) -> Iterator[Interval]:
    """The band less what lies between two places, which are its own ends then."""
    for a, b in band:
        if a <= min(b, low):
            yield a, min(b, low)
        if max(a, high) <= b and high > low:
            yield max(a, high), b


def _joined(spans: Iterable[Interval]) -> Band:
    """Intervals from left to right, those that touch as one."""
    found: list[Interval] = []
    for low, high in sorted(span for span in spans if span[0] <= span[1] + CONTACT):
        if found and low <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return tuple(found)


def _shared(one: Sequence[Interval], other: Sequence[Interval]) -> Band:
    """What two bands share; places closer than `CONTACT` are one."""
    spans = ((max(a, c), min(b, d)) for a, b in one for c, d in other)
    return tuple(sorted((min(low, high), high) for low, high in spans if low <= high + CONTACT))
