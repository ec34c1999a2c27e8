"""Kept: what no rule asks for and no cure may spoil, each as a number that must not fall."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from countersunk.model.checks.walkways import around_island
from countersunk.model.facts.plans import hoods, of_kind, unit_plan
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.cutouts import PlacedCutout

HOOD = "hood-over-hob"

SLIT = (60.0, 300.0)
"""A gap between a row and a wall that is too wide for a scribe and too narrow to stand in, mm (practice)."""


WIDEST_FILLER = 100.0
"""The widest filler that the trade leaves between units, mm (common practice, no source)."""


def hooded(kitchen: Kitchen) -> Iterator[tuple[PlacedCutout, PlacedUnit]]:
    """Each hob with the hood that its middle is under."""
    for hob, _ in of_kind(kitchen, "hob"):
        for hood in hoods(kitchen):
            if unit_plan(hood).contains(hob.rim_in_room.centroid):
                yield hob, hood


def _hooded(kitchen: Kitchen) -> int:
    return len(list(hooded(kitchen)))


def _ways_round(kitchen: Kitchen) -> int:
    """How many sides of islands have a way past them."""
    return len(list(around_island(kitchen)))


def _closed(kitchen: Kitchen) -> int:
    """Less one for each end of a row on the floor that leaves a slit beside the wall."""
    rows = [run for run in kitchen.runs if run.wall and run.level == "floor"]
    ends = ((run.units[0].x, kitchen.survey.wall(str(run.wall)).length - run.units[-1].right) for run in rows)
    return -sum(SLIT[0] + CONTACT < gap < SLIT[1] - CONTACT for both in ends for gap in both)


def _filled(kitchen: Kitchen) -> float:
    """Less the mm by which fillers are wider than the trade leaves."""
    fillers = (unit for unit in kitchen.units if unit.family.kind.fills_gap)
    return -sum(max(0.0, unit.width - WIDEST_FILLER) for unit in fillers)


KEPT: Mapping[str, Callable[[Kitchen], float]] = {
    HOOD: _hooded,
    "way-past-island": _ways_round,
    "row-closed-to-wall": _closed,
    "filler-not-too-wide": _filled,
}
"""By what is called broken where it falls."""
