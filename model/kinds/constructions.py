"""Constructions: one row for each way to make a unit, which answers whatever depends on it.

Nothing else compares the name of a construction. The function that makes its boards is in `model.units`, marked
``@makes("its-code")``. Plans are those of a unit of the right hand, mm.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, NamedTuple

from shapely import Polygon

Point = tuple[float, float]


class PlanSize(NamedTuple):
    """What the plan of a unit follows from, mm.

    ``face`` is how deep it is with its front, ``wing`` how far a corner unit goes along the other wall.
    """

    width: float
    depth: float
    face: float
    wing: float

    def bevel(self, past: float) -> tuple[Point, Point]:
        """Where a line ``past`` a diagonal front (mm) meets the planes of the two ends."""
        dx, dy = self.width - self.depth, self.wing - self.depth
        out = (self.face - self.depth + past) * math.hypot(dx, dy)
        return (0.0, self.depth + out / dx), (dx - out / dy, self.wing)


def whole(size: PlanSize) -> Polygon:
    """A unit from its back to its front."""
    return Polygon([(0.0, 0.0), (size.width, 0.0), (size.width, size.face), (0.0, size.face)])


def strip(size: PlanSize) -> Polygon:
    """Only what stands in the plane of the fronts."""
    w, y0, y1 = size.width, size.depth, size.face
    return Polygon([(0.0, y0), (w, y0), (w, y1), (0.0, y1)])


def folded(size: PlanSize) -> Polygon:
    """A unit in the shape of an L."""
    inner = size.width - size.face
    return _in_corner(size, (0.0, size.face), (inner, size.face), (inner, size.wing))


def diagonal(size: PlanSize) -> Polygon:
    """A unit of five sides, its front across the corner."""
    return _in_corner(size, *size.bevel(0.0))


def _in_corner(size: PlanSize, *front: Point) -> Polygon:
    return Polygon([(size.width, size.wing), (size.width, 0.0), (0.0, 0.0), *front])


@dataclass(frozen=True)
class Construction:
    """A way to make a unit. What is left out is as a plain carcass has it.

    ``outline`` is its plan, and ``front`` how its front goes.
    ``is_plain``: the carcass that a new row begins with.
    ``is_bought``: an appliance. It is not made of boards, stands on the floor, and no trim runs along it.
    ``is_scribed``: a strip or panel that is cut to the wall it meets. It belongs to its neighbours and is no unit.
    ``fills_gap``: made as wide as the gap that is left, and the first thing to give way.
    ``is_panel``: a board on end; what stands beyond it counts as the neighbour.
    ``is_blind``: part of it lies in the corner behind the next run; its hand says on which side.
    ``fills_corner``: stands along both walls of a corner.
    ``carries``: a top rests on it from back to front.
    ``closes_row``: needs no panel at a free end. ``keeps_place``: closes a row where it is, and is not moved.
    ``on_legs``: nothing of it stands below its carcass. ``has_plinth``: a plinth runs before its legs.
    ``stores``: its shelves and drawers count as storage. ``has_knees``: leaves room for knees.
    ``built_for``: the appliance that it is made round, on a fixed shelf. ``to_size``: it can be made as wide and as
    deep as somebody asks. ``takes_channel``: a grip profile can run behind its front. ``takes_face_frame``: its
    fronts can be set in a frame. ``on_brackets``: it hangs on brackets of its own, on no rail.
    ``moves_top``: the top over it goes up and down.
    """

    code: str
    outline: Callable[[PlanSize], Polygon] = whole
    front: Literal["straight", "folded", "diagonal"] = "straight"
    is_plain: bool = False
    is_bought: bool = False
    is_scribed: bool = False
    fills_gap: bool = False
    is_panel: bool = False
    is_blind: bool = False
    fills_corner: bool = False
    carries: bool = True
    closes_row: bool = False
    keeps_place: bool = False
    on_legs: bool = True
    has_plinth: bool = True
    stores: bool = True
    has_knees: bool = False
    built_for: str = ""
    to_size: bool = False
    takes_channel: bool = False
    takes_face_frame: bool = False
    on_brackets: bool = False
    moves_top: bool = False

    @property
    def is_unit(self) -> bool:
        """Whether it is made of boards and is no mere strip or panel: it is counted, named and hung by itself."""
        return not (self.is_bought or self.is_scribed)

    @property
    def bears_join(self) -> bool:
        """Whether two lengths of a top may be joined in line over it."""
        return self.carries and not self.is_scribed

    @property
    def is_work_front(self) -> bool:
        """Whether somebody works before it, so that an aisle is measured from there."""
        return not (self.is_scribed or self.fills_corner)

    @property
    def is_in_corner(self) -> bool:
        """Whether it reaches into a corner, so that no filler is put there."""
        return self.is_blind or self.fills_corner


ROWS = (
    Construction("box", is_plain=True, to_size=True, takes_channel=True, takes_face_frame=True),
    Construction("drawers", to_size=True, takes_channel=True, takes_face_frame=True),
    Construction("blind-corner", is_blind=True, takes_channel=True),
    Construction("l-corner", outline=folded, front="folded", fills_corner=True, keeps_place=True),
    Construction("diagonal-corner", outline=diagonal, front="diagonal", fills_corner=True, keeps_place=True),
    Construction("open-end", closes_row=True, keeps_place=True, to_size=True),
    Construction("knee-space", closes_row=True, has_plinth=False, stores=False, has_knees=True),
    Construction(
        "lifting-frame", closes_row=True, has_plinth=False, stores=False, has_knees=True, moves_top=True,
    ),
    Construction("oven", stores=False, built_for="oven"),
    Construction("floating-shelf", closes_row=True, on_legs=False, has_plinth=False, on_brackets=True),
    Construction("front-sink", carries=False, stores=False, built_for="sink"),
    Construction("boiler-housing", on_legs=False, stores=False, built_for="boiler"),
    Construction("appliance", is_bought=True, takes_channel=True, carries=False, on_legs=False, stores=False),
    Construction(
        "filler", outline=strip, is_scribed=True, fills_gap=True, carries=False, keeps_place=True, stores=False
    ),
    Construction(
        "panel", is_scribed=True, is_panel=True, closes_row=True, keeps_place=True, on_legs=False,
        has_plinth=False, stores=False,
    ),
)  # fmt: skip

CONSTRUCTIONS: dict[str, Construction] = {row.code: row for row in ROWS}
"""By its code."""
