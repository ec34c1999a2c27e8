"""Weighed: readings along a line, adjusted by least squares, each by its tolerance, or refused."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Literal, get_args

from countersunk.model.adjustment.least_squares import Adjustment, Network, adjust
from countersunk.model.adjustment.observations import Key, Observation
from countersunk.model.adjustment.snooping import alone, is_contradictory, suspects
from countersunk.model.errors import InputError
from countersunk.model.tolerance import COVERAGE

Kind = Literal["lengths", "corners", "gaps", "walls", "heights"]
KINDS: tuple[Kind, ...] = get_args(Kind)
"""The lists of readings, in the order of the file."""


@dataclass(frozen=True)
class Apart(Observation):
    """How far one place on a line lies past another."""

    a: str
    b: str

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        return (self.a, "x"), (self.b, "x")

    def of(self, *values: Any) -> Any:
        low, high = values
        return high - low


@dataclass(frozen=True)
class FittedReading:
    """One reading on fitted units: in words, its list and its place there, what the plan has, what was read, and ±.

    ``fitted`` is what it was adjusted to, all readings taken together, and ``redundancy`` (0 to 1) how much the
    others check it. In mm, for corners in degrees.
    """

    what: str
    kind: Kind
    i: int
    planned: float
    read: float
    tolerance: float
    fitted: float = 0.0
    redundancy: float = 0.0

    @property
    def field(self) -> str:
        """Its field in the document."""
        return f"fitted.{self.kind}[{self.i}]"

    @property
    def difference(self) -> float:
        """Fitted less planned."""
        return self.fitted - self.planned

    @property
    def unit(self) -> str:
        """What it is read in."""
        return "°" if self.kind == "corners" else "mm"

    def __str__(self) -> str:
        """The reading with its value, such as "A1 to A5 2404 mm"."""
        return f"{self.what} {self.read:g}{self.unit if self.kind == 'corners' else ' mm'}"


@dataclass(frozen=True)
class Row:
    """A reading between two places on a line; ``more`` is to be added to it to come from the one to the other.

    Its ``tolerance`` is that of what lies between them: an angle by the tape is read in mm.
    """

    reading: FittedReading
    a: str
    b: str
    more: float = 0.0

    @property
    def observation(self) -> Apart:
        """The reading as an observation for the adjustment."""
        r = self.reading
        return Apart(r.what, r.read + self.more, r.tolerance / COVERAGE, self.a, self.b)


@dataclass(frozen=True)
class Adjusted:
    """Where the places on a line are, and the readings with what they were adjusted to."""

    at: Mapping[str, float]
    readings: tuple[FittedReading, ...]


def weighed(places: Mapping[str, float], origin: str, rows: Sequence[Row], given: Iterable[Apart] = ()) -> Adjusted:
    """The places adjusted, from where they are thought to be; ``given`` holds what was not read. Raises InputError
    for readings that contradict each other by more than chance explains.
    """
    network = Network(
        {(name, "x"): x for name, x in places.items()},
        frozenset({(origin, "x")}),
        (*(row.observation for row in rows), *given),
    )
    adjusted = adjust(network)
    _refuse(adjusted, rows)
    read = (_with(row.reading, adjusted, i) for i, row in enumerate(rows))
    return Adjusted({name: x for (name, _), x in adjusted.at.items()}, tuple(read))


def _with(reading: FittedReading, adjusted: Adjustment, i: int) -> FittedReading:
    fitted = reading.read + float(adjusted.residuals[i])
    return replace(reading, fitted=fitted, redundancy=float(adjusted.redundancy[i]))


def _refuse(adjusted: Adjustment, rows: Sequence[Row]) -> None:
    """Raises InputError with the readings of which one alone explains it, or those that check each other."""
    if not is_contradictory(adjusted):
        return
    checked = [i for i in range(len(rows)) if adjusted.redundancy[i] > 0]
    many = adjusted.freedom > 1
    named = suspects(alone(adjusted.network, [adjusted.at]), adjusted.freedom, adjusted.chi_square) if many else ()
    likely = {suspect.index: suspect.likely - rows[suspect.index].more for suspect in named}
    doubted = list(likely) or checked
    first = rows[doubted[0]].reading
    if likely:
        found = f"{first}, where the others make it {likely[doubted[0]]:.1f}"
    else:
        found = f"{'; '.join(str(rows[i].reading) for i in checked)}: these contradict each other"
    apart = ": nothing tells which of them is wrong" if len(doubted) > 1 else ""
    raise InputError.at(
        first.field,
        found=found,
        allowed="readings on the fitted units that agree within their tolerances",
        advice=f"measure again {', or '.join(rows[i].reading.what for i in doubted)}{apart}",
    )
