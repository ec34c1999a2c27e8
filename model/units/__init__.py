"""Units: what each construction makes of boards, in the unit's own frame.

Unit frame: the wall frame moved to the unit's left back corner on the floor; x to the right, y from the back
to the front, z up. What follows from a construction stands in `model.kinds`; what makes it is a function here,
from a placed unit to its parts. The catalogue's families name the construction and give its parameters.

makers     which function makes which construction      board      boards and bought pieces as parts
carcass    the box itself, parted into bays             fronts     what bays hold: doors, drawers, racks
box        boxes put together, blind corner, oven       corner     units along both walls of a corner
open       open ends, floating shelves, room for knees  appliance  bodies that are bought
panels     fillers, end panels, backs of islands        trims      plinth, cornice, pelmet along a row
style      recesses, grooves and face frames            handles    what fronts are gripped by
lights     under wall units, with their driver
"""

from __future__ import annotations

from countersunk.model.geometry.part import Part
from countersunk.model.kept import kept
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units import appliance as appliance
from countersunk.model.units import box as box
from countersunk.model.units import corner as corner
from countersunk.model.units import open as open
from countersunk.model.units import panels as panels
from countersunk.model.units.carcass import hangers
from countersunk.model.units.makers import MAKERS
from countersunk.model.units.style import face_frame, styled


@kept(2_000)
def unit_parts(unit: PlacedUnit) -> tuple[Part, ...]:
    """Every part of a unit, trims excepted: those run along a whole row of units."""
    made = [styled(unit, part) for part in MAKERS[unit.family.construction](unit)]
    return (*made, *face_frame(unit), *hangers(unit))
