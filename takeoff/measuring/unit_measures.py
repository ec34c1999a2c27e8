"""Measures of units: what boards, fronts and hardware there are, one share for each part or unit.

As in `takeoff.measuring.measures`: pure functions of a `Kitchen`, mm, mm², kg or counts, nothing added or rounded.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from countersunk.model.catalogue.front import SLAB
from countersunk.model.facts.covering import beneath, wedges
from countersunk.model.geometry.identity import PartKey, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.corners import LOOSE
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.corner import IN_WING
from countersunk.takeoff.measuring.measures import Share, Shares

FLAT_PACK = 40.0
"""Minutes to put a flat pack together: an invented planning figure."""

FIXED = (Role.BOTTOM, Role.RAIL, Role.TOP, Role.DIVIDER, Role.RACK)
"""Roles of boards that end on two others of their carcass."""


def board_area(kitchen: Kitchen) -> Shares:
    """Net area of every board but the plinths, mm²; ``key`` is the board's code."""
    for part in kitchen.parts:
        if part.material in kitchen.catalogue.boards and part.role is not Role.PLINTH:
            yield Share(part.id, part.area, part.material)


def board_mass(kitchen: Kitchen) -> Shares:
    """Mass of every board with the plinths, kg: net area × thickness, less a groove, × density (kg/m³)."""
    for part in kitchen.parts:
        board = kitchen.catalogue.boards.get(part.material)
        if board:
            yield Share(part.id, _volume(part) * board.density * 1e-9, part.material)


def _volume(part: Part) -> float:
    """Volume of a board, mm³; one with a groove is its section along its length."""
    return part.area * part.thickness if part.section is None else float(part.section.area) * part.length


def board_outlines(kitchen: Kitchen) -> Shares:
    """Outline of every board but the plinths, mm long."""
    for part in kitchen.parts:
        if part.material in kitchen.catalogue.boards and part.role is not Role.PLINTH:
            yield Share(part.id, float(part.outline.length))


def banded_edges(kitchen: Kitchen) -> Shares:
    """Banded edges, one share each, mm long; ``key`` is the board's code. Plinths are bought banded."""
    for part in kitchen.parts:
        if part.role is not Role.PLINTH:
            for side in part.banded:
                yield Share(part.id, part.along(side), part.material)


def plinths(kitchen: Kitchen) -> Shares:
    """Plinths, mm long; ``key`` is their height."""
    return (Share(p.id, p.length, f"{p.depth:g}") for p in kitchen.parts if p.role is Role.PLINTH)


def carcass_joints(kitchen: Kitchen) -> Shares:
    """Boards screwed in a carcass at both ends (bottom, rails, top, fixed shelves, racks): their depth, mm."""
    for unit, part in _made_parts(kitchen):
        if part.role in FIXED or (part.role is Role.SHELF and _carries_oven(unit)):
            yield Share(part.id, part.depth)


def drawer_joints(kitchen: Kitchen) -> Shares:
    """Front and back of each drawer's box, which end on both its sides: their height, mm."""
    for part in kitchen.parts:
        if part.role is Role.DRAWER and part.which.at in ((Position.FRONT,), (Position.BACK,)):
            yield Share(part.id, part.depth)


def back_panels(kitchen: Kitchen) -> Shares:
    """Outline of every back that is screwed onto its carcass, mm long."""
    return (Share(p.id, float(p.outline.length)) for _, p in _made_parts(kitchen) if p.role is Role.BACK)


def flat_rails(kitchen: Kitchen) -> Shares:
    """Rails that lie flat under a top that is screwed down, mm long."""
    return (Share(p.id, p.length) for p in _rails(kitchen, bedded=False) if p.lies_flat)


def edge_rails(kitchen: Kitchen) -> Shares:
    """Rails that stand on edge under a top that is screwed down, mm long."""
    return (Share(p.id, p.length) for p in _rails(kitchen, bedded=False) if not p.lies_flat)


def bedded_rails(kitchen: Kitchen) -> Shares:
    """Rails under a top that only lies on them, mm long."""
    return (Share(p.id, p.length) for p in _rails(kitchen, bedded=True))


def unit_joints(kitchen: Kitchen) -> Shares:
    """Carcasses that stand beside a carcass, filler or panel: the height (mm) that both have, for each pair.

    The wing of a corner unit and what stands beside it on the other wall are such a pair.
    """
    for run in kitchen.runs:
        for left, right in pairwise(run.units):
            side = _side(kitchen, left, Position.RIGHT) or _side(kitchen, right, Position.LEFT)
            if side and not (left.family.kind.is_bought or right.family.kind.is_bought):
                yield Share(side.id, min(left.family.height, right.family.height))
    for wedge in wedges(kitchen):
        wing = kitchen.parts_by_key.get(PartKey(wedge.corner.key, Role.SIDE, IN_WING))
        if wing and not wedge.beside.family.kind.is_bought and wedge.widest <= LOOSE:
            yield Share(wing.id, min(wedge.corner.family.height, wedge.beside.family.height))


def over_steam(kitchen: Kitchen) -> Shares:
    """Width of every dishwasher under a top of particleboard, mm: what comes out of it meets the top's front."""
    wet = {
        unit.key: unit.width
        for length in kitchen.lengths
        if length.run.stock.material.edges == "sealed"
        for unit in beneath(kitchen, length)
        if unit.family.holds("dishwasher")
    }
    return (Share(key, width) for key, width in wet.items())


def doors(kitchen: Kitchen) -> Shares:
    """Height of every door that hangs on a carcass, mm; ``key`` is the article of its hinges."""
    for unit, part in _made_parts(kitchen):
        if part.layer is Layer.FRONTS and part.role is Role.DOOR:
            yield Share(part.id, part.length, unit.style.hinge if unit.face_frame else SLAB.hinge)


def drawers(kitchen: Kitchen) -> Shares:
    """Drawers, counted by their fronts; ``key`` is the length of their runners (mm)."""
    for unit, part in _made_parts(kitchen):
        if part.role is Role.DRAWER_FRONT:
            yield Share(part.id, 1, f"{unit.boards.method.drawer_depth:g}")


def handles(kitchen: Kitchen) -> Shares:
    """Handles, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in kitchen.parts if p.role is Role.HANDLE)


def legs(kitchen: Kitchen) -> Shares:
    """Legs, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in kitchen.parts if p.role is Role.LEG)


def loose_shelves(kitchen: Kitchen) -> Shares:
    """Shelves that lie on pins, counted; the shelf that carries an oven is fixed."""
    made = _made_parts(kitchen)
    return (Share(p.id, 1) for unit, p in made if p.role is Role.SHELF and not _carries_oven(unit))


def units_placed(kitchen: Kitchen) -> Shares:
    """Floor units, fillers and panels, counted."""
    return (Share(u.key, 1) for u in _made(kitchen) if u.family.level == "floor")


def units_at_wall(kitchen: Kitchen) -> Shares:
    """Carcasses that stand on the floor at a wall, counted; fillers, panels and islands are not fixed to one."""
    for run in kitchen.runs:
        if run.wall is not None:
            for unit in run.units:
                carcass = _side(kitchen, unit, Position.LEFT) or _side(kitchen, unit, Position.RIGHT)
                if unit.family.level == "floor" and carcass:
                    yield Share(unit.key, 1)


def ready_units(kitchen: Kitchen) -> Shares:
    """Units whose carcass is bought, counted; ``key`` is the article."""
    return (Share(u.key, 1, u.article) for u in kitchen.units if u.ready)


def assembly(kitchen: Kitchen) -> Shares:
    """Minutes that each flat pack takes to put together; `FLAT_PACK` where its family does not say."""
    return (Share(u.key, u.ready.minutes or FLAT_PACK) for u in kitchen.units if u.ready and u.ready.flat)


def hung_widths(kitchen: Kitchen) -> Shares:
    """Width of every wall unit, mm; what hangs on brackets of its own, or from the ceiling, is none."""
    hung = (u for u in _made(kitchen) if u.family.level == "upper" and not u.family.kind.on_brackets)
    return (Share(u.key, u.width) for u in hung if u.key not in _from_ceiling(kitchen))


def units_hung(kitchen: Kitchen) -> Shares:
    """Wall units, counted; fillers and panels between them are screwed to these, shelves hang on brackets."""
    return (Share(u.key, 1) for u in _hung(kitchen) if u.key not in _from_ceiling(kitchen))


def units_from_ceiling(kitchen: Kitchen) -> Shares:
    """Units that hang from the ceiling, counted."""
    return (Share(u.key, 1) for u in _hung(kitchen) if u.key in _from_ceiling(kitchen))


def ceiling_rods(kitchen: Kitchen) -> Shares:
    """The rods that units hang by from the ceiling, counted."""
    return (Share(p.id, 1) for p in kitchen.parts if p.role is Role.HANGER)


def _hung(kitchen: Kitchen) -> Iterator[PlacedUnit]:
    kinds = ((u, u.family.kind) for u in kitchen.units if u.family.level == "upper")
    return (u for u, kind in kinds if kind.is_unit and not (kind.on_brackets or u.family.on_tall))


def _from_ceiling(kitchen: Kitchen) -> frozenset[str]:
    """The keys of what hangs from the ceiling."""
    return frozenset(u.key for run in kitchen.runs if run.hangs for u in run.units)


def lengths_laid(kitchen: Kitchen) -> Shares:
    """Lengths of worktop, counted."""
    return (Share(length.key, 1) for length in kitchen.lengths)


def walls(kitchen: Kitchen) -> Shares:
    """Walls of the survey, counted."""
    return (Share(wall.name, 1) for wall in kitchen.survey.walls)


def runs(kitchen: Kitchen) -> Shares:
    """Runs of units on the floor or on the wall, and islands, counted by their first unit."""
    return (Share(run.units[0].key, 1) for run in kitchen.runs)


def _made(kitchen: Kitchen) -> Iterator[PlacedUnit]:
    """Units that are made of boards."""
    return (u for u in kitchen.units if not u.family.kind.is_bought)


def _made_parts(kitchen: Kitchen) -> Iterator[tuple[PlacedUnit, Part]]:
    """Their parts, each with its unit."""
    return ((unit, part) for unit in _made(kitchen) for part in kitchen.parts_of.get(unit.key, ()))


def _carries_oven(unit: PlacedUnit) -> bool:
    """Whether its shelf is fixed under an oven."""
    return bool(unit.family.kind.built_for)


def _rails(kitchen: Kitchen, bedded: bool) -> Iterator[Part]:
    for length in (top for top in kitchen.lengths if top.run.stock.material.bedded == bedded):
        for unit in length.stretch.units:
            yield from (p for p in kitchen.parts_of.get(unit.key, ()) if p.role is Role.RAIL)


def _side(kitchen: Kitchen, unit: PlacedUnit, hand: Position) -> Part | None:
    """The side of a carcass; that which stands at the other wall of a corner is none."""
    return kitchen.parts_by_key.get(PartKey(unit.key, Role.SIDE, Which(at=(hand,))))
