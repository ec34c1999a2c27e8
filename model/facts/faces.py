"""Faces: every front with its size as one sees it, and where its handle is drilled.

Places are from the left and the lower edge of the front, as one faces it, mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np

from countersunk.model.geometry.frames import Vector
from countersunk.model.geometry.identity import FACES, Component, Hinge, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.style import looks_up

UPRIGHT = 0.9
"""A bar that stands up by more than this (sine) has its screws one above the other."""


@dataclass(frozen=True)
class Front:
    """A front: ``width`` and ``height``, and the middle of each hole for its handle, mm; ``hinge`` of a door."""

    part: Part
    unit: PlacedUnit
    width: float
    height: float
    holes: tuple[tuple[float, float], ...]
    hinge: Hinge | None
    decor: str

    @property
    def alike(self) -> tuple[object, ...]:
        """What fronts that are made and drilled the same have in common."""
        sizes = (self.width, self.height, *(c for hole in self.holes for c in hole))
        same = (
            self.part.material,
            self.decor,
            self.unit.style.code,
            self.unit.handle.code,
            self.hinge,
            self.is_glazed,
        )
        return (*(round(size, 1) for size in sizes), *same)

    @property
    def is_glazed(self) -> bool:
        """Whether it is a frame round a pane."""
        return self.part.which.component is Component.STILE


def fronts(kitchen: Kitchen) -> Iterator[Front]:
    """Every door, drawer front, pull-out front and fixed front, unit by unit."""
    for unit in kitchen.units:
        parts = kitchen.parts_of.get(unit.key, ())
        for part in parts:
            if part.layer is Layer.FRONTS and part.role in FACES:
                yield _front(kitchen, unit, part, parts)


def _front(kitchen: Kitchen, unit: PlacedUnit, part: Part, parts: tuple[Part, ...]) -> Front:
    same = [p for p in parts if (p.which.bay, p.which.leaf) == (part.which.bay, part.which.leaf)]
    whole = [part, *(p for p in same if p.role is Role.FRAME and part.which.component is Component.STILE)]
    corners = np.array([_seen(unit, part, corner) for p in whole for corner in _corners(p)])
    (x0, z0), (x1, z1) = corners.min(axis=0), corners.max(axis=0)
    grips = [p for p in same if p.role is Role.HANDLE and _gripped(p, part)]
    holes = [hole for grip in grips for hole in _holes(unit, part, grip)]
    hinge = part.hinge if part.role in (Role.DOOR, Role.FRIDGE_FRONT) else None
    return Front(
        part, unit, float(x1 - x0), float(z1 - z0), tuple((x - x0, z - z0) for x, z in holes), hinge,
        kitchen.decor_of(part),
    )  # fmt: skip


def _gripped(grip: Part, part: Part) -> bool:
    """Whether a handle is that of a front; what is gripped of a drawer is its box and its front."""
    return grip.which.grips is (Role.DRAWER if part.role is Role.DRAWER_FRONT else part.role)


def _holes(unit: PlacedUnit, part: Part, grip: Part) -> Iterator[tuple[float, float]]:
    """The holes of a handle about its middle: along its bar where it has two."""
    apart = unit.handle.centres
    if apart is None:
        return
    x, z = _seen(unit, part, grip.pose.origin)
    up = abs(grip.pose.x[2]) > UPRIGHT
    for way in (-1.0, 1.0) if apart else (0.0,):
        off = way * apart / 2
        yield (x, z + off) if up else (x + off, z)


def _seen(unit: PlacedUnit, part: Part, point: Vector) -> tuple[float, float]:
    """A point of the room as one faces the front: to the right, and up, mm."""
    out = np.array(part.pose.z) * (1.0 if looks_up(unit, part) else -1.0)
    right = np.cross((0.0, 0.0, 1.0), out)
    return float(np.dot(right, point)), point[2]


def _corners(part: Part) -> Iterator[Vector]:
    x0, y0, x1, y1 = part.outline.bounds
    return (part.pose.to_room((x, y, 0.0)) for x, y in product((x0, x1), (y0, y1)))
