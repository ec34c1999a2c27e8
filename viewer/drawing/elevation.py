"""Elevation: a wall as one faces it, with the units, fronts, tops and appliances that stand before it.

Wall frame: x to the right from the wall's left-hand end, y up from the floor.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from shapely import box as rectangle
from shapely.affinity import translate

from countersunk.model.document.schema import Opening
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.survey import SurveyedWall
from countersunk.model.ties import settled
from countersunk.model.tolerance import EQUAL
from countersunk.viewer.drawing import fixtures
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.ordinates import Feature, below
from countersunk.viewer.drawing.paper import MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Box, Ordinate, Path, Point, Sheet, View
from countersunk.viewer.drawing.spacing import lattice, spread
from countersunk.viewer.drawing.splashback_sheets import outlines
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.tracing import Drawing
from countersunk.viewer.drawing.upstand import DrawnUpstand, upstands

WINDOW: Box = (MARGIN, 42.0, A3[0] - MARGIN, 268.0)
SIDES, UNDER = 24.0, 32.0
"""Room for heights beside, and for widths below, mm on paper."""

OPEN_ROLES = (Role.RACK, Role.POST, Role.LIFT, Role.PLATE_RACK, Role.LIGHT, Role.DRIVER, Role.HANGER)
"""What is seen of units besides fronts and appliances."""


def elevation_sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """A sheet for every wall with units, services or what stands before it, for all that stands free, and for each
    row that hangs from the ceiling.
    """
    for wall in kitchen.survey.walls:
        runs = [run for run in kitchen.runs if run.wall == wall.name]
        if runs or any(True for _ in fixtures.places_on(kitchen, wall)):
            yield _sheet(kitchen, f"wall {wall.name}", wall.frame, wall.length, kitchen.survey.height, runs, wall)
    for run in kitchen.runs:
        if run.free:
            width, top = run.units[-1].right, max(u.family.top for u in run.units) + run.stock.thickness
            yield _sheet(kitchen, f"{run.free} {run.name}", run.frame, width, top, [run], None)
        elif run.hangs:
            name, width = f"row {run.units[0].name} from the ceiling", run.units[-1].right
            yield _sheet(kitchen, name, run.frame, width, kitchen.survey.height, [run], None)


def _sheet(
    kitchen: Kitchen, name: str, frame: Pose, width: float, height: float, runs: list[PlacedRun],
    wall: SurveyedWall | None,
) -> Sheet:  # fmt: skip
    x0, y0, x1, y1 = WINDOW
    room = (x1 - x0 - 2 * SIDES, y1 - y0 - UNDER - 6.0)
    scale = fitting_scale((width, height), room, (10.0, 20.0, 25.0, 50.0))
    drawing = Drawing(scale)
    places, heights, stood = [0.0], [0.0], list[DrawnUpstand]()
    if wall is None:
        heights.append(height)
    else:
        drawing.draw(_room(kitchen, wall), *_openings(kitchen, wall))
        fixtures.draw_in_elevation(drawing, kitchen, wall)
        stood = [u for u in upstands(kitchen) if u.wall.name == wall.name]
        drawing.draw(*(path for u in stood for path in _upstand(u)))
        covers = [s for s in kitchen.splashbacks if s.wall.name == wall.name]
        drawing.draw(*(path for s in covers for path in outlines(s)))
        heights += [u.part.pose.origin[2] + u.part.depth for u in stood]
        places += fixtures.places_on(kitchen, wall)
        heights += fixtures.heights_on(kitchen, wall)
    drawing.draw(
        *_parts(kitchen, frame, runs), *_widths(places, runs, scale), *_heights(heights, runs, width, scale)
    )
    _write_names(drawing, kitchen, frame, runs)
    _write_upstands(drawing, stood)
    if wall is not None:
        fixtures.name_in_elevation(drawing, kitchen, wall)
    for o in kitchen.survey.openings:
        if wall is not None and o.wall == wall.name:
            place = rectangle(*_opening_box(o))
            spots = lattice(place.bounds, 2.0 * scale, (place.centroid.x, place.centroid.y))
            drawing.write([f"{o.kind}", f"{mm(o.width)} x {mm(o.head - o.sill)}"], 2.0, spots, place)
    origin = ((x0 + x1) / 2 - width / 2 / scale, y0 + UNDER + (room[1] - height / scale) / 2)
    below_words = "As one faces it. Widths run from the left-hand end along the floor, heights from the floor."
    view = View(name, scale, origin, WINDOW, tuple(drawing.marks))
    file = f"elevation-{name.split()[1]}"
    return sheet(kitchen, file, f"Elevation, {name}", heading(f"ELEVATION, {name}", below_words), [view])


def _room(kitchen: Kitchen, wall: SurveyedWall) -> Path:
    """The wall below its ceiling."""
    return Path(tuple(plan_points(kitchen.survey.face(wall).exterior)[:-1]), Stroke.ROOM, closed=True)


def _openings(kitchen: Kitchen, wall: SurveyedWall) -> Iterator[Path]:
    for o in kitchen.survey.openings:
        if o.wall == wall.name:
            yield Path(_rectangle(_opening_box(o)), Stroke.HIDDEN, closed=True)


def _opening_box(o: Opening) -> Box:
    return (o.at, o.sill, o.at + o.width, o.head)


def seen_box(part: Part, frame: Pose) -> Box:
    """What a part covers as one faces the wall: left, bottom, right, top, mm."""
    x0, y0, x1, y1 = part.outline.bounds
    corners = [(x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (0.0, part.thickness)]
    seen = [frame.from_room(part.pose.to_room(c)) for c in corners]
    xs, zs = [p[0] for p in seen], [p[2] for p in seen]
    return (min(xs), min(zs), max(xs), max(zs))


def _seen(part: Part, frame: Pose) -> tuple[Point, ...]:
    """A part as one faces the wall: its outline where that looks out, as of a round door, else the box round it."""
    corners = plan_points(part.outline.exterior)[:-1]
    out = sum(a * b for a, b in zip(part.pose.z, frame.y, strict=True))
    if len(corners) == 4 or abs(abs(out) - 1.0) > EQUAL:
        return _rectangle(seen_box(part, frame))
    seen = [frame.from_room(part.pose.to_room((x, y, 0.0))) for x, y in corners]
    return tuple((x, z) for x, _, z in seen)


def _parts(kitchen: Kitchen, frame: Pose, runs: list[PlacedRun]) -> Iterator[Path]:
    """Carcasses thin, fronts and appliances on them, tops thick."""
    keys = set(_owners(kitchen, frame, runs))
    for run in runs:
        for unit in run.units:
            yield Path(_rectangle(_unit_box(unit)), Stroke.UNIT, closed=True)
    for part in kitchen.parts:
        if part.owner in keys and (part.layer in (Layer.FRONTS, Layer.APPLIANCES) or part.role in OPEN_ROLES):
            yield Path(_seen(part, frame), Stroke.UNIT, closed=True)
    for length in kitchen.lengths:
        if length.run in runs:
            down = (p for p in kitchen.parts_of[length.key] if p.role is Role.WATERFALL)
            for part in (length.part, *down):
                yield Path(_rectangle(seen_box(part, frame)), Stroke.OUTLINE, closed=True)


def _owners(kitchen: Kitchen, frame: Pose, runs: list[PlacedRun]) -> Iterator[str]:
    """Keys of the units of these runs, and of a corner unit whose wing stands at the same wall."""
    yield from (unit.key for run in runs for unit in run.units)
    for unit in (u for u in kitchen.units if u.wing and any(run.wall for run in runs)):
        _, near, _, _ = frame.plan_from_room(unit.frame.plan_to_room(unit.outline)).bounds
        if abs(near) < unit.face:
            yield unit.key


def _upstand(piece: DrawnUpstand) -> Iterator[Path]:
    """A piece of upstand with its holes, on the wall."""
    up = piece.part.pose.origin[2]
    outline = translate(piece.part.outline, piece.start, up)
    for ring in (outline.exterior, *outline.interiors):
        yield Path(tuple(plan_points(ring)[:-1]), Stroke.OUTLINE, closed=True)


def _write_upstands(drawing: Drawing, pieces: Iterable[DrawnUpstand]) -> None:
    """The name of each piece, in it or above it."""
    s = drawing.scale
    for piece in pieces:
        low = piece.part.pose.origin[2]
        x, high = (piece.start + piece.end) / 2, low + piece.part.depth
        above = lattice((piece.start, low, piece.end, high + 8.0 * s), s, (x, (low + high) / 2))
        drawing.write([piece.part.mark], 2.2, above)


def _unit_box(unit: PlacedUnit) -> Box:
    return (unit.x, unit.family.base, unit.right, unit.family.top)


def _rectangle(box: Box) -> tuple[tuple[float, float], ...]:
    x0, y0, x1, y1 = box
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def _widths(places: list[float], runs: list[PlacedRun], scale: float) -> list[Ordinate]:
    """Both sides of every unit, and what else is set out along the floor, from the left-hand end."""
    sides = [x for run in runs for unit in run.units for x in (unit.x, unit.right)]
    return below([Feature((x, 0.0)) for x in (*places, *sides)], scale)


def _heights(heights: list[float], runs: list[PlacedRun], width: float, scale: float) -> list[Ordinate]:
    """Undersides and tops of units, the top's face, and what else has a height."""
    tops = {u.family.top + run.stock.thickness for run in runs for u in run.units if u.family.carries_top}
    units = (z for r in runs for u in r.units for z in (u.family.base, u.family.top))
    found = sorted({round(settled(z), 1) for z in (*heights, *tops, *units)})
    places = spread(found, 3.0 * scale)
    x = width + 8.0 * scale
    return [Ordinate("y", (width, z), (x, at)) for z, at in zip(found, places, strict=True)]


def _write_names(drawing: Drawing, kitchen: Kitchen, frame: Pose, runs: Iterable[PlacedRun]) -> None:
    """The name and width of each unit, in it or above it; lengths above their tops."""
    s = drawing.scale
    for length in kitchen.lengths:
        if length.run in runs:
            x0, _, x1, top = seen_box(length.part, frame)
            at = ((x0 + x1) / 2, top + 3.3 * s)
            drawing.write([length.id], 2.5, lattice((x0, top + 3.0 * s, x1, top + 12.0 * s), s, at))
    for run in runs:
        for unit in run.units:
            _write_unit(drawing, unit)


def _write_unit(drawing: Drawing, unit: PlacedUnit) -> None:
    x0, y0, x1, y1 = _unit_box(unit)
    whole, middle = rectangle(x0, y0, x1, y1), ((x0 + x1) / 2, (y0 + y1) / 2)
    spots = lattice(whole.bounds, 1.5 * drawing.scale, middle)
    if any(drawing.write(words, 2.0, spots, whole) for words in ([unit.name, mm(unit.width)], [unit.name])):
        return
    s = drawing.scale
    above = lattice((x0 - 200, y0, x1 + 200, y1 + 600), s, (middle[0], y1 + 6.0 * s))
    drawing.point_out(unit.name, 1.8, above, (middle[0], y1 - 2.0 * s))
