"""Identity: by what values a part is known. Who needs a part by what it is asks these, and takes no text apart.

owner      the lasting key of the unit, length, join, sink or hob that the part belongs to
role       what the part is there: a side, a door, a worktop
which      which of them, where its owner has several
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Literal

Hinge = Literal["left", "right", "bottom"]
"""The edge about which a leaf turns, as one faces it."""


class Role(StrEnum):
    """What a part is to its owner."""

    SIDE = "side"
    BOTTOM = "bottom"
    TOP = "top"
    RAIL = "rail"
    BACK = "back"
    DIVIDER = "divider"
    SHELF = "shelf"
    RACK = "rack"
    LEG = "leg"
    HANGER = "hanger"
    POST = "post"
    LIFT = "lift"
    DOOR = "door"
    LEAF = "leaf"
    FRAME = "frame"
    FACE_FRAME = "face-frame"
    PROFILE = "profile"
    PANE = "pane"
    FRIDGE_FRONT = "front.fridge"
    BLANK_FRONT = "front.blank"
    BLIND_FRONT = "front.blind"
    DRAWER_FRONT = "drawer-front"
    DRAWER = "drawer"
    PULL_OUT = "pull-out"
    BASKET = "basket"
    BIN = "bin"
    TAMBOUR = "tambour"
    PLATE_RACK = "plate-rack"
    FLOATING = "floating-shelf"
    BRACKET = "bracket"
    ARM = "arm"
    LIGHT = "light"
    DRIVER = "driver"
    HANDLE = "handle"
    FILLER = "filler"
    PANEL = "panel"
    PLINTH = "plinth"
    CORNICE = "cornice"
    PELMET = "pelmet"
    CEILING_FILLER = "ceiling-filler"
    INFILL = "infill"
    REVEAL = "reveal"
    APPLIANCE = "appliance"
    SINK = "sink"
    HOB = "hob"
    DOWNDRAFT = "downdraft"
    TAP = "tap"
    SWITCH = "switch"
    SOCKET = "socket"
    JOINT_STRIP = "joint-strip"
    UPSTAND = "upstand"
    WATERFALL = "waterfall"
    SPLASHBACK = "splashback"
    WORKTOP = "worktop"


FIXED_FRONTS = (Role.BLANK_FRONT, Role.BLIND_FRONT)
"""Fronts that nothing opens."""

OPENED = (Role.DOOR, Role.LEAF, Role.DRAWER_FRONT, Role.PULL_OUT)
"""Roles of fronts that somebody opens; of a glazed door it is the stile on its hinges."""

FACES = (*OPENED, Role.FRIDGE_FRONT, *FIXED_FRONTS)
"""Roles of every front that wears a style; panels, fillers and plinths are plain."""

LET_IN = (Role.SINK, Role.HOB, Role.DOWNDRAFT, Role.TAP, Role.SWITCH, Role.SOCKET)
"""What is let into a top."""


class Component(StrEnum):
    """A piece of something that is made, or modelled, of several."""

    STILE = "stile"
    RAIL = "rail"
    FRAME = "frame"
    FRONT = "front"
    OVEN = "oven"
    BODY = "body"
    FACE = "face"
    GRIP = "grip"
    DOOR = "door"
    DOOR_GLASS = "door.glass"
    DRAWER = "drawer"
    PANEL = "panel"
    GLASS = "glass"
    KNOB = "knob"
    ZONE = "zone"
    CANOPY = "canopy"
    CHIMNEY = "chimney"
    LIP = "lip"
    RIM = "rim"
    BOWL = "bowl"
    BASE = "base"
    TAP_POST = "tap.post"
    TAP_SPOUT = "tap.spout"
    CAP = "cap"
    SHANK = "shank"
    GRILLE = "grille"


class Position(StrEnum):
    """Where a part sits in its owner, or a board in its drawer, as one faces it."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"
    LOWER = "lower"
    UPPER = "upper"
    BOTTOM = "bottom"
    WING = "wing"


@dataclass(frozen=True)
class Which:
    """Which of the parts that have one role.

    ``bay`` counts bays from the top, drawers among themselves; it is 0 where a unit has one. ``leaf`` is the side
    of one of two doors. ``component`` is the piece of what is made of several, ``at`` where it sits, ``numbers``
    count what is alike: a shelf, or the row and column of a board in a rack. A handle ``grips`` what it opens.
    """

    grips: Role | None = None
    bay: int = 0
    leaf: Position | None = None
    component: Component | None = None
    at: tuple[Position, ...] = ()
    numbers: tuple[int, ...] = ()

    @property
    def words(self) -> Iterator[str]:
        """What tells it from others of its role, in a fixed order."""
        single = (self.grips, self.bay or None, self.leaf, self.component)
        return (str(word) for word in (*single, *self.at, *self.numbers) if word is not None)


ONLY = Which()
"""A part that is alone in its role."""

ISLAND_BACK = Which(at=(Position.BACK,))
"""Of panels, that which closes an island behind its units."""


@dataclass(frozen=True)
class PartKey:
    """The identity of a part. Two parts of one kitchen never share it, and no edit of other units changes it."""

    owner: str
    role: Role
    which: Which = ONLY

    @property
    def text(self) -> str:
        """One line for files, scenes and codes, such as ``A3.door.left``. Nothing reads it apart again."""
        return ".".join((self.owner, *IN_TEXT.get(self.role, (str(self.role),)), *self.which.words))

    def owned_by(self, owner: str) -> PartKey:
        """The same part under another name of its owner: under its mark, to be read by people."""
        return replace(self, owner=owner)


IN_TEXT: dict[Role, tuple[str, ...]] = {
    Role.WORKTOP: (),
    Role.UPSTAND: (),
    Role.REVEAL: (),
    Role.SPLASHBACK: (),
    Role.JOINT_STRIP: ("strip",),
    **dict.fromkeys(LET_IN, ()),
}
"""What stands for a role in a text, where the owner's name says it already."""
