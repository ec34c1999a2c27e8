"""Rows to part: where the top of a row longer than its stock may be joined in line, and why not elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.ties import least, rounded_up, settled
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.bands import CLEAR_OF_CUTOUTS, CLEAR_OF_SIDES, SHORTEST, Band, Pieces, contains
from countersunk.model.tops.in_line import allowed, cutout_spans, parted_score, split_points, stock_for
from countersunk.model.tops.joins import Interval
from countersunk.model.tops.rows import Stretch
from countersunk.takeoff.measuring.rules import default_rules

Way = tuple[tuple[float, ...], float]
"""What is bought so far, sorted, and how far it reaches along the run, mm."""


@dataclass(frozen=True)
class RowToPart:
    """A row to part: what its top reaches over, where it is notched, and where a join may lie, mm along its run."""

    stretch: Stretch
    extent: Interval
    notched: Sequence[Interval]
    document: Document
    catalogue: Catalogue

    @property
    def needed(self) -> int:
        """How many joins its stock asks for."""
        return max(0, rounded_up((self.extent[1] - self.extent[0]) / self.pieces.longest) - 1)

    @cached_property
    def pieces(self) -> Pieces:
        """What its pieces must be."""
        return Pieces.of(self.stretch)

    @cached_property
    def allowed(self) -> Band:
        """Where it bears a join."""
        return allowed(self.stretch, self.document, self.catalogue)

    def own(self) -> tuple[float, ...]:
        """Where the program parts it by itself; nowhere where it finds no place."""
        try:
            return tuple(split_points(self.stretch, self.extent, self.notched, self.document, self.catalogue))
        except InputError:
            return ()

    @property
    def landmarks(self) -> list[float]:
        """Sides between units, and their middles."""
        units = self.stretch.units
        return sorted([*(u.x for u in units[1:]), *((u.x + u.right) / 2 for u in units)])

    def places(self) -> list[float]:
        """Ends of bands, sides and middles of units, ends of stock with its trim and without, the program's own."""
        better = allowed(self.stretch, self.document, self.catalogue, CLEAR_OF_CUTOUTS[0])
        trim = default_rules().saw.trim
        sold = [length - off for length in self.stretch.run.stock.lengths for off in (0.0, trim)]
        found = [x for band in (self.allowed, better) for span in band for x in span]
        found += [x for length in sold for x in (self.extent[0] + length, self.extent[1] - length)]
        near = {
            settled(x): x for x in (*found, *self.landmarks, *self.own()) if self.extent[0] < x < self.extent[1]
        }
        return sorted(near.values())

    def partings(self, count: int) -> list[tuple[float, ...]]:
        """The ways to part it by so many joins: of one join every place, of more the best of all that buy the same.

        Those are best that the program would take, by `parted_score`. Exact, piece by piece from the left. Not
        parted, a row may be as short as it is.
        """
        if count == 0:
            return [()]
        bands, places = self.pieces.bands(self.allowed, self.extent, count), self.places()
        steps = [*([x for x in places if contains(band, x)] for band in bands), [self.extent[1]]]
        cut = [*cutout_spans(self.stretch, self.document, self.catalogue), *self.notched]
        ways: dict[Way, tuple[float, ...]] = {((), self.extent[0]): ()}
        for step in steps:
            longer: dict[Way, list[tuple[float, ...]]] = {}
            for (bought, start), points in ways.items():
                for x in step:
                    stock = stock_for(self.stretch, x - start) if settled(x - start) >= SHORTEST else 0.0
                    if stock:
                        longer.setdefault((tuple(sorted((*bought, stock))), x), []).append((*points, x))
            ways = {way: least(found, key=lambda points: self._score(points, cut)) for way, found in longer.items()}
        return [(x,) for x in steps[0]] if count == 1 else [points[:-1] for points in ways.values()]

    def _score(self, points: Sequence[float], cut: Sequence[Interval]) -> tuple[float, ...]:
        return (*parted_score((self.extent[0], *points), cut), *points)

    def against(self, x: float) -> list[str]:
        """What speaks against one join at a place outside the bands."""
        low, high, longest = *self.extent, self.pieces.longest
        found = [f"a worktop {p:.0f} long in one piece" for p in (x - low, high - x) if p > longest]
        found += [f"a piece {p:.0f} long; at least {SHORTEST:g}" for p in (x - low, high - x) if p < SHORTEST]
        for a, b in ((low, x), (x, high)):
            if not any(a + CONTACT < m <= b + CONTACT for m in self.pieces.middles):
                found.append(f"a piece from {a:.0f} to {b:.0f} over the middle of no unit")
        for unit in (u for u in self.stretch.units if u.x <= x <= u.right):
            side = min(x - unit.x, unit.right - x)
            if not unit.family.kind.bears_join:
                found.append(f"over {unit.name}, {unit.family.name}, which does not bear it")
            elif side < CLEAR_OF_SIDES:
                found.append(f"{side:.0f} from the side of {unit.name}; at least {CLEAR_OF_SIDES:g}")
        for a, b in cutout_spans(self.stretch, self.document, self.catalogue):
            away = max(a - x, x - b, 0.0)
            if away < CLEAR_OF_CUTOUTS[1]:
                found.append(f"{away:.0f} from a line to cut, {a:.0f} to {b:.0f}; at least {CLEAR_OF_CUTOUTS[1]:g}")
        return found
