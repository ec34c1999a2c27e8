"""Masses: what a unit weighs, and what is put into it."""

from __future__ import annotations

from countersunk.model.geometry.identity import Role
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit

IN_UNITS = 65.0
"""What stands on a square metre of a shelf in a full unit, kg (EN 14749, storage at home, from memory)."""

GLASS = 2500.0
"""Density of glass, kg/m³ (handbook value)."""


def mass(kitchen: Kitchen, unit: PlacedUnit) -> float:
    """The mass of a unit's boards, panes and floating shelf, kg; hinges, handles and runners are not in it."""
    density = {code: board.density for code, board in kitchen.catalogue.boards.items()}
    density |= {unit.family.floats.article: unit.family.floats.density}
    density |= {unit.style.article: unit.style.density} if unit.style.article else {}
    found = 0.0
    for part in kitchen.parts_of.get(unit.key, ()):
        of = GLASS if part.role is Role.PANE else density.get(part.material, 0.0)
        found += part.area * part.thickness * of * 1e-9
    return found


def contents(unit: PlacedUnit) -> float:
    """What stands in a unit that is full, kg: on its bottom and on each of its shelves."""
    t, family = unit.boards.carcass.thickness, unit.family
    levels = sum(bay.shelves + 1 for bay in family.openings)
    return levels * (unit.width - 2 * t) * family.depth * 1e-6 * IN_UNITS
