"""Scribe: what a bowed wall takes of the back of a top, and what it leaves open behind it.

Where the wall bulges into the room the top is cut to it. Where it is hollow a straight back stands off it; to close
that, the top is pushed back by the widest gap and its back scribed to the wall, most where the wall stands out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.profile import plan_points
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.tolerance import EQUAL
from countersunk.model.tops.worktops import Length

SCRIBE_GAP = 3.0
"""A gap behind a top that silicone closes, mm (quoted)."""


@dataclass(frozen=True)
class Scribe:
    """The wall behind a length. ``face`` are points of the wall's face in the frame of the length's part (mm).

    y > 0 is a bulge, which is cut out of the back already; y < 0 a hollow, which is a gap behind it.
    """

    length: str
    wall: str
    face: tuple[Point, ...]

    @property
    def gap(self) -> float:
        """The widest gap behind the back as it is laid, mm."""
        return max(0.0, -min(y for _, y in self.face))

    @property
    def bulge(self) -> float:
        """The most that is cut out of the back, mm."""
        return max(0.0, *(y for _, y in self.face))

    @property
    def pushed(self) -> float:
        """How far the top is pushed back to close the gap, mm; 0 where silicone closes it."""
        return self.gap if self.gap > SCRIBE_GAP else 0.0

    @property
    def shows(self) -> bool:
        """Whether the back has to be scribed: silicone closes less."""
        return max(self.gap, self.bulge) > SCRIBE_GAP

    def behind(self, x: float) -> float:
        """How far the wall stands behind the straight back at ``x`` in the part, mm; less than 0 for a bulge."""
        along, out = zip(*self.face, strict=True)
        return -float(np.interp(x, along, out))

    def cut_at(self, x: float) -> float:
        """What comes off the straight back at ``x`` in the part, once the top is pushed back by `pushed`, mm."""
        return max(0.0, self.pushed - self.behind(x))

    @property
    def take_off(self) -> tuple[Point, ...]:
        """What comes off the back at each place when the top is pushed back by `gap`: x in the part frame, mm."""
        return tuple((x, y + self.gap) for x, y in self.face)


def scribes(survey: Survey, lengths: tuple[Length, ...]) -> Iterator[Scribe]:
    """One for each length that lies against a wall with stations."""
    for length in lengths:
        wall = survey.wall(length.run.wall) if length.run.wall else None
        if wall is not None and wall.stations:
            yield Scribe(length.id, wall.name, _face_behind(length, wall))


def _face_behind(length: Length, wall: SurveyedWall) -> tuple[Point, ...]:
    """The wall's face from one end of the length's back to the other, at every station between."""
    start, end = length.x, length.x + length.part.length
    inner = [x for x, _ in plan_points(wall.bow) if start + EQUAL < x < end - EQUAL]
    inside = [max(0.0, start), *inner, min(wall.length, end)]
    return tuple((x - start, wall.face_at(x)) for x in inside)
