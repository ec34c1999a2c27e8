"""Places: the kitchen as boxes that stand in the way of the eye, and as what is worth seeing. Room frame, mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from countersunk.model.geometry.identity import FACES, Component, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.scene.surface import Floats

Kind = Literal["front", "sink", "hob", "top", "body", "wall"]

WALL = 60.0
"""Thickness of the boxes that stand for walls, mm."""


@dataclass(frozen=True, eq=False)
class Box:
    """A box from ``low`` to ``high`` along the rows of ``axes``, about ``origin``. ``out`` is the way it faces."""

    kind: Kind
    name: str
    origin: Floats
    axes: Floats
    low: Floats
    high: Floats
    out: Floats

    @property
    def middle(self) -> Floats:
        """Its middle in the room."""
        return np.asarray(self.origin + (self.low + self.high) / 2 @ self.axes)

    @property
    def area(self) -> float:
        """The area of its largest face, square metres."""
        a, b, c = self.high - self.low
        return float(max(a * b, b * c, c * a)) / 1e6

    def distances(self, eye: Floats, ways: Floats) -> Floats:
        """How far (n,) along each way (n, 3) from the eye (3,) or (n, 3) the box begins; infinite where it does
        not, or where the eye is in it.
        """
        start, turned = (eye - self.origin) @ self.axes.T, ways @ self.axes.T
        with np.errstate(divide="ignore", invalid="ignore"):
            one, other = (self.low - start) / turned, (self.high - start) / turned
        enters = np.fmin(one, other).max(axis=-1)
        leaves = np.fmax(one, other).min(axis=-1)
        return np.where((enters < leaves) & (enters > 0.0), enters, np.inf)


def part_boxes(kitchen: Kitchen) -> list[Box]:
    """A box for each part. What hangs under a top or lies flush in it is seen through the top's cut-out, which the
    box of the top has not: its box comes up out of that.
    """
    faces = {c.key: c.frame.origin[2] + OUT for c in kitchen.cutouts if c.template.mount != "inset"}
    facing = {unit.key: np.array(unit.frame.y) for unit in kitchen.units}
    facing |= {cutout.key: facing[cutout.unit.key] for cutout in kitchen.cutouts}
    return [_part_box(part, facing, faces.get(part.owner, 0.0)) for part in kitchen.parts]


OUT = 1.0
"""How far over the top's face the box of what is let into it reaches, mm."""


def _part_box(part: Part, facing: dict[str, Floats], least: float) -> Box:
    """The box of a part; one that stands upright reaches up to ``least`` mm over the floor."""
    x0, y0, x1, y1 = part.outline.bounds
    low, high = np.array([x0, y0, 0.0]), np.array([x1, y1, part.thickness])
    pose = part.pose
    high[2] = max(high[2], least - pose.origin[2])
    axes, origin = np.array([pose.x, pose.y, pose.z]), np.array(pose.origin)
    return Box(_kind(part), part.id, origin, axes, low, high, facing.get(part.owner, np.array([0.0, 0.0, 1.0])))


def _kind(part: Part) -> Kind:
    if part.role is Role.SINK or (part.role is Role.APPLIANCE and part.which.component is Component.BOWL):
        return "sink"
    if part.role is Role.HOB or part.which.component is Component.ZONE:
        return "hob"
    shown = part.role is Role.APPLIANCE and part.which.component in (Component.FACE, Component.DOOR)
    if part.role in FACES or part.role is Role.FRAME or shown:
        return "front"
    return "top" if part.layer is Layer.WORKTOPS else "body"


def unit_boxes(kitchen: Kitchen, boxes: Iterable[Box]) -> list[Box]:
    """A box for each unit, and one for each length of a top: what is between the eye and the rest."""
    keys = {unit.key: unit.frame for unit in kitchen.units}
    by_owner: dict[str, list[Box]] = {}
    for box in boxes:
        owner = kitchen.parts_by_id[box.name].owner
        if owner in keys:
            by_owner.setdefault(owner, []).append(box)
    tops = [box for box in boxes if kitchen.parts_by_id[box.name].role is Role.WORKTOP]
    return [*(_hull(key, keys[key].matrix[:, :3].T, found) for key, found in by_owner.items()), *tops]


def _hull(name: str, axes: Floats, boxes: Sequence[Box]) -> Box:
    corners = np.concatenate([_corners(box) for box in boxes]) @ axes.T
    return Box("body", name, np.zeros(3), axes, corners.min(axis=0), corners.max(axis=0), axes[1])


def _corners(box: Box) -> Floats:
    shares = np.array(np.meshgrid([0, 1], [0, 1], [0, 1])).reshape(3, -1).T
    return np.asarray(box.origin + (box.low + shares * (box.high - box.low)) @ box.axes)


def wall_boxes(outline: Polygon, height: float) -> list[Box]:
    """A box outside each side of a plan, as high as the room."""
    ring = np.array(outline.exterior.coords)
    if outline.exterior.is_ccw:
        ring = ring[::-1]
    found = []
    for i, (a, b) in enumerate(pairwise(ring)):
        along = np.array([*(b - a), 0.0])
        length = float(np.linalg.norm(along))
        if length < 1.0:
            continue
        along /= length
        inward = np.array([along[1], -along[0], 0.0])
        axes = np.array([along, inward, [0.0, 0.0, 1.0]])
        low, high = np.array([-WALL, -WALL, 0.0]), np.array([length + WALL, 0.0, height])
        found.append(Box("wall", f"side {i}", np.array([*a, 0.0]), axes, low, high, inward))
    return found


def first_met(boxes: Sequence[Box], eye: Floats, ways: Floats) -> tuple[NDArray[np.int64], Floats]:
    """For each way (n, 3) from the eye the index of the first box, −1 where there is none, and how far it is."""
    nearest, which = np.full(len(ways), np.inf), np.full(len(ways), -1)
    for i, box in enumerate(boxes):
        distance = box.distances(eye, ways)
        closer = distance < nearest
        nearest[closer], which[closer] = distance[closer], i
    return which, nearest
