"""Named: which fitted unit a reading names, and where it stands in its run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from countersunk.model.errors import InputError
from countersunk.model.layout.placing import PlacedRun, PlacedUnit


@dataclass(frozen=True)
class NamedUnit:
    """A unit with its run and its place in it, from 0."""

    run: PlacedRun
    i: int

    @property
    def unit(self) -> PlacedUnit:
        """The unit itself, as planned."""
        return self.run.units[self.i]

    @property
    def name(self) -> str:
        """What it is called today."""
        return self.unit.name


@dataclass(frozen=True)
class FittedRuns:
    """The runs of a kitchen as planned; tops lie on those on the floor."""

    runs: Sequence[PlacedRun]

    @cached_property
    def by_key(self) -> dict[str, NamedUnit]:
        """Every unit by its key."""
        return {unit.key: NamedUnit(run, i) for run in self.runs for i, unit in enumerate(run.units)}

    @property
    def floor(self) -> list[PlacedRun]:
        """The runs that stand on the floor."""
        return [run for run in self.runs if run.level == "floor"]

    def on(self, wall: str) -> list[PlacedRun]:
        """The runs on the floor along a wall, from left to right."""
        return sorted((run for run in self.floor if run.wall == wall), key=lambda run: run.units[0].x)

    def unit(self, over: str, field: str) -> NamedUnit | None:
        """The unit that a reading names; None for a key of which the unit is gone. Raises InputError."""
        if over not in self.by_key:
            if "-" in over:
                return None
            known = [unit.name for run in self.floor for unit in run.units]
            raise InputError.unknown(field, over, known, "a fitted unit")
        found = self.by_key[over]
        if found.run.level != "floor":
            advice = "leave it out: no top lies on what hangs"
            raise InputError.at(field, found=found.name, allowed="a unit on the floor", advice=advice)
        return found
