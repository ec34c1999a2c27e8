"""Measures of what opens: doors, drawers and the doors of appliances, with the space that they sweep.

A hinged leaf sweeps a quarter of a disc about its hinge and stands open at a right angle; a door hinged below
comes down over the floor before it; a drawer comes out by the length of its box. What counts against them is
whatever stands at their height: units with their fronts, handles, tops, walls. Handles and fronts in their own row,
which lie in the same plane, do not. How far a leaf opens beyond a right angle is not known.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, STRtree, union_all
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Amount, Aspect, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import (
    Sort,
    Thing,
    of_cutout,
    of_length,
    of_obstacle,
    of_opening,
    of_unit,
    of_wall,
)
from countersunk.model.document.schema import Opening
from countersunk.model.facts.once import once
from countersunk.model.facts.plans import HEAD, REACH, between, block, face, heights, top_plan, unit_plan
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Component, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.volume import Segment, Volume
from countersunk.model.kinds.appliances import Appliance
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT, EQUAL, OVERLAP_AREA
from countersunk.model.tops.cutouts import PlacedCutout

OWN_PLANE = 40.0
"""What stands out by less than this before a front is a front or a handle beside it, mm."""

NEAR = 600.0
"""What is farther off than this from something open is not told, mm."""

FRAMED = (Role.FRAME, Role.PANE)
"""What a glazed door is made of besides the stile on its hinges."""

TAPS = (Component.TAP_POST, Component.TAP_SPOUT)

QUARTER = 96
"""Straight pieces to the quarter of a disc; it is drawn round it, so that the leaf lies within."""


@dataclass(frozen=True)
class Mover:
    """Something that opens. In ``frame`` it is shut at y = 0 and comes out by ``reach`` towards greater y (mm).

    ``swept`` is what it passes over in the room's plan, between the heights ``low`` and ``high``. It hangs on
    ``owner``, a unit or a wall.
    """

    owner: Thing
    where: Where
    frame: Pose
    swept: Polygon
    reach: float
    low: float
    high: float


class Bodies:
    """Everything that stays: plans, or lines of walls, and between which heights they stand (mm)."""

    def __init__(self, bodies: Sequence[tuple[Thing, BaseGeometry, float, float]]) -> None:
        self.things = np.array([thing for thing, *_ in bodies], dtype=object)
        self.shapes = np.array([shape for _, shape, *_ in bodies], dtype=object)
        self.low, self.high = (np.array([body[i] for body in bodies]) for i in (2, 3))
        self._tree = STRtree(self.shapes)

    def near(self, mover: Mover) -> tuple[NDArray[np.object_], NDArray[np.object_]]:
        """What stands ahead of a mover, at its height and within `NEAR` of what it sweeps: shapes, and things."""
        found = self._tree.query(mover.swept, predicate="dwithin", distance=NEAR + 2 * EQUAL)
        found = np.sort(found)  # the tree gives them as the room lies
        level = (self.low[found] < mover.high - CONTACT) & (self.high[found] > mover.low + CONTACT)
        found = found[level & (self.things[found] != mover.owner)]
        ahead = block(mover.frame, -REACH, OWN_PLANE, REACH, REACH)
        shapes, there = within(self.shapes[found], ahead)
        return shapes[there], self.things[found][there]


def within(shapes: NDArray[np.object_], band: Polygon) -> tuple[NDArray[np.object_], NDArray[np.bool_]]:
    """What of plans, or of the lines of walls, lies within a band, and whether it is more than a touch."""
    cut = shapely.intersection(shapes, band)
    flat = shapely.area(shapes) == 0.0
    return cut, np.where(flat, shapely.length(cut) > CONTACT, shapely.area(cut) > OVERLAP_AREA)


def appliance_door(kitchen: Kitchen) -> Iterator[Place]:
    """From the open door of oven, dishwasher or refrigerator to the nearest thing in its way, mm, up to `NEAR`.

    Negative by how far it cannot come out.
    """
    return _least(kitchen, lambda unit: bool(unit.family.appliances))


def door_or_drawer(kitchen: Kitchen) -> Iterator[Place]:
    """From the open doors or drawers of a unit to the nearest thing in their way, mm; negative as above."""
    return _least(kitchen, lambda unit: not unit.family.appliances)


def beyond_square(kitchen: Kitchen) -> Iterator[Place]:
    """Sideways from the hinges of a fridge or freezer to what stands beside its open door, mm, up to `NEAR`.

    Close by, the door stops at a right angle, and drawers behind it do not come out.
    """
    bodies = _bodies(kitchen)
    for unit in kitchen.units:
        cold = next((own for own in unit.family.appliances if own.is_hung or own.is_paired), None)
        if cold:
            for hinge in ("left", "right") if cold.is_paired else (unit.hand,):
                yield from _wide(unit, hinge, unit.width / (2.0 if cold.is_paired else 1.0), bodies)


def _wide(unit: PlacedUnit, hinge: str, reach: float, bodies: Bodies) -> Iterator[Place]:
    """The place beside the hinges on one side of a door ``reach`` wide (mm), where anything stands near."""
    x0, x1 = (-NEAR, 0.0) if hinge == "left" else (unit.width, unit.width + NEAR)
    band = block(unit.frame, x0, unit.face + OWN_PLANE, x1, unit.face + reach)
    shapes, there = within(bodies.shapes, band)
    level = (bodies.low < unit.family.top) & (bodies.high > unit.family.base) & (bodies.things != of_unit(unit))
    x = 0.0 if hinge == "left" else unit.width
    edge = block(unit.frame, x - CONTACT, unit.face, x + CONTACT, unit.face + reach)
    near = [(bodies.things[i], shapes[i]) for i in np.flatnonzero(there & level)]
    if near:
        thing, shape = least(near, key=lambda one: edge.distance(one[1]))
        segment = between(edge, shape, unit.family.base)
        where = Where(Phrase.HINGED, of_unit(unit), Aspect(hinge), thing)
        volume = Volume(band, unit.family.base, HEAD)
        yield Place(where, math.dist(*segment), _with_parts(of_unit(unit), thing), volume, segment)


def before_open_appliance(kitchen: Kitchen) -> Iterator[Place]:
    """Free width between the open door of an oven or dishwasher and what stands opposite, mm: to load it."""
    bodies = _bodies(kitchen)
    for unit in kitchen.units:
        yield from (_before(mover, bodies) for mover in _straight(unit, kitchen.parts_of[unit.key]))


def room_door(kitchen: Kitchen) -> Iterator[Place]:
    """From the leaf of a door of the room to the nearest thing in its way, mm, up to `NEAR`; negative as above.

    Only of doors that open into the room, hinged as they were surveyed.
    """
    bodies = _bodies(kitchen)
    for door in kitchen.survey.openings:
        if door.kind == "door" and door.swing in ("left", "right"):
            yield _free(_room_leaf(kitchen, door), bodies)


def sash(kitchen: Kitchen) -> Iterator[Place]:
    """From the sash of a window that opens into the room to the nearest thing in its way, mm, up to `NEAR`: taps,
    wall units, tall ones. Negative as above. It is taken as one leaf as wide as the window.
    """
    bodies = _bodies(kitchen)
    for window in kitchen.survey.openings:
        if window.kind == "window" and window.swing in ("left", "right"):
            mover = _room_leaf(kitchen, window)
            taps = [(of_cutout(cutout), plan) for cutout, plan in _taps(kitchen, mover)]
            places = [_free(mover, bodies), *(_free(mover, Bodies([(*t, *_level(mover))])) for t in taps)]
            yield least(places, key=lambda place: place.value or 0.0)


def _taps(kitchen: Kitchen, mover: Mover) -> Iterator[tuple[PlacedCutout, BaseGeometry]]:
    """The taps that reach up to the height of a sash, with their posts and spouts in the room's plan."""
    for cutout in kitchen.cutouts:
        parts = [part for part in kitchen.parts_of[cutout.key] if part.which.component in TAPS]
        if parts and max(heights(part)[1] for part in parts) > mover.low + CONTACT:
            yield cutout, union_all([part.standing_plan for part in parts])


def _level(mover: Mover) -> tuple[float, float]:
    return mover.low, mover.high


def machine_door(kitchen: Kitchen) -> Iterator[Place]:
    """From the round door of a washing machine or dryer, open, to the nearest thing in its way, mm, up to `NEAR`.

    Negative as above. It is hinged as its unit says; one behind a furniture door is `appliance_door`'s.
    """
    bodies = _bodies(kitchen)
    for unit in kitchen.units:
        doors = [
            p for p in kitchen.parts_of[unit.key] if p.which.component is Component.DOOR and _is_round(unit, p)
        ]
        leaves = [_leaf(unit, *_sides(unit, part), unit.hand, *heights(part)) for part in doors]
        if leaves:
            yield least([_free(leaf, bodies) for leaf in leaves], key=lambda place: place.value or 0.0)


def _is_round(unit: PlacedUnit, door: Part) -> bool:
    """Whether a door is that of a machine which shows its face."""
    shown = unit.family.appliance_at(door.which.bay)
    whose = shown and shown.opens == "swings" and not (shown.is_hung or shown.is_paired)
    return bool(whose) and not unit.family.front and door.layer is Layer.APPLIANCES


def _least(kitchen: Kitchen, which: Callable[[PlacedUnit], bool]) -> Iterator[Place]:
    """The place with the least room for each unit that opens."""
    bodies, found = _bodies(kitchen), dict[Thing, list[Place]]()
    for mover in _all_movers(kitchen, which):
        found.setdefault(mover.owner, []).append(_free(mover, bodies))
    return (least(places, key=lambda place: place.value or 0.0) for places in found.values())


def _all_movers(kitchen: Kitchen, which: Callable[[PlacedUnit], bool]) -> Iterator[Mover]:
    return (mover for unit in kitchen.units if which(unit) for mover in _movers(unit, kitchen.parts_of[unit.key]))


def _movers(unit: PlacedUnit, parts: Sequence[Part]) -> Iterator[Mover]:
    """What of a unit opens; the drawers of one unit move as one, since together they are as high as it is.

    The doors of a unit that stands along both walls of a corner are not measured: they fold, or open across.
    """
    yield from _straight(unit, parts)
    yield from _hung(unit, parts)
    drawers = [heights(part) for part in _fronts(parts, Role.DRAWER_FRONT, Role.PULL_OUT)]
    if drawers:
        low, high, reach = min(drawers)[0], max(z for _, z in drawers), unit.boards.method.drawer_depth
        yield _slide(unit, Phrase.DRAWERS, 0.0, unit.width, reach, low, high)
    if not unit.wing and not unit.family.carries_front:
        for door in _fronts(parts, Role.DOOR, Role.FRIDGE_FRONT):
            yield _door(unit, door, [p for p in parts if p.role in FRAMED and _is_before_same(p, door)])


def _hung(unit: PlacedUnit, parts: Sequence[Part]) -> Iterator[Mover]:
    """The doors of appliances that swing and are seen: one as wide as the body, or a face shown in a unit."""
    own = unit.family.own
    if unit.family.is_bare and own and own.is_hung:
        yield _leaf(unit, 0.0, unit.width, unit.hand, 0.0, unit.family.top)
    if unit.family.is_bare and own and own.is_paired:
        yield _leaf(unit, 0.0, unit.width / 2, "left", 0.0, unit.family.top)
        yield _leaf(unit, unit.width / 2, unit.width, "right", 0.0, unit.family.top)
    for part, appliance in _faces(unit, parts):
        if appliance.opens == "swings":
            yield _leaf(unit, *_sides(unit, part), unit.hand, *heights(part))


def _straight(unit: PlacedUnit, parts: Sequence[Part]) -> Iterator[Mover]:
    """The doors of appliances that come straight out: the front that one carries, or the face that it shows."""
    carries = unit.family.carries_front
    yield from (_out(unit, part, carries) for part in _fronts(parts, Role.DOOR) if carries)
    yield from (_out(unit, part, shown) for part, shown in _faces(unit, parts) if shown.comes_straight)


def _faces(unit: PlacedUnit, parts: Sequence[Part]) -> Iterator[tuple[Part, Appliance]]:
    """The faces that appliances show, each with its appliance."""
    for part in parts:
        shown = unit.family.appliance_at(part.which.bay)
        if shown and part.layer is Layer.APPLIANCES and part.which.component is Component.FACE:
            yield part, shown


def _fronts(parts: Sequence[Part], *roles: Role) -> list[Part]:
    return [part for part in parts if part.layer is Layer.FRONTS and part.role in roles]


def _is_before_same(part: Part, door: Part) -> bool:
    """Whether a piece of a framed door is before the same half of the same bay as ``door``."""
    return (part.which.bay, part.which.leaf) == (door.which.bay, door.which.leaf)


def _out(unit: PlacedUnit, door: Part, appliance: Appliance) -> Mover:
    """The door of an appliance comes out as far as its kind does."""
    low, high = heights(door)
    x0, x1 = _sides(unit, door)
    return _slide(unit, Phrase.DOOR, x0, x1, appliance.comes_out(high - low), low, high)


def _slide(unit: PlacedUnit, phrase: Phrase, x0: float, x1: float, reach: float, low: float, high: float) -> Mover:
    frame, owner = unit.frame.moved(y=unit.face), of_unit(unit)
    return Mover(owner, Where(phrase, owner), frame, block(frame, x0, 0.0, x1, reach), reach, low, high)


def _door(unit: PlacedUnit, door: Part, whole: Sequence[Part]) -> Mover:
    """A door on its hinges; ``whole`` has the other pieces of a framed one, whose hung stile is the ``door``."""
    sides = [_sides(unit, part) for part in whole or [door]]
    x0, x1 = min(sides)[0], max(x for _, x in sides)
    return _leaf(unit, x0, x1, door.hinge or unit.hand, *heights(door))


def _leaf(unit: PlacedUnit, x0: float, x1: float, hinge: str, low: float, high: float) -> Mover:
    frame, owner = unit.frame.moved(y=unit.face), of_unit(unit)
    swept = _quarter(frame, x0, x1, hinge)
    return Mover(owner, Where(Phrase.DOOR, owner), frame, swept, x1 - x0, low, high)


def _room_leaf(kitchen: Kitchen, door: Opening) -> Mover:
    """The leaf of a door of the room, or the sash of a window."""
    wall, x0, x1 = kitchen.survey.wall(door.wall), door.at, door.at + door.width
    where = Where(Phrase.ROOM_DOOR, of_opening(door), figures=(Figure(Amount.AT, door.at),))
    swept = _quarter(wall.frame, x0, x1, door.swing)
    return Mover(of_wall(wall), where, wall.frame, swept, door.width, door.sill, door.head)


def _quarter(frame: Pose, x0: float, x1: float, hinge: str) -> Polygon:
    """What a leaf from ``x0`` to ``x1`` sweeps in the room's plan, out from y = 0."""
    x, way = (x0, 1.0) if hinge == "left" else (x1, -1.0)
    step = math.pi / 2 / QUARTER
    radius = (x1 - x0) / math.cos(step / 2)
    turns = [step * (i + 0.5) for i in range(QUARTER)]
    rim = [(x + way * radius * math.cos(t), radius * math.sin(t)) for t in turns]
    return frame.plan_to_room(Polygon([(x, 0.0), (x + way * (x1 - x0), 0.0), *rim, (x, x1 - x0)]))


def _sides(unit: PlacedUnit, part: Part) -> tuple[float, float]:
    x0, _, x1, _ = unit.frame.plan_from_room(part.standing_plan).bounds
    return x0, x1


@once
def _bodies(kitchen: Kitchen) -> Bodies:
    """Everything that may stand in the way."""
    walls = [(of_wall(wall), wall.line, 0.0, REACH) for wall in kitchen.survey.walls]
    stood = [(of_obstacle(o), o.plan, o.bottom, o.top) for o in kitchen.survey.obstacles]
    units = [(of_unit(unit), unit_plan(unit), _foot(unit), unit.family.top) for unit in kitchen.units]
    tops = [(of_length(t), top_plan(t), face(t) - t.part.thickness, face(t)) for t in kitchen.lengths]
    owners = {unit.key: of_unit(unit) for unit in kitchen.units}
    handles = [(owners[p.owner], p.standing_plan, *heights(p)) for p in kitchen.parts if p.role is Role.HANDLE]
    return Bodies([*walls, *stood, *units, *tops, *handles])


def _foot(unit: PlacedUnit) -> float:
    """A unit on the floor has its plinth below it."""
    return 0.0 if unit.family.level == "floor" else unit.family.base


def _free(mover: Mover, bodies: Bodies) -> Place:
    """How much room is left round what opens: to what it strikes, else to what is nearest.

    Of what is as near the first counts in the order of `_bodies`: walls, then what stands in the room.
    """
    volume = Volume(mover.swept, mover.low, min(mover.high, HEAD))
    shapes, things = bodies.near(mover)
    left = [(*_room_left(mover, shape), thing) for shape, thing in zip(shapes, things, strict=True)]
    near = [one for one in left if one[0] <= NEAR + EQUAL]
    if not near:
        where = replace(mover.where, note=f", nothing within {NEAR:g}")
        return Place(where, NEAR, _with_parts(mover.owner), volume)
    value, segment, thing = least(near, key=lambda one: one[0])
    where = replace(mover.where, against=thing)
    return Place(where, value, _with_parts(mover.owner, thing), volume, segment)


def _with_parts(*things: Thing) -> tuple[Thing, ...]:
    """What of these has parts: units and lengths."""
    return tuple(dict.fromkeys(thing for thing in things if thing.sort in (Sort.UNIT, Sort.LENGTH)))


def _room_left(mover: Mover, shape: BaseGeometry) -> tuple[float, Segment]:
    """From what is swept to something ahead; negative by how much less it can come out."""
    struck = shape.intersection(mover.swept)
    if struck.area > OVERLAP_AREA or (shape.area == 0.0 and _crossed(mover, struck)):
        return _short(mover, struck)
    segment = between(mover.swept, shape, mover.low)
    return math.dist(*segment), segment


def _crossed(mover: Mover, line: BaseGeometry) -> bool:
    """Whether the line of a wall goes through what is swept; a drawer may slide along the face of a wall."""
    return bool(line.length > CONTACT and line.intersection(mover.swept.buffer(-CONTACT)).length > CONTACT)


def _short(mover: Mover, struck: BaseGeometry) -> tuple[float, Segment]:
    x0, y, x1, _ = mover.frame.plan_from_room(struck).bounds
    z, x = mover.low - mover.frame.origin[2], (x0 + x1) / 2
    return y - mover.reach, (mover.frame.to_room((x, y, z)), mover.frame.to_room((x, mover.reach, z)))


def _before(mover: Mover, bodies: Bodies) -> Place:
    """From the edge of an open door to the nearest thing straight before it."""
    x0, _, x1, _ = mover.frame.plan_from_room(mover.swept).bounds
    band = block(mover.frame, x0, OWN_PLANE, x1, REACH)
    shapes, more = within(bodies.shapes, band)
    there = [i for i in np.flatnonzero(more) if bodies.things[i] != mover.owner]
    where = replace(mover.where, phrase=Phrase.OPEN_DOOR)
    if not there:
        return Place(where, None, (mover.owner,), reason="nothing that faces it was surveyed")
    nearest = {i: float(mover.frame.plan_from_room(shapes[i]).bounds[1]) for i in there}
    i = least(there, key=nearest.__getitem__)
    y, x, facing = nearest[i], (x0 + x1) / 2, bodies.things[i]
    low, high = sorted((mover.reach, max(y, mover.reach + CONTACT)))
    volume = Volume(block(mover.frame, x0, low, x1, high), 0.0, HEAD)
    segment = (mover.frame.to_room((x, mover.reach, 0.0)), mover.frame.to_room((x, y, 0.0)))
    about = _with_parts(mover.owner, facing)
    return Place(replace(where, against=facing), y - mover.reach, about, volume, segment)
