"""Things: what findings are about, each by its sort and its key, and the names that people read.

Only here is it decided what a thing is known by. A *key* stays with a thing while others come, go and change
places; a *mark* is what today's numbering calls it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.document.schema import Opening
from countersunk.model.facts.once import once
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import PlacedRun, PlacedUnit
from countersunk.model.survey import SurveyedWall
from countersunk.model.survey.room import PlacedObstacle, PlacedRoofWindow, PlacedService, PlacedSlope
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length


class Sort(StrEnum):
    """What sort of thing a thing is. A run is all that stands along a wall; a row is one run of the document."""

    KITCHEN = "kitchen"
    RUN = "run"
    ROW = "row"
    UNIT = "unit"
    CUTOUT = "cut-out"
    LENGTH = "length"
    JOIN = "join"
    PART = "part"
    WALL = "wall"
    OPENING = "opening"
    OBSTACLE = "obstacle"
    SERVICE = "service"
    SLOPE = "slope"


@dataclass(frozen=True)
class Thing:
    """One thing of a kitchen: equal to itself in another version of the same kitchen."""

    sort: Sort
    key: str


WHOLE = Thing(Sort.KITCHEN, "")
"""The kitchen itself."""


def of_unit(unit: PlacedUnit) -> Thing:
    """A unit as a thing."""
    return Thing(Sort.UNIT, unit.key)


def of_cutout(cutout: PlacedCutout) -> Thing:
    """A sink, a hob or another cut-out as a thing."""
    return Thing(Sort.CUTOUT, cutout.key)


def of_length(length: Length) -> Thing:
    """A length of worktop as a thing."""
    return Thing(Sort.LENGTH, length.key)


def of_join(join: Join) -> Thing:
    """A join as a thing."""
    return Thing(Sort.JOIN, join.key)


def of_part(part: Part) -> Thing:
    """A part as a thing."""
    return Thing(Sort.PART, part.id)


def of_run(run: PlacedRun) -> Thing:
    """All that stands along the wall of a run, or its island, as a thing."""
    return Thing(Sort.RUN, run.name)


def of_row(run: PlacedRun) -> Thing:
    """A run of the document as a thing."""
    return Thing(Sort.ROW, run.key)


def of_wall(wall: SurveyedWall) -> Thing:
    """A wall as a thing."""
    return Thing(Sort.WALL, wall.name)


def of_opening(opening: Opening) -> Thing:
    """A door, window or passage as a thing."""
    return Thing(Sort.OPENING, opening.key)


def of_obstacle(obstacle: PlacedObstacle) -> Thing:
    """A column or boxing as a thing."""
    return Thing(Sort.OBSTACLE, obstacle.field)


def of_service(service: PlacedService) -> Thing:
    """A socket or another service as a thing."""
    return Thing(Sort.SERVICE, service.name)


def of_roof_window(window: PlacedRoofWindow) -> Thing:
    """A window in a sloping ceiling as a thing."""
    return Thing(Sort.SLOPE, window.field)


def of_slope(slope: PlacedSlope) -> Thing:
    """A sloping ceiling as a thing."""
    return Thing(Sort.SLOPE, slope.field)


@once
def tops_at(kitchen: Kitchen) -> Mapping[Thing, Stock]:
    """What the top is of at every length, cut-out and join."""
    stocks = {length.id: length.run.stock for length in kitchen.lengths}
    return {
        **{of_length(length): length.run.stock for length in kitchen.lengths},
        **{of_cutout(cutout): stocks[cutout.length] for cutout in kitchen.cutouts},
        **{of_join(join): stocks[join.female] for join in kitchen.joins},
    }


@once
def marks(kitchen: Kitchen) -> Mapping[Thing, str]:
    """What today's numbering, or the survey, calls every thing of a kitchen."""
    room = kitchen.survey
    return {
        WHOLE: "the kitchen",
        **{of_run(run): f"run {run.name}" for run in kitchen.runs},
        **{of_row(run): f"run {run.name}" for run in kitchen.runs},
        **{of_unit(unit): unit.name for unit in kitchen.units},
        **{of_cutout(cutout): cutout.name for cutout in kitchen.cutouts},
        **{of_length(length): length.id for length in kitchen.lengths},
        **{of_join(join): join.id for join in kitchen.joins},
        **{of_part(part): part.mark for part in kitchen.parts},
        **{of_wall(wall): f"wall {wall.name}" for wall in room.walls},
        **{of_opening(opening): f"{opening.kind} in wall {opening.wall}" for opening in room.openings},
        **{of_obstacle(obstacle): obstacle.name for obstacle in room.obstacles},
        **{of_service(service): f"{service.name} in wall {service.wall}" for service in room.services},
        **{of_slope(slope): f"the sloping ceiling at wall {slope.wall}" for slope in room.slopes},
        **{of_roof_window(w): f"roof window over wall {w.wall}" for s in room.slopes for w in s.windows},
    }


@once
def units_by_thing(kitchen: Kitchen) -> Mapping[Thing, PlacedUnit]:
    """Every unit by the thing that it is."""
    return {of_unit(unit): unit for unit in kitchen.units}


@once
def runs_of(kitchen: Kitchen) -> Mapping[Thing, PlacedRun]:
    """The run of every unit, length and cut-out, and of their parts."""
    on_tops = {cutout: kitchen.length(cutout.length).run for cutout in kitchen.cutouts}
    owners = {unit.key: run for run in kitchen.runs for unit in run.units}
    owners |= {length.key: length.run for length in kitchen.lengths}
    owners |= {cutout.key: run for cutout, run in on_tops.items()}
    return {
        **{of_unit(unit): run for run in kitchen.runs for unit in run.units},
        **{of_length(length): length.run for length in kitchen.lengths},
        **{of_cutout(cutout): run for cutout, run in on_tops.items()},
        **{of_part(part): owners[part.owner] for part in kitchen.parts if part.owner in owners},
    }


def of_units(units: Iterable[PlacedUnit]) -> tuple[Thing, ...]:
    """Several units as things."""
    return tuple(map(of_unit, units))


def of_lengths(lengths: Iterable[Length]) -> tuple[Thing, ...]:
    """Several lengths of worktop as things."""
    return tuple(map(of_length, lengths))


def things_on(kitchen: Kitchen, run: PlacedRun) -> tuple[Thing, ...]:
    """A run's units and the lengths of top over them."""
    return (*of_units(run.units), *of_lengths(t for t in kitchen.lengths if t.run is run))


def free_standing(kitchen: Kitchen, about: Collection[Thing]) -> str:
    """What to call what stands away from the walls: that which has any of ``about``, or else all that there is.

    A peninsula where nothing but peninsulas is meant; an island else, also where there is none.
    """
    runs = [run for run in kitchen.runs if run.free]
    meant = [run for run in runs if not set(about).isdisjoint(things_on(kitchen, run))] or runs
    return "peninsula" if {run.free for run in meant} == {"peninsula"} else "island"
