"""Against: what a run stands against and cannot slide away from, in the room as read or as if read otherwise.

Above it is the ceiling, level or sloping; a slope that rises along the run it can slide away from, see
`model.certainty.neighbours`. Behind it is a bowed wall, which may stand out further than the units
stand off its chord.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.document.schema import Room
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.survey import SurveyedWall
from countersunk.model.survey.room import PlacedSlope, slopes_over
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT, EQUAL

NEAR = 100.0
"""A ceiling further than this above a run is no matter of readings, mm."""

Walls = Mapping[str, SurveyedWall]


@dataclass(frozen=True)
class Against:
    """What the run ``i`` of those on walls has above or behind it, in words; scribing gives ``give`` mm."""

    i: int
    run: PlacedRun
    way: Literal["above", "behind"]
    between: tuple[str, str]
    give: float = 0.0

    def spare(self, room: Room, walls: Walls) -> float:
        """What is free there in a room with its walls, mm."""
        wall = walls[self.run.wall or ""]
        if self.way == "behind":
            return _free_behind(self.run, wall)
        return min(free for free, _ in _free_above(self.run, wall, room, walls))


def against(runs: Sequence[PlacedRun], room: Room, walls: Walls) -> Iterator[Against]:
    """One for every ceiling near above a run, and every bowed wall behind one that stands on the floor.

    What hangs comes forward by a bulge, and that hurts nothing; on the floor it is taken from the top's overhang.
    """
    for i, run in enumerate(runs):
        wall = walls[run.wall or ""]
        free, ceiling = least(_free_above(run, wall, room, walls), key=lambda above: above[0])
        if free < NEAR - EQUAL:
            yield Against(i, run, "above", ("its top", ceiling))
        if run.level == "floor" and wall.stations and _solid(run):
            yield Against(i, run, "behind", ("its back", f"wall {wall.name}"), _scribed(run))


def _free_above(run: PlacedRun, wall: SurveyedWall, room: Room, walls: Walls) -> Iterator[tuple[float, str]]:
    """What every ceiling leaves above the unit that has least, mm, and its name."""
    yield room.height - max(top_of(run, unit) for unit in run.units), "the ceiling"
    for slope in slopes_over(room, walls):
        if _rises_across(slope, wall, walls):
            free = min(slope.over(_plan(run, unit, wall)) - top_of(run, unit) for unit in run.units)
            yield free, f"the slope over wall {slope.wall}"


def top_of(run: PlacedRun, unit: PlacedUnit) -> float:
    """How high a unit reaches above the floor with the worktop on it, mm; a chimney that telescopes is left out."""
    if unit.telescopes:
        return unit.family.base
    return unit.family.top + (run.stock.thickness if unit.family.carries_top else 0.0)


def _plan(run: PlacedRun, unit: PlacedUnit, wall: SurveyedWall) -> Polygon:
    """A unit in the plan of the room; with a worktop on it from the wall to the top's front edge."""
    if unit.family.carries_top:
        return wall.frame.plan_to_room(rectangle(unit.x, 0.0, unit.right, run.stock.depth))
    return wall.frame.moved(unit.x, run.stand_off + unit.forward).plan_to_room(unit.outline)


def _rises_across(slope: PlacedSlope, wall: SurveyedWall, walls: Walls) -> bool:
    """Whether a slope rises across the run rather than along it."""
    turn = math.radians(walls[slope.wall].heading - wall.heading)
    return abs(math.cos(turn)) > math.cos(math.pi / 4) + CONTACT


def _solid(run: PlacedRun) -> list[PlacedUnit]:
    return [unit for unit in run.units if not unit.family.kind.is_scribed]


def _free_behind(run: PlacedRun, wall: SurveyedWall) -> float:
    """What a wall's true face leaves behind the unit that has least, mm; it is straight between stations."""
    ends = [(unit.x, unit.right) for unit in _solid(run)]
    places = [x for a, b in ends for x in (a, *(s for s, _ in wall.face if a < s < b), b)]
    along, out = zip(*wall.face, strict=True)
    return run.stand_off - float(np.max(np.interp(places, along, out)))


def _scribed(run: PlacedRun) -> float:
    """What scribing gives, mm: the rear edges of carcasses, until backs in their grooves are met."""
    methods = [(unit.boards.method, unit.family.kind) for unit in _solid(run)]
    return min(how.inset if how.back == "groove" and not kind.is_bought else 0.0 for how, kind in methods)
