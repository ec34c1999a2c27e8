"""Corners: the angle between two fitted runs, read in degrees or by the tape. It is that of the walls' lines."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from countersunk.model.document.fitted import AsFitted, FittedCorner
from countersunk.model.document.room import Across
from countersunk.model.errors import InputError
from countersunk.model.fitted.named import FittedRuns
from countersunk.model.fitted.weighed import Adjusted, FittedReading, Row, weighed
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.angles import across_angle, third_side

STRAIGHT, MET = "square to", "met at"
"""The two places on the line of degrees."""


@dataclass(frozen=True)
class CornerBetween:
    """The walls that meet in a corner, left one first, and its angle as planned, degrees."""

    left: SurveyedWall
    right: SurveyedWall
    angle: float

    @property
    def name(self) -> str:
        """``A-B``: the walls from left to right."""
        return f"{self.left.name}-{self.right.name}"


def corners_of(survey: Survey) -> dict[str, CornerBetween]:
    """Every corner of a room by its name, in the order of its walls."""
    met = ((wall, survey.next_wall(wall)) for wall in survey.walls)
    found = [CornerBetween(a, b, a.corner) for a, b in met if b is not None and a.corner is not None]
    return {corner.name: corner for corner in found}


def fitted_corner(name: str, field: str, survey: Survey, runs: FittedRuns) -> CornerBetween:
    """The corner of that name between two fitted runs. Raises InputError where there is none."""
    corners = corners_of(survey)
    between = [n for n, c in corners.items() if runs.on(c.left.name) and runs.on(c.right.name)]
    if name not in between:
        raise InputError.unknown(field, name, between or ["none"], "a corner between two fitted runs")
    return corners[name]


def adjusted_corners(fitted: AsFitted, survey: Survey, runs: FittedRuns) -> dict[str, Adjusted]:
    """Every corner that was read, by its name: the angle is at the place `MET`. Raises InputError."""
    read = [(fitted_corner(row.corner, f"fitted.corners[{i}].corner", survey, runs), i, row)
            for i, row in enumerate(fitted.corners)]  # fmt: skip
    names = dict.fromkeys(corner.name for corner, _, _ in read)
    found = {}
    for name in names:
        rows = [_row(corner, row, i, fitted) for corner, i, row in read if corner.name == name]
        found[name] = weighed({STRAIGHT: 0.0, MET: rows[0].reading.read}, STRAIGHT, rows)
    return found


def _row(corner: CornerBetween, row: FittedCorner, i: int, fitted: AsFitted) -> Row:
    angle, tolerance = _read(row, f"fitted.corners[{i}]", fitted)
    words = f"corner {row.corner}" if row.angle is not None else f"the tape across corner {row.corner}"
    reading = FittedReading(words, "corners", i, corner.angle, angle, tolerance)
    return Row(reading, STRAIGHT, MET)


def _read(row: FittedCorner, field: str, fitted: AsFitted) -> tuple[float, float]:
    """The angle that was read and its tolerance, degrees."""
    if row.angle is not None and row.legs is None and row.length is None:
        return row.angle, row.tolerance or fitted.tolerance.angle
    if row.angle is not None or row.legs is None or row.length is None:
        raise InputError.at(field, found="neither or both", allowed="an angle, or legs and the length across them")
    a, b = row.legs
    low, high = third_side(a, b, 30.0), third_side(a, b, 175.0)
    if not low <= row.length <= high:
        allowed = f"{low:.0f} to {high:.0f} between marks {a:g} and {b:g} from the corner"
        raise InputError.at(f"{field}.length", found=f"{row.length:g}", allowed=allowed, advice="measure it again")
    angle = across_angle(Across(legs=row.legs, length=row.length))
    per_mm = math.degrees(row.length / (a * b * math.sin(math.radians(angle))))
    return angle, per_mm * (row.tolerance or fitted.tolerance.length)


def angles_of(
    survey: Survey, read: Mapping[str, Adjusted], leaning: Mapping[str, float]
) -> Iterator[tuple[str, float]]:
    """The angle of every corner as fitted, degrees: as read, as an end wall was found to lean, or as planned."""
    for name, corner in corners_of(survey).items():
        yield name, read[name].at[MET] if name in read else leaning.get(name, corner.angle)
