"""Neighbours: what the runs of a kitchen stand between, in the room as read or as if it had been read otherwise.

A run may slide along its wall, so what counts is its *spare*: the free length between what ends it on its left and
on its right (a wall, a run on another wall, an obstacle, an opening) less its own. Units stay as they are planned.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain, groupby
from typing import Literal

from countersunk.model.certainty.against import top_of
from countersunk.model.document.schema import Island, Obstacle, Peninsula, Room
from countersunk.model.geometry.frames import Point, cos_sin
from countersunk.model.kept import kept
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import BENCH
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.survey import SurveyedWall, place_walls
from countersunk.model.survey.readings import readings, with_readings
from countersunk.model.survey.room import PlacedSlope, slopes_over, spoken
from countersunk.model.survey.shape import shape_of
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT

RIVAL = 300.0
"""What stands this much further off than the nearest is no neighbour, whatever the readings (mm)."""

AHEAD = 10.0
"""What comes nearer than this before the fronts of a run ends it, whether or not it would just pass: no reading is
sure enough for less (mm, common practice, no source)."""

BEFORE_OPENING = 600.0
"""How far out from the wall an opening is kept free for the runs on that wall, mm."""

Walls = Mapping[str, SurveyedWall]


@dataclass(frozen=True)
class Obstruction:
    """A rectangle in the frame of a wall between two heights (mm): units of a run, or what a run can run into.

    Those of one ``owner`` do not hinder each other; ``only`` hinders nothing but runs on its own wall. ``line`` is
    given where it is no rectangle but a line there and back: the face of a wall. Units look to ``y1`` with their
    ``front``, or, as a wing along the next wall does, with their ``end``.
    """

    owner: str
    wall: str
    x0: float
    x1: float
    y0: float
    y1: float
    low: float = -math.inf
    high: float = math.inf
    only: bool = False
    line: tuple[Point, ...] = ()
    at_y1: Literal["", "front", "end"] = ""

    def hinders(self, block: Obstruction) -> bool:
        """Whether a unit's block could run into it. The wall behind a run ends it nowhere, however it bulges: what
        that leaves is `model.certainty.against`.
        """
        if self.line and self.wall == block.wall:
            return False
        level = self.low < block.high - CONTACT and self.high > block.low + CONTACT
        return level and self.owner != block.owner and (self.wall == block.wall or not self.only)

    def before(self, other: Obstruction) -> Obstruction:
        """It as far as another, placed from another wall, ends it along its own: with what is kept free before
        fronts; without the end of a wing, since what stands there is beside it and has its place from it.
        """
        if other.wall == self.wall or other.line:
            return self
        return replace(self, y1=self.y1 + {"": 0.0, "front": AHEAD, "end": -AHEAD}[self.at_y1])

    def outline(self, walls: Walls) -> list[Point]:
        """Its corners in the room's plan."""
        wall = walls[self.wall]
        (ox, oy), (c, s) = wall.start, cos_sin(wall.heading)
        box = ((self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1))
        return [(ox + x * c + y * s, oy + x * s - y * c) for x, y in self.line or box]


@dataclass(frozen=True)
class Rival:
    """What may end a run on one side: a block of the run, the index of what may meet it, and the gap as planned."""

    run: int
    right: bool
    block: Obstruction
    other: int
    gap: float


@kept(500)
def _read(room: Room, values: tuple[float, ...]) -> tuple[Room, Walls]:
    """A room as if other ``values`` had been read, and its walls by name."""
    other = with_readings(room, readings(room), values)
    return other, {wall.name: wall for wall in place_walls(other, shape_of(room))}


class Neighbours:
    """The runs on walls, and what can end them on either side. Made once; `spares` is then asked many times."""

    def __init__(self, kitchen: Kitchen) -> None:
        self.room = kitchen.document.room
        self.shape = shape_of(self.room)
        self.runs = [run for run in kitchen.runs if run.wall is not None]
        self.rows = [list(_unit_blocks(run, name)) for run, name in zip(self.runs, _names(self.runs), strict=True)]
        self.free = list(_free_blocks(kitchen))
        self.tops = {unit.family.top: top_of(run, unit) for run in self.runs for unit in run.units}
        self.readings = readings(self.room)
        self.planned = self.read([r.value for r in self.readings])
        self.rivals = list(self._nearest())

    def read(self, values: Sequence[float]) -> tuple[Room, Walls]:
        """The room as if ``values`` had been read, and its walls by name."""
        return _read(self.room, tuple(values))

    def spares(self, room: Room, walls: Walls) -> list[float]:
        """The spare of every run, its units as planned, in a room as it was `read` (mm)."""
        others = self._blocks(room, walls)
        outlines = {r.other: others[r.other].outline(walls) for r in self.rivals}
        sides = [[math.inf, math.inf] for _ in self.runs]
        for rival in self.rivals:
            gap = _gap(rival.block, outlines[rival.other], walls, rival.right)
            sides[rival.run][rival.right] = min(sides[rival.run][rival.right], gap)
        return [left + right for left, right in sides]

    def neighbour(self, run: int, right: bool) -> str:
        """What ends a run on one side, in words; of equals a wall before the run that stands at it."""
        rivals = [r for r in self.rivals if (r.run, r.right) == (run, right)]
        if not rivals:
            return "nothing"
        nearest = least(rivals, key=lambda r: r.gap, tie=lambda r: r.other)
        return self._blocks(*self.planned)[nearest.other].owner

    def _blocks(self, room: Room, walls: Walls) -> list[Obstruction]:
        lines = (_wall_block(wall) for wall in walls.values())
        slopes = _slope_blocks(slopes_over(room, walls), self.tops)
        return [*lines, *chain(*self.rows), *self.free, *slopes, *_room_blocks(room)]

    def _nearest(self) -> Iterator[Rival]:
        """The rivals of every run on each side: the nearest, and whatever comes nearly as near."""
        walls, others = self.planned[1], self._blocks(*self.planned)
        outlines = [other.outline(walls) for other in others]
        for i, row in enumerate(self.rows):
            for right in (False, True):
                found = [
                    Rival(i, right, swept, k, gap)
                    for block in row
                    for k, other in enumerate(others)
                    if other.hinders(block)
                    and (gap := _gap(swept := block.before(other), outlines[k], walls, right)) < math.inf
                ]
                nearest = min((r.gap for r in found), default=0.0)
                yield from (r for r in found if r.gap <= nearest + RIVAL)


def _names(runs: Sequence[PlacedRun]) -> list[str]:
    """Each run in words; where a wall has several, with its units."""
    plain = [f"run {run.name}" if run.level == "floor" else f"hung run {run.name}" for run in runs]
    ends = [f" ({run.units[0].name} to {run.units[-1].name})" for run in runs]
    return [name + (end if plain.count(name) > 1 else "") for name, end in zip(plain, ends, strict=True)]


def _slope_blocks(slopes: Iterable[PlacedSlope], tops: Mapping[float, float]) -> Iterator[Obstruction]:
    """For units of every height the floor over which a sloping ceiling is too low for what lies on them, if any."""
    for slope in slopes:
        for high, top in tops.items():
            name, out = f"the slope over wall {slope.wall}", slope.out_at(top)
            yield Obstruction(name, slope.wall, slope.x, slope.x + slope.length, 0.0, out, low=high - 1.0)


def _unit_blocks(run: PlacedRun, name: str) -> Iterator[Obstruction]:
    """Neighbouring units of one height and depth as one block each, the wing of a corner unit as another.

    A filler is only the strip before whatever stands between the units beside it.
    """
    for ((low, high, depth), strip, forward), group in groupby(
        run.units, lambda unit: (_section(unit), _strip_at(unit), unit.forward)
    ):
        units, back = list(group), run.stand_off + forward
        yield Obstruction(
            name, run.wall or "", units[0].x, units[-1].right, back + strip, back + depth, low, high, at_y1="front"
        )
        for unit in (unit for unit in units if unit.wing):
            x = unit.x if unit.hand == "left" else unit.right - unit.face
            yield Obstruction(
                name, run.wall or "", x, x + unit.face, back, back + unit.wing, low, high, at_y1="end"
            )


def _wall_block(wall: SurveyedWall) -> Obstruction:
    """A wall's true face, bulges and hollows and all."""
    return Obstruction(
        f"wall {wall.name}", wall.name, 0.0, wall.length, 0.0, 0.0, line=(*wall.face, *wall.face[-2:0:-1])
    )


def _free_blocks(kitchen: Kitchen) -> Iterator[Obstruction]:
    """Islands and peninsulas in the frame of the wall that they are placed from, and stand square to."""
    wishes: list[Island | Peninsula] = [*kitchen.document.islands, *kitchen.document.peninsulas]
    for run, wish in zip((run for run in kitchen.runs if run.free), wishes, strict=True):
        wall, high = kitchen.survey.wall(wish.wall).frame, max(unit.family.top for unit in run.units)
        depth = run.stand_off + max(_section(unit)[2] for unit in run.units)
        corners = [(x, y, 0.0) for x in (run.units[0].x, run.units[-1].right) for y in (run.stand_off, depth)]
        xs, ys, _ = zip(*(wall.from_room(run.frame.to_room(c)) for c in corners), strict=True)
        yield Obstruction(f"run {run.name}", wish.wall, min(xs), max(xs), min(ys), max(ys), 0.0, high)


def _strip_at(unit: PlacedUnit) -> float:
    """How far before the back of its row a unit begins, mm: a filler where the fronts do, every other at once."""
    return float(unit.outline.bounds[1])


def _section(unit: PlacedUnit) -> tuple[float, float, float]:
    """Underside, top and depth with its front, mm; what stands on the floor is taken down to it."""
    low = 0.0 if unit.family.level == "floor" else unit.family.base
    return low, unit.family.top, unit.family.depth + unit.boards.front.thickness


def _boxes(o: Obstacle, top: float) -> list[tuple[float, float, float, float, float]]:
    """Of an obstacle, or the cheeks and lintel round its opening: left, right, out, underside, top, mm."""
    x1, hole = o.at + o.width, o.opening
    if hole is None:
        return [(o.at, x1, o.out, o.bottom, top)]
    left, right = o.at + hole.from_left, o.at + hole.from_left + hole.width
    cheeks = [(o.at, left, o.out, 0.0, top), (right, x1, o.out, 0.0, top)]
    return [*cheeks, (left, right, o.out, hole.height, top)]


def _room_blocks(room: Room) -> Iterator[Obstruction]:
    """Obstacles, and openings, which hinder only the runs on their own wall."""
    for o in room.obstacles:
        top = room.height if o.top is None else o.top
        name = f"the {spoken(o.kind)} on wall {o.wall}"
        for x0, x1, y0, low, high in _boxes(o, top):
            yield Obstruction(name, o.wall, x0, x1, y0, o.out + o.depth, low, high)
    for gap in room.openings:
        name, x1 = f"the {gap.kind} at {gap.at:g}", gap.at + gap.width
        low = max(gap.sill, min(BENCH, gap.head)) if gap.kind == "window" and gap.sill > 0.0 else gap.sill
        yield Obstruction(name, gap.wall, gap.at, x1, 0.0, BEFORE_OPENING, low, gap.head, only=True)


def _gap(block: Obstruction, outline: list[Point], walls: Walls, right: bool) -> float:
    """Free length from one side of a unit's block to what lies on that side in its band; infinite for nothing."""
    span = _span(outline, walls[block.wall], block)
    if span is None or (sum(span) > block.x0 + block.x1 + CONTACT) != right:
        return math.inf
    return span[0] - block.x1 if right else block.x0 - span[1]


def _span(shape: list[Point], wall: SurveyedWall, block: Obstruction) -> Point | None:
    """From where to where along the wall a shape of the room's plan lies in the block's band."""
    (ox, oy), (c, s) = wall.start, cos_sin(wall.heading)
    local = [((x - ox) * c + (y - oy) * s, (x - ox) * s - (y - oy) * c) for x, y in shape]
    xs = [x for a, b in zip(local, [*local[1:], local[0]], strict=True) for x in _crossed(a, b, block.y0, block.y1)]
    return (min(xs), max(xs)) if xs else None


def _crossed(a: Point, b: Point, low: float, high: float) -> tuple[float, ...]:
    """x where the segment enters and leaves the band between two y; none where it stays outside."""
    (ax, ay), (bx, by) = a, b
    if max(ay, by) <= low + CONTACT or min(ay, by) >= high - CONTACT:
        return ()
    if ay == by:
        return ax, bx
    near, far = ((min(max(y, low), high) - ay) / (by - ay) for y in (ay, by))
    return ax + near * (bx - ax), ax + far * (bx - ax)
