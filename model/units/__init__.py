"""Units: what each construction makes of boards, in the unit's own frame.

Unit frame: the wall frame moved to the unit's left back corner on the floor; x to the right, y from the back
to the front, z up. A construction is a function from a placed unit to its parts; the catalogue's families name
it and give its parameters.

board      boards and bought pieces as parts            carcass    the box itself, parted into bays
fronts     what bays hold: doors, drawers, racks        box        boxes put together, blind corner, oven
corner     units along both walls of a corner           open       open ends, room for knees
appliance  bodies that are bought                       panels     fillers, end panels, backs of islands
trims      plinth, cornice, pelmet along a row
"""

from __future__ import annotations

from collections.abc import Callable

from countersunk.model.geometry.part import Part
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.appliance import appliance
from countersunk.model.units.box import blind_corner, box, oven_housing
from countersunk.model.units.corner import diagonal_corner, l_corner
from countersunk.model.units.open import knee_space, open_end
from countersunk.model.units.panels import end_panel, filler

Construction = Callable[[PlacedUnit], list[Part]]

CONSTRUCTIONS: dict[str, Construction] = {
    "box": box,
    "drawers": box,
    "blind-corner": blind_corner,
    "l-corner": l_corner,
    "diagonal-corner": diagonal_corner,
    "open-end": open_end,
    "knee-space": knee_space,
    "oven": oven_housing,
    "appliance": appliance,
    "filler": filler,
    "panel": end_panel,
}


def unit_parts(unit: PlacedUnit) -> list[Part]:
    """Every part of a unit, trims excepted: those run along a whole row of units."""
    return CONSTRUCTIONS[unit.family.construction](unit)
