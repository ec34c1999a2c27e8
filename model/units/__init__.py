"""Units: what each construction makes of boards, in the unit's own frame.

Unit frame: the wall frame moved to the unit's left back corner on the floor; x to the right, y from the back
to the front, z up. A construction is a function from a placed unit to its parts; the catalogue's families name
it and give its parameters.
"""

from __future__ import annotations

from collections.abc import Callable

from model.layout import PlacedUnit
from model.part import Part
from model.units.appliance import appliance
from model.units.box import blind_corner, box, drawers, oven_housing
from model.units.panels import end_panel, filler

Construction = Callable[[PlacedUnit], list[Part]]

CONSTRUCTIONS: dict[str, Construction] = {
    "box": box,
    "drawers": drawers,
    "blind-corner": blind_corner,
    "oven": oven_housing,
    "appliance": appliance,
    "filler": filler,
    "panel": end_panel,
}


def unit_parts(unit: PlacedUnit) -> list[Part]:
    """Every part of a unit, plinth excepted: that runs along a whole stretch of units."""
    return CONSTRUCTIONS[unit.family.construction](unit)
