"""Hobs: everything that is cooked on, whether it is let into a top or stands on a cooker of its own.

Frame of a hob: origin in the middle of what is hot, on the face that it is let into or that it is; x along the run
from left to right, y to the front, z up.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.things import Thing, of_cutout, of_length, of_unit
from countersunk.model.facts.once import once
from countersunk.model.facts.plans import REACH, block, face, of_kind, overlap, run_of, unit_plan
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Component
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.volume import Segment
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.tolerance import FIT
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.worktops import Length

GRAZE = 0.5
"""What reaches less than this over a hob's rim is beside it, mm: half of what a tape shows (common practice)."""


@dataclass(frozen=True)
class Hob:
    """A hob of ``size`` (width and depth of what is hot, mm), ``plan`` in the room's plan.

    ``face`` is the height of the worktop and ``surface`` that of the hob, mm above the floor. ``thing`` is the
    cut-out or the cooker, and ``stands_in`` the length that it is let into, or the cooker again. One of ``unit``,
    the cooker, and ``cutout`` with its ``length`` is given. ``zones`` are x, y and diameter in its frame.
    """

    thing: Thing
    stands_in: Thing
    run: PlacedRun
    frame: Pose
    size: tuple[float, float]
    plan: Polygon
    face: float
    surface: float
    fuel: str | None
    zones: tuple[tuple[float, float, float], ...]
    unit: PlacedUnit | None = None
    cutout: PlacedCutout | None = None
    length: Length | None = None

    @property
    def bands(self) -> dict[str, Polygon]:
        """What lies to its left and right, as deep as it is but for a hair: a wall just behind is not beside it."""
        w, d = self.size[0], self.size[1] - 2 * FIT
        left = block(self.frame, -REACH, -d / 2, -w / 2, d / 2)
        return {"left": left, "right": block(self.frame, w / 2, -d / 2, REACH, d / 2)}

    @property
    def about(self) -> tuple[Thing, ...]:
        """Itself, and the length that it is let into."""
        return (self.thing,) if self.cutout is None else (self.thing, self.stands_in)

    def is_under(self, plan: BaseGeometry) -> bool:
        """Whether what has that plan in the room lies over it and not, but for `GRAZE`, beside it."""
        return overlap(plan, self.plan.buffer(-GRAZE, join_style="mitre"))

    @property
    def burners(self) -> MultiPolygon:
        """Its burners or zones in the room's plan."""
        discs = [Point(x, y).buffer(size / 2, quad_segs=32) for x, y, size in self.zones]
        return self.frame.plan_to_room(MultiPolygon(discs))

    def along(self, start: tuple[float, float], end: tuple[float, float]) -> Segment:
        """A segment given in its frame, on the face."""
        return self.frame.to_room((*start, 0.0)), self.frame.to_room((*end, 0.0))


@once
def hobs(kitchen: Kitchen) -> list[Hob]:
    """Those let in, then free-standing cookers; both in the order of the document."""
    return [*(_let_in(*found) for found in of_kind(kitchen, "hob")), *_cookers(kitchen)]


def _let_in(cutout: PlacedCutout, length: Length) -> Hob:
    template, z = cutout.template, face(length)
    return Hob(
        of_cutout(cutout), of_length(length), length.run, cutout.frame, template.rim, cutout.rim_in_room, z,
        z + template.rim_over_top, template.fuel, template.zones, cutout=cutout, length=length,
    )  # fmt: skip


def _cookers(kitchen: Kitchen) -> Iterator[Hob]:
    """All of a cooker's top counts as hot."""
    for unit in (unit for unit in kitchen.units if unit.family.cooks_with):
        run, fuel = run_of(kitchen, unit), unit.family.cooks_with
        w, d, z = unit.width, unit.face, unit.family.top
        frame = unit.frame.moved(w / 2, d / 2, z)
        zones = tuple(_zone(frame, p) for p in kitchen.parts_of[unit.key] if p.which.component is Component.ZONE)
        thing = of_unit(unit)
        yield Hob(thing, thing, run, frame, (w, d), unit_plan(unit), z, z, fuel, zones, unit=unit)


def _zone(frame: Pose, disc: Part) -> tuple[float, float, float]:
    x, y, _ = frame.from_room(disc.pose.origin)
    return x, y, 2 * disc.outline.bounds[2]
