"""Behind: the true face of a wall, as it was read from the units before it.

A face is given by how hollow it is, mm, against the line that runs parallel to the fronts as far behind them as
planned. Between two places that were read the face keeps the shape that was surveyed; past the last it stands off
that by as much as there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from countersunk.model.document.fitted import AsFitted, FittedWall
from countersunk.model.errors import InputError
from countersunk.model.fitted.named import FittedRuns, NamedUnit
from countersunk.model.fitted.weighed import FittedReading, Row, weighed
from countersunk.model.geometry.frames import Point
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.tolerance import READING

CHORD = "chord"


@dataclass(frozen=True)
class FittedFace:
    """How much hollower than planned a wall is at places along it as planned (mm), and the readings of that."""

    wall: SurveyedWall
    places: tuple[Point, ...] = ()
    readings: tuple[FittedReading, ...] = ()

    def more(self, x: float) -> float:
        """How much hollower than planned it is at a place, mm."""
        if not self.places:
            return 0.0
        along, more = zip(*self.places, strict=True)
        return float(np.interp(x, along, more))

    def hollow(self, x: float) -> float:
        """How hollow it is at a place, mm."""
        return self.more(x) - self.wall.face_at(min(max(x, 0.0), self.wall.length))

    def on(self, wall: SurveyedWall, moved: Mapping[float, float]) -> SurveyedWall:
        """The wall as it was placed, with this face; ``moved`` has where the places are as fitted."""
        if all(abs(more) < 1e-9 for _, more in self.places):
            return replace(wall, stations=self.wall.stations, ends=self.wall.ends)
        xs = [x for x, _ in (*self.wall.stations, *self.places) if READING < x < self.wall.length - READING]
        stations = sorted({moved.get(x, x): self.hollow(x) for x in xs}.items())
        return replace(
            wall, stations=tuple(stations), ends=(self.hollow(0.0), self.hollow(self.wall.length))
        )  # fmt: skip


def fitted_faces(fitted: AsFitted, survey: Survey, runs: FittedRuns) -> dict[str, FittedFace]:
    """The face of every wall, by its name. Raises InputError."""
    rows: dict[str, list[tuple[float, Row]]] = defaultdict(list)
    for i, row in enumerate(fitted.walls):
        named = runs.unit(row.unit, f"fitted.walls[{i}].unit")
        if named is not None:
            wall = _wall_behind(named, f"fitted.walls[{i}].unit", survey)
            rows[wall.name].append(_row(named, wall, row, i, fitted))
    return {wall.name: _face(wall, rows[wall.name]) for wall in survey.walls}


def _wall_behind(named: NamedUnit, field: str, survey: Survey) -> SurveyedWall:
    if named.run.wall is None:
        raise InputError.at(field, found=f"{named.name}, which stands free", allowed="a unit that stands at a wall")
    return survey.wall(named.run.wall)


def _row(
    named: NamedUnit, wall: SurveyedWall, row: FittedWall, i: int, fitted: AsFitted
) -> tuple[float, Row]:  # fmt: skip
    """Where along the wall, and how hollow it is there as read."""
    if (row.back is None) == (row.front is None):
        found = "neither" if row.back is None else "both"
        raise InputError.at(f"fitted.walls[{i}]", found=f"{found} of back and front", allowed="one of them a row")
    face = "back" if row.front is None else "front"
    out = named.run.stand_off + (named.unit.forward if row.front is None else named.unit.front)
    read = row.back if row.front is None else row.front
    x = named.unit.x + {"left": 0.0, "middle": 0.5, "right": 1.0}[row.side] * named.unit.width
    reading = FittedReading(
        f"wall {wall.name} to the {face} of {named.name} at its {row.side}", "walls", i,
        out - wall.face_at(min(max(x, 0.0), wall.length)), read or 0.0, row.tolerance or fitted.tolerance.offset,
    )  # fmt: skip
    return x, Row(reading, CHORD, f"{x:.3f}", -out)


def _face(wall: SurveyedWall, read: Iterable[tuple[float, Row]]) -> FittedFace:
    rows = [row for _, row in read]
    if not rows:
        return FittedFace(wall)
    xs = {row.b: x for x, row in read}
    start = {CHORD: 0.0, **{row.b: row.reading.read + row.more for row in rows}}
    adjusted = weighed(start, CHORD, rows)
    hollow = {place: -wall.face_at(min(max(x, 0.0), wall.length)) for place, x in xs.items()}
    places = sorted((x, adjusted.at[place] - hollow[place]) for place, x in xs.items())
    return FittedFace(wall, tuple(places), adjusted.readings)
