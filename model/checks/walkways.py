"""Measures of the floor: aisles before units, ways round islands, doors, room to stand at a dishwasher.

A free width is found from a *frontage*, the straight edge before which somebody stands: every piece of wall,
worktop or tall unit that looks back at it within 60° and lies in the band before it counts at its nearest point.
So a run that meets another in a corner is not stopped by the other's front, and a wall or an island that stands
askew counts where it comes nearest.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate, pairwise

from shapely import Polygon
from shapely.geometry.polygon import orient

from countersunk.model.checks.finding import Amount, Aspect, Figure, Place, Stop, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import (
    Sort,
    Thing,
    of_length,
    of_obstacle,
    of_opening,
    of_run,
    of_unit,
    of_wall,
)
from countersunk.model.document.schema import Opening
from countersunk.model.facts.plans import HEAD, REACH, block, overlap, top_plan, unit_plan
from countersunk.model.geometry.frames import Point, Pose
from countersunk.model.geometry.profile import plan_points
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.ties import least, most
from countersunk.model.tolerance import CONTACT, EQUAL, FIT
from countersunk.model.tops.worktops import Length

LOOKS_BACK = -0.5 - 1e-6
"""Cosine between the ways that two edges look, at most this where they face each other: within 60°."""

LEAF = 51.0
"""What a leaf that stands open takes of its doorway, mm: a door of 34 in leaves 32 (NKBA planning guidelines,
from memory)."""

WAYS = ("door", "passage")
"""Openings that people go through."""

NARROW = 600.0
"""A doorway narrower than this is no way in, whatever stands before it, mm (common practice, no source)."""

BEFORE_DOOR = 300.0
"""What stands nearer to a doorway than this is in it, mm (common practice, no source)."""

AGAINST = 50.0
"""A gap narrower than this is no way through: the island stands against what is there (mm, no source)."""

STANDING = 600.0
"""How far out from the front somebody stands at an open dishwasher, mm (common practice, no source)."""

NEAREST = (Sort.UNIT, Sort.LENGTH, Sort.OBSTACLE, Sort.WALL)
"""What is named of things that are equally near: the first of these."""


@dataclass(frozen=True)
class Frontage:
    """A straight edge from ``x0`` to ``x1`` at ``y`` in ``frame`` (mm); the free floor lies towards greater y."""

    frame: Pose
    x0: float
    x1: float
    y: float

    def of(self, point: Point) -> Point:
        """A point of the room's plan in this frame."""
        (ox, oy, _), (ax, ay, _), (bx, by, _) = self.frame.origin, self.frame.x, self.frame.y
        x, y = point[0] - ox, point[1] - oy
        return x * ax + y * ay, x * bx + y * by


@dataclass(frozen=True)
class Facade:
    """A straight edge in the room's plan that looks along ``way``, and what it belongs to.

    ``owner`` is the run, the wall or the obstacle; ``thing`` the length or the unit of a run, and else the same.
    """

    owner: Thing
    thing: Thing
    start: Point
    end: Point
    way: Point


@dataclass(frozen=True)
class FreeWidth:
    """The nearest that faces a frontage: its free width (mm), what ends it, and where along the frontage."""

    width: float
    facade: Facade
    x: float


def aisle(kitchen: Kitchen) -> Iterator[Place]:
    """Free width before the working fronts of a run to each thing opposite, at its narrowest, mm.

    Two runs that face each other are one place. Not the way past the end of a run or an island: see
    `around_island`.
    """
    facades, found = _facades(kitchen), dict[frozenset[Thing | None], list[tuple[Place, float]]]()
    for run in kitchen.runs:
        for unit in run.units if run.level == "floor" else ():
            if not unit.family.kind.is_work_front:
                continue
            frontage = _frontage(run, unit)
            clear = _clear(frontage, facades, of_run(run))
            opposite = clear.facade.owner if clear else None
            key = frozenset((of_run(run), opposite))
            width = clear.width if clear else REACH
            facing = (clear.facade.thing,) if clear else ()
            where = Where(Phrase.BEFORE, of_run(run), against=opposite, more=(of_unit(unit), *facing))
            found.setdefault(key, []).append((_place(frontage, clear, where, of_unit(unit)), width))
    return (least(places, key=lambda place: place[1])[0] for places in found.values())


def between_arms(kitchen: Kitchen) -> Iterator[Place]:
    """Free width between two runs that a third joins to a U, mm: an `aisle` whose ends are both on such arms."""
    arms = _arms(kitchen)
    for place in aisle(kitchen) if arms else ():
        if frozenset((place.where.subject, place.where.against)) in arms:
            yield place


def around_island(kitchen: Kitchen) -> Iterator[Place]:
    """Free width at the ends and the back of an island's or a peninsula's top to whatever faces it, mm.

    An edge that stands against something, by less than `AGAINST`, has no way past it and is no place.
    """
    islands = [length for length in kitchen.lengths if length.run.free]
    facades = _facades(kitchen) if islands else []
    for length in islands:
        for side, frontage in _island_edges(length).items():
            clear = _clear(frontage, facades, of_run(length.run))
            if clear is None or clear.width >= AGAINST - EQUAL:
                yield _beside(frontage, clear, of_length(length), side)


def doorway(kitchen: Kitchen) -> Iterator[Place]:
    """Clear width of every door and passage, mm: as surveyed, less `LEAF` where a door swings."""
    for opening in kitchen.survey.openings:
        if opening.kind in WAYS:
            frame = kitchen.survey.wall(opening.wall).frame
            x0, x1 = _clear_of_leaf(opening)
            volume = Volume(block(frame, x0, -CONTACT, x1, 100.0), opening.sill, opening.head)
            segment = (frame.to_room((x0, 0.0, opening.sill)), frame.to_room((x1, 0.0, opening.sill)))
            where = Where(Phrase.OPENING, of_opening(opening), figures=(Figure(Amount.AT, opening.at),))
            yield Place(where, x1 - x0, (), volume, segment)


def left_of_doorway(kitchen: Kitchen) -> Iterator[Place]:
    """The widest way that units on the floor leave through any door or passage, mm, within `BEFORE_DOOR` of it.

    One place for the kitchen: a second door may be given up. An opening that is narrower than `NARROW` by itself is
    not looked at.
    """
    openings = (opening for opening in kitchen.survey.openings if opening.kind in WAYS)
    doorways = (opening for opening in openings if opening.width >= NARROW)
    ways = [(opening, *_widest_way(kitchen, opening)) for opening in doorways]
    if ways:
        opening, x0, x1 = most(ways, key=lambda way: way[2] - way[1])
        frame = kitchen.survey.wall(opening.wall).frame
        volume = Volume(block(frame, x0, 0.0, max(x1, x0 + CONTACT), BEFORE_DOOR), opening.sill, opening.head)
        segment = (frame.to_room((x0, 0.0, opening.sill)), frame.to_room((x1, 0.0, opening.sill)))
        where = Where(Phrase.OPENING, of_opening(opening), figures=(Figure(Amount.AT, opening.at),))
        yield Place(where, x1 - x0, (), volume, segment)


def _widest_way(kitchen: Kitchen, opening: Opening) -> tuple[float, float]:
    """From where to where along its wall the widest gap between what stands before an opening is, mm."""
    frame = kitchen.survey.wall(opening.wall).frame
    start, end = opening.at, opening.at + opening.width
    before = block(frame, start, 0.0, end, BEFORE_DOOR)
    units = (unit_plan(unit) for run in kitchen.runs if run.level == "floor" for unit in run.units)
    plans = (*units, *(top_plan(length) for length in kitchen.lengths))
    taken = sorted(
        frame.plan_from_room(plan.intersection(before)).bounds[0::2] for plan in plans if overlap(plan, before)
    )
    edges = [(start, start), *taken, (end, end)]
    reached = list(accumulate((x1 for _, x1 in edges), max))
    gaps = [(x1, max(x1, x0)) for x1, (x0, _) in zip(reached, edges[1:], strict=False)]
    return most(gaps, key=lambda gap: gap[1] - gap[0])


def beside_dishwasher(kitchen: Kitchen) -> Iterator[Place]:
    """From a dishwasher's edge along its front to a worktop or tall unit that looks back at it at a side, mm.

    Not to a wall: beside a wall somebody stands on the other side of the door. Not to what stands opposite: see
    `aisle`.
    """
    for run in kitchen.runs:
        for unit in run.units:
            if unit.family.holds("dishwasher"):
                yield from _standing(kitchen, run, unit)


def _clear_of_leaf(opening: Opening) -> tuple[float, float]:
    """From where to where along its wall one passes a door whose leaf stands open at its hinge, mm."""
    x0, x1 = opening.at, opening.at + opening.width
    if opening.kind == "passage" or opening.swing == "none":
        return x0, x1
    return (x0, x1 - LEAF) if opening.swing == "right" else (x0 + LEAF, x1)


def _arms(kitchen: Kitchen) -> set[frozenset[Thing | Stop | None]]:
    """The runs, two and two, on walls that have a wall with a run between them."""
    walled = {run.wall: of_run(run) for run in kitchen.runs if run.level == "floor" and run.wall}
    found = set[frozenset[Thing | Stop | None]]()
    for wall in kitchen.survey.walls:
        before, after = kitchen.survey.previous_wall(wall), kitchen.survey.next_wall(wall)
        if wall.name in walled and before and after and {before.name, after.name} <= set(walled):
            found.add(frozenset((walled[before.name], walled[after.name])))
    return found


def _frontage(run: PlacedRun, unit: PlacedUnit) -> Frontage:
    """The front edge over a unit, or its own front where it carries no top; of a corner unit, before what opens."""
    x0, x1 = (unit.x + x for x in unit.opening)
    y = run.stock.depth if unit.family.carries_top else run.stand_off + unit.front
    return Frontage(run.frame, x0, x1, y)


def _island_edges(length: Length) -> dict[Aspect, Frontage]:
    """The two ends and the back of an island's top as frontages."""
    frame, depth, x = length.run.frame, length.run.stock.depth, length.x
    back = frame.reaxed((1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
    return {
        Aspect.LEFT_END: Frontage(_sideways(frame, "left"), 0.0, depth, -x),
        Aspect.RIGHT_END: Frontage(_sideways(frame, "right"), 0.0, depth, x + length.part.length),
        Aspect.BACK: Frontage(back, x, x + length.part.length, 0.0),
    }


def _sideways(frame: Pose, side: str) -> Pose:
    """The frame of somebody who looks along a run to one side: x out from the run's back, y to that side."""
    way = -1.0 if side == "left" else 1.0
    return frame.reaxed((0.0, 1.0, 0.0), (way, 0.0, 0.0), (0.0, 0.0, 1.0))


def _facades(kitchen: Kitchen) -> list[Facade]:
    """Everything that can stand opposite."""
    named = [(of_wall(wall), wall) for wall in kitchen.survey.walls]
    walls = [Facade(thing, thing, wall.start, wall.end, _way(wall.frame)) for thing, wall in named]
    return [*walls, *_bodies(kitchen)]


def _bodies(kitchen: Kitchen) -> list[Facade]:
    """The edges of every top, of every unit on the floor that carries none, and of every obstacle."""
    tops = [f for t in kitchen.lengths for f in _outline(of_run(t.run), of_length(t), top_plan(t))]
    bare = [(run, unit) for run in kitchen.runs for unit in run.units if _stands_bare(run, unit)]
    stood = [(of_obstacle(o), o.plan) for o in kitchen.survey.obstacles if o.bottom < HEAD]
    obstacles = [f for thing, plan in stood for f in _outline(thing, thing, plan)]
    units = [f for run, unit in bare for f in _outline(of_run(run), of_unit(unit), unit_plan(unit))]
    return [*tops, *obstacles, *units]


def _way(wall: Pose) -> Point:
    """Which way a wall looks: into the room."""
    return wall.y[0], wall.y[1]


def _stands_bare(run: PlacedRun, unit: PlacedUnit) -> bool:
    return run.level == "floor" and not unit.family.carries_top


def _outline(owner: Thing, thing: Thing, plan: Polygon) -> Iterator[Facade]:
    """The edges of a plan, each looking outward."""
    for (x0, y0), (x1, y1) in pairwise(plan_points(orient(plan).exterior)):
        size = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        if size > CONTACT:
            yield Facade(owner, thing, (x0, y0), (x1, y1), ((y1 - y0) / size, (x0 - x1) / size))


def _clear(frontage: Frontage, facades: list[Facade], own: Thing) -> FreeWidth | None:
    """The nearest of ``facades`` before a frontage, of equals the first by name; None where nothing surveyed faces
    it.
    """
    found = [near for f in facades if f.owner != own and (near := _near(frontage, f))]
    return least(found, key=lambda clear: clear.width, tie=_order) if found else None


def _order(clear: FreeWidth) -> int:
    """Of what is equally near, units come first, then tops, obstacles and walls, as the document has them."""
    return NEAREST.index(clear.facade.thing.sort)


def _near(frontage: Frontage, facade: Facade) -> FreeWidth | None:
    """The nearest point of a façade in the band before the frontage, if it looks back and lies there."""
    y_axis = frontage.frame.y
    if facade.way[0] * y_axis[0] + facade.way[1] * y_axis[1] > LOOKS_BACK:
        return None
    a, b = frontage.of(facade.start), frontage.of(facade.end)
    low, high = max(frontage.x0, min(a[0], b[0])), min(frontage.x1, max(a[0], b[0]))
    if high - low < FIT:  # beside it, whatever is rounded
        return None
    slope = (b[1] - a[1]) / (b[0] - a[0])
    y, x = least(((a[1] + slope * (x - a[0]), x) for x in (low, high)), key=lambda end: end[0])
    return FreeWidth(y - frontage.y, facade, x) if y > frontage.y - CONTACT else None


def _beside(frontage: Frontage, clear: FreeWidth | None, thing: Thing, side: Aspect) -> Place:
    """The place at one side of a top or a unit."""
    where = Where(Phrase.EDGE, thing, side, clear.facade.thing if clear else None)
    return _place(frontage, clear, where, thing)


def _place(frontage: Frontage, clear: FreeWidth | None, where: Where, thing: Thing) -> Place:
    if clear is None:
        return Place(where, None, (thing,), reason="nothing that faces it was surveyed")
    frame, y1 = frontage.frame, frontage.y + clear.width
    volume = Volume(block(frame, frontage.x0, frontage.y, frontage.x1, max(y1, frontage.y + CONTACT)), 0.0, HEAD)
    segment = (frame.to_room((clear.x, frontage.y, 0.0)), frame.to_room((clear.x, y1, 0.0)))
    about = (thing,) if clear.facade.owner == clear.facade.thing else (thing, clear.facade.thing)
    return Place(where, clear.width, about, volume, segment)


def _standing(kitchen: Kitchen, run: PlacedRun, unit: PlacedUnit) -> Iterator[Place]:
    """The room to stand to the left and to the right of a unit's front."""
    y, bodies = _frontage(run, unit).y, _bodies(kitchen)
    for side, edge in ((Aspect.LEFT, -unit.x), (Aspect.RIGHT, unit.right)):
        frontage = Frontage(_sideways(run.frame, side), y, y + STANDING, edge)
        clear = _clear(frontage, bodies, of_run(run))
        if clear is not None:
            yield _beside(frontage, clear, of_unit(unit), side)
