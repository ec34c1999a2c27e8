"""Edges: the boundary of a part, split where its condition changes.

No condition is typed by anybody: a stretch of boundary takes the condition of the line on which it lies.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from shapely import LineString, Point, Polygon
from shapely.geometry.polygon import orient

from countersunk.model.errors import SolidError
from countersunk.model.geometry.frames import Point as PlanPoint
from countersunk.model.geometry.part import Edge, EdgeCondition, Part
from countersunk.model.geometry.profile import plan_points
from countersunk.model.ties import least
from countersunk.model.tolerance import ON_LINE

Lines = list[tuple[LineString, EdgeCondition]]
Segment = tuple[PlanPoint, PlanPoint]

JOINTS = (EdgeCondition.JOINT_FEMALE, EdgeCondition.JOINT_MALE)
CUT_OUTS = (EdgeCondition.CUTOUT, EdgeCondition.CUTOUT_HEAT)


@dataclass
class _Path:
    """Segments one after the other that lie on the line numbered ``line``, which gives their condition."""

    line: int
    condition: EdgeCondition
    segments: list[Segment]

    def goes_on(self, other: _Path) -> bool:
        """Whether ``other``, which follows, is the same edge: on the same line, or straight on in one condition."""
        same = self.condition == other.condition
        return same and (self.line == other.line or _straight(self.segments[-1], other.segments[0]))

    @property
    def line_string(self) -> LineString:
        return LineString([self.segments[0][0], *(end for _, end in self.segments)])


def boundary(part: Part, lines: Lines) -> tuple[Edge, ...]:
    """The outer boundary of ``part`` as edges, each with the condition of the first line that it lies on.

    ``lines`` are in the part's frame. What lies on one line is one edge, bent or not, such as a mitre with its
    shoulder or an end with a round corner. The edges run anticlockwise in the part's frame and are numbered from
    its left back corner. Raises SolidError for a stretch that lies on no line, since then its condition is unknown.
    """
    marks = [point for line, _ in lines for point in plan_points(line)]
    paths: list[_Path] = []
    for segment in _segments(part.outline, marks):
        line = _line(part.mark, segment, lines)
        path = _Path(line, lines[line][1], [segment])
        if paths and paths[-1].goes_on(path):
            paths[-1].segments.append(segment)
        else:
            paths.append(path)
    if len(paths) > 1 and paths[-1].goes_on(paths[0]):  # the ring began in the middle of an edge
        paths[0].segments[:0] = paths.pop().segments
    return tuple(
        Edge(f"{part.id}.e{i}", f"{part.mark}.e{i}", path.condition, path.line_string)
        for i, path in enumerate(paths, start=1)
    )


def ring(key: str, mark: str, polygon: Polygon, condition: EdgeCondition) -> Edge:
    """The closed boundary of a cut-out, with its key and its mark, as one edge."""
    return Edge(f"{key}.edge", f"{mark}.edge", condition, LineString(orient(polygon, -1.0).exterior.coords))


def _segments(outline: Polygon, marks: list[PlanPoint]) -> list[Segment]:
    """The outline's segments, anticlockwise from its left back corner, parted at ``marks``."""
    points = plan_points(orient(outline).exterior)[:-1]
    first = least(range(len(points)), key=lambda i: (points[i][0] + points[i][1], points[i][0]))
    turned = points[first:] + points[:first]
    corners = [p for a, b in pairwise([*turned, turned[0]]) for p in (a, *_between(a, b, marks))]
    return [(a, b) for a, b in pairwise([*corners, corners[0]]) if Point(a).distance(Point(b)) > ON_LINE]


def _between(a: PlanPoint, b: PlanPoint, marks: list[PlanPoint]) -> list[PlanPoint]:
    """The marks that lie on the segment, clear of its ends, in order."""
    dx, dy, length = b[0] - a[0], b[1] - a[1], math.dist(a, b)
    if length <= ON_LINE:
        return []
    along = {m: ((m[0] - a[0]) * dx + (m[1] - a[1]) * dy) / length for m in marks}
    off = {m: abs((m[0] - a[0]) * dy - (m[1] - a[1]) * dx) / length for m in marks}
    on = [m for m, x in along.items() if off[m] < ON_LINE and ON_LINE < x < length - ON_LINE]
    return sorted(on, key=along.__getitem__)


def _line(mark: str, segment: Segment, lines: Lines) -> int:
    """The number of the first line that the segment lies on."""
    for i, (line, _) in enumerate(lines):
        if all(line.distance(Point(p)) < ON_LINE for p in segment):
            return i
    raise SolidError(f"{mark}: the boundary from {segment[0]} to {segment[1]} meets nothing that is known")


def _straight(a: Segment, b: Segment) -> bool:
    (ax, ay), (bx, by) = (a[1][0] - a[0][0], a[1][1] - a[0][1]), (b[1][0] - b[0][0], b[1][1] - b[0][1])
    return abs(ax * by - ay * bx) < 1e-6 * math.hypot(ax, ay) * math.hypot(bx, by)
