"""Cameras: from where a kitchen is looked at, and what is left out so that it can be seen.

Everything is in the room frame, mm. A camera looks from ``eye`` along ``forward``; ``right`` and ``up`` span
the picture. With ``half_height`` it is orthographic, otherwise it sees ``angle`` degrees from top to bottom, and
``shift`` is how far above the picture's middle it looks, in halves of its height, as through a shift lens.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import SurveyedWall
from countersunk.model.ties import most
from countersunk.viewer.scene.items import Item
from countersunk.viewer.scene.room import WALL, room_items
from countersunk.viewer.scene.scene import items
from countersunk.viewer.scene.surface import Floats

SIZE = (1600, 1000)
"""Width and height of every still, pixels."""
ANGLE = 32.0
ELEVATION = 19.0
"""Degrees by which the three-quarter view looks down."""
ASIDE = 30.0
"""Degrees by which a kitchen along one wall is seen from the side."""
FILL = 0.94
"""Share of the picture that the kitchen may take."""
CUT = 1_500.0
"""Height at which walls are cut in the plan: above sills, below heads."""
AWAY = 12_000.0
"""How far an orthographic camera stands off, mm."""


@dataclass(frozen=True, eq=False)
class Camera:
    """Where one stands and how far one sees."""

    eye: Floats
    forward: Floats
    up: Floats
    half_height: float | None = None
    angle: float = ANGLE
    shift: float = 0.0

    @cached_property
    def right(self) -> Floats:
        """Unit vector to the right of the picture."""
        return np.cross(self.forward, self.up)


@dataclass(frozen=True, eq=False)
class Picture:
    """A still to be made: its file's name, its camera, and what is in it."""

    name: str
    camera: Camera
    items: tuple[Item, ...]


def pictures(kitchen: Kitchen) -> Iterator[Picture]:
    """The three-quarter view, the plan, and an elevation of each wall that carries units."""
    yield three_quarter(kitchen)
    yield plan(kitchen)
    for wall in kitchen.survey.walls:
        if any(run.wall == wall.name for run in kitchen.runs):
            yield elevation(kitchen, wall)


def three_quarter(kitchen: Kitchen) -> Picture:
    """Into the room, opposite the units, over the walls that stand between."""
    drawn = items(kitchen)
    toward = _turned(_facing(kitchen), ELEVATION)
    parts = np.concatenate([item.points for item in drawn if item.layer != "room"])
    seen = np.concatenate([parts, parts * (1.0, 1.0, 0.0) + (0.0, 0.0, kitchen.survey.height)])
    camera = _fitted(seen, -toward)
    behind = {w.name for w in kitchen.survey.walls if (camera.eye - (*w.start, 0.0)) @ np.array(w.frame.y) < 0.0}
    return Picture("view", camera, tuple(i for i in drawn if i.more.get("wall") not in behind))


def plan(kitchen: Kitchen) -> Picture:
    """From above, with the first wall at the top; walls are cut at `CUT`."""
    parts = tuple(item for item in items(kitchen) if item.layer != "room")
    drawn = (*parts, *room_items(kitchen, CUT))
    camera = _orthographic(drawn, np.array([0.0, 0.0, -1.0]), np.array([0.0, 1.0, 0.0]))
    return Picture("plan", camera, drawn)


def elevation(kitchen: Kitchen, wall: SurveyedWall) -> Picture:
    """Straight at a wall, with what stands on it and on the walls beside it."""
    beside = (kitchen.survey.previous_wall(wall), kitchen.survey.next_wall(wall))
    names = {wall.name, *(w.name for w in beside if w)}
    owners = {name for run in kitchen.runs if run.wall in names for name in _owners(kitchen, run.name)}
    parts = [i for i in items(kitchen) if i.layer != "room" and kitchen.parts_by_id[i.id].owner in owners]
    room = [i for i in room_items(kitchen) if i.more.get("wall") == wall.name]
    floor = next(room_items(kitchen))
    camera = _orthographic((*parts, *room), -np.array(wall.frame.y), np.array([0.0, 0.0, 1.0]))
    return Picture(f"wall-{wall.name}", camera, (*parts, *room, floor))


def _owners(kitchen: Kitchen, run: str) -> set[str]:
    """Keys of the units of all runs of that name, of their lengths, and of what is let into these."""
    units = {unit.key for r in kitchen.runs if r.name == run and not r.hangs for unit in r.units}
    lengths = {length.id: length.key for length in kitchen.lengths if length.run.name == run}
    return {*units, *lengths.values(), *(c.key for c in kitchen.cutouts if c.length in lengths)}


def _facing(kitchen: Kitchen) -> Floats:
    """Horizontal unit vector from the kitchen to somebody who sees most of its fronts."""
    loads = {w.name: 0.0 for w in kitchen.survey.walls}
    for run in kitchen.runs:
        if run.wall is not None:
            loads[run.wall] += sum(unit.width for unit in run.units)
    normals = np.array([w.frame.y for w in kitchen.survey.walls])
    shares = np.sqrt(list(loads.values()))
    toward = shares @ normals
    carrying = normals[shares > 0]
    if len(carrying) == 1:
        return _spun(carrying[0], ASIDE)
    if np.linalg.norm(toward) < 0.3 * shares.max():
        return _spun(normals[most(range(len(shares)), key=lambda i: float(shares[i]))], 75.0)
    return np.asarray(toward / np.linalg.norm(toward))


def _spun(vector: Floats, degrees: float) -> Floats:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.array([c * vector[0] - s * vector[1], s * vector[0] + c * vector[1], 0.0])


def _turned(horizontal: Floats, upward: float) -> Floats:
    c, s = math.cos(math.radians(upward)), math.sin(math.radians(upward))
    return np.array([*(c * horizontal[:2]), s])


def _fitted(points: Floats, forward: Floats) -> Camera:
    """The nearest place from which all points lie within `FILL` of the picture, looking along ``forward``."""
    right = np.cross(forward, (0.0, 0.0, 1.0))
    right /= np.linalg.norm(right)
    up = np.cross(right, forward)
    tall = math.tan(math.radians(ANGLE / 2)) * FILL
    x, dx = _centred(points @ right, points @ forward, tall * SIZE[0] / SIZE[1])
    y, dy = _centred(points @ up, points @ forward, tall)
    return Camera(x * right + y * up + min(dx, dy) * forward, forward, up)


def _centred(across: Floats, along: Floats, slope: float) -> tuple[float, float]:
    """Where to stand across, and how far along at most, so that |across − x| ≤ slope · (along − d)."""
    low, high = (across - slope * along).max(), (across + slope * along).min()
    return float(low + high) / 2, float(high - low) / (2 * slope)


def _orthographic(drawn: Sequence[Item], forward: Floats, up: Floats) -> Camera:
    points = np.concatenate([item.points for item in drawn])
    right = np.cross(forward, up)
    x, y = ((points @ axis).min() / 2 + (points @ axis).max() / 2 for axis in (right, up))
    half = max(np.ptp(points @ up) / 2, np.ptp(points @ right) / 2 * SIZE[1] / SIZE[0]) / FILL
    start = (points @ forward).min() - AWAY + WALL
    return Camera(x * right + y * up + start * forward, forward, up, float(half))
