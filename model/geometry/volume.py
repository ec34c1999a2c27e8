"""Volume and segment: what is drawn of a place in the room."""

from __future__ import annotations

from dataclasses import dataclass

from shapely import Polygon

from countersunk.model.geometry.frames import Vector

Segment = tuple[Vector, Vector]
"""What was measured, from one point of the room to another (mm)."""


@dataclass(frozen=True)
class Volume:
    """An upright prism in the room: its plan, and the heights above the floor between which it stands (mm)."""

    plan: Polygon
    low: float
    high: float
