"""New room: a kitchen to begin with, in a plain room of which no more is known than length, depth and height."""

from __future__ import annotations

from countersunk.model.document.schema import Document, Fronts, Room, Run, Unit, Wall, Worktop

NAME = "A new kitchen"

FIRST = "base-doors"
"""The one unit that a new room begins with, in the middle of its first wall: a kitchen has at least one."""
FIRST_WIDTH = 600.0


def new_room(length: float, depth: float, height: float) -> Document:
    """Four walls at right angles, A as long as C and B as D (mm), and a single unit at wall A.

    Raises pydantic's ValidationError for sizes that no room has.
    """
    sides = {"A": length, "B": depth, "C": length, "D": depth}
    walls = tuple(Wall(name=name, length=side, corner=90.0) for name, side in sides.items())
    unit = Unit(unit=FIRST, width=FIRST_WIDTH)
    return Document(
        kitchen=NAME,
        room=Room(height=height, walls=walls),
        runs=(Run(wall="A", start=(length - FIRST_WIDTH) / 2, units=(unit,)),),
        worktop=Worktop(stock="pf38.600", decor="pale-oak", joins_by="stock"),
        fronts=Fronts(decor="chalk"),
    )
