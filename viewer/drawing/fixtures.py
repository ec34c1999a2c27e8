"""Fixtures on paper: obstacles, services, sloping ceilings, bowed walls and the swing of doors."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.document.schema import Opening
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.room import PlacedObstacle, PlacedRoofWindow, PlacedSlope, spoken
from countersunk.model.ties import most
from countersunk.model.units.lights import Lit, lit
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.shapes import Circle, Mark, Path, Point
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.tracing import Drawing

DOT = 0.9
"""Radius of the circle that stands for a service, mm on paper."""

STEPS = 12
"""Straight pieces of a door's swing."""


def draw_in_plan(drawing: Drawing, survey: Survey) -> None:
    """Obstacles with their diagonals, services as circles, the line at which a sloping ceiling ends."""
    for slope in survey.slopes:
        drawing.draw(_upper_line(slope))
    plans = [window.plan for slope in survey.slopes for window in slope.windows]
    for plan in (*plans, *(dormer.plan for dormer in survey.dormers)):
        drawing.draw(Path(tuple(plan_points(plan.exterior)[:-1]), Stroke.HIDDEN, closed=True))
    for obstacle in survey.obstacles:
        drawing.draw(*_obstacle(plan_points(obstacle.plan.exterior)[:-1], obstacle))
    for service in survey.services:
        x, y, _ = service.point
        drawing.draw(Circle((x, y), DOT * drawing.scale, Stroke.UNIT, "paper"))


def name_in_plan(drawing: Drawing, survey: Survey) -> None:
    """Names inside or beside what they name, those of services behind their wall; of a slope what it measures."""
    s = drawing.scale
    for obstacle in survey.obstacles:
        c = obstacle.plan.centroid
        spots = lattice(obstacle.plan.bounds, s, (c.x, c.y))
        if not drawing.write([spoken(obstacle.kind)], 1.8, spots, obstacle.plan):
            drawing.point_out(spoken(obstacle.kind), 1.8, _about((c.x, c.y), 30.0 * s, s), (c.x, c.y))
    for service in survey.services:
        x, y, _ = service.frame.to_room((service.x, -4.5 * s, 0.0))
        drawing.point_out(service.name, 1.8, _about((x, y), 25.0 * s, s), service.point[:2])
    for x, y, said in _roof_words(survey):
        drawing.write([said], 1.8, _about((x, y), 40.0 * s, 2.0 * s))
    for slope in _first_pieces(survey):
        x, y, _ = slope.frame.to_room((slope.x + slope.length / 2, slope.run - 4.0 * s, 0.0))
        words = [f"ceiling {mm(slope.eaves)} at wall {slope.wall}, {mm(slope.height)} from the broken line on"]
        drawing.write(words, 1.8, _about((x, y), 40.0 * s, 2.0 * s))


def _first_pieces(survey: Survey) -> list[PlacedSlope]:
    """Of each sloping ceiling the longest piece that a dormer leaves."""
    pieces = [slope for slope in survey.slopes if not slope.least]
    fields = dict.fromkeys(slope.field for slope in pieces)
    return [most([p for p in pieces if p.field == field], key=lambda p: p.length) for field in fields]


def _roof_words(survey: Survey) -> Iterator[tuple[float, float, str]]:
    """Where in the plan to name roof windows and dormers, and what to say."""
    for window in (window for slope in survey.slopes for window in slope.windows):
        c = window.plan.centroid
        yield c.x, c.y, f"roof window, {mm(window.sill)} to {mm(window.head)} high"
    for dormer in survey.dormers:
        c = dormer.plan.centroid
        yield c.x, c.y, f"dormer, ceiling {mm(dormer.height)}"


def swing(wall: SurveyedWall, door: Opening) -> Iterator[Mark]:
    """The leaf at right angles to the wall and the way of its edge, for a door that opens into the room."""
    if door.swing not in ("left", "right"):
        return
    hinge, way = (door.at, 1.0) if door.swing == "left" else (door.at + door.width, -1.0)
    turns = (math.pi / 2 * i / STEPS for i in range(STEPS + 1))
    edge = [(hinge + way * door.width * math.cos(t), door.width * math.sin(t)) for t in turns]
    yield Path(_placed(wall, [(hinge, 0.0), edge[-1]]), Stroke.UNIT)
    yield Path(_placed(wall, edge), Stroke.HIDDEN)


def way_out(wall: SurveyedWall, door: Opening, scale: float) -> Iterator[Mark]:
    """An arrow through a door that opens out of the room; on which side it is hinged nobody has said."""
    if door.swing == "out":
        x, tip, head = door.at + door.width / 2, -6.0 * scale, 1.6 * scale
        yield Path(_placed(wall, [(x, 4.0 * scale), (x, tip)]), Stroke.UNIT)
        yield Path(
            _placed(wall, [(x - head, tip + 1.5 * head), (x, tip), (x + head, tip + 1.5 * head)]), Stroke.UNIT
        )


def bow_in_words(wall: SurveyedWall) -> str:
    """How far a wall is hollow or bulges, or nothing."""
    outs = [y for _, y in wall.bow.coords]
    words = [f"hollow {mm(-min(outs))}"] if min(outs) < 0 else []
    return ", ".join([*words, *([f"bulges {mm(max(outs))}"] if max(outs) > 0 else [])])


def cables(kitchen: Kitchen) -> Iterator[tuple[SurveyedWall, Point, Part, Lit]]:
    """Where the cable to each driver of lights comes out of its wall, along it and above the floor, mm."""
    for run in kitchen.runs:
        found = lit(run) if run.wall else None
        if found is not None and run.wall is not None:
            wall = kitchen.survey.wall(run.wall)
            part = kitchen.parts_by_key[PartKey(found.rows[0][0].key, Role.DRIVER)]
            middle = part.outline.centroid
            x, _, z = wall.frame.from_room(part.pose.to_room((middle.x, middle.y, part.thickness / 2)))
            yield wall, (x, z), part, found


def draw_in_elevation(drawing: Drawing, kitchen: Kitchen, wall: SurveyedWall) -> None:
    """What stands against a wall, and what comes out of it."""
    for obstacle in _on(kitchen, wall):
        corners = plan_points(rectangle(*box_of(obstacle)).exterior)[:-1]
        drawing.draw(*_obstacle(corners, obstacle))
    for window in _roof_windows_on(kitchen, wall):
        drawing.draw(Path(tuple(plan_points(_seen(window).exterior)[:-1]), Stroke.HIDDEN, closed=True))
    for service in kitchen.survey.services:
        if service.wall == wall.name:
            drawing.draw(Circle((service.x, service.height), DOT * drawing.scale, Stroke.UNIT, "paper"))
    for at in (at for on, at, _, _ in cables(kitchen) if on is wall):
        drawing.draw(Circle(at, DOT * drawing.scale, Stroke.UNIT, "paper"))


def _roof_windows_on(kitchen: Kitchen, wall: SurveyedWall) -> Iterator[PlacedRoofWindow]:
    return (w for s in kitchen.survey.slopes for w in s.windows if s.wall == wall.name)


def name_in_elevation(drawing: Drawing, kitchen: Kitchen, wall: SurveyedWall) -> None:
    """The names of the same."""
    s = drawing.scale
    for obstacle in _on(kitchen, wall):
        x0, y0, x1, y1 = box_of(obstacle)
        middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        spots = lattice((x0, y0, x1, y1), 1.5 * s, middle)
        words = [spoken(obstacle.kind), f"{mm(obstacle.depth)} deep"]
        if not drawing.write(words, 2.0, spots, rectangle(x0, y0, x1, y1)):
            drawing.point_out(", ".join(words), 1.8, _about(middle, 30.0 * s, s), middle)
    for window in _roof_windows_on(kitchen, wall):
        middle = (window.x + window.width / 2, (window.sill + window.head) / 2)
        drawing.write(["roof window"], 1.8, _about(middle, 10.0 * s, s), _seen(window))
    for service in kitchen.survey.services:
        if service.wall == wall.name:
            at = (service.x, service.height)
            drawing.point_out(f"{service.name} {spoken(service.kind)}", 1.8, _about(at, 25.0 * s, s), at)
    for on, at, _, found in cables(kitchen):
        if on is wall:
            drawing.point_out(f"cable to driver {found.driver:g} W", 1.8, _about(at, 25.0 * s, s), at)


def _seen(window: PlacedRoofWindow) -> Polygon:
    """A roof window as one faces its wall."""
    return rectangle(window.x, window.sill, window.x + window.width, window.head)


def box_of(obstacle: PlacedObstacle) -> tuple[float, float, float, float]:
    """An obstacle as one faces its wall: left, bottom, right, top, mm."""
    return (obstacle.x, obstacle.bottom, obstacle.right, obstacle.top)


def heights_on(kitchen: Kitchen, wall: SurveyedWall) -> Iterator[float]:
    """Every height above the floor that belongs to what is drawn on a wall here, and to its ceiling, mm."""
    for obstacle in _on(kitchen, wall):
        yield from (obstacle.bottom, obstacle.top)
    yield from (service.height for service in kitchen.survey.services if service.wall == wall.name)
    yield from (z for on, (_, z), _, _ in cables(kitchen) if on is wall)
    yield from (z for _, z in plan_points(kitchen.survey.face(wall).exterior))


def places_on(kitchen: Kitchen, wall: SurveyedWall) -> Iterator[float]:
    """Every distance from a wall's left-hand end that belongs to the same, mm."""
    for obstacle in _on(kitchen, wall):
        yield from (obstacle.x, obstacle.right)
    yield from (service.x for service in kitchen.survey.services if service.wall == wall.name)
    yield from (x for on, (x, _), _, _ in cables(kitchen) if on is wall)


def rows(kitchen: Kitchen) -> list[tuple[str, str, str]]:
    """Name, what and where it is, and how high, for services and cables to lights; obstacles with sizes."""
    services = [
        (s.name, f"{spoken(s.kind)}, wall {s.wall}, {mm(s.x)} along", f"{mm(s.height)} high")
        for s in kitchen.survey.services
    ]
    obstacles = [
        ("", f"{spoken(o.kind)}, wall {o.wall}, {mm(o.x)} along", f"{mm(o.width)} x {mm(o.depth)}")
        for o in kitchen.survey.obstacles
    ]
    drivers = [
        (part.called, f"cable to lights, {found.watts:.1f} of {found.driver:g} W, wall {on.name}, {mm(x)} along",
         f"{mm(z)} high") for on, (x, z), part, found in cables(kitchen)
    ]  # fmt: skip
    return services + drivers + obstacles


def _on(kitchen: Kitchen, wall: SurveyedWall) -> list[PlacedObstacle]:
    return [o for o in kitchen.survey.obstacles if o.wall == wall.name and o.y == 0]


def _obstacle(corners: list[Point], obstacle: PlacedObstacle) -> Iterator[Path]:
    """Outline and diagonals; a radiator is hollow and has none."""
    yield Path(tuple(corners), Stroke.OUTLINE, closed=True)
    if obstacle.kind != "radiator":
        a, b, c, d = corners
        yield Path((a, c), Stroke.DIMENSION)
        yield Path((b, d), Stroke.DIMENSION)


def _upper_line(slope: PlacedSlope) -> Path:
    ends = [slope.frame.to_room((x, slope.run, 0.0))[:2] for x in (slope.x, slope.x + slope.length)]
    return Path(tuple(ends), Stroke.HIDDEN)


def _about(middle: Point, reach: float, step: float) -> list[Point]:
    x, y = middle
    return lattice((x - reach, y - reach, x + reach, y + reach), step, middle)


def _placed(wall: SurveyedWall, points: list[Point]) -> tuple[Point, ...]:
    return tuple(wall.frame.to_room((x, y, 0.0))[:2] for x, y in points)
