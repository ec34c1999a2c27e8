"""On units: the readings on fitted units as measurements that tops move with."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from countersunk.model.adjustment.limits import noncentrality
from countersunk.model.document.fitted import AsFitted
from countersunk.model.fitted.survey import FittedSurvey
from countersunk.model.survey.besides import ALONE
from countersunk.model.survey.readings import Reading

VALUES = {"lengths": ("length",), "corners": ("angle", "length"), "gaps": ("gap",), "walls": ("back", "front")}
"""The fields of each list that hold what was read. A height moves no length."""


def fitted_readings(fitted: AsFitted, found: FittedSurvey) -> tuple[Reading, ...]:
    """Every reading that is used, with its ± and where the document's ``fitted`` has it."""
    return tuple(reading for reading, _ in _readings(fitted, found))


def shows_on_units(fitted: AsFitted, found: FittedSurvey) -> Mapping[str, float]:
    """The least error that shows of every such reading by its field, as `shows_from` has it for the room's."""
    return {
        reading.field: noncentrality() * reading.sigma / math.sqrt(redundancy) if redundancy >= ALONE else math.inf
        for reading, redundancy in _readings(fitted, found)
    }


def _readings(fitted: AsFitted, found: FittedSurvey) -> Iterator[tuple[Reading, float]]:
    """Each with its redundancy number."""
    for reading in found.readings:
        row = getattr(fitted, reading.kind)[reading.i]
        for key in VALUES.get(reading.kind, ()):
            if (value := getattr(row, key)) is not None:
                tolerance = _tolerance(fitted, row) if key == "length" else reading.tolerance
                yield Reading(reading.what, value, tolerance, (reading.kind, reading.i, key)), reading.redundancy


def _tolerance(fitted: AsFitted, row: Any) -> float:
    """That of a length, which for a tape across a corner is no angle's, mm."""
    return float(row.tolerance or fitted.tolerance.length)
