"""Placed: a unit and a run in their places, as everything after the layout reads them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

from shapely import Polygon
from shapely.affinity import scale

from countersunk.model.catalogue.catalogue import Family, Stock, TopArm, UnitBoards
from countersunk.model.catalogue.front import BAR, SLAB, Channel, FaceFrame, FrontStyle, Handle
from countersunk.model.catalogue.light import Light
from countersunk.model.catalogue.method import Ready
from countersunk.model.document.schema import Returns
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Position
from countersunk.model.kinds.constructions import PlanSize

TALL = 1_000.0
"""A unit on the floor that is higher than this stands above any worktop, mm."""

BENCH = 950.0
"""Units on the floor up to this height may stand before a window with a low sill, mm (common practice, no
source).
"""


@dataclass(frozen=True)
class PlacedUnit:
    """A unit in its place. ``frame`` has its origin at the left back corner of the unit on the floor.

    ``key`` lasts, ``name`` is its place in today's numbering unless it has one of its own. ``x`` is its left side
    along the run (mm); ``field`` is where the document says it. ``wing`` is how far a corner unit goes along the
    other wall, 0 for any other. ``ready`` is how its carcass comes where that is bought, None where it is made of
    boards. ``under_hob``: a hob over it hangs lower than the top is thick. ``reach`` is how far behind its back the
    wall is, or what stands before it, for the first and the last of a run on the floor: what is seen at an end goes
    on to there. ``telescopes``: a hood's chimney that goes up to wherever the ceiling is. ``ceiling`` is the height
    of the one that it hangs from, mm, 0 for all else. ``forward`` is how much farther off the wall it stands than
    its row. ``off_grid`` is what its code says of a depth and height to size. ``fronts`` is the decor of its
    fronts, ``figured`` where that has a grain, which stands upright. The sides and a bottom that are ``faced`` are
    of front board. ``style`` is how its fronts are made, and ``handle`` what they are gripped by; ``buys_fronts``
    says that they are bought to measure, apart from its carcass.
    """

    key: str
    name: str
    family: Family
    boards: UnitBoards
    width: float
    hand: Literal["left", "right"]
    x: float
    frame: Pose
    field: str
    wing: float = 0.0
    ready: Ready | None = None
    under_hob: bool = False
    reach: float = 0.0
    telescopes: bool = False
    ceiling: float = 0.0
    off_grid: str = ""
    forward: float = 0.0
    fronts: str = ""
    figured: bool = False
    faced: frozenset[Position] = frozenset()
    style: FrontStyle = SLAB
    handle: Handle = BAR
    buys_fronts: bool = False

    @property
    def is_tall(self) -> bool:
        """Whether it stands on the floor and is higher than any worktop."""
        return self.family.level == "floor" and self.family.top > TALL

    @property
    def rails(self) -> Literal["flat", "edge", "none"]:
        """How its rails lie; under a hob none lie flat, where they would be in its way."""
        return "edge" if self.under_hob and self.family.rails == "flat" else self.family.rails

    @property
    def face_frame(self) -> FaceFrame | None:
        """The frame that its fronts are set in; None where they lie before the carcass, as at appliances."""
        plain = self.family.kind.takes_face_frame and not self.family.appliances
        return self.style.face_frame if plain else None

    @property
    def channel(self) -> Channel | None:
        """The profile behind the upper edges of its fronts, if they are gripped by one."""
        return self.handle.channel

    @property
    def article(self) -> str:
        """The code by which its carcass is bought."""
        return f"unit.{self.family.code}.{self.width:g}{self.off_grid}"

    @property
    def right(self) -> float:
        """Its right side along the run, mm."""
        return self.x + self.width

    @property
    def face(self) -> float:
        """Where its front stands in its own frame, y in mm: a body without a front ends at its depth."""
        return self.family.depth + (0.0 if self.family.is_bare else self.boards.front.thickness)

    @property
    def front(self) -> float:
        """How far its front stands before the line of its row's backs, mm."""
        return self.forward + self.face

    @property
    def opening(self) -> tuple[float, float]:
        """From where to where somebody works before it, x in its own frame (mm): of a blind corner, its door."""
        wide = (self.family.door_width or self.width / 2) if self.family.kind.is_blind else self.width
        return (0.0, wide) if self.hand == "right" else (self.width - wide, self.width)

    @property
    def plan_size(self) -> PlanSize:
        """What its plan follows from."""
        return PlanSize(self.width, self.family.depth, self.face, self.wing)

    @cached_property
    def outline(self) -> Polygon:
        """Its plan with its front, in its own frame (mm); a filler is only the strip in the plane of the fronts."""
        plan = self.family.kind.outline(self.plan_size)
        return self.turned(plan) if self.wing else plan

    def turned(self, plan: Polygon) -> Polygon:
        """A plan given for a unit of the right hand as this one has it: mirrored for the left."""
        return plan if self.hand == "right" else scale(plan, -1.0, 1.0, origin=(self.width / 2, 0.0))


class Root(NamedTuple):
    """Where a peninsula stands out from."""

    wall: str
    end: Literal["left", "right"]


@dataclass(frozen=True)
class PlacedRun:
    """Units side by side. In ``frame`` the line y = 0 is where the back of a top lies. ``key`` lasts.

    ``stand_off`` is how far the units' backs stand from that line, so that a top of its full depth overhangs the
    fronts as the file says. ``wall`` is None for what stands free, and for what hangs from the ceiling. A peninsula
    has a ``root``: the wall that it stands out from, and which of its ends is there. ``taken`` is how far the wings
    of corner units on the walls beside reach along this wall from its left and from its right end. ``fronts`` is
    the decor of what runs along it, ``back`` that of an island's back, ``top`` that of its worktop. ``ceiling`` is
    how high that is over its fronts where a filler goes up to it: (along, height) from end to end, mm. ``light`` is
    what shines under its wall units, ``arm`` what carries the back of an island's top.
    """

    key: str
    name: str
    level: str
    frame: Pose
    stand_off: float
    stock: Stock
    units: tuple[PlacedUnit, ...]
    wall: str | None
    field: str
    root: Root | None = None
    taken: tuple[float, float] = (0.0, 0.0)
    returns: Returns = "none"
    cornice: bool = False
    pelmet: bool = False
    fronts: str = ""
    back: str = ""
    top: str = ""
    ceiling: tuple[tuple[float, float], ...] = ()
    light: Light | None = None
    arm: TopArm | None = None

    @property
    def hangs(self) -> bool:
        """Whether it hangs from the ceiling, away from the walls."""
        return self.wall is None and self.level == "upper"

    @property
    def free(self) -> Literal["island", "peninsula"] | None:
        """What stands away from the walls; None for a run on a wall, and for what hangs from the ceiling."""
        if self.wall is not None or self.hangs:
            return None
        return "peninsula" if self.root else "island"


def called(key: str, units: Iterable[PlacedUnit]) -> str:
    """What a unit is called today; ``key`` itself where none has it."""
    return next((unit.name for unit in units if unit.key == key), key)


def in_short(units: Sequence[PlacedUnit]) -> str:
    """The names of neighbours in short: the first to the last of them."""
    return units[0].name if len(units) == 1 else f"{units[0].name} to {units[-1].name}"
