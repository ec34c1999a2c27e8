"""Measures of a hob: what stands beside, behind and above it.

Levels are taken from the hob's surface, which is the worktop's face plus the height of the rim; pan supports are
not modelled. Sideways distances are from the rim, which is the outermost that can be hot. "Beside" is the band as
deep as the rim that runs to the left and the right of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.cooking import Hob, hobs
from countersunk.model.checks.finding import Aspect, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import (
    Sort,
    Thing,
    of_cutout,
    of_obstacle,
    of_opening,
    of_part,
    of_roof_window,
    of_slope,
    of_unit,
    of_wall,
)
from countersunk.model.document.schema import Opening
from countersunk.model.facts.plans import (
    REACH,
    around,
    between,
    block,
    hoods,
    of_kind,
    overlap,
    tall_units,
    top_plan,
    unit_plan,
    upright,
    wall_units,
    within,
)
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.volume import Segment
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import least, most
from countersunk.model.tolerance import CONTACT, EQUAL

SIDE_REACH = 300.0
"""A wall unit within this distance of the rim hangs beside the hob (common practice, no source)."""

HANGS = 450.0
"""What begins this far above the face or more hangs and does not stand beside a hob, mm (common practice)."""

NEAR_WINDOW = 600.0
"""A window in another wall than the hob's is told where it is nearer, mm; it has no meaning of its own."""

DRAUGHT = 150.0
"""A downdraft draws what rises from a hob whose rim is no farther off than this, mm (common practice, no source).
"""

SPLASH = 400.0
"""How high above the face the volume beside a hob is drawn, mm; it has no meaning of its own."""


@dataclass(frozen=True)
class _Beside:
    """Something upright on one side of a hob. ``shape`` is what of it lies in the band, in the room's plan."""

    side: Aspect
    thing: Thing
    shape: BaseGeometry


def to_tall_unit(kitchen: Kitchen) -> Iterator[Place]:
    """From the hob's rim to each tall unit beside it, mm; whichever side has none has no place."""
    for hob in hobs(kitchen):
        for near in _nearest(hob, _talls(kitchen, hob)):
            yield _sideways(hob, near)


def to_side_wall(kitchen: Kitchen) -> Iterator[Place]:
    """From the hob's rim to the wall on either side, mm; not to the wall behind, see `line_to_wall_behind`."""
    for hob in hobs(kitchen):
        for near in _nearest(hob, _walls(kitchen, hob)):
            yield _sideways(hob, near)


def to_side(kitchen: Kitchen) -> Iterator[Place]:
    """From the hob's rim to the nearest tall unit or wall on each side, mm."""
    for hob in hobs(kitchen):
        yield from _sides(kitchen, hob)


def to_farther_side(kitchen: Kitchen) -> Iterator[Place]:
    """The larger of the two distances of `to_side`, mm; a hob with an open side has no such place, nor has a cooker
    in the opening of a breast, whose two cheeks are all that there can be.
    """
    for hob in hobs(kitchen):
        sides = _sides(kitchen, hob)
        if len(sides) == 2 and not _is_in_opening(hob, sides):
            yield most(sides, key=lambda place: place.value or 0.0)


def burner_to_side(kitchen: Kitchen) -> Iterator[Place]:
    """From the edge of the outermost burner to the nearest tall unit or wall on each side, mm."""
    for hob in hobs(kitchen):
        if not hob.zones:
            continue
        for near in _nearest(hob, [*_talls(kitchen, hob), *_walls(kitchen, hob)]):
            segment = between(hob.burners, near.shape, hob.face)
            yield _level(hob, Where(Phrase.BURNER, hob.thing, near.side, near.thing), segment)


def burner_to_cover(kitchen: Kitchen) -> Iterator[Place]:
    """From the edge of the nearest burner to what covers the wall behind and is not said to stand heat, mm."""
    for hob in hobs(kitchen):
        covers = list(_burning_covers(kitchen, hob))
        if hob.zones and covers:
            part, plan = least(covers, key=lambda cover: hob.burners.distance(cover[1]))
            segment = between(hob.burners, plan, hob.face)
            yield _level(hob, Where(Phrase.TO, hob.thing, against=of_part(part)), segment)


def _burning_covers(kitchen: Kitchen, hob: Hob) -> Iterator[tuple[Part, BaseGeometry]]:
    """The pieces of splashbacks on the hob's wall whose stock is not said to stand heat, in the room's plan."""
    for cover in kitchen.splashbacks:
        if cover.wall.name == hob.run.wall and not cover.stock.heat:
            for part in cover.parts:
                x0, _, x1, _ = cover.on_wall(part).bounds
                yield part, cover.wall.frame.plan_to_room(rectangle(x0, 0.0, x1, part.thickness))


def line_to_wall_behind(kitchen: Kitchen) -> Iterator[Place]:
    """From the line to cut to the wall behind, mm: makers' drawings give the line and not the rim.

    A column, boxing or breast that stands behind the line counts as the wall. A cooker has no line.
    """
    for hob in hobs(kitchen):
        behind = list(_behind(kitchen, hob)) if hob.run.wall else []
        if hob.cutout and behind:
            line = hob.cutout.line_in_room
            thing, shape = least(behind, key=lambda s: line.distance(s[1]))
            segment = between(line, shape, hob.face)
            yield _level(hob, Where(Phrase.BEHIND, hob.thing, against=thing), segment)


def behind_on_island(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop behind the rim of a hob on an island or a peninsula, mm."""
    for hob in hobs(kitchen):
        if hob.length is None or not hob.run.free:
            continue
        w, d = hob.size
        back = top_plan(hob.length)
        band = block(hob.frame, -w / 2, -REACH, w / 2, -d / 2).intersection(back)
        deep = hob.frame.plan_from_room(band).bounds
        segment = hob.along((0.0, -d / 2), (0.0, deep[1]))
        yield _level(hob, Where(Phrase.BEHIND_ON, hob.thing, against=hob.stands_in), segment)


def beside_window(kitchen: Kitchen) -> Iterator[Place]:
    """Along the wall from the hob's rim to a window in it, mm; negative by how far the two overlap, so also under a
    roof window.

    To a window in another wall straight across in the plan, where that is less than `NEAR_WINDOW`.
    """
    yield from _to_openings(kitchen, ("window",))
    for hob in hobs(kitchen):
        yield from _to_windows_around(kitchen, hob)
        yield from _under_roof_windows(kitchen, hob)


def beside_door(kitchen: Kitchen) -> Iterator[Place]:
    """Along the wall from the hob's rim to a door or passage in it, mm; negative where they overlap."""
    return _to_openings(kitchen, ("door", "passage"))


def to_hood(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the hob's surface to the underside of a hood over it, mm."""
    for hob in hobs(kitchen):
        for hood in _over(hob, hoods(kitchen)):
            if hood.family.holds("hood"):
                yield _above(hob, Phrase.TO_HOOD, of_unit(hood), hood.family.base)


def to_microwave(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the hob's surface to the underside of a microwave oven that draws off over it, mm."""
    for hob in hobs(kitchen):
        for unit in _over(hob, hoods(kitchen)):
            if not unit.family.holds("hood"):
                yield _above(hob, Phrase.TO_OVER_RANGE, of_unit(unit), unit.family.base)


def beyond_hood(kitchen: Kitchen) -> Iterator[Place]:
    """How much of a hob's width no hood hangs over, mm: all of it where there is none, 0 where it draws off by
    itself. A downdraft within `DRAUGHT` of the rim counts as far as it goes along the hob.
    """
    for hob in hobs(kitchen):
        if hob.cutout and hob.cutout.template.draws:
            yield Place(Where(Phrase.DRAWN_OFF, hob.thing), 0.0, hob.about)
            continue
        over, wide = [*_hoods_over(kitchen, hob), *_downdrafts(kitchen, hob)], hob.size[0]
        covered = hob.frame.plan_from_room(union_all([plan for _, plan in over])) if over else Polygon()
        x0, _, x1, _ = covered.bounds if over else (0.0, 0.0, 0.0, 0.0)
        inside = max(0.0, min(x1, wide / 2) - max(x0, -wide / 2))
        where = Where(Phrase.OVER, over[0][0], against=hob.thing) if over else Where(Phrase.NO_HOOD, hob.thing)
        segment = hob.along((-wide / 2, 0.0), (wide / 2, 0.0))
        yield Place(where, wide - inside, hob.about, around(segment, hob.face, hob.surface), segment)


def _hoods_over(kitchen: Kitchen, hob: Hob) -> Iterator[tuple[Thing, Polygon]]:
    return ((of_unit(hood), unit_plan(hood)) for hood in _over(hob, hoods(kitchen)))


def _downdrafts(kitchen: Kitchen, hob: Hob) -> Iterator[tuple[Thing, Polygon]]:
    """What rises out of the top near a hob, with what its rim covers in the room's plan."""
    for cutout, _ in of_kind(kitchen, "downdraft"):
        if hob.plan.distance(cutout.rim_in_room) <= DRAUGHT + CONTACT:
            yield of_cutout(cutout), cutout.rim_in_room


def to_unit_above(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the hob's surface to a wall unit over it with no hood between, mm: a bare surface above.

    So is the underside of a boxing, and a sloping ceiling where it is lowest over the hob.
    """
    for hob in hobs(kitchen):
        shields = [hood.family.base for hood in _over(hob, hoods(kitchen))]
        for thing, base in _hanging(kitchen, hob):
            if not any(z < base for z in shields):
                yield _above(hob, Phrase.TO_ABOVE, thing, base)


def to_anything_above(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the hob's surface to the lowest of whatever hangs over it, mm."""
    for hob in hobs(kitchen):
        over = _over(hob, hoods(kitchen))
        hung = [*((of_unit(hood), hood.family.base) for hood in over), *_hanging(kitchen, hob)]
        if hung:
            yield _above(hob, Phrase.TO_ABOVE, *least(hung, key=lambda thing: thing[1]))


def worktop_to_unit_beside(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the worktop's face to a wall unit that hangs beside the hob and not over it, mm."""
    for hob in hobs(kitchen):
        for unit in wall_units(kitchen):
            plan = unit_plan(unit)
            beside = any(overlap(plan, band) for band in hob.bands.values()) and not hob.is_under(plan)
            if beside and hob.plan.distance(plan) <= SIDE_REACH + CONTACT:
                volume, segment = upright(plan, hob.face, unit.family.base)
                value = unit.family.base - hob.face
                where = Where(Phrase.TO_UNIT_BESIDE, hob.thing, None, of_unit(unit), (hob.stands_in,))
                yield Place(where, value, (hob.thing, of_unit(unit)), volume, segment, hob.fuel)


def _talls(kitchen: Kitchen, hob: Hob) -> list[_Beside]:
    """Every tall unit with the part of it that lies beside the hob."""
    plans = [(unit, unit_plan(unit)) for unit in tall_units(kitchen, hob.face)]
    return [
        _Beside(Aspect(side), of_unit(unit), plan.intersection(band))
        for side, band in hob.bands.items()
        for unit, plan in plans
        if overlap(plan, band)
    ]


def _walls(kitchen: Kitchen, hob: Hob) -> list[_Beside]:
    """Every wall, column or boxing with the part of it that lies beside the hob."""
    found = [
        _Beside(Aspect(side), thing, within(shape, band))
        for side, band in hob.bands.items()
        for thing, shape in _upright(kitchen, hob)
    ]
    return [near for near in found if not near.shape.is_empty]


def _nearest(hob: Hob, things: list[_Beside]) -> list[_Beside]:
    """The nearest thing on each side that has any; of equals a tall unit before a wall."""
    rim = hob.plan
    sides = ([t for t in things if t.side == side] for side in (Aspect.LEFT, Aspect.RIGHT))
    return [least(side, key=lambda t: rim.distance(t.shape)) for side in sides if side]


def _sides(kitchen: Kitchen, hob: Hob) -> list[Place]:
    things = [*_talls(kitchen, hob), *_walls(kitchen, hob)]
    return [_sideways(hob, near) for near in _nearest(hob, things)]


def _is_in_opening(hob: Hob, sides: list[Place]) -> bool:
    """Whether it is a cooker with one and the same breast on both sides."""
    beside = {place.where.against for place in sides}
    return hob.unit is not None and len(sides) == 2 and len(beside) == 1 and _is_obstacle(sides[0])


def _is_obstacle(place: Place) -> bool:
    against = place.where.against
    return isinstance(against, Thing) and against.sort is Sort.OBSTACLE


def _sideways(hob: Hob, near: _Beside) -> Place:
    segment = between(hob.plan, near.shape, hob.face)
    return _level(hob, Where(Phrase.SIDE, hob.thing, near.side, near.thing), segment)


def _level(hob: Hob, where: Where, segment: Segment) -> Place:
    """A place measured along a level segment from the hob."""
    volume = around(segment, hob.face, hob.face + SPLASH)
    about, cooker = _about(hob, where.things[1]), hob.unit is not None
    return Place(where, math.dist(*segment), about, volume, segment, hob.fuel, cooker=cooker)


def _about(hob: Hob, other: Thing) -> tuple[Thing, ...]:
    """What a place between a hob and something is about: a wall has no parts, so there it is the hob's length."""
    return (hob.thing, other) if other.sort is Sort.UNIT else hob.about


def _over(hob: Hob, units: list[PlacedUnit]) -> list[PlacedUnit]:
    return [unit for unit in units if hob.is_under(unit_plan(unit))]


def _hanging(kitchen: Kitchen, hob: Hob) -> Iterator[tuple[Thing, float]]:
    """What hangs bare over a hob, and the height of its underside."""
    for unit in _over(hob, wall_units(kitchen)):
        yield of_unit(unit), unit.family.base
    for o in kitchen.survey.obstacles:
        if o.bottom > hob.surface and hob.is_under(o.plan):
            yield of_obstacle(o), o.bottom
    for slope in kitchen.survey.slopes:
        if hob.is_under(slope.plan):
            yield of_slope(slope), slope.over(hob.plan)


def _above(hob: Hob, phrase: Phrase, thing: Thing, base: float) -> Place:
    volume, segment = upright(hob.plan, hob.surface, base)
    about = (hob.thing, thing) if thing.sort is Sort.UNIT else (hob.thing,)
    where = Where(phrase, hob.thing, against=thing)
    return Place(where, base - hob.surface, about, volume, segment, hob.fuel)


def _behind(kitchen: Kitchen, hob: Hob) -> Iterator[tuple[Thing, BaseGeometry]]:
    """What of the walls and of what stands before them lies straight behind a hob's line."""
    w, d = hob.cutout.template.line if hob.cutout else hob.size
    band = block(hob.frame, -w / 2, -REACH, w / 2, -d / 2)
    standing = ((thing, within(shape, band)) for thing, shape in _upright(kitchen, hob))
    return ((thing, shape) for thing, shape in standing if not shape.is_empty)


def _upright(kitchen: Kitchen, hob: Hob) -> list[tuple[Thing, BaseGeometry]]:
    """Every wall, and every column, boxing or breast that stands up beside a hob; what hangs high does not."""
    walls: list[tuple[Thing, BaseGeometry]] = [(of_wall(wall), wall.line) for wall in kitchen.survey.walls]
    low, high = hob.face, hob.face + HANGS
    return walls + [(of_obstacle(o), o.plan) for o in kitchen.survey.obstacles if o.top > low and o.bottom < high]


def _to_windows_around(kitchen: Kitchen, hob: Hob) -> Iterator[Place]:
    for window in kitchen.survey.openings:
        if window.kind == "window" and window.wall != hob.run.wall and window.head > hob.face:
            frame = kitchen.survey.wall(window.wall).frame
            line = block(frame, window.at, -CONTACT, window.at + window.width, CONTACT)
            segment = between(hob.plan, line, hob.face)
            if math.dist(*segment) < NEAR_WINDOW - EQUAL:
                yield _level(hob, Where(Phrase.TO, hob.thing, against=of_opening(window)), segment)


def _under_roof_windows(kitchen: Kitchen, hob: Hob) -> Iterator[Place]:
    for window in (window for slope in kitchen.survey.slopes for window in slope.windows):
        if hob.is_under(window.plan):
            x0, _, x1, _ = window.frame.plan_from_room(hob.plan).bounds
            under = min(x1, window.x + window.width) - max(x0, window.x)
            where = Where(Phrase.TO, hob.thing, against=of_roof_window(window))
            volume, segment = upright(hob.plan, hob.face, window.sill)
            yield Place(where, -under, hob.about, volume, segment, hob.fuel)


def _to_openings(kitchen: Kitchen, kinds: tuple[str, ...]) -> Iterator[Place]:
    for hob in hobs(kitchen):
        for opening in kitchen.survey.openings:
            if opening.wall == hob.run.wall and opening.kind in kinds and opening.head > hob.face:
                yield _to_opening(kitchen, hob, opening)


def _to_opening(kitchen: Kitchen, hob: Hob, opening: Opening) -> Place:
    frame = kitchen.survey.wall(opening.wall).frame
    x0, y0, x1, _ = frame.plan_from_room(hob.plan).bounds
    to_right, to_left = opening.at - x1, x0 - (opening.at + opening.width)
    a, b = (x1, opening.at) if to_right >= to_left - EQUAL else (x0, opening.at + opening.width)
    z = hob.face
    segment = (frame.to_room((a, y0, z)), frame.to_room((b, y0, z)))
    where = Where(Phrase.TO, hob.thing, against=of_opening(opening))
    value, volume = max(to_right, to_left), around(segment, z, opening.head)
    return Place(where, value, hob.about, volume, segment, hob.fuel)
