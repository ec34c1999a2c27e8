"""Part: one physical thing that somebody cuts, buys or fits, and the conditions of its edges."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from shapely import LineString, Polygon

from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Hinge, PartKey, Role, Which
from countersunk.model.ties import most
from countersunk.model.tolerance import CONTACT, ON_LINE

if TYPE_CHECKING:
    from trimesh import Trimesh

FLAT = 0.999
"""A board whose thickness points up by more than this (cosine) lies flat."""


class Layer(StrEnum):
    """What a part is shown and hidden with."""

    CARCASS = "carcass"
    FRONTS = "fronts"
    WORKTOPS = "worktops"
    HARDWARE = "hardware"
    APPLIANCES = "appliances"


class EdgeCondition(StrEnum):
    """What a stretch of a worktop's boundary meets; what must be done to it follows from this alone."""

    FACTORY = "factory edge"
    WALL = "against wall"
    EXPOSED = "exposed"
    MITRED = "mitred end"
    JOINT_FEMALE = "joint, female"
    JOINT_MALE = "joint, male"
    TALL = "against tall unit"
    CUTOUT = "cut-out"
    CUTOUT_HEAT = "cut-out at heat"


@dataclass(frozen=True)
class Edge:
    """A stretch of a part's boundary with one condition. ``path`` is in the part's frame (mm).

    ``id`` is made of the key of the length or cut-out whose edge it is, ``mark`` of what that is called today.
    """

    id: str
    mark: str
    condition: EdgeCondition
    path: LineString

    @property
    def length(self) -> float:
        """Millimetres along the path."""
        return float(self.path.length)

    def lies_at(self, y: float) -> bool:
        """Whether it lies along the line at ``y`` of the part's frame (mm)."""
        return all(abs(point[1] - y) < ON_LINE for point in self.path.coords)


@dataclass(frozen=True)
class Pocket:
    """What is taken out of a part between two heights of its frame, mm: a slot or a hole. It may reach past it.

    Its outline, at ``low``, ``leans`` so many mm along x for each mm up, as a mitre does.
    """

    outline: Polygon
    low: float
    high: float
    leans: float = 0.0


@dataclass(frozen=True)
class Part:
    """One thing, immutable.

    ``outline`` is the plan polygon in the part frame (x along the length, y from back to front, mm), holes
    included; ``thickness`` goes up z from it. ``section``, where given, is the real profile in the part's
    y–z plane, swept along x: the solid is what both have in common, less the ``pockets``. ``material`` is a code
    of the catalogue. ``grain`` says that its face has a figure, which runs along its length. ``banded`` names the
    edges that get edge band: "front", "back", "left", "right" of the outline's bounds, "inner" within these.
    ``hinge`` is the edge on which a door hangs; how an appliance opens is not said here. ``called`` is what today's
    numbering calls its owner, such as ``A3``, to be read and nothing else.
    """

    key: PartKey
    layer: Layer
    material: str
    outline: Polygon
    thickness: float
    pose: Pose
    section: Polygon | None = None
    edges: tuple[Edge, ...] = ()
    grain: bool = False
    banded: tuple[str, ...] = ()
    pockets: tuple[Pocket, ...] = ()
    hinge: Hinge | None = None
    called: str = ""

    @property
    def owner(self) -> str:
        """The key of what it belongs to."""
        return self.key.owner

    @property
    def role(self) -> Role:
        """What it is to its owner."""
        return self.key.role

    @property
    def which(self) -> Which:
        """Which of the parts of its role."""
        return self.key.which

    @cached_property
    def id(self) -> str:
        """Its identity as one text, by which files and the view name it."""
        return self.key.text

    @cached_property
    def mark(self) -> str:
        """What people read of its identity: the same text with what today's numbering calls its owner."""
        return self.key.owned_by(self.called or self.owner).text

    @cached_property
    def length(self) -> float:
        """Extent along the part's x, mm."""
        x0, _, x1, _ = self.outline.bounds
        return float(x1 - x0)

    @cached_property
    def depth(self) -> float:
        """Extent along the part's y, mm."""
        _, y0, _, y1 = self.outline.bounds
        return float(y1 - y0)

    @property
    def lies_flat(self) -> bool:
        """Whether its thickness points up, or down."""
        return abs(self.pose.z[2]) > FLAT

    @cached_property
    def standing_plan(self) -> Polygon:
        """The room's plan of the box round a board of which one axis stands upright, whichever that is."""
        x0, y0, x1, y1 = self.outline.bounds
        pose, (ox, oy, _) = self.pose, self.pose.origin
        spans = ((pose.x, x0, x1), (pose.y, y0, y1), (pose.z, 0.0, self.thickness))
        upright = most(range(3), key=lambda i: abs(spans[i][0][2]))
        (u, u0, u1), (v, v0, v1) = (span for i, span in enumerate(spans) if i != upright)
        turns = ((u0, v0), (u1, v0), (u1, v1), (u0, v1))
        return Polygon([(ox + s * u[0] + t * v[0], oy + s * u[1] + t * v[1]) for s, t in turns])

    def along(self, side: str) -> float:
        """How much of the outline's boundary is that edge, as ``banded`` names it, mm; 0 where there is none."""
        return _sides(self.outline)[side]

    def mesh(self) -> Trimesh:
        """Return its solid as a mesh in the room's frame, mm: closed, with triangles that turn outward.

        >>> from countersunk import open_kitchen
        >>> top = open_kitchen("straight").lengths[0].part
        >>> top.mesh().is_volume
        True
        """
        from countersunk.model.geometry.meshes import mesh  # trimesh is loaded once a mesh is asked for

        return mesh(self)

    @property
    def area(self) -> float:
        """Net area of the outline, holes taken off, mm²; not the area of the part's whole surface."""
        return float(self.outline.area)


@lru_cache(maxsize=4096)
def _sides(outline: Polygon) -> Mapping[str, float]:
    """The boundary by the edges that ``banded`` names, mm; most boards of a kitchen are like another."""
    x0, y0, x1, y1 = outline.bounds
    bounds = {"front": (1, y1), "back": (1, y0), "left": (0, x0), "right": (0, x1)}
    lengths = dict.fromkeys((*bounds, "inner"), 0.0)
    for a, b in pairwise(outline.exterior.coords):
        on = (name for name, (axis, at) in bounds.items() if abs(a[axis] - at) + abs(b[axis] - at) < CONTACT)
        lengths[next(on, "inner")] += math.dist(a[:2], b[:2])
    return lengths
