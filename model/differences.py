"""Differences: what was fitted against what was planned, each judged, and what it means for the tops."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from countersunk.model.certainty.certainty import top_fits
from countersunk.model.checks import check
from countersunk.model.checks.finding import Finding, Severity, as_shown
from countersunk.model.cures.losses import Loss, losses
from countersunk.model.document.room import Tolerance
from countersunk.model.facts.once import once
from countersunk.model.fitted.survey import FittedSurvey
from countersunk.model.fitted.weighed import FittedReading
from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import COVERAGE, EQUAL
from countersunk.model.tops.worktops import Length

Judged = Literal["within", "beyond", "not used"]


@dataclass(frozen=True)
class Deviation:
    """One thing as planned and as fitted, in mm or degrees, with the ± of the survey and what the difference means.

    ``planned`` or ``fitted`` is None where the other has no such thing. ``field`` is that of the reading.
    """

    what: str
    planned: float | None
    fitted: float | None
    tolerance: float
    unit: str
    meaning: str = ""
    field: str = ""

    @property
    def difference(self) -> float | None:
        """Fitted less planned."""
        return None if self.planned is None or self.fitted is None else self.fitted - self.planned

    @property
    def judged(self) -> Judged:
        """Whether the tolerance of the survey explains it."""
        if self.fitted is None:
            return "not used"
        return "within" if abs(self.difference or 0.0) <= self.tolerance + EQUAL else "beyond"


@once
def differences(kitchen: Kitchen) -> tuple[Deviation, ...]:
    """Every reading on fitted units against the plan, then every top; nothing for a kitchen that was not measured
    again.
    """
    if kitchen.fitted is None:
        return ()
    return (*_of_readings(kitchen, kitchen.fitted), *_of_tops(kitchen))


@once
def consequences(kitchen: Kitchen) -> tuple[str, ...]:
    """What the fitted tops meet less well than the planned ones, in a sentence each."""
    if kitchen.fitted is None:
        return ()
    found = losses(check(kitchen.planned), check(kitchen), (Severity.MUST, Severity.SHOULD))
    return tuple(_lost(loss) for loss in found)


def _of_readings(kitchen: Kitchen, fitted: FittedSurvey) -> Iterator[Deviation]:
    allowed = kitchen.document.room.tolerance
    for reading in fitted.readings:
        tolerance = _tolerance(reading, allowed)
        beyond = abs(reading.difference) > tolerance + EQUAL
        meaning = _meaning(reading, kitchen) if beyond else ""
        yield Deviation(
            reading.what, reading.planned, reading.fitted, tolerance, reading.unit, meaning, reading.field
        )  # fmt: skip
    for field in fitted.gone:
        meaning = "names a unit that is not in the kitchen any more: take the reading out, or measure again"
        yield Deviation(field, None, None, 0.0, "mm", meaning, field)


def _tolerance(reading: FittedReading, allowed: Tolerance) -> float:
    """By how much the survey of the room may be off in such a thing."""
    return {
        "lengths": allowed.wall, "gaps": allowed.wall, "corners": allowed.corner, "walls": allowed.offset,
        "heights": allowed.height,
    }[reading.kind]  # fmt: skip


def _meaning(reading: FittedReading, kitchen: Kitchen) -> str:
    """What a difference that the survey does not explain means."""
    more, by = reading.difference > 0, f"{abs(reading.difference):.1f} mm"
    if reading.kind == "corners":
        joins = [join.id for join in kitchen.joins if join.corner and reading.what.endswith(join.corner)]
        cut = f"join {joins[0]} is cut to {reading.fitted:.2f}°" if joins else "no join is there"
        return f"{cut}; both of its tops change"
    return {
        "lengths": f"the units stand {by} {'longer' if more else 'shorter'}: the end of the top goes with them",
        "gaps": f"the gap is {by} {'wider: see that a filler and the top still close it' if more else 'narrower'}",
        "walls": f"{by} {'more stays open behind the top' if more else 'more comes off the back of the top'}",
        "heights": f"{by} {'higher' if more else 'lower'}: level the units before a top is laid over them",
    }[reading.kind]


def _of_tops(kitchen: Kitchen) -> Iterator[Deviation]:
    """Every top as planned and as fitted, by its key; the ± is that of the planned one."""
    sure = {fit.top: COVERAGE * fit.sigma for fit in top_fits(kitchen.planned)}
    planned = {length.key: length for length in kitchen.planned.lengths}
    for length in kitchen.lengths:
        old = planned.pop(length.key, None)
        tolerance = sure[old.id] if old else 0.0
        was = old.part.length if old else None
        same = was is not None and abs(length.part.length - was) <= tolerance + EQUAL
        meaning = "was not planned: the row is joined once more" if old is None else _of_stock(old, length)
        yield Deviation(f"length of {length.id}", was, length.part.length, tolerance, "mm", "" if same else meaning)
    for old in planned.values():
        yield Deviation(f"length of {old.id}", old.part.length, None, sure[old.id], "mm", "is not needed any more")


def _of_stock(old: Length, new: Length) -> str:
    """What another length of a top comes to: another length of stock where it takes one."""
    bought = [min((s for s in t.run.stock.lengths if s >= t.part.length), default=0.0) for t in (old, new)]
    if bought[0] == bought[1] or 0.0 in bought:
        return f"is cut to {new.part.length:.1f}, not to what was planned"
    return f"takes a stock length of {bought[1]:g} in place of {bought[0]:g}"


def _lost(loss: Loss) -> str:
    after, before = loss.after, loss.before
    was = f"; as planned {_value(before)}" if before is not None else ""
    return f"{after.place}: {_value(after)}, asked for {after.sense} {as_shown(after.limit, after.unit)}{was}"


def _value(finding: Finding) -> str:
    return finding.reason if finding.value is None else as_shown(finding.value, finding.unit)
