"""Joint: the two lengths of a join pulled apart, seen from above, and the shoulder larger.

Drawn as one stands in front of the female: its back above, its joint level; a join in line a quarter turned, so
that the joint is level again, and a full mitre turned until it is. (0, 0) is where the joint's straight side begins
at the front; all slots are measured from there on both halves.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.affinity import affine_transform, rotate, translate

from countersunk.model.geometry.profile import lines_of as lines_in
from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.joins import Join
from countersunk.model.tops.slots import slots_of
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.jig import ROUGH, face_up, is_routed
from countersunk.viewer.drawing.lettering import degrees, mm
from countersunk.viewer.drawing.ordinates import BISCUIT, BOLT, PITCH
from countersunk.viewer.drawing.setout import Face, Shape, place_of, sex_of
from countersunk.viewer.drawing.shapes import Across, Arc, Box, Line, Mark, Ordinate, Path, Point, Span, Text, View
from countersunk.viewer.drawing.spacing import lattice, spread
from countersunk.viewer.drawing.strokes import EDGES, Stroke
from countersunk.viewer.drawing.tracing import Drawing

APART = 27.0
"""How far the male is pulled from the female so that one row of numbers stands between them, mm on paper."""

SHOWN = 330.0
"""How much of each length is shown behind the joint, mm."""

BEYOND = 220.0
"""How much of each length is shown beyond the ends of the joint, mm."""


@dataclass(frozen=True)
class DrawnJoin:
    """A join with its two lengths, in the frame that it is drawn in; ``level`` turns a full mitre to lie level."""

    join: Join
    female: Length
    male: Length
    apart: float
    level: bool = True

    @property
    def start(self) -> Point:
        """Where the straight side begins at the front, in the female's part frame."""
        line = self.female.part.pose.plan_from_room(self.join.line)
        x, y = plan_points(line)[-2]
        return (x, y)

    def see(self, shape: Shape, length: Length) -> Shape:
        """A shape of a length's part frame as it is drawn, the male pulled away."""
        at_home = self.female.part.pose.plan_from_room(length.part.pose.plan_to_room(shape))
        x, y = self.start
        turned = [0.0, -1.0, -1.0, 0.0, y, x] if self.join.kind == "in line" else [1.0, 0.0, 0.0, -1.0, -x, y]
        seen = rotate(affine_transform(at_home, turned), -self._slant, origin=(0.0, 0.0))
        return seen if length is self.female else translate(seen, 0.0, -self.apart)

    @property
    def _slant(self) -> float:
        """By how much a full mitre rises from left to right as the female lies, degrees."""
        if self.join.kind != "full mitre" or not self.level:
            return 0.0
        (x0, y0), (x1, y1) = plan_points(self.female.part.pose.plan_from_room(self.join.line))
        return math.degrees(math.atan((y0 - y1) / (x1 - x0)))

    def side(self, length: Length) -> LineString:
        """The straight side of the joint as it is drawn, from the front."""
        line = self.join.line if length is self.female else self.join.male_line
        seen = self.see(length.part.pose.plan_from_room(line), length)
        return LineString(list(seen.coords)[-2:])

    @property
    def shown(self) -> Polygon:
        """The part of the plan that is drawn."""
        x0, y0, x1, y1 = self.side(self.female).union(self.side(self.male)).bounds
        return rectangle(x0 - BEYOND, y0 - SHOWN, x1 + BEYOND, y1 + SHOWN)


def corner_of(kitchen: Kitchen, join: Join, scale: float = 1.0) -> DrawnJoin:
    """The join with its lengths, pulled apart as far as a drawing at ``scale`` wants."""
    return DrawnJoin(join, kitchen.length(join.female), kitchen.length(join.male), APART * scale)


def joint_view(corner: DrawnJoin, scale: float, origin: Point, window: Box) -> View:
    """Both halves with their slots, measured along the joint."""
    drawing = Drawing(scale)
    for length in (corner.female, corner.male):
        drawing.draw(*edges_of(corner, length, corner.shown), *_slots(corner, length), *_breaks(corner, length))
    if is_routed(corner.join):
        drawing.draw(*(mark for length in (corner.female, corner.male) for mark in _cutter(corner, length, scale)))
    numbers = stations(corner, scale)
    drawing.draw(*numbers, *_to_male(corner, numbers, scale))
    for length in (corner.female, corner.male):
        _write_half(drawing, corner, length)
    return View(f"{corner.join.id} apart", scale, origin, window, tuple(drawing.marks))


def stations(corner: DrawnJoin, scale: float) -> list[Ordinate]:
    """Every slot from the front end of the straight side, written once between the halves, which share it."""
    side = corner.side(corner.female)
    (ax, ay), _ = side.coords
    spots = [side.interpolate(s) for s in corner.join.stations]
    places = spread([p.x for p in spots], PITCH * scale)
    return [
        Ordinate("x", (p.x, p.y), (x, ay - 7.0 * scale), (ax, ay), BISCUIT if i % 2 == 0 else BOLT)
        for i, (p, x) in enumerate(zip(spots, places, strict=True))
    ]


def _to_male(corner: DrawnJoin, numbers: list[Ordinate], scale: float) -> list[Line]:
    """Lines from the numbers on to the slots of the male."""
    side = corner.side(corner.male)
    spots = [side.interpolate(s) for s in corner.join.stations]
    return [
        Line((n.label[0], p.y + 5.0 * scale), (p.x, p.y), Stroke.DIMENSION)
        for n, p in zip(numbers, spots, strict=True)
    ]


def edges_of(corner: DrawnJoin, length: Length, shown: Polygon) -> list[Path]:
    """The edges of the length as far as they are shown."""
    found = []
    for edge in length.part.edges:
        seen = corner.see(edge.path, length).intersection(shown)
        for line in getattr(seen, "geoms", [seen]):
            if isinstance(line, LineString) and not line.is_empty:
                found.append(Path(tuple(plan_points(line)), EDGES[edge.condition]))
    return found


def _cutter(corner: DrawnJoin, length: Length, scale: float) -> Iterator[Mark]:
    """Where the cutter enters and which way it is fed, in the waste beside the front end of the joint."""
    line = corner.join.line if length is corner.female else corner.join.male_line
    x, y = corner.see(length.part.pose.plan_from_room(line), length).coords[0]
    way = 1.0 if corner.side(length).coords[1][0] > corner.side(length).coords[0][0] else -1.0
    level = y + (-4.0 if length is corner.female else 4.0) * scale
    tail, tip = x - way * 9.0 * scale, x + way * 3.0 * scale
    head = tip - way * 2.5 * scale
    across: Across = "right" if way > 0 else "left"
    yield Line((tail, level), (tip, level), Stroke.TEXT)
    yield Path(((tip, level), (head, level + 0.8 * scale), (head, level - 0.8 * scale)), Stroke.TEXT, True, "ink")
    yield Text((tail - way * 1.5 * scale, level - 0.9 * scale), "cutter", 2.0, across)


def _breaks(corner: DrawnJoin, length: Length) -> list[Path]:
    """Thin lines where the length goes on."""
    body = corner.see(length.part.outline, length)
    cut = corner.shown.exterior.intersection(body)
    lines = [line for line in getattr(cut, "geoms", [cut]) if isinstance(line, LineString) and line.length > 1.0]
    return [Path(tuple(plan_points(line)), Stroke.BLANK) for line in lines]


def _slots(corner: DrawnJoin, length: Length) -> list[Path]:
    return [
        Path(tuple(plan_points(corner.see(mark.outline, length).exterior)[:-1]), Stroke.SLOT, closed=True)
        for mark in slots_of(corner.join, length)
    ]


def _write_half(drawing: Drawing, corner: DrawnJoin, length: Length) -> None:
    """Which half it is, inside it, away from the slots."""
    body = corner.see(length.part.outline, length).intersection(corner.shown)
    whole = body if isinstance(body, Polygon) else corner.shown
    x0, y0, x1, y1 = whole.bounds
    far = y1 if length is corner.female else y0
    spots = lattice(whole.bounds, 3.0 * drawing.scale, ((x0 + x1) / 2, far))
    sex, place = sex_of(length, corner.join).upper(), place_of(length, corner.join)
    anywhere = lattice(corner.shown.bounds, 3.0 * drawing.scale, ((x0 + x1) / 2, far))
    title = [f"{length.id}  {sex}, {place}"]
    drawing.write(title, 3.0, spots, whole) or drawing.write(title, 3.0, anywhere)
    drawing.write([f"on {length.run.name}, drawn decor up"], 2.0, spots, whole)
    if is_routed(corner.join):
        up = "decor up" if face_up(length, corner.join) is Face.TOP else "UNDERSIDE UP"
        drawing.write([f"routed {up}"], 2.4, spots, whole, bold=True)


def shoulder_view(corner: DrawnJoin, scale: float, origin: Point, window: Box) -> View:
    """The shoulder of the female's mitre, larger: notch, shoulder, and what they take of the front edge."""
    join, notch = corner.join, corner.join.notch
    line = corner.see(corner.female.part.pose.plan_from_room(join.line), corner.female)
    (px, py), (qx, qy) = list(line.coords)[:2]
    way = 1.0 if px < qx else -1.0
    front, side = 18.0 * scale, 34.0 * scale
    ahead: Across
    behind: Across
    ahead, behind = ("left", "right") if way > 0 else ("right", "left")
    long = mm(notch / math.sin(math.radians(join.shoulder_angle)))
    start = 180.0 - join.shoulder_angle if way < 0 else 0.0
    rough = LineString([(px, py), (qx, qy), (qx + way * side, qy)]).offset_curve(-way * ROUGH, join_style="mitre")
    marks: tuple[Mark, ...] = (
        Path(((px - way * front, py), (px, py)), Stroke.FACTORY),
        *(Path(tuple(plan_points(line)), Stroke.BLANK) for line in lines_in(rough)),
        Path(((px, py), (qx, qy), (qx + way * side, qy)), Stroke.JOINT_FEMALE),
        Path(((px, py), (qx + way * side, py)), Stroke.CENTRE),
        Span((qx + way * side * 0.8, py), (qx + way * side * 0.8, qy), -way * 9.0 * scale),
        Span((min(px, qx), py - 2.0 * scale), (max(px, qx), py - 2.0 * scale), -7.0 * scale),
        Arc((px, py), 9.0 * scale, start, start + join.shoulder_angle, Stroke.DIMENSION),
        Text((px - way * 3.0 * scale, py + 3.0 * scale), degrees(join.shoulder_angle), 2.2, behind),
        Line((qx, qy), (qx, qy + 4.0 * scale), Stroke.DIMENSION),
        Text((qx, qy + 5.0 * scale), "slots from here", 2.0, ahead),
        Text((px, py - 15.0 * scale), f"shoulder {long} long; rough cut {mm(ROUGH)} off, in the waste", 2.0, ahead),
    )  # fmt: skip
    return View(f"{join.id} shoulder", scale, origin, window, marks)
