"""On units: the readings on fitted units as measurements that tops move with."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from countersunk.model.document.fitted import AsFitted
from countersunk.model.fitted.survey import FittedSurvey
from countersunk.model.survey.readings import Reading

VALUES = {"lengths": ("length",), "corners": ("angle", "length"), "gaps": ("gap",), "walls": ("back", "front")}
"""The fields of each list that hold what was read. A height moves no length."""


def fitted_readings(fitted: AsFitted, found: FittedSurvey) -> tuple[Reading, ...]:
    """Every reading that is used, with its ± and where the document's ``fitted`` has it."""
    return tuple(_readings(fitted, found))


def _readings(fitted: AsFitted, found: FittedSurvey) -> Iterator[Reading]:
    for reading in found.readings:
        row = getattr(fitted, reading.kind)[reading.i]
        for key in VALUES.get(reading.kind, ()):
            if (value := getattr(row, key)) is not None:
                tolerance = _tolerance(fitted, row) if key == "length" else reading.tolerance
                yield Reading(reading.what, value, tolerance, (reading.kind, reading.i, key))


def _tolerance(fitted: AsFitted, row: Any) -> float:
    """That of a length, which for a tape across a corner is no angle's, mm."""
    return float(row.tolerance or fitted.tolerance.length)
