"""Handles: what fronts are gripped by, at the place that the handle's row gives it.

A handle is modelled as its bar, knob or shell before the front's face; its screws are not.
"""

from __future__ import annotations

import numpy as np
from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Hinge, PartKey, Role, Which
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import AXES, disc, reveal
from countersunk.model.units.carcass import PlacedBay

SHOULDER = 1_200.0
"""A door that begins above this is gripped at its foot, one below at its head (common practice, no source)."""

REACHED = 1_050.0
"""Handles of tall doors sit no higher than this (common practice, no source)."""

HIGH = 1_000.0
"""An edge pull sits upright at the side of a door that is higher, mm (common practice, no source)."""

LOW = 2.0
"""A door of less than so many times a handle's way from its end is gripped in its middle."""

BAR, PULL, SHELL = 12.0, 3.0, 3.0
"""Width of a bar, thickness of an edge pull and of a cup's shell, mm (common practice, no source)."""

CUP = 38.0
"""Height of a cup handle, mm (common practice, no source)."""


def on_door(unit: PlacedUnit, which: Which, o: PlacedBay, x0: float, x1: float, hinge: Hinge) -> list[Part]:
    """The handle of a door from ``x0`` to ``x1``, near the edge away from its hinges."""
    off = unit.handle.from_edge
    upright = unit.handle.kind == "bar"
    if unit.handle.kind == "edge" and is_high(o):
        off, upright = reveal(unit) + PULL / 2, True
    x = x1 - off if hinge == "left" else x0 + off
    return handle(unit, which, x, grip_height(unit, o), upright=upright)


def is_high(o: PlacedBay) -> bool:
    """Whether a door is so high that an edge pull goes to its side."""
    return o.head - o.foot > HIGH


def on_drawer(unit: PlacedUnit, which: Which, head: float) -> list[Part]:
    """The handle of a drawer's front that ends at ``head`` (mm above the floor), in the middle of the unit."""
    drop = reveal(unit) + PULL / 2 if unit.handle.kind == "edge" else unit.handle.drop
    return handle(unit, which, unit.width / 2, head - drop, upright=False)


def grip_height(unit: PlacedUnit, o: PlacedBay) -> float:
    """Where a door's handle has its middle, mm above the floor; an edge pull sits at the end of the door."""
    far, above = unit.handle.from_end, o.z0 > SHOULDER
    if unit.handle.kind == "edge" and not is_high(o):
        return o.foot + reveal(unit) + PULL / 2 if above else o.head - reveal(unit) - PULL / 2
    if o.head - o.foot < LOW * far:
        return (o.foot + o.head) / 2
    return o.foot + far if above else min(o.head - far, REACHED)


def handle(unit: PlacedUnit, which: Which, x: float, z: float, upright: bool) -> list[Part]:
    """A unit's handle on the front's face with its middle at ``x``, ``z`` of the unit."""
    face = unit.family.depth + unit.boards.front.thickness
    pose = unit.frame.moved(x, face, z).reaxed(AXES["x"], AXES["z"], AXES["y"])
    return handle_at(unit, which, pose, upright)


def handle_at(unit: PlacedUnit, which: Which, pose: Pose, upright: bool) -> list[Part]:
    """The same in a frame with its middle on a face: x along that, y up, z out of it.

    Nothing for what opens by a push, has no handle, or is gripped by a channel.
    """
    how, half, hollow = unit.handle, unit.handle.length / 2, tuple[Pocket, ...]()
    if how.kind == "bar":
        outline = rectangle(-half, -BAR / 2, half, BAR / 2)
        pose = pose.reaxed(AXES["y"], AXES["x"], AXES["z"]) if upright else pose
    elif how.kind == "edge":
        outline = rectangle(-half, -PULL / 2, half, PULL / 2)
        pose = pose.reaxed(AXES["y"], AXES["x"], AXES["z"]) if upright else pose
    elif how.kind == "knob":
        outline = disc(half)
    elif how.kind == "cup":
        outline = _arch(half, 0.0)
        hollow = (Pocket(_arch(half - SHELL, SHELL), -1.0, how.projects - SHELL),)
    else:
        return []
    key, code = PartKey(unit.key, Role.HANDLE, which), how.article or "handle"
    return [
        Part(key=key, called=unit.name, layer=Layer.HARDWARE, material=code, outline=outline,
             thickness=how.projects, pose=pose, pockets=hollow)
    ]  # fmt: skip


def _arch(half: float, less: float) -> Polygon:
    """Half an ellipse, ``half`` to either side and as high as a cup, ``less`` a shell, which then is open below."""
    turns, foot = np.linspace(0.0, np.pi, 25), -CUP / 2
    arch = [(half * float(np.cos(t)), foot + (CUP - less) * float(np.sin(t))) for t in turns]
    below = [(-half, foot - 1.0), (half, foot - 1.0)] if less else []
    return Polygon([*arch, *below])
