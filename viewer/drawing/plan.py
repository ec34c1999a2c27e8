"""Plan: the whole kitchen from above, with lengths, units, joins and walls named, and a table of what they are.

Room frame: x to the right, y up the paper, as in the model.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from shapely import LineString, MultiPoint, Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.document.schema import Opening
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.tops.joins import Join
from countersunk.viewer.drawing import fixtures
from countersunk.viewer.drawing.corner_setout import set_out_of
from countersunk.viewer.drawing.lettering import degrees, mm
from countersunk.viewer.drawing.paper import MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Box, Circle, Line, Mark, Path, Point, Sheet, Span, Text, View
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.tracing import Drawing
from countersunk.viewer.drawing.upstand import upstands

WINDOW: Box = (MARGIN, 12.0, 232.0, 268.0)
TABLE = (238.0, 262.0)
"""Where plan and table stand, mm on paper."""

AROUND = 16.0
"""Room for wall names and lengths outside the walls, mm on paper."""


BOWED = 200.0
"""Further than any wall stands off its chord, mm."""


def plan_view(kitchen: Kitchen) -> View:
    """The plan by itself, in the left half of a sheet."""
    return _view(_extent(kitchen), lambda drawing: _draw(drawing, kitchen))


def plan_sheet(kitchen: Kitchen) -> Sheet:
    """The plan with its table."""
    view = plan_view(kitchen)
    below = "Seen from above. T = length of worktop, J = join: each has a sheet of its own. S = upstand."
    if any(opening.swing == "out" for opening in kitchen.survey.openings):
        below += " Arrow: the door opens out."
    return sheet(kitchen, "plan", "Plan", [*heading("PLAN", below), *_table(kitchen)], [view])


def room_sheet(survey: Survey) -> Sheet:
    """Only the room as it was measured, before a kitchen stands in it: nothing but the plan is on the sheet."""
    view = _view(MultiPoint(_corners_of(survey)), lambda drawing: _draw_room(drawing, survey))
    return Sheet("room", "Room", f"1:{view.scale:g}", (view,))


def _view(extent: MultiPoint, draw: Callable[[Drawing], None]) -> View:
    """What is drawn within an extent of the room, in the middle of the window, as large as there is room for."""
    x0, y0, x1, y1 = extent.bounds
    wx0, wy0, wx1, wy1 = WINDOW
    room = (wx1 - wx0 - 2 * AROUND, wy1 - wy0 - 2 * AROUND)
    scale = fitting_scale((x1 - x0, y1 - y0), room, (10.0, 20.0, 25.0, 50.0, 100.0))
    origin = ((wx0 + wx1) / 2 - (x0 + x1) / 2 / scale, (wy0 + wy1) / 2 - (y0 + y1) / 2 / scale)
    drawing = Drawing(scale)
    draw(drawing)
    return View("plan", scale, origin, WINDOW, tuple(drawing.marks))


def _extent(kitchen: Kitchen) -> MultiPoint:
    tops = [p for t in kitchen.lengths for p in plan_points(t.part.pose.plan_to_room(t.part.outline).exterior)]
    return MultiPoint([*_corners_of(kitchen.survey), *tops])


def _corners_of(survey: Survey) -> list[Point]:
    return [p for wall in survey.walls for p in (wall.start, wall.end)]


def _draw_room(drawing: Drawing, survey: Survey) -> None:
    fixtures.draw_in_plan(drawing, survey)
    _draw_walls(drawing, survey)
    fixtures.name_in_plan(drawing, survey)


def _draw(drawing: Drawing, kitchen: Kitchen) -> None:
    """Everything in the plan."""
    for run in kitchen.runs:
        for unit in run.units:
            stroke = Stroke.UNIT if run.level == "floor" else Stroke.HIDDEN
            drawing.draw(Path(_corners(footprint(unit)), stroke, closed=True))
    for length in kitchen.lengths:
        plan = length.part.pose.plan_to_room(length.part.outline)
        drawing.draw(Path(_corners(plan), Stroke.OUTLINE, closed=True))
    for part in _in_reveals(kitchen):
        drawing.draw(Path(_corners(part.standing_plan), Stroke.OUTLINE, closed=True))
    for cutout in kitchen.cutouts:
        drawing.draw(Path(_corners(cutout.line_in_room), Stroke.LINE_TO_CUT, closed=True))
    for join in kitchen.joins:
        drawing.draw(Path(tuple(plan_points(join.line)), Stroke.JOINT_FEMALE))
        drawing.draw(*_set_out(kitchen, join, drawing.scale))
    fixtures.draw_in_plan(drawing, kitchen.survey)
    _draw_walls(drawing, kitchen.survey)
    _write_names(drawing, kitchen)
    fixtures.name_in_plan(drawing, kitchen.survey)


def _set_out(kitchen: Kitchen, join: Join, scale: float) -> Iterator[Mark]:
    """Where a join in a corner meets the male's wall, outside it, and where the front edges meet."""
    found = set_out_of(kitchen, join)
    if found is not None:
        (cx, cy), (ex, ey), (fx, fy) = found.corner, found.end, found.front
        inside = (ex - cx) * (fy - cy) - (ey - cy) * (fx - cx)
        if not found.in_corner:
            yield Span(found.corner, found.end, (-4.0 if inside > 0.0 else 4.0) * scale, height=1.8)
        yield Circle(found.front, 0.8 * scale, Stroke.DATUM)


def footprint(unit: PlacedUnit) -> Polygon:
    """The plan of a unit's carcass and front in the room."""
    if not unit.wing:
        return unit.frame.plan_to_room(rectangle(0.0, 0.0, unit.width, unit.face))
    return unit.frame.plan_to_room(unit.outline)


def _draw_walls(drawing: Drawing, survey: Survey) -> None:
    """Walls with gaps for their openings, their names and lengths outside, and the angle of every corner."""
    s = drawing.scale
    for wall in survey.walls:
        openings = [o for o in survey.openings if o.wall == wall.name]
        name = ", ".join(part for part in (f"wall {wall.name}", fixtures.bow_in_words(wall)) if part)
        drawing.draw(*_wall(wall, openings, s), Span(wall.start, wall.end, 9.0 * s, name))
    for wall in survey.walls:
        if wall.corner is not None:
            x, y = wall.end
            near = lattice((x - 22 * s, y - 22 * s, x + 22 * s, y + 22 * s), 2.0 * s, (x, y))
            drawing.write([degrees(wall.corner)], 1.9, [p for p in near if _is_outside(survey, p)])


def _is_outside(survey: Survey, point: Point) -> bool:
    outline = survey.outline
    return outline is None or outline.disjoint(MultiPoint([point]))


def _wall(wall: SurveyedWall, openings: list[Opening], scale: float) -> Iterator[Mark]:
    """Thick where there is wall, two thin lines at a window, a swing or an arrow at a door, none at a passage."""
    line: BaseGeometry = wall.bow
    for o in openings:
        line = line.difference(rectangle(o.at, -BOWED, o.at + o.width, BOWED))
        yield from _opening(wall, o, scale)
    for piece in getattr(line, "geoms", [line]):
        if isinstance(piece, LineString) and not piece.is_empty:
            yield Path(_placed(wall, plan_points(piece)), Stroke.ROOM)


def _opening(wall: SurveyedWall, opening: Opening, scale: float) -> Iterator[Mark]:
    a, b, thick = opening.at, opening.at + opening.width, 1.6 * scale
    for x in (a, b):
        yield Path(_placed(wall, [(x, -thick), (x, 0.0)]), Stroke.UNIT)
    if opening.kind == "window":
        for y in (-thick, -thick / 2, 0.0):
            yield Path(_placed(wall, [(a, y), (b, y)]), Stroke.UNIT)
        yield from fixtures.swing(wall, opening)
    if opening.kind == "door":
        yield Path(_placed(wall, [(a, -thick), (b, -thick)]), Stroke.HIDDEN)
        yield from (*fixtures.swing(wall, opening), *fixtures.way_out(wall, opening, scale))


def _placed(wall: SurveyedWall, points: list[Point]) -> tuple[Point, ...]:
    return tuple(wall.frame.to_room((x, y, 0.0))[:2] for x, y in points)


def _write_names(drawing: Drawing, kitchen: Kitchen) -> None:
    """Lengths first, then joins, then units, each as near to its middle as there is room."""
    s = drawing.scale
    for length in kitchen.lengths:
        plan = length.part.pose.plan_to_room(length.part.outline)
        before = _before(length.part.pose, length.part.length / 2, length.run.stock.depth + 6.0 * s)
        _name(drawing, length.id, 3.5, plan, before, bold=True)
    for join in kitchen.joins:
        x, y = join.line.interpolate(0.5, normalized=True).coords[0]
        drawing.write([join.id], 2.5, lattice((x - 400, y - 400, x + 400, y + 400), 2.0 * s, (x, y)), bold=True)
    for cutout in kitchen.cutouts:
        _name(drawing, cutout.name, 2.0, cutout.line_in_room, _before(cutout.frame, 0.0, 400.0 + 5.0 * s))
    for run in kitchen.runs:
        for unit in run.units:
            before = _before(unit.frame, unit.width / 2, run.stock.depth + 5.0 * s)
            _name(drawing, unit.name, 2.0, footprint(unit), before)


def _name(drawing: Drawing, words: str, height: float, plan: Polygon, front: Point, bold: bool = False) -> None:
    """Inside the plan where there is room; else beside it near ``front``, with a leader."""
    s, middle = drawing.scale, (plan.centroid.x, plan.centroid.y)
    inside = lattice(plan.bounds, 1.5 * s, middle)
    for h in (height, 0.85 * height):
        if drawing.write([words], h, inside, plan, bold):
            return
    (x, y), reach = front, 14.0 * s
    drawing.point_out(words, 0.85 * height, lattice((x - reach, y - reach, x + reach, y + reach), s, front), middle)


def _before(frame: Pose, x: float, out: float) -> Point:
    """A place in the room before something that stands in a frame, ``out`` mm from its back."""
    px, py, _ = frame.to_room((x, out, 0.0))
    return (px, py)


def _corners(polygon: Polygon) -> tuple[Point, ...]:
    return tuple(plan_points(polygon.exterior)[:-1])


def rows(kitchen: Kitchen) -> list[tuple[str, str, str]]:
    """Name, what it is, and its size, for every length, join, upstand and unit."""
    tops = [(t.id, t.run.stock.name, f"{mm(t.part.length)} x {mm(t.run.stock.depth)}") for t in kitchen.lengths]
    joins = [row for j in kitchen.joins for row in _of_join(kitchen, j)]
    units = [row for u in kitchen.units for row in ((u.name, u.family.name, mm(u.width)), *_ducts(kitchen, u))]
    stood = [
        (u.part.mark, f"{u.stock.name}, wall {u.wall.name}", f"{mm(u.part.length)} x {mm(u.part.depth)}")
        for u in upstands(kitchen)
    ]
    let_in = [
        (p.mark, "top in a reveal, scribed on site", f"{mm(p.length)} x {mm(p.depth)}")
        for p in _in_reveals(kitchen)
    ]
    return [*tops, *joins, *let_in, *stood, *units, *fixtures.rows(kitchen)]


def _in_reveals(kitchen: Kitchen) -> list[Part]:
    """The pieces of worktop in the reveals of windows."""
    return [part for part in kitchen.parts if part.role is Role.REVEAL]


def _ducts(kitchen: Kitchen, unit: PlacedUnit) -> Iterator[tuple[str, str, str]]:
    """The duct of a unit, if it has one: what it is, and how long."""
    document = kitchen.document
    rows = (row.units for rows in (document.runs, document.islands, document.peninsulas) for row in rows)
    for duct in (u.duct for units in rows for u in units if u.key == unit.key and u.duct):
        if duct.ends == "room":
            yield ("", "its filter cleans the air and gives it back", "no duct")
            continue
        bends = "".join(f", {angle:g}°" for angle in duct.bends)
        hose = "hose" if duct.flexible else "pipe"
        air = f", {duct.airflow:g} m³/h" if duct.airflow else ""
        yield ("", f"its duct: {hose} of {mm(duct.diameter)}{bends}, out at the {duct.ends}{air}", mm(duct.length))


def _of_join(kitchen: Kitchen, join: Join) -> Iterator[tuple[str, str, str]]:
    """What it is; where it is in a corner, what a tape reads from that."""
    yield (join.id, f"{join.kind}: {join.female} female, {join.male} male", _corner(join))
    found = set_out_of(kitchen, join)
    if found is not None:
        ends = "in the corner" if found.in_corner else mm(found.joint_end)
        yield ("", f"meets wall {found.male.name}, from corner {join.corner}", ends)
        along = f"{mm(found.along(found.female))} along {found.female.name}, {mm(found.out(found.female))} out"
        yield ("", f"front edges meet (circle), from corner {join.corner}", along)


def _corner(join: Join) -> str:
    return "square" if join.kind == "in line" else degrees(join.angle)


def _table(kitchen: Kitchen) -> list[Mark]:
    x, top = TABLE
    listed = rows(kitchen)
    pitch = min(5.0, (top - 46.0) / (len(listed) + 1))
    height, right = min(2.0, pitch * 0.6), A3[0] - MARGIN - 3.0
    found: list[Mark] = [
        Text((x, top), "name", height, bold=True),
        Text((x + 14.0, top), "what it is", height, bold=True),
        Text((right, top), "size, mm", height, "right", bold=True),
    ]
    for i, (name, what, size) in enumerate(listed, 1):
        y = top - i * pitch
        most = math.floor((right - x - 16.0) / (height * 0.826)) - len(size)
        found += [
            *([Text((x, y), name, height, bold=True)] if name else []),
            Text((x + 14.0, y), what[:most], height),
            Text((right, y), size, height, "right"),
            Line((x, y - pitch * 0.3), (right, y - pitch * 0.3), Stroke.TABLE),
        ]
    return found
