"""Beside: from the ends of fitted runs to the walls and corners there, as places on the lines of the runs.

The line of a wall begins and ends where it meets the lines of the walls beside it. What was read goes along the
backs or the fronts of the units, where a wall that leans or bulges is nearer or further off.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from countersunk.model.document.fitted import AsFitted, FittedGap, FittedLength
from countersunk.model.errors import InputError
from countersunk.model.fitted.along import LEFT, RIGHT, side_of
from countersunk.model.fitted.behind import FittedFace
from countersunk.model.fitted.corners import CornerBetween, corners_of, fitted_corner
from countersunk.model.fitted.named import FittedRuns, NamedUnit
from countersunk.model.fitted.weighed import Adjusted, FittedReading, Row
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.survey import Survey

IN_WALL = 3.0
"""By how much readings may put the end of a run into a wall, mm (common practice, no source)."""

Lean = tuple[str, float]
"""A corner, and its angle in degrees."""


@dataclass(frozen=True)
class Beside:
    """What readings beside runs are taken against: the room and the runs as planned, and what was read so far.

    ``faces`` are by wall, ``angles`` of corners as fitted (degrees) by their name.
    """

    fitted: AsFitted
    survey: Survey
    runs: FittedRuns
    faces: Mapping[str, FittedFace]
    angles: Mapping[str, float]

    def corner(self, wall: str, end: str) -> CornerBetween | None:
        """The corner at an end of a wall."""
        corners = corners_of(self.survey).values()
        return next((c for c in corners if (c.right if end == "left" else c.left).name == wall), None)

    def off(self, corner: CornerBetween, end: str, out: float, *, planned: bool = False) -> float:
        """How far the true face of the wall beside is past the corner, ``out`` before the run's own wall, mm.

        ``end`` is that of the run.
        """
        angle = math.radians(corner.angle if planned else self.angles[corner.name])
        other = corner.left if end == "left" else corner.right
        away = out / math.sin(angle)
        x = other.length - away if end == "left" else away
        face = FittedFace(other) if planned else self.faces[other.name]
        return face.hollow(x) / math.sin(angle) - out / math.tan(angle)

    def inner(self, corner: CornerBetween, wall: str, *, planned: bool = False) -> float:
        """How far from a corner along a wall the fronts of the runs in it meet, mm."""
        angle = math.radians(corner.angle if planned else self.angles[corner.name])
        other = corner.left.name if wall == corner.right.name else corner.right.name
        own, beside = (front_of(self.runs.on(name)) for name in (wall, other))
        return (beside + own * math.cos(angle)) / math.sin(angle)


def front_of(runs: Sequence[PlacedRun]) -> float:
    """How far before the line of a wall the fronts of its runs stand, mm."""
    return max(run.stand_off + max(unit.front for unit in run.units) for run in runs)


def length_rows(beside: Beside) -> Iterator[tuple[str, Row]]:
    """The lengths that were read along runs, each with its wall, or the key of its run. Raises InputError."""
    for i, row in enumerate(beside.fitted.lengths):
        field = f"fitted.lengths[{i}]"
        given = [name for name in ("start", "to", "corner") if getattr(row, name) is not None]
        if len(given) != 2:
            allowed = "two of from, to and corner"
            raise InputError.at(field, found=" and ".join(given).replace("start", "from"), allowed=allowed)
        ends = [(over, f"{field}.{key}") for over, key in ((row.start, "from"), (row.to, "to")) if over is not None]
        named = [beside.runs.unit(over, at) for over, at in ends]
        if None not in named:
            units = [unit for unit in named if unit is not None]
            yield _to_corner(beside, row, i, units[0]) if row.corner else _between(beside, row, i, units)


def line_name(run: PlacedRun) -> str:
    """What the line of a run is known by: its wall, or its own key where it stands free."""
    return run.wall or run.key


def _between(beside: Beside, row: FittedLength, i: int, units: list[NamedUnit]) -> tuple[str, Row]:
    one, other = units
    planned = other.unit.right - one.unit.x
    if line_name(one.run) != line_name(other.run) or planned <= 0:
        found = f"{one.name} to {other.name}"
        allowed = "from the left side of one unit to the right side of another, further right along one wall"
        advice = "leave it out, or swap from and to"
        raise InputError.at(f"fitted.lengths[{i}]", found=found, allowed=allowed, advice=advice)
    words = f"{one.name} to {other.name}" if one != other else f"the width of {one.name}"
    reading = FittedReading(words, "lengths", i, planned, row.length, _within(beside, row))
    return line_name(one.run), Row(reading, side_of(one, "left"), side_of(other, "right"))


def _to_corner(beside: Beside, row: FittedLength, i: int, named: NamedUnit) -> tuple[str, Row]:
    field = f"fitted.lengths[{i}]"
    corner = fitted_corner(row.corner or "", f"{field}.corner", beside.survey, beside.runs)
    wall = (corner.left if row.start else corner.right).name
    if named.run.wall != wall:
        known = [unit.name for run in beside.runs.on(wall) for unit in run.units]
        raise InputError.unknown(f"{field}.{'from' if row.start else 'to'}", named.name, known, f"on wall {wall}")
    past, was = beside.inner(corner, wall), beside.inner(corner, wall, planned=True)
    length = beside.survey.wall(wall).length
    planned = (length - named.unit.x if row.start else named.unit.right) - was
    side = side_of(named, "left" if row.start else "right")
    a, b = (side, RIGHT) if row.start else (LEFT, side)
    words = f"{named.name} to the inner corner {corner.name}"
    reading = FittedReading(words, "lengths", i, planned, row.length, _within(beside, row))
    return wall, Row(reading, a, b, past)


def _within(beside: Beside, row: FittedLength | FittedGap) -> float:
    return row.tolerance or beside.fitted.tolerance.length


def gap_rows(beside: Beside, leaning: Collection[str]) -> Iterator[tuple[str, Row]]:
    """The gaps that were read at the ends of runs, each with its wall. Raises InputError.

    Those at the front by which the corners ``leaning`` were found say nothing of lengths besides, see `spent_gaps`.
    """
    for i, row, named, corner in _gaps(beside):
        if not _is_spent(row, corner, leaning):
            off = beside.off(corner, row.end, _out(named, row))
            side = side_of(named, row.end)
            ends = (LEFT, side) if row.end == "left" else (side, RIGHT)
            yield named.run.wall or "", Row(_gap_reading(beside, i, row, named, corner), *ends, -off)


def spent_gaps(beside: Beside, leaning: Collection[str]) -> Iterator[FittedReading]:
    """The gaps at the front by which the lean of an end wall was found."""
    for i, row, named, corner in _gaps(beside):
        if _is_spent(row, corner, leaning):
            yield replace(_gap_reading(beside, i, row, named, corner), fitted=row.gap)


def _is_spent(row: FittedGap, corner: CornerBetween, leaning: Collection[str]) -> bool:
    return row.at == "front" and corner.name in leaning


def _gap_reading(beside: Beside, i: int, row: FittedGap, named: NamedUnit, corner: CornerBetween) -> FittedReading:
    was = beside.off(corner, row.end, _out(named, row), planned=True)
    length = beside.survey.wall(named.run.wall or "").length
    planned = was + (named.unit.x if row.end == "left" else length - named.unit.right)
    words = f"the gap at the {row.end} of {named.name}, {row.at}"
    return FittedReading(words, "gaps", i, planned, row.gap, _within(beside, row))


def check_ends(beside: Beside, lines: Mapping[str, Adjusted]) -> None:
    """Raises InputError for a run that by its readings ends in the wall beside it."""
    for wall in beside.survey.walls:
        runs = beside.runs.on(wall.name)
        for end, run, i in (("left", runs[0], 0), ("right", runs[-1], len(runs[-1].units) - 1)) if runs else ():
            corner, named, at = beside.corner(wall.name, end), NamedUnit(run, i), lines[wall.name].at
            if corner is None or named.unit.wing:
                continue
            free = at[side_of(named, end)] - at[LEFT] if end == "left" else at[RIGHT] - at[side_of(named, end)]
            gap = free + beside.off(corner, end, run.stand_off)
            if gap < -IN_WALL:
                raise _in_wall(named, corner, end, gap, lines[wall.name])


def _in_wall(named: NamedUnit, corner: CornerBetween, end: str, gap: float, line: Adjusted) -> InputError:
    read = [reading.what for reading in line.readings] + [f"corner {corner.name}"]
    other = (corner.left if end == "left" else corner.right).name
    return InputError.at(
        line.readings[0].field if line.readings else "fitted",
        found=f"{named.name} {-gap:.1f} mm in wall {other} by the readings on the fitted units",
        allowed="readings by which the run ends before the wall",
        advice=f"measure again {', or '.join(read)}",
    )


def leans(beside: Beside) -> Iterator[Lean]:
    """The angle of each corner at an end wall without units, where the gap was read at back and front."""
    read: dict[tuple[str, str], tuple[CornerBetween, dict[float, list[float]]]] = {}
    for _, row, named, corner in _gaps(beside):
        other = corner.left if row.end == "left" else corner.right
        if not beside.runs.on(other.name):
            out = _out(named, row)
            bare = row.gap - beside.off(corner, row.end, out, planned=True) - out / _tan(corner.angle)
            read.setdefault((corner.name, row.end), (corner, {}))[1].setdefault(out, []).append(bare)
    for (name, _), (_, gaps) in read.items():
        if len(gaps) > 1:
            near, far = min(gaps), max(gaps)
            back, front = (sum(gaps[out]) / len(gaps[out]) for out in (near, far))
            yield name, math.degrees(math.atan2(far - near, back - front))


def _tan(degrees: float) -> float:
    return math.tan(math.radians(degrees))


def _out(named: NamedUnit, row: FittedGap) -> float:
    """How far before its wall a gap was read, mm."""
    return named.run.stand_off + (named.unit.front if row.at == "front" else named.unit.forward)


def _gaps(beside: Beside) -> Iterator[tuple[int, FittedGap, NamedUnit, CornerBetween]]:
    """Every gap with its unit and the corner there. Raises InputError for one that is at no end, or at no wall."""
    for i, row in enumerate(beside.fitted.gaps):
        field = f"fitted.gaps[{i}]"
        named = beside.runs.unit(row.unit, f"{field}.unit")
        if named is None:
            continue
        corner = beside.corner(named.run.wall, row.end) if named.run.wall else None
        if corner is None:
            found = f"the {row.end} of {named.name}, where no wall stands"
            raise InputError.at(field, found=found, allowed="an end of a run with a wall beside it")
        if named.i != (0 if row.end == "left" else len(named.run.units) - 1):
            ends = f"the left of {named.run.units[0].name}, or the right of {named.run.units[-1].name}"
            raise InputError.at(field, found=f"the {row.end} of {named.name}", allowed=f"an end of the run: {ends}")
        yield i, row, named, corner
