"""Arms: rows along walls with a grid of module widths, and the shapes that they make, before anything stands there.

*Cells* of the grid are `CELL` mm long, which all widths of the units in use are a multiple of; what is left of the
wall goes into fillers, and these, panels and tall units lie outside of the grid.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from countersunk.model.planning.stretches import FreeStretch
from countersunk.model.survey import SurveyedWall
from countersunk.model.ties import settled

CELL = 50
DEPTH = 600.0
"""How deep a row with its top is, mm."""

FACE = 910.0
TALL = 2_130.0
"""Up to where a row and a tall unit must be free, mm above the floor."""

AT_WALL = 5.0
"""Left between a unit and the wall beside it, which is never as straight as it was read (common practice), mm."""

PANEL = 18.0
OVERHANG = 10.0
CORNER_UNIT = 22
CORNER_STOP = 12
"""Cells of a blind corner unit 1100 wide, and of it those behind the other arm's front."""

LEAST_FILLER = {"corner-filler": 50.0, "wall": 20.0, "tall": 20.0}

EndKind = Literal["wall", "open", "corner-unit", "corner-filler"]
Side = Literal["left", "right"]
SIDES: tuple[Side, Side] = ("left", "right")
TALLS = {"larder": ("tall-larder", 600), "oven": ("tall-oven", 600), "fridge": ("tall-fridge", 600)}
Kind = Literal["straight", "divided", "L", "U", "galley"]
Talls = tuple[str, ...]


class ArmEnd(NamedTuple):
    """How an arm ends: at what, the tall units there from the outside in, and the filler (mm) where it is flush."""

    kind: EndKind
    talls: Talls
    filler: float

    @property
    def is_corner(self) -> bool:
        """Whether the next arm begins here."""
        return self.kind.startswith("corner")


class TallEnd(NamedTuple):
    """Tall units, from the outside in, at one side of an arm."""

    arm: int
    side: Side
    talls: Talls


@dataclass(frozen=True)
class Arm:
    """A row along a wall: ``cells`` of the grid from ``x0`` mm along it; the ends lie outside of the grid.

    ``starts`` and ``stops`` are the cells at which the row may begin and end: flush with an end, or well before it.
    """

    wall: SurveyedWall
    stretch: FreeStretch
    x0: float
    cells: int
    left: ArmEnd
    right: ArmEnd
    starts: tuple[int, ...]
    stops: tuple[int, ...]

    def at(self, cell: float) -> float:
        """mm along the wall."""
        return self.x0 + CELL * cell

    def front(self, cell: float) -> tuple[int, int]:
        """The front edge at a cell in the room's plan, to the mm."""
        x, y, along, across = self._front
        return round(settled(x + along * cell)), round(settled(y + across * cell))

    @cached_property
    def _front(self) -> tuple[float, float, float, float]:
        """The front edge at cell 0, and how much further it is at each cell."""
        (x, y, _), frame = self.wall.frame.to_room((self.x0, DEPTH, 0.0)), self.wall.frame
        return x, y, CELL * frame.x[0], CELL * frame.x[1]

    def end(self, side: Side) -> ArmEnd:
        """One of its ends."""
        return self.left if side == "left" else self.right

    @cached_property
    def corner_cells(self) -> tuple[int, int]:
        """Cells that corner units take at its left and right end."""
        return _taken(self.left, CORNER_UNIT), _taken(self.right, CORNER_UNIT)

    @cached_property
    def stops_inside(self) -> tuple[int, int]:
        """By how many cells the front edge is cut short at either end, where another front meets it."""
        return _taken(self.left, CORNER_STOP), _taken(self.right, CORNER_STOP)


class Isle(NamedTuple):
    """An island before a wall, as a kitchen file has it: where its units begin along the wall, how far out, mm.

    ``widths`` are those of its units between two end panels; ``aisle`` is free between its top and the row's.
    """

    wall: str
    along: float
    out: float
    widths: tuple[float, ...]
    stock: str
    aisle: float

    @property
    def width(self) -> float:
        """Of its units, mm."""
        return sum(self.widths)


@dataclass(frozen=True)
class Shape:
    """Arms from left to right as one faces them; ``aisle`` is the free width before them, mm."""

    kind: Kind
    arms: tuple[Arm, ...]
    aisle: float
    island: Isle | None = None

    @property
    def name(self) -> str:
        """In words: ``an L along walls A and B``."""
        walls = list(dict.fromkeys(arm.wall.name for arm in self.arms))
        article = "an" if self.kind == "L" else "a"
        what = {"straight": "straight run", "divided": "run in two parts"}.get(self.kind, self.kind)
        along = f"{article} {what} along wall{'s' if len(walls) > 1 else ''} {' and '.join(walls)}"
        return f"{along} with an island" if self.island else along

    @cached_property
    def tall_ends(self) -> tuple[TallEnd, ...]:
        """Where tall units stand."""
        ends = (TallEnd(i, side, arm.end(side).talls) for i, arm in enumerate(self.arms) for side in SIDES)
        return tuple(end for end in ends if end.talls)

    @cached_property
    def fridge_end(self) -> TallEnd | None:
        """The one of them with the fridge."""
        return next((end for end in self.tall_ends if "fridge" in end.talls), None)


def tall_widths(talls: Talls) -> float:
    """What the block takes with its panels, mm."""
    return sum(TALLS[t][1] for t in talls) + PANEL + (PANEL if talls[-1:] == ("fridge",) else 0.0) if talls else 0.0


def _taken(end: ArmEnd, cells: int) -> int:
    return cells if end.kind == "corner-unit" else 0
