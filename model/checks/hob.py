"""Measures of a hob: what stands beside, behind and above it.

Levels are taken from the hob's surface, which is the worktop's face plus the height of the rim; pan supports are
not modelled. Sideways distances are from the rim, which is the outermost that can be hot. "Beside" is the band as
deep as the rim that runs to the left and the right of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from model.checks.finding import Place, Segment
from model.checks.plans import (
    REACH,
    SAME,
    around,
    between,
    block,
    face,
    hoods,
    of_kind,
    overlap,
    tall_units,
    unit_plan,
    upright,
    wall_units,
)
from model.cutouts import PlacedCutout
from model.document import Opening
from model.kitchen import Kitchen
from model.layout import PlacedUnit
from model.worktops import Length

SIDE_REACH = 300.0
"""A wall unit within this distance of the rim hangs beside the hob (common practice, no source)."""

SPLASH = 400.0
"""How high above the face the volume beside a hob is drawn, mm; it has no meaning of its own."""


@dataclass(frozen=True)
class _Beside:
    """Something upright on one side of a hob. ``shape`` is what of it lies in the band, in the room's plan.

    ``unit`` is the name of a tall unit, and empty for a wall.
    """

    side: str
    unit: str
    what: str
    shape: BaseGeometry


def to_tall_unit(kitchen: Kitchen) -> Iterator[Place]:
    """From the hob's rim to each tall unit beside it, mm; whichever side has none has no place."""
    for hob, length in of_kind(kitchen, "hob"):
        for near in _nearest(hob, _talls(kitchen, hob, length)):
            yield _sideways(hob, length, near)


def to_side_wall(kitchen: Kitchen) -> Iterator[Place]:
    """From the hob's rim to the wall on either side, mm; not to the wall behind, see `line_to_wall_behind`."""
    for hob, length in of_kind(kitchen, "hob"):
        for near in _nearest(hob, _walls(kitchen, hob)):
            yield _sideways(hob, length, near)


def to_side(kitchen: Kitchen) -> Iterator[Place]:
    """From the hob's rim to the nearest tall unit or wall on each side, mm."""
    for hob, length in of_kind(kitchen, "hob"):
        yield from _sides(kitchen, hob, length)


def to_farther_side(kitchen: Kitchen) -> Iterator[Place]:
    """The larger of the two distances of `to_side`, mm; a hob with an open side has no such place."""
    for hob, length in of_kind(kitchen, "hob"):
        sides = _sides(kitchen, hob, length)
        if len(sides) == 2:
            yield max(sides, key=lambda place: round(place.value or 0.0, SAME))


def burner_to_side(kitchen: Kitchen) -> Iterator[Place]:
    """From the edge of the outermost burner to the nearest tall unit or wall on each side, mm."""
    for hob, length in of_kind(kitchen, "hob"):
        if not hob.template.zones:
            continue
        for near in _nearest(hob, [*_talls(kitchen, hob, length), *_walls(kitchen, hob)]):
            segment = between(_burners(hob), near.shape, face(length))
            yield _level(hob, length, f"burner of {hob.name}, {near.side}: {near.what}", segment, near.unit)


def line_to_wall_behind(kitchen: Kitchen) -> Iterator[Place]:
    """From the line to cut to the wall behind, mm: makers' drawings give the line and not the rim."""
    for hob, length in of_kind(kitchen, "hob"):
        w, d = hob.template.line
        band = block(hob.frame, -w / 2, -REACH, w / 2, -d / 2)
        behind = [(wall.name, wall.line.intersection(band)) for wall in kitchen.survey.walls]
        struck = [(name, shape) for name, shape in behind if not shape.is_empty]
        if length.run.wall and struck:
            name, shape = min(struck, key=lambda s: hob.line_in_room.distance(s[1]))
            segment = between(hob.line_in_room, shape, face(length))
            yield _level(hob, length, f"{hob.name} to wall {name} behind", segment)


def behind_on_island(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop behind the rim of a hob on an island, mm."""
    for hob, length in of_kind(kitchen, "hob"):
        if length.run.wall is None:
            w, d = hob.template.rim
            back = length.part.pose.plan_to_room(Polygon(length.part.outline.exterior))
            band = block(hob.frame, -w / 2, -REACH, w / 2, -d / 2).intersection(back)
            deep = hob.frame.plan_from_room(band).bounds
            segment = _along(hob, (0.0, -d / 2), (0.0, deep[1]))
            yield _level(hob, length, f"behind {hob.name} on {length.id}", segment)


def beside_window(kitchen: Kitchen) -> Iterator[Place]:
    """Along the wall from the hob's rim to a window in it, mm; negative by how far the two overlap."""
    return _to_openings(kitchen, ("window",))


def beside_door(kitchen: Kitchen) -> Iterator[Place]:
    """Along the wall from the hob's rim to a door or passage in it, mm; negative where they overlap."""
    return _to_openings(kitchen, ("door", "passage"))


def to_hood(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the hob's surface to the underside of a hood over it, mm."""
    for hob, length in of_kind(kitchen, "hob"):
        yield from (_above(hob, length, unit, "hood") for unit in _over(hob, hoods(kitchen)))


def to_unit_above(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the hob's surface to a wall unit over it with no hood between, mm: a bare surface above."""
    for hob, length in of_kind(kitchen, "hob"):
        shields = [hood.family.base for hood in _over(hob, hoods(kitchen))]
        bare = (u for u in _over(hob, wall_units(kitchen)) if not any(z < u.family.base for z in shields))
        yield from (_above(hob, length, unit, "wall unit") for unit in bare)


def to_anything_above(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the hob's surface to the lowest of whatever hangs over it, mm."""
    for hob, length in of_kind(kitchen, "hob"):
        over = _over(hob, [*hoods(kitchen), *wall_units(kitchen)])
        if over:
            lowest = min(over, key=lambda u: u.family.base)
            yield _above(hob, length, lowest, lowest.family.name)


def worktop_to_unit_beside(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the worktop's face to a wall unit that hangs beside the hob and not over it, mm."""
    for hob, length in of_kind(kitchen, "hob"):
        bands, rim = _bands(hob).values(), hob.rim_in_room
        for unit in wall_units(kitchen):
            plan = unit_plan(unit)
            beside = any(overlap(plan, band) for band in bands) and not overlap(plan, rim)
            if beside and rim.distance(plan) <= SIDE_REACH:
                volume, segment = upright(plan, face(length), unit.family.base)
                value = unit.family.base - face(length)
                text = f"{length.id} to wall unit {unit.name} beside {hob.name}"
                yield Place(text, value, (hob.name, unit.name), volume, segment, hob.template.fuel)


def _bands(hob: PlacedCutout) -> dict[str, Polygon]:
    """What lies to the left and to the right of the rim, as deep as the rim."""
    w, d = hob.template.rim
    left = block(hob.frame, -REACH, -d / 2, -w / 2, d / 2)
    return {"left": left, "right": block(hob.frame, w / 2, -d / 2, REACH, d / 2)}


def _talls(kitchen: Kitchen, hob: PlacedCutout, length: Length) -> list[_Beside]:
    """Every tall unit with the part of it that lies beside the hob."""
    plans = [(unit, unit_plan(unit)) for unit in tall_units(kitchen, face(length))]
    return [
        _Beside(side, unit.name, f"tall unit {unit.name}", plan.intersection(band))
        for side, band in _bands(hob).items()
        for unit, plan in plans
        if overlap(plan, band)
    ]


def _walls(kitchen: Kitchen, hob: PlacedCutout) -> list[_Beside]:
    """Every wall, column or boxing with the part of it that lies beside the hob."""
    standing: list[tuple[str, BaseGeometry]] = [(f"wall {wall.name}", wall.line) for wall in kitchen.survey.walls]
    standing += [(o.name, o.plan) for o in kitchen.survey.obstacles if o.top > hob.frame.origin[2]]
    found = [
        _Beside(side, "", name, shape.intersection(band))
        for side, band in _bands(hob).items()
        for name, shape in standing
    ]
    return [near for near in found if not near.shape.is_empty]


def _nearest(hob: PlacedCutout, things: list[_Beside]) -> list[_Beside]:
    """The nearest thing on each side that has any."""
    rim = hob.rim_in_room
    sides = ([t for t in things if t.side == side] for side in ("left", "right"))
    return [min(side, key=lambda t: rim.distance(t.shape)) for side in sides if side]


def _sides(kitchen: Kitchen, hob: PlacedCutout, length: Length) -> list[Place]:
    things = [*_talls(kitchen, hob, length), *_walls(kitchen, hob)]
    return [_sideways(hob, length, near) for near in _nearest(hob, things)]


def _sideways(hob: PlacedCutout, length: Length, near: _Beside) -> Place:
    segment = between(hob.rim_in_room, near.shape, face(length))
    return _level(hob, length, f"{hob.name}, {near.side}: {near.what}", segment, near.unit)


def _level(hob: PlacedCutout, length: Length, text: str, segment: Segment, unit: str = "") -> Place:
    """A place measured along a level segment from the hob."""
    volume = around(segment, face(length), face(length) + SPLASH)
    return Place(text, math.dist(*segment), (hob.name, unit or length.id), volume, segment, hob.template.fuel)


def _burners(hob: PlacedCutout) -> MultiPolygon:
    discs = [Point(x, y).buffer(size / 2, quad_segs=32) for x, y, size in hob.template.zones]
    return hob.frame.plan_to_room(MultiPolygon(discs))


def _along(hob: PlacedCutout, start: tuple[float, float], end: tuple[float, float]) -> Segment:
    """A segment given in the hob's frame, on the worktop's face."""
    return hob.frame.to_room((*start, 0.0)), hob.frame.to_room((*end, 0.0))


def _over(hob: PlacedCutout, units: list[PlacedUnit]) -> list[PlacedUnit]:
    rim = hob.rim_in_room
    return [unit for unit in units if overlap(unit_plan(unit), rim)]


def _above(hob: PlacedCutout, length: Length, unit: PlacedUnit, what: str) -> Place:
    surface = face(length) + hob.template.rim_height
    volume, segment = upright(hob.rim_in_room, surface, unit.family.base)
    text = f"{hob.name} to {what} {unit.name} above"
    return Place(text, unit.family.base - surface, (hob.name, unit.name), volume, segment, hob.template.fuel)


def _to_openings(kitchen: Kitchen, kinds: tuple[str, ...]) -> Iterator[Place]:
    for hob, length in of_kind(kitchen, "hob"):
        for opening in kitchen.survey.openings:
            if opening.wall == length.run.wall and opening.kind in kinds and opening.head > face(length):
                yield _to_opening(kitchen, hob, length, opening)


def _to_opening(kitchen: Kitchen, hob: PlacedCutout, length: Length, opening: Opening) -> Place:
    frame = kitchen.survey.wall(opening.wall).frame
    x0, y0, x1, _ = frame.plan_from_room(hob.rim_in_room).bounds
    to_right, to_left = opening.at - x1, x0 - (opening.at + opening.width)
    a, b = (x1, opening.at) if to_right >= to_left else (x0, opening.at + opening.width)
    z = face(length)
    segment = (frame.to_room((a, y0, z)), frame.to_room((b, y0, z)))
    text = f"{hob.name} to {opening.kind} in wall {opening.wall}"
    value, volume = max(to_right, to_left), around(segment, z, opening.head)
    return Place(text, value, (hob.name, length.id), volume, segment, hob.template.fuel)
