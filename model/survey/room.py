"""Room: what a room has besides walls and openings, in its place: obstacles, services, sloping ceilings.

Frames: ``x`` and ``y`` are those of the wall's frame, ``plan`` and ``point`` those of the room.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.document.schema import BreastOpening, Dormer, Obstacle, RoofWindow, Room, Slope
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Pose, Vector
from countersunk.model.survey.walls import SurveyedWall
from countersunk.model.tolerance import CONTACT, FIT, OVERLAP_AREA

Walls = Mapping[str, SurveyedWall]

BREAST = "chimney-breast"
"""The kind of obstacle that may have an opening."""


@dataclass(frozen=True)
class PlacedObstacle:
    """A box that stands in the room between two heights (mm). ``name`` tells it from others, ``field`` is its place
    in the document.
    """

    name: str
    kind: str
    wall: str
    x: float
    y: float
    width: float
    depth: float
    bottom: float
    top: float
    frame: Pose
    field: str

    @property
    def right(self) -> float:
        """Its right side along the wall, mm."""
        return self.x + self.width

    @cached_property
    def plan(self) -> Polygon:
        """Its outline in the room's plan."""
        return self.frame.plan_to_room(rectangle(self.x, self.y, self.right, self.y + self.depth))

    def meets(self, plan: Polygon, low: float, high: float) -> bool:
        """Whether a body with that plan in the room, between two heights, shares more than a touch with it."""
        level = low < self.top - CONTACT and high > self.bottom + CONTACT
        return level and self.plan.intersects(plan) and self.plan.intersection(plan).area > OVERLAP_AREA


@dataclass(frozen=True)
class PlacedService:
    """A pipe, cable or duct that comes out of a wall ``x`` mm along it and ``height`` above the floor.

    They are called s1, s2 … in the order of the document.
    """

    name: str
    kind: str
    wall: str
    x: float
    height: float
    frame: Pose
    airflow: float | None = None

    @property
    def point(self) -> Vector:
        """Where it comes out, in the room frame."""
        return self.frame.to_room((self.x, 0.0, self.height))


@dataclass(frozen=True)
class PlacedRoofWindow:
    """A window in a sloping ceiling from ``x`` on along its wall, ``sill`` to ``head`` high, ``low`` to ``high``
    out.

    All in mm; ``field`` is its place in the document.
    """

    wall: str
    x: float
    width: float
    sill: float
    head: float
    low: float
    high: float
    opens: str
    frame: Pose
    field: str

    @cached_property
    def plan(self) -> Polygon:
        """What lies under it in the room's plan."""
        return self.frame.plan_to_room(rectangle(self.x, self.low, self.x + self.width, self.high))

    @cached_property
    def swept(self) -> Polygon:
        """What the upper half of its sash passes when it turns square to the ceiling: y off the wall and height,
        mm.

        A quarter of a disc about its middle; one that opens out passes nothing.
        """
        if self.opens != "in":
            return Polygon()
        y, z = (self.low + self.high) / 2, (self.sill + self.head) / 2
        radius, pitch = math.dist((self.low, self.sill), (self.high, self.head)) / 2, self._pitch
        turns = [pitch - math.pi / 2 * i / 24 for i in range(25)]
        return Polygon([(y, z), *((y + radius * math.cos(t), z + radius * math.sin(t)) for t in turns)])

    @property
    def _pitch(self) -> float:
        return math.atan2(self.head - self.sill, self.high - self.low)


@dataclass(frozen=True)
class PlacedDormer:
    """Where a slope is cut away from ``x`` on along its wall: level at ``height`` for ``out`` mm off the wall."""

    wall: str
    x: float
    width: float
    eaves: float
    height: float
    out: float
    frame: Pose
    field: str

    @cached_property
    def plan(self) -> Polygon:
        """What lies under it in the room's plan."""
        return self.frame.plan_to_room(rectangle(self.x, 0.0, self.x + self.width, self.out))


@dataclass(frozen=True)
class PlacedSlope:
    """A ceiling that rises from ``eaves`` at its wall to ``height`` at ``run`` before it (mm), ``length`` long from
    ``x`` on along the wall; under a dormer it is level at ``least`` until it rises above that.
    """

    wall: str
    eaves: float
    run: float
    length: float
    height: float
    frame: Pose
    field: str
    x: float = 0.0
    least: float = 0.0
    windows: tuple[PlacedRoofWindow, ...] = ()

    @cached_property
    def plan(self) -> Polygon:
        """What lies under it in the room's plan."""
        return self.frame.plan_to_room(rectangle(self.x, 0.0, self.x + self.length, self.run))

    def height_at(self, out: float) -> float:
        """Height of the ceiling ``out`` mm before the wall."""
        share = min(1.0, max(0.0, out / self.run))
        return max(self.least, self.eaves + (self.height - self.eaves) * share)

    def over(self, plan: Polygon) -> float:
        """The lowest that the ceiling comes over a plan in the room, mm."""
        under = self.plan.intersection(plan)
        if under.area <= OVERLAP_AREA:
            return self.height
        return self.height_at(float(self.frame.plan_from_room(under).bounds[1]))

    def at(self, x: float, y: float) -> float:
        """How high the ceiling is over a point of the room's plan, mm; infinite where that is not before
        its wall.
        """
        along, out, _ = self.frame.from_room((x, y, 0.0))
        under = self.x - FIT <= along <= self.x + self.length + FIT and out <= self.run
        return self.height_at(out) if under else math.inf

    def out_at(self, height: float) -> float:
        """How far before the wall the ceiling is ``height`` high, mm: the inverse of `height_at`."""
        if height <= self.least:
            return 0.0
        rise = max(self.height - self.eaves, CONTACT)
        return self.run * min(1.0, max(0.0, (height - self.eaves) / rise))

    @property
    def level_to(self) -> float:
        """How far out the ceiling of a dormer is level, mm; 0 where there is none."""
        rise = max(self.height - self.eaves, CONTACT)
        return self.run * min(1.0, max(0.0, (self.least - self.eaves) / rise))

    def above(self, wall: SurveyedWall) -> Polygon:
        """What it takes from a wall's face, above it: x along that wall and height, mm. Empty where it is not."""
        under = wall.line.intersection(self.plan.buffer(FIT, join_style="mitre"))
        if under.length <= FIT:
            return Polygon()
        x0, _, x1, _ = wall.frame.plan_from_room(under).bounds
        outs = [self.frame.from_room(wall.frame.to_room((x, 0.0, 0.0)))[1] for x in (x0, x1)]
        places = [(x0, outs[0]), *self._kinks((x0, x1), outs), (x1, outs[1])]
        return Polygon([*((x, self.height_at(out)) for x, out in places), (x1, self.height), (x0, self.height)])

    def _kinks(self, xs: tuple[float, float], outs: list[float]) -> list[tuple[float, float]]:
        """Where along a wall the level ceiling of a dormer begins to rise: x along it and out from its own, mm."""
        (x0, x1), (a, b), kink = xs, outs, self.level_to
        between = min(a, b) + CONTACT < kink < max(a, b) - CONTACT
        return [(x0 + (x1 - x0) * (kink - a) / (b - a), kink)] if between else []


CEILING_BAND = 900.0
"""What was read of the ceiling over a wall is taken to hold so far before it, mm: over units and who stands there
(common practice, no source)."""


@dataclass(frozen=True)
class PlacedCeiling:
    """The ceiling as it was read over one wall: (along, height) in order, mm."""

    wall: SurveyedWall
    read: tuple[tuple[float, float], ...]

    def height_at(self, x: float) -> float:
        """How high it is ``x`` mm along the wall; past the outermost readings as high as there."""
        return float(np.interp(x, [at for at, _ in self.read], [height for _, height in self.read]))

    def at(self, x: float, y: float) -> float:
        """How high it is over a point of the room's plan, mm; infinite where that is not before the wall."""
        along, out, _ = self.wall.frame.from_room((x, y, 0.0))
        before = -FIT <= along <= self.wall.length + FIT and -FIT <= out <= CEILING_BAND
        return self.height_at(along) if before else math.inf

    def over(self, plan: Polygon) -> float:
        """The lowest that it comes over a plan in the room, mm; infinite where the plan is not before the wall."""
        frame = self.wall.frame
        band = frame.plan_to_room(rectangle(0.0, -CEILING_BAND, self.wall.length, CEILING_BAND))
        under = band.intersection(plan)
        if under.area <= OVERLAP_AREA:
            return math.inf
        x0, _, x1, _ = frame.plan_from_room(under).bounds
        within = (height for x, height in self.read if x0 < x < x1)
        return min(self.height_at(x0), self.height_at(x1), *within)


def place_ceiling(room: Room, walls: Walls) -> tuple[PlacedCeiling, ...]:
    """Raises InputError for a reading that is on no wall, or higher than the room."""
    read: dict[str, list[tuple[float, float]]] = {}
    for i, row in enumerate(room.ceiling):
        field = f"room.ceiling[{i}]"
        wall = on_wall(row.wall, row.at, 0.0, field, walls)
        _check_height(row.height, f"{field}.height", room.height)
        read.setdefault(wall.name, []).append((wall.within(row.at), row.height))
    return tuple(PlacedCeiling(walls[name], tuple(sorted(rows))) for name, rows in read.items())


def spoken(kind: str) -> str:
    """A kind as it is said and not typed: ``chimney-breast`` is a chimney breast."""
    return kind.replace("-", " ")


def place_obstacles(room: Room, walls: Walls, slopes: Iterable[PlacedSlope]) -> tuple[PlacedObstacle, ...]:
    """Those without a top reach to the ceiling; one with an opening is the boxes round it, of one name and field.

    Raises InputError for one that is not on its wall or too high, and for an opening that is not within it.
    """
    placed = [_obstacle(o, i, room, walls) for i, o in enumerate(room.obstacles)]
    lowered = [
        replace(p, top=min((p.top, *(s.over(p.plan) for s in slopes)))) if o.top is None else p
        for p, o in zip(placed, room.obstacles, strict=True)
    ]
    return tuple(piece for p, o in zip(lowered, room.obstacles, strict=True) for piece in _pieces(p, o.opening))


def place_services(room: Room, walls: Walls) -> tuple[PlacedService, ...]:
    """Raises InputError for one that is not on its wall, or above the ceiling."""
    placed = []
    for i, service in enumerate(room.services):
        field = f"room.services[{i}]"
        wall = on_wall(service.wall, service.at, 0.0, field, walls)
        _check_height(service.height, f"{field}.height", room.height)
        if service.airflow and service.kind != "fan":
            raise InputError.at(f"{field}.airflow", found=f"that of a {spoken(service.kind)}", allowed="of a fan")
        placed.append(
            PlacedService(
                f"s{i + 1}", service.kind, wall.name, wall.within(service.at), service.height, wall.frame,
                service.airflow,
            )
        )  # fmt: skip
    return tuple(placed)


def place_slopes(room: Room, walls: Walls) -> tuple[PlacedSlope, ...]:
    """Raises InputError for one that is on no wall, or not lower than the room."""
    for i, slope in enumerate(room.slopes):
        _check_slope(slope, f"room.slopes[{i}]", room, walls)
    return slopes_over(room, walls)


def slopes_over(room: Room, walls: Walls) -> tuple[PlacedSlope, ...]:
    """Only the slopes, as `place_slopes` places them, however they were read."""
    return tuple(piece for i, slope in enumerate(room.slopes) for piece in _ceilings(slope, i, room, walls))


def dormers_over(room: Room, walls: Walls) -> tuple[PlacedDormer, ...]:
    """The dormers of all slopes."""
    return tuple(
        _dormer(dormer, f"room.slopes[{i}].dormers[{j}]", slope, room, walls)
        for i, slope in enumerate(room.slopes)
        for j, dormer in enumerate(slope.dormers)
    )


def _dormer(dormer: Dormer, field: str, slope: Slope, room: Room, walls: Walls) -> PlacedDormer:
    height = room.height if dormer.height is None else dormer.height
    out = slope.run * (height - slope.eaves) / (room.height - slope.eaves)
    frame = walls[slope.wall].frame
    return PlacedDormer(slope.wall, dormer.at, dormer.width, slope.eaves, height, out, frame, field)


def _ceilings(slope: Slope, index: int, room: Room, walls: Walls) -> Iterator[PlacedSlope]:
    """A slope, parted by its dormers; one that is as high as the room leaves nothing."""
    wall, field = walls[slope.wall], f"room.slopes[{index}]"
    whole = PlacedSlope(wall.name, slope.eaves, slope.run, wall.length, room.height, wall.frame, field)
    windows = tuple(_roof_window(window, i, whole) for i, window in enumerate(slope.windows))
    x = 0.0
    for dormer in sorted(slope.dormers, key=lambda dormer: dormer.at):
        yield from _piece(whole, x, dormer.at, windows)
        x = dormer.at + dormer.width
        least = room.height if dormer.height is None else dormer.height
        if least < room.height:
            yield replace(whole, x=dormer.at, length=min(x, wall.length) - dormer.at, least=least)
    yield from _piece(whole, x, wall.length, windows)


def _piece(
    whole: PlacedSlope, start: float, end: float, windows: tuple[PlacedRoofWindow, ...]
) -> Iterator[PlacedSlope]:
    """What is left of a slope between two places along its wall, with its windows."""
    if end - start > FIT:
        own = tuple(window for window in windows if start - FIT <= window.x < end)
        yield replace(whole, x=start, length=end - start, windows=own)


def _roof_window(window: RoofWindow, index: int, slope: PlacedSlope) -> PlacedRoofWindow:
    return PlacedRoofWindow(
        slope.wall, window.at, window.width, window.sill, window.head, slope.out_at(window.sill),
        slope.out_at(window.head), window.opens, slope.frame, f"{slope.field}.windows[{index}]",
    )  # fmt: skip


def obstacles_met(
    obstacles: Iterable[PlacedObstacle], plan: Polygon, low: float, high: float
) -> list[PlacedObstacle]:
    """What a body with that plan in the room, between two heights, runs into: what a top must be notched round."""
    return [o for o in obstacles if o.meets(plan, low, high)]


def on_wall(name: str, at: float, width: float, field: str, walls: Walls) -> SurveyedWall:
    """The wall called ``name``. Raises InputError where there is none, or ``width`` passes its end as it was read
    and as it was adjusted.
    """
    if name not in walls:
        raise InputError.unknown(f"{field}.wall", name, walls, "a wall")
    left = max(walls[name].length, walls[name].read) - at
    if left < -FIT:
        raise InputError.at(
            f"{field}.at",
            found=f"{at:g}",
            allowed=f"0 to {walls[name].length:.0f} on wall {name}",
            advice="measure it from the wall's left end as one faces it",
        )
    if width > left + FIT:
        raise InputError.at(
            f"{field}.width",
            found=f"{width:g}",
            allowed=f"at most {left:.0f} mm here",
            advice="measure it again; at is its left side as one faces the wall",
        )
    return walls[name]


def _obstacle(obstacle: Obstacle, index: int, room: Room, walls: Walls) -> PlacedObstacle:
    field = f"room.obstacles[{index}]"
    wall = on_wall(obstacle.wall, obstacle.at, obstacle.width, field, walls)
    top = room.height if obstacle.top is None else obstacle.top
    _check_height(top, f"{field}.top", room.height)
    if obstacle.bottom >= top:
        found, allowed = f"{obstacle.bottom:g}", f"below its top at {top:g}"
        raise InputError.at(
            f"{field}.bottom", found=found, allowed=allowed, advice="both are heights above the floor"
        )
    return PlacedObstacle(
        f"{spoken(obstacle.kind)} {index + 1}", obstacle.kind, wall.name,
        wall.within(obstacle.at, obstacle.width), obstacle.out, obstacle.width, obstacle.depth, obstacle.bottom,
        top, wall.frame, field,
    )  # fmt: skip


def _pieces(whole: PlacedObstacle, opening: BreastOpening | None) -> list[PlacedObstacle]:
    """The cheeks, the lintel and what is left behind an opening; the whole where it has none."""
    if opening is None:
        return [whole]
    _check_recess(whole, opening)
    x0, deep = whole.x + opening.from_left, opening.depth or whole.depth
    x1 = x0 + opening.width
    cheeks = [replace(whole, width=opening.from_left), replace(whole, x=x1, width=whole.right - x1)]
    over = replace(whole, x=x0, width=opening.width, bottom=opening.height)
    behind = replace(whole, x=x0, width=opening.width, depth=whole.depth - deep, top=opening.height)
    return [piece for piece in (*cheeks, over, behind) if piece.width > CONTACT and piece.depth > CONTACT]


def _check_recess(whole: PlacedObstacle, opening: BreastOpening) -> None:
    """It is within a chimney breast that stands on the floor. Raises InputError."""
    field = f"{whole.field}.opening"
    if whole.kind != BREAST or whole.bottom > 0.0:
        found = f"an opening in a {spoken(whole.kind)}" + (", which hangs" if whole.bottom > 0.0 else "")
        raise InputError.at(field, found=found, allowed="only in a chimney breast that stands on the floor")
    most = {
        "width": whole.width - opening.from_left, "height": whole.top - CONTACT, "depth": whole.depth,
    }  # fmt: skip
    for name, limit in most.items():
        size = getattr(opening, name) or 0.0
        if size > limit:
            advice = "the opening is within the breast"
            raise InputError.at(f"{field}.{name}", found=f"{size:g}", allowed=f"up to {limit:.0f}", advice=advice)


def _check_height(height: float, field: str, ceiling: float) -> None:
    if height > ceiling:
        raise InputError.at(
            field,
            found=f"{height:g}",
            allowed=f"up to the room's {ceiling:g}",
            advice="measure it above the floor, or give the room its true height",
        )


def _check_slope(slope: Slope, field: str, room: Room, walls: Walls) -> None:
    on_wall(slope.wall, 0.0, 0.0, field, walls)
    if slope.eaves >= room.height:
        raise InputError.at(
            f"{field}.eaves",
            found=f"{slope.eaves:g}",
            allowed=f"less than the room's {room.height:g}",
            advice="eaves is the height at the wall, the room's is that where the ceiling is level",
        )
    for i, window in enumerate(slope.windows):
        _check_roof_window(window, f"{field}.windows[{i}]", slope, room, walls)
    for i, dormer in enumerate(slope.dormers):
        _check_dormer(dormer, f"{field}.dormers[{i}]", slope, room, walls)


def _check_roof_window(window: RoofWindow, field: str, slope: Slope, room: Room, walls: Walls) -> None:
    on_wall(slope.wall, window.at, window.width, field, walls)
    if not slope.eaves <= window.sill < window.head <= room.height:
        raise InputError.at(
            f"{field}.head",
            found=f"sill {window.sill:g}, head {window.head:g}",
            allowed=f"within the slope, from {slope.eaves:g} to {room.height:g} high",
            advice="both are heights above the floor",
        )
    _check_apart(window, field, slope.dormers)


def _check_dormer(dormer: Dormer, field: str, slope: Slope, room: Room, walls: Walls) -> None:
    on_wall(slope.wall, dormer.at, dormer.width, field, walls)
    height = room.height if dormer.height is None else dormer.height
    if not slope.eaves < height <= room.height:
        allowed = f"above the eaves at {slope.eaves:g}, up to the room's {room.height:g}"
        raise InputError.at(f"{field}.height", found=f"{height:g}", allowed=allowed)
    _check_apart(dormer, field, [other for other in slope.dormers if other is not dormer])


def _check_apart(one: RoofWindow | Dormer, field: str, dormers: Iterable[Dormer]) -> None:
    for dormer in dormers:
        if one.at < dormer.at + dormer.width - FIT and dormer.at < one.at + one.width - FIT:
            found = f"{one.at:g} to {one.at + one.width:g}, in a dormer from {dormer.at:g}"
            raise InputError.at(f"{field}.at", found=found, allowed="beside it along the wall")
