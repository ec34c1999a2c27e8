"""Openings: how doors, drawers and appliance doors of units open in the view.

A *leaf* is what moves as one: a door with its handle, a drawer's front with its box. A leaf that turns does so
about its hinge edge in the plane of its face, so that it clears the front beside it. Nothing is said about what
hinges or runners really allow.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from typing import NamedTuple

import numpy as np

from countersunk.model.geometry.frames import Vector
from countersunk.model.geometry.identity import Component, Hinge, Position, Role
from countersunk.model.geometry.part import Part
from countersunk.model.kinds.appliances import Appliance
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.viewer.scene.surface import Floats

RIGHT_ANGLE = 90.0
"""Degrees that a door opens, or an appliance's door drops."""
STAYS_IN = 60.0
"""What of a drawer stays in the unit when it is pulled out, mm (common practice, no source)."""


class LeafKind(StrEnum):
    """How people would name a leaf."""

    DOOR = "door"
    FRIDGE = "fridge"
    DRAWER = "drawer"
    PULL_OUT = "drawer.pull-out"
    FACE = "face"


class Leaf(NamedTuple):
    """What moves as one in a unit: its kind, the bay that it shuts, and where it is beside or above another."""

    kind: LeafKind
    bay: int = 0
    at: Position | None = None

    @property
    def text(self) -> str:
        """One word for the view, such as ``door.2.left``."""
        return ".".join(str(word) for word in (self.kind, self.bay or None, self.at) if word is not None)


LEAVES = {
    Role.DOOR: LeafKind.DOOR,
    Role.FRAME: LeafKind.DOOR,
    Role.PANE: LeafKind.DOOR,
    Role.FRIDGE_FRONT: LeafKind.FRIDGE,
    Role.PULL_OUT: LeafKind.PULL_OUT,
    Role.BASKET: LeafKind.PULL_OUT,
    Role.BIN: LeafKind.PULL_OUT,
    Role.DRAWER_FRONT: LeafKind.DRAWER,
    Role.DRAWER: LeafKind.DRAWER,
}
"""What moves with which leaf; a handle moves with what it grips."""

OF_APPLIANCES = {
    Component.DOOR: LeafKind.DOOR,
    Component.DOOR_GLASS: LeafKind.DOOR,
    Component.FACE: LeafKind.FACE,
    Component.GRIP: LeafKind.FACE,
}
"""The same for what appliances show."""

FACE, UPPER = Leaf(LeafKind.FACE), Leaf(LeafKind.DOOR, at=Position.UPPER)
"""A grip's leaf, and where its appliance has no face but two doors the one that it moves with."""

CORNERS = np.array(list(product((0.0, 1.0), repeat=3)))
"""Of the box from 0 to 1."""


@dataclass(frozen=True)
class LeafMotion:
    """How a leaf opens, in the room frame.

    With a ``hinge`` it turns right-handed about ``axis`` through ``at`` (mm) by ``travel`` degrees; without one it
    slides along ``axis`` by ``travel`` mm.
    """

    leaf: str
    hinge: Hinge | None
    at: Vector
    axis: Vector
    travel: float


def openings(kitchen: Kitchen) -> dict[str, LeafMotion]:
    """The opening of every part that moves, by the part's id."""
    return {id_: opening for unit in kitchen.units for id_, opening in _of_unit(unit, kitchen.parts_of[unit.key])}


def _of_unit(unit: PlacedUnit, parts: tuple[Part, ...]) -> Iterator[tuple[str, LeafMotion]]:
    for leaf, moving in ({} if unit.wing else _leaves(parts)).items():  # what folds in a corner stays shut
        opening = _opening(unit, leaf, [part for part in moving if not _is_grip(part)])
        yield from ((part.id, opening) for part in moving)


def _leaves(parts: tuple[Part, ...]) -> dict[Leaf, list[Part]]:
    """The parts of each leaf; what shuts nothing, such as the grip of an appliance without a door, is none."""
    leaves: dict[Leaf, list[Part]] = {}
    for part in parts:
        if leaf := _leaf(part):
            leaves.setdefault(leaf, []).append(part)
    if UPPER in leaves:
        leaves[UPPER] += leaves.pop(FACE, [])
    for grips in [leaf for leaf in leaves if leaf.kind is LeafKind.FACE]:
        door = grips._replace(kind=LeafKind.DOOR)
        if door in leaves:
            leaves[door] += leaves.pop(grips)
    return leaves


def _leaf(part: Part) -> Leaf | None:
    which = part.which
    if part.role is Role.APPLIANCE and which.component in OF_APPLIANCES:
        return Leaf(OF_APPLIANCES[which.component], which.bay, next(iter(which.at), None))
    kind = LEAVES.get(which.grips or part.role)
    return Leaf(kind, which.bay, which.leaf) if kind else None


def _is_grip(part: Part) -> bool:
    """What stands out from the face that a leaf turns in."""
    return part.role is Role.HANDLE or part.which.component is Component.GRIP


def _opening(unit: PlacedUnit, leaf: Leaf, panels: list[Part]) -> LeafMotion:
    low, high = _hull(unit, panels)
    name = f"{unit.key}.{leaf.text}"
    if leaf.kind in (LeafKind.DRAWER, LeafKind.PULL_OUT):
        return _sliding(unit, name, float(high[1] - low[1]) - STAYS_IN)
    shows = leaf.kind is LeafKind.FACE
    appliance = unit.family.appliance_at(leaf.bay) if shows else unit.family.carries_front
    if appliance and appliance.opens == "pulls":
        return _sliding(unit, name, appliance.reach)
    hinge = _hinge(unit, leaf, appliance, panels)
    edge = (high[0] if hinge == "right" else low[0], high[1], low[2])
    # From the hinge to the free edge while it is shut, and where that edge goes: the turn's axis is their product.
    shut = {"left": unit.frame.x, "right": tuple(-c for c in unit.frame.x), "bottom": unit.frame.z}[hinge]
    axis = np.cross(shut, unit.frame.y)
    return LeafMotion(
        name, hinge, unit.frame.to_room(edge), (float(axis[0]), float(axis[1]), float(axis[2])), RIGHT_ANGLE
    )


def _sliding(unit: PlacedUnit, name: str, travel: float) -> LeafMotion:
    return LeafMotion(name, None, unit.frame.origin, unit.frame.y, travel)


def _hinge(unit: PlacedUnit, leaf: Leaf, appliance: Appliance | None, panels: list[Part]) -> Hinge:
    """Below where its appliance drops it; a face of an appliance that no row knows is an oven's."""
    opens = appliance.opens if appliance else None
    if opens == "drops" or (opens is None and leaf.kind is LeafKind.FACE):
        return "bottom"
    return next((part.hinge for part in panels if part.hinge), unit.hand)


def _hull(unit: PlacedUnit, parts: Iterable[Part]) -> tuple[Floats, Floats]:
    """Lowest and highest corner in the unit's frame, mm."""
    points = np.concatenate([_corners(part) for part in parts]) - unit.frame.origin
    inside = points @ unit.frame.matrix[:, :3]
    return inside.min(axis=0), inside.max(axis=0)


def _corners(part: Part) -> Floats:
    """(8, 3) corners of the box round a part, in the room, mm."""
    x0, y0, x1, y1 = part.outline.bounds
    low, high = np.array([x0, y0, 0.0]), np.array([x1, y1, part.thickness])
    turn, origin = part.pose.matrix[:, :3], part.pose.origin
    return np.asarray((low + CORNERS * (high - low)) @ turn.T + origin)
