"""Corner set-out: where a join lies in its corner, by what a tape reads from the walls before the tops are laid."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from shapely import LineString, MultiPoint, Polygon
from shapely import box as rectangle
from shapely.geometry import Point as Spot

from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import SurveyedWall
from countersunk.model.tops.joins import Join
from countersunk.viewer.drawing.joint import DrawnJoin, edges_of
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.paper import fitting_scale
from countersunk.viewer.drawing.shapes import Box, Circle, Mark, Path, Point, Span, Text, View
from countersunk.viewer.drawing.strokes import Stroke

SCALES = (20.0, 25.0, 50.0)

AROUND = 13.0
"""Room for numbers round what is shown, mm on paper."""

AT_CORNER = 0.05
"""A joint that ends no further than this from the corner ends in it, mm."""

CUT_OUTS = (Stroke.LINE_TO_CUT, Stroke.LINE_TO_CUT_HEAT)

ON = 130.0
"""How far walls and tops are shown past the join, mm."""


@dataclass(frozen=True)
class CornerSetOut:
    """A join in a corner, in the room's plan (mm), seen from the female's wall and from the male's.

    ``front`` is where the two front edges meet and ``end`` where the joint meets the male's wall.
    """

    female: SurveyedWall
    male: SurveyedWall
    corner: Point
    front: Point
    end: Point

    def foot(self, wall: SurveyedWall) -> Point:
        """The place on a wall that is square behind the meeting of the front edges."""
        x, _, _ = wall.frame.from_room((*self.front, 0.0))
        px, py, _ = wall.frame.to_room((x, 0.0, 0.0))
        return (px, py)

    def along(self, wall: SurveyedWall) -> float:
        """From the corner along a wall to that place."""
        return self._from_corner(self.foot(wall))

    def out(self, wall: SurveyedWall) -> float:
        """From a wall out to the meeting of the front edges."""
        return wall.frame.from_room((*self.front, 0.0))[1]

    @property
    def diagonal(self) -> float:
        """From the corner to the meeting of the front edges."""
        return self._from_corner(self.front)

    @property
    def joint_end(self) -> float:
        """From the corner along the male's wall to the end of the joint."""
        return self._from_corner(self.end)

    @property
    def in_corner(self) -> bool:
        """Whether the joint ends in the corner itself, as a full mitre does."""
        return self.joint_end <= AT_CORNER

    def _from_corner(self, place: Point) -> float:
        return float(Spot(self.corner).distance(Spot(place)))


def set_out_of(kitchen: Kitchen, join: Join) -> CornerSetOut | None:
    """Where a join lies in its corner; None where it is in none."""
    if not join.corner:
        return None
    walls = [kitchen.length(id_).run.wall for id_ in (join.female, join.male)]
    female, male = (kitchen.survey.wall(name) for name in walls if name)
    left = next(w for w in (female, male) if w.name == join.corner.split("-")[0])
    line = plan_points(join.line)
    return CornerSetOut(female, male, left.end, line[0], line[-1])


def set_out_in_words(found: CornerSetOut) -> list[str]:
    """The same as the drawing, and what is to be checked by it."""
    female, male = found.female, found.male
    out = mm(found.out(female))
    return [
        f"Front edges meet {out} out from both walls, square behind it {mm(found.along(female))} from the corner "
        f"along wall {female.name} and {mm(found.along(male))} along wall {male.name}; {mm(found.diagonal)} "
        "straight from the corner.",
        "The joint runs into the corner itself."
        if found.in_corner
        else f"The joint meets wall {male.name} {mm(found.joint_end)} from the corner.",
        "Mark it on walls and units at the height of the top. If the marks do not meet, measure the corner again."
        + (" Measure from a straight line between the wall's ends: it is bowed." if _bowed(found) else ""),
    ]


def along_wall(kitchen: Kitchen, join: Join) -> Iterator[str]:
    """Where a join that is in no corner lies along the wall of its female; nothing where that stands on none."""
    name = kitchen.length(join.female).run.wall
    if name is None:
        return
    wall = kitchen.survey.wall(name)
    from_left = sorted({round(wall.frame.from_room((x, y, 0.0))[0], 2) for x, y in plan_points(join.line)})
    said = " and ".join(f"{mm(x)} from its left end, {mm(wall.length - x)} from its right" for x in from_left)
    what = "The seam lies" if join.kind == "in line" else "The sides of the peninsula's top lie"
    yield f"{what} along wall {name} {said}."


def _bowed(found: CornerSetOut) -> bool:
    return bool(found.female.stations or found.male.stations)


def set_out_view(drawn: DrawnJoin, found: CornerSetOut, window: Box) -> View:
    """The corner from above, the female's wall above, with the distances from its walls."""
    together = replace(drawn, apart=0.0, level=False)

    def see(*points: Point) -> list[Point]:
        line = together.female.part.pose.plan_from_room(LineString(points))
        return plan_points(together.see(line, together.female))

    corner, front, end, foot = see(found.corner, found.front, found.end, found.foot(found.female))
    x0, y0, x1, y1 = MultiPoint([corner, front, end, foot]).buffer(ON).bounds
    shown = rectangle(x0, y0, x1, y1)
    wx0, wy0, wx1, wy1 = window
    room = (wx1 - wx0 - 2 * AROUND, wy1 - wy0 - 2 * AROUND)
    scale = fitting_scale((x1 - x0, y1 - y0), room, SCALES)
    origin = ((wx0 + wx1) / 2 - (x0 + x1) / 2 / scale, (wy0 + wy1) / 2 - (y0 + y1) / 2 / scale)
    walls = [see((w.start[0], w.start[1]), (w.end[0], w.end[1])) for w in (found.female, found.male)]
    marks: list[Mark] = [
        *(Path(tuple(line), Stroke.ROOM) for wall in walls for line in _within(wall, shown)),
        *(e for length in (together.female, together.male) for e in edges_of(together, length, shown)
          if e.stroke not in CUT_OUTS),
        *_spans(corner, front, end, foot, scale),
        Circle(front, 1.0 * scale, Stroke.DATUM), Circle(end, 1.0 * scale, Stroke.DATUM),
        *(_name(wall, corner, f"wall {w.name}", shown, scale)
          for wall, w in zip(walls, (found.female, found.male), strict=True)),
    ]  # fmt: skip
    return View(f"{drawn.join.id} in its corner", scale, origin, window, tuple(marks))


def _within(points: list[Point], shown: Polygon) -> list[list[Point]]:
    kept = LineString(points).intersection(shown)
    return [plan_points(kept)] if isinstance(kept, LineString) and not kept.is_empty else []


def _spans(corner: Point, front: Point, end: Point, foot: Point, scale: float) -> list[Mark]:
    """Along both walls outside them, and straight from the corner to the meeting of the front edges."""
    along = [place for place in (foot, end) if math.dist(corner, place) > AT_CORNER]
    spans: list[Mark] = [
        Span(corner, place, _outwards(corner, place, front) * 4.0 * scale, height=2.0) for place in along
    ]
    return [*spans, Span(corner, front, 0.0, height=2.0)]


def _outwards(a: Point, b: Point, inside: Point) -> float:
    """The side of a → b on which ``inside`` does not lie: 1 to the left, -1 to the right."""
    cross = (b[0] - a[0]) * (inside[1] - a[1]) - (b[1] - a[1]) * (inside[0] - a[0])
    return -1.0 if cross > 0.0 else 1.0


def _name(wall: list[Point], corner: Point, words: str, shown: Polygon, scale: float) -> Text:
    """The wall's name where it goes on."""
    far = max((p for line in _within(wall, shown) for p in line), key=lambda p: Spot(p).distance(Spot(corner)))
    dx, dy = far[0] - corner[0], far[1] - corner[1]
    share = 1.0 + 3.0 * scale / max(1.0, math.hypot(dx, dy))
    x, y = corner[0] + dx * share, corner[1] + dy * share
    if abs(dy) > abs(dx):
        return Text((x, y - 2.5 * scale), words, 2.0, "middle")
    return Text((x, y - 0.7 * scale), words, 2.0, "left" if dx > 0 else "right")
