"""Openings: how doors, drawers and appliance doors of units open in the view.

A *leaf* is what moves as one: a door with its handle, a drawer's front with its box. A leaf that turns does so
about its hinge edge in the plane of its face, so that it clears the front beside it. Nothing is said about what
hinges or runners really allow.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from typing import Literal

import numpy as np

from countersunk.model.geometry.frames import Vector
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.viewer.scene.surface import Floats

RIGHT_ANGLE = 90.0
"""Degrees that a door opens, or an appliance's door drops."""
STAYS_IN = 60.0
"""What of a drawer stays in the unit when it is pulled out, mm (common practice, no source)."""
DROPS = frozenset({"dishwasher", "oven"})
"""Appliances whose door is hinged below."""

LEAVES = (
    (
        re.compile(r"(?:handle\.)?(?:door|frame|pane)((?:\.\d+)?(?:\.left|\.right)?)(?:\.(?:stile|rail)\.\w+)?"),
        r"door\1",
    ),
    (re.compile(r"(?:handle\.)?front\.(fridge(?:\.\d+)?)"), r"\1"),
    (re.compile(r"(?:handle\.)?pull-out(?:\.[\w.]+)?|basket\.[\w.]+"), "drawer.pull-out"),
    (re.compile(r"drawer-front\.(\w+)|handle\.drawer\.(\w+)|drawer\.(\w+)\.\w+"), r"drawer.\1\2\3"),
    (re.compile(r"appliance\.(door)\.glass"), r"\1"),
    (re.compile(r"appliance\.(door(?:\.\w+)?)"), r"\1"),
    (re.compile(r"appliance\.((?:\d+\.)?)(?:face|grip)"), r"\1face"),
)
"""What follows the unit's name in a part's id, and the leaf that the part belongs to."""
ALIKE = {"face": "door.upper"}
"""A grip's leaf, where its appliance has no face but two doors."""

CORNERS = np.array(list(product((0.0, 1.0), repeat=3)))
"""Of the box from 0 to 1."""

Hinge = Literal["left", "right", "bottom"]


@dataclass(frozen=True)
class Opening:
    """How a leaf opens, in the room frame.

    With a ``hinge`` it turns right-handed about ``axis`` through ``at`` (mm) by ``travel`` degrees; without one it
    slides along ``axis`` by ``travel`` mm.
    """

    leaf: str
    hinge: Hinge | None
    at: Vector
    axis: Vector
    travel: float


def openings(kitchen: Kitchen) -> dict[str, Opening]:
    """The opening of every part that moves, by the part's id."""
    return {id_: opening for unit in kitchen.units for id_, opening in _of_unit(unit, kitchen.parts_of[unit.name])}


def _of_unit(unit: PlacedUnit, parts: tuple[Part, ...]) -> Iterator[tuple[str, Opening]]:
    for leaf, moving in ({} if unit.wing else _leaves(unit, parts)).items():  # what folds in a corner stays shut
        opening = _opening(unit, leaf, [part for part in moving if not _is_grip(part)])
        yield from ((part.id, opening) for part in moving)


def _leaves(unit: PlacedUnit, parts: tuple[Part, ...]) -> dict[str, list[Part]]:
    """The parts of each leaf; what shuts nothing, such as the grip of an appliance without a door, is none."""
    leaves: dict[str, list[Part]] = {}
    for part in parts:
        if leaf := _leaf(part.id.removeprefix(f"{unit.name}.")):
            leaves.setdefault(leaf, []).append(part)
    if ALIKE["face"] in leaves:
        leaves[ALIKE["face"]] += leaves.pop("face", [])
    return leaves


@lru_cache(maxsize=1024)
def _leaf(mark: str) -> str | None:
    found = ((pattern.fullmatch(mark), name) for pattern, name in LEAVES)
    return next((match.expand(name) for match, name in found if match), None)


def _is_grip(part: Part) -> bool:
    """What stands out from the face that a leaf turns in."""
    return part.kind == "handle" or part.id.endswith(".grip")


def _opening(unit: PlacedUnit, leaf: str, panels: list[Part]) -> Opening:
    low, high = _hull(unit, panels)
    name = f"{unit.name}.{leaf}"
    if leaf.startswith("drawer"):
        return Opening(name, None, unit.frame.origin, unit.frame.y, float(high[1] - low[1]) - STAYS_IN)
    hinge = _hinge(unit, leaf)
    edge = (high[0] if hinge == "right" else low[0], high[1], low[2])
    # From the hinge to the free edge while it is shut, and where that edge goes: the turn's axis is their product.
    shut = {"left": unit.frame.x, "right": tuple(-c for c in unit.frame.x), "bottom": unit.frame.z}[hinge]
    axis = np.cross(shut, unit.frame.y)
    return Opening(
        name, hinge, unit.frame.to_room(edge), (float(axis[0]), float(axis[1]), float(axis[2])), RIGHT_ANGLE
    )


def _hinge(unit: PlacedUnit, leaf: str) -> Hinge:
    if unit.family.appliance in DROPS or leaf.endswith("face"):
        return "bottom"
    named = leaf.rpartition(".")[2]
    return "left" if (named if named in ("left", "right") else unit.hand) == "left" else "right"


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
