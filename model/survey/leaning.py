"""Leaning: what was read at other heights than the top's, beside what corners were adjusted to."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from countersunk.model.adjustment.observations import Angle
from countersunk.model.survey.heights import LEVEL, NEAR, governing, off_level, thing_of
from countersunk.model.survey.observed import Points, measured
from countersunk.model.survey.shape import RoomShape
from countersunk.model.tolerance import COVERAGE

PLUMB = 0.02
"""A wall that leans by more than this share of the height between is seen (common practice, no source)."""


@dataclass(frozen=True)
class Lean:
    """A reading at another ``height`` above the floor than those that count, and what it is more than at the top's.

    ``tolerance`` is what both together may be off. ``value`` and all else in mm, for corners in degrees.
    """

    what: str
    field: str
    value: float
    unit: str
    height: float
    more: float
    tolerance: float

    @property
    def leans(self) -> bool:
        """Whether tolerances do not explain the difference."""
        return abs(self.more) > self.tolerance

    @property
    def doubtful(self) -> bool:
        """Whether it is more than walls lean."""
        return self.unit == "mm" and abs(self.more) > self.tolerance + PLUMB * abs(self.height - LEVEL)

    @property
    def words(self) -> str:
        """What it says, in a sentence."""
        what = f"{self.what[0].upper()}{self.what[1:]}"
        read = f"{self.value:g}{'°' * (self.unit == '°')}"
        if not self.leans:
            return f"{what}, is {read}, within the tolerances as at the height of the top: the walls stand upright."
        by = f"{abs(self.more):.2f}°" if self.unit == "°" else f"{abs(self.more):.0f} mm"
        than = f"{by} {'more' if self.more > 0 else 'less'} than at the height of the top"
        return f"{what}, is {read}, {than}: walls lean there, and tops are cut to what was read near the top."


def leans(shape: RoomShape) -> Iterator[Lean]:
    """Every reading that does not count because others were taken nearer to the height of tops."""
    room, at = shape.room, shape.adjustment.at
    counts, points = governing(room), Points(room, shape.closed)
    for i, row in enumerate(room.measured):
        if i not in counts and row.height is not None:
            o, field = measured(points, row, i)
            unit, within = "°" if isinstance(o, Angle) else "mm", math.sqrt(2.0) * COVERAGE * o.sigma
            yield Lean(o.name, field, o.value, unit, row.height, o.misfit(at), within)


def off_tops(shape: RoomShape) -> Iterator[str]:
    """What was read at several heights and never near the top's: what to do about it, in words."""
    rows, counts = shape.room.measured, governing(shape.room)
    aside = {thing_of(row) for i, row in enumerate(rows) if i not in counts}
    points = Points(shape.room, shape.closed)
    for i in sorted(counts):
        if off_level(rows[i]) > 0 and thing_of(rows[i]) in aside:
            name, low, high = measured(points, rows[i], i)[0].name, LEVEL - NEAR, LEVEL + NEAR
            yield f"Measure once more, {low:.0f} to {high:.0f} above the floor where tops lie: {name}"
