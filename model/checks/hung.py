"""Measures of what hangs on a wall or from the ceiling: what its brackets, and a wall of studs, may carry more than
is on them.

What a wall really carries is for a competent person who has seen how it is built.
"""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.checks.finding import Amount, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Sort, Thing, of_length, of_row, of_unit, of_units
from countersunk.model.facts.masses import contents, mass
from countersunk.model.facts.plans import behind_units, block, unit_plan, upright
from countersunk.model.geometry.identity import Role
from countersunk.model.kinds.walls import SOLID, WALL_KINDS, WallKind
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit

ON_SHELF = 20.0
"""What stands on a metre of a floating shelf, kg: crockery and books (common practice, no source)."""


AT_BAR = 50.0
"""What leans on a metre of a bar, kg (common practice, no source)."""


def bracket_spare(kitchen: Kitchen) -> Iterator[Place]:
    """What each bracket of a floating shelf may carry more than its share of the shelf and what is on it, kg."""
    for unit, wall, kind in _hung(kitchen):
        if unit.family.kind.on_brackets:
            floats = unit.family.floats
            each = (mass(kitchen, unit) + ON_SHELF * unit.width / 1000) / len(floats.places(unit.width))
            yield _at(unit, wall, each, (floats.stud if kind.studs else floats.solid) - each)


def wall_spare(kitchen: Kitchen) -> Iterator[Place]:
    """What a wall of studs may carry along a unit more than the unit and what is in it, kg.

    A unit's boards and glass are weighed, and its shelves are full; what is bought has a mass that its own sheet
    says. Walls of which nobody says that they are of studs are not asked.
    """
    for unit, wall, kind in _hung(kitchen):
        if kind.hangs is not None and not unit.family.kind.on_brackets:
            if unit.family.appliances:
                where, reason = _where(unit, wall, 0.0), "what it weighs is on its maker's sheet"
                yield Place(where, None, (of_unit(unit),), reason=reason)
            else:
                load = mass(kitchen, unit) + contents(unit)
                yield _at(unit, wall, load, kind.hangs * unit.width / 1000 - load)


def arm_spare(kitchen: Kitchen) -> Iterator[Place]:
    """What each arm under the back of a top may carry more than its share of that and of `AT_BAR`, kg."""
    for run in (run for run in kitchen.runs if run.arm):
        tops = [length for length in kitchen.lengths if length.run is run]
        held = [part for unit in run.units for part in kitchen.parts_of[unit.key] if part.role is Role.ARM]
        if run.arm and tops and held:
            long, past = sum(length.part.length for length in tops), behind_units(tops[0])
            load = long * past * run.stock.thickness * run.stock.density * 1e-9 + AT_BAR * long / 1000
            pose, z = tops[0].part.pose, tops[0].part.pose.origin[2]
            volume, segment = upright(block(pose, 0.0, 0.0, tops[0].part.length, past), z - run.arm.leg, z)
            each = load / len(held)
            where = Where(Phrase.ARMS, of_length(tops[0]), figures=(Figure(Amount.MASS, each),))
            yield Place(where, run.arm.carries - each, tuple(map(of_length, tops)), volume, segment)


def from_ceiling(kitchen: Kitchen) -> Iterator[Place]:
    """What hangs from the ceiling in one row, units and what is in them, kg; nothing where a chimney breast holds
    it.

    A hood's mass is on its sheet: where hoods alone hang off their wall, nothing is measured.
    """
    for run in kitchen.runs:
        if run.hangs:
            yield _row(run, sum(_full(kitchen, unit) for unit in run.units))
        elif run.level == "upper" and run.stand_off > 0.0 and not run.units[0].family.on_tall:
            yield _row(run, None if _hoods_alone(run) else 0.0)


def _full(kitchen: Kitchen, unit: PlacedUnit) -> float:
    """What a unit weighs with what is in it, kg; of what is bought, and of strips and panels, what is known."""
    return mass(kitchen, unit) + (contents(unit) if unit.family.kind.is_unit else 0.0)


def _row(run: PlacedRun, load: float | None) -> Place:
    first, last, things = run.units[0], run.units[-1], of_units(run.units)
    where = Where(Phrase.OFF_WALL, of_row(run), more=things)
    if load is None:
        return Place(where, None, things, reason="what a hood weighs is on its maker's sheet")
    plan = block(first.frame, 0.0, 0.0, last.right - first.x, max(unit.face for unit in run.units))
    top = max(unit.family.top for unit in run.units)
    return Place(where, load, things, *upright(plan, top, max(top, *(unit.ceiling for unit in run.units))))


def _hoods_alone(run: PlacedRun) -> bool:
    return all(unit.family.is_bare and unit.family.holds("hood") for unit in run.units)


def _hung(kitchen: Kitchen) -> Iterator[tuple[PlacedUnit, str, WallKind]]:
    """What hangs on a wall, or a breast before it, and is a unit or an appliance, with the wall and its kind."""
    kinds = {wall.name: WALL_KINDS[wall.kind] if wall.kind else SOLID for wall in kitchen.document.room.walls}
    for run in kitchen.runs:
        if run.wall is not None and run.level == "upper" and not (run.stand_off and _hoods_alone(run)):
            units = (u for u in run.units if not (u.family.kind.is_scribed or u.family.on_top or u.family.on_tall))
            yield from ((unit, run.wall, SOLID if run.stand_off else kinds[run.wall]) for unit in units)


def _where(unit: PlacedUnit, wall: str, load: float) -> Where:
    figures = (Figure(Amount.MASS, load),) if load else ()
    phrase = Phrase.HUNG if load else Phrase.ON
    return Where(phrase, of_unit(unit), against=Thing(Sort.WALL, wall), figures=figures)


def _at(unit: PlacedUnit, wall: str, load: float, spare: float) -> Place:
    volume, segment = upright(unit_plan(unit), unit.family.base, unit.family.top)
    return Place(_where(unit, wall, load), spare, (of_unit(unit),), volume, segment)
