"""Worktops: from rows of units to lengths of top and the condition of every edge.

Each row becomes one length, or several that are joined in line; each end of a length is free (it overhangs),
against a tall unit, against a wall, or in a join. Cut-outs are let in later, see `model.tops.cutouts`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.allowances import Allowances
from countersunk.model.document.keys import join_key, top_keys
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.geometry import solids
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import EdgeCondition, Layer, Part
from countersunk.model.geometry.profile import less, one_polygon, section
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.room import PlacedObstacle
from countersunk.model.tolerance import FIT, ON_LINE
from countersunk.model.tops.edges import boundary
from countersunk.model.tops.free_ends import (
    EndShape,
    Shapes,
    Side,
    beyond,
    check_shapes,
    end_line,
    end_shapes,
    shape_of,
)
from countersunk.model.tops.in_line import (
    across,
    allowed,
    allowed_beside,
    check_in_line,
    in_line_joint,
    is_between,
    split_points,
)
from countersunk.model.tops.joins import REACH, Interval, Join, Joint, Sex
from countersunk.model.tops.notches import notched, notches_in
from countersunk.model.tops.rows import TO_WALL, End, SharedCorner, Stretch, ends_of, shared_corners, stretches
from countersunk.model.tops.stations import stations
from countersunk.model.tops.tees import is_root, root_distance, tee_joint


@dataclass(frozen=True)
class LaidSpan:
    """A length while it is laid: its units, its ends with their shapes, and the tees on its front edge."""

    row: Stretch
    left: End
    right: End
    shapes: tuple[EndShape, EndShape]
    back: SurveyedWall | None
    allowances: Allowances
    obstacles: tuple[PlacedObstacle, ...] = ()
    fronts: tuple[Joint, ...] = ()

    @property
    def ends(self) -> tuple[tuple[Side, End, EndShape], ...]:
        """Both ends with the side that they are at and the shape that they have."""
        return ("left", self.left, self.shapes[0]), ("right", self.right, self.shapes[1])

    @property
    def joints(self) -> list[tuple[LineString, EdgeCondition]]:
        """Every joint on its boundary, as it has it, in the room's plan."""
        at_ends = [(e.joint, e.sex) for e in (self.left, self.right) if e.joint is not None]
        male, female = EdgeCondition.JOINT_MALE, EdgeCondition.JOINT_FEMALE
        own = [(joint.line_of(sex), male if sex == "male" else female) for joint, sex in at_ends]
        return [*own, *((tee.line, female) for tee in self.fronts)]

    @cached_property
    def outline(self) -> Polygon:
        """The plan in the frame of its run, mm. Raises InputError where joins or obstacles leave no one piece."""
        outline = notched(self.unnotched, self.row.run, self.notches)
        for bulge in self.bulges:
            outline = one_polygon(less(outline, bulge))
        return outline

    @cached_property
    def bulges(self) -> list[Polygon]:
        """Where the walls that it lies against stand into the room, in the frame of its run."""
        walls = [self.back, *(end.wall for _, end, _ in self.ends)]
        found = [bulge for wall in walls if wall is not None for bulge in wall.bulges]
        return [self.row.run.frame.plan_from_room(bulge) for bulge in found]

    @cached_property
    def notches(self) -> list[tuple[PlacedObstacle, Polygon]]:
        """The obstacles in its way with the notches round them, in the frame of its run."""
        low = self.row.units[0].family.top
        high = low + self.row.run.stock.thickness
        return notches_in(self.unnotched, self.row.run, self.obstacles, low, high, self.allowances.notch)

    @cached_property
    def unnotched(self) -> Polygon:
        """The plan as if nothing stood in its way."""
        run, depth = self.row.run, self.row.run.stock.depth
        x0 = self.left.x if self.left.wall is None else -REACH
        x1 = self.right.x if self.right.wall is None else self.right.x + REACH
        outline: BaseGeometry = rectangle(x0, self.behind, x1, depth)
        for side, end, shape in self.ends:
            if end.wall is not None:
                inside = end.wall.frame.plan_to_room(rectangle(-2 * REACH, end.gap, 3 * REACH, 4 * REACH))
                outline = outline.intersection(run.frame.plan_from_room(inside))
            if end.joint is not None:
                outline = _cut(outline, run, end.joint, end.sex)
            if end.kind == "free":
                outline = outline.difference(beyond(end_line(depth, end, side, shape), side))
        if not isinstance(outline, Polygon) or outline.is_empty:
            raise _ends_in_join(run)
        return outline

    @property
    def behind(self) -> float:
        """What is left open behind it at its wall, mm: wood moves across its grain."""
        run = self.row.run
        return self.allowances.expansion if run.wall and run.stock.material.moves is not None else 0.0

    @property
    def extent(self) -> Interval:
        """From where to where it reaches along its run, mm."""
        x0, _, x1, _ = self.unnotched.bounds
        return x0, x1

    @property
    def notched_at(self) -> list[Interval]:
        """From where to where along its run it is notched, mm."""
        return [(notch.bounds[0], notch.bounds[2]) for _, notch in self.notches]

    @property
    def in_room(self) -> Polygon:
        """The plan in the room."""
        return self.row.run.frame.plan_to_room(self.outline)


@dataclass(frozen=True)
class Length:
    """A piece of worktop. ``key`` lasts, see `model.document.keys`. ``x`` is where its frame begins along the run;
    ``left`` and ``right`` are its ends.

    ``fronts`` are the joins that peninsulas make on its front edge.
    """

    key: str
    part: Part
    stretch: Stretch
    x: float
    left: End
    right: End
    fronts: tuple[Joint, ...] = ()

    @property
    def id(self) -> str:
        """What today's numbering calls it: T1, T2 …"""
        return self.part.mark

    @property
    def ends(self) -> tuple[tuple[Side, End], ...]:
        """Both ends with the side that they are at."""
        return ("left", self.left), ("right", self.right)

    @property
    def run(self) -> PlacedRun:
        """The run that it covers."""
        return self.stretch.run

    @property
    def moves(self) -> bool:
        """Whether a frame moves it up and down."""
        return self.stretch.units[0].family.kind.moves_top

    @property
    def mass(self) -> float:
        """Mass as it is cut, kg: the volume of its solid, so without noses, cut-outs and slots, by its density."""
        return solids.volume(self.part) * self.run.stock.density * 1e-9


def lay_worktops(
    runs: tuple[PlacedRun, ...], survey: Survey, document: Document, catalogue: Catalogue
) -> tuple[list[Length], list[Join]]:
    """The lengths and joins over ``runs``. Raises InputError for a corner or length that cannot be made."""
    rows, units = stretches(runs), [unit for run in runs for unit in run.units]
    check_in_line(document, rows)
    corners = shared_corners(rows, survey, document)
    whole = _whole(rows, corners, runs, survey, document, catalogue)
    check_shapes(document, ((span.row, side, end) for span in whole for side, end, _ in span.ends), units)
    parted = [_lowered(part) for span in whole for part in _parted(span, document, catalogue)]
    spans = _met(parted)
    keys = top_keys((span.row.run.key, (unit.key for unit in span.row.units)) for span in spans)
    lengths = [_length(span, f"T{i}", key) for i, (span, key) in enumerate(zip(spans, keys, strict=True), start=1)]
    return lengths, _joins([c.corner.joint for c in corners], lengths)


def extents(
    runs: tuple[PlacedRun, ...], survey: Survey, document: Document, catalogue: Catalogue
) -> list[tuple[Stretch, Interval, list[Interval]]]:
    """Every row with what its top reaches over before it is parted, and where it is notched, mm along its run.

    Raises InputError where joins leave no one piece.
    """
    rows = stretches(runs)
    whole = _whole(rows, shared_corners(rows, survey, document), runs, survey, document, catalogue)
    return [(span.row, span.extent, span.notched_at) for span in whole]


def _whole(
    rows: list[Stretch], corners: list[SharedCorner], runs: tuple[PlacedRun, ...], survey: Survey,
    document: Document, catalogue: Catalogue,
) -> list[LaidSpan]:  # fmt: skip
    """One span over each row, before any is parted."""
    shapes = end_shapes(document, [unit for run in runs for unit in run.units])
    allowances = catalogue.allowances.with_own(document.allowances)
    whole = (
        LaidSpan(row, *ends_of(row, corners, survey, document), _shapes(row, shapes), _back(row, survey),
                 allowances, survey.obstacles)
        for row in rows
    )  # fmt: skip
    return [_rooted(span, runs, survey) for span in whole]


def lowering(length: float, thickness: float, play: float) -> float:
    """How much shorter than the walls are apart a top is cut so that it can be tilted and lowered in, mm.

    Tilted, its diagonal √(l² + t²) must pass; ``play`` is left besides.

    >>> round(lowering(600.0, 38.0, 2.0), 2)
    3.2
    """
    return length - math.sqrt(length**2 - thickness**2) + play


def _back(row: Stretch, survey: Survey) -> SurveyedWall | None:
    """The wall that the row stands against."""
    return survey.wall(row.run.wall) if row.run.wall else None


def _shapes(row: Stretch, shapes: Shapes) -> tuple[EndShape, EndShape]:
    return shape_of(row, "left", shapes), shape_of(row, "right", shapes)


def _rooted(span: LaidSpan, runs: tuple[PlacedRun, ...], survey: Survey) -> LaidSpan:
    """A peninsula's span with its wall end on the top that it meets, or on the wall itself."""
    root = span.row.run.root
    if root is None or not is_root(span.row):
        return span
    wall, joint = survey.wall(root.wall), tee_joint(span.row, runs)
    end = span.left if root.end == "left" else span.right
    if joint is not None:
        end = End("join", end.x, wall, joint, "male")
    elif root_distance(span.row, wall.frame) <= TO_WALL + FIT:
        end = End("wall", end.x, wall)
    return replace(span, left=end) if root.end == "left" else replace(span, right=end)


def _parted(span: LaidSpan, document: Document, catalogue: Catalogue) -> list[LaidSpan]:
    """The span as one length, or parted by joins in line."""
    x0, x1 = span.extent
    points = split_points(span.row, (x0, x1), span.notched_at, document, catalogue)
    if not points:
        return [span]
    notches = [*(notch for _, notch in span.notches), *span.bulges]
    may = allowed_beside(points, (x0, x1), span.row, allowed(span.row, document, catalogue))
    joints = [(x, in_line_joint(span.row.run, x, notches, band)) for x, band in zip(points, may, strict=True)]
    lefts = [span.left, *(End("join", x, None, joint, "male") for x, joint in joints)]
    rights = [*(End("join", x, None, joint, "female") for x, joint in joints), span.right]
    pieces = zip(pairwise([x0, *points, x1]), lefts, rights, strict=True)
    return [replace(span, row=_under(span.row, *at), left=left, right=right) for at, left, right in pieces]


def _under(row: Stretch, low: float, high: float) -> Stretch:
    """The units of a row whose middle lies between two places."""
    return Stretch(row.run, tuple(u for u in row.units if is_between(u, low, high)))


def _lowered(span: LaidSpan) -> LaidSpan:
    """A span between two walls cut short so that it can be lowered in, half of it at either end."""
    if not (span.left.on_wall and span.right.on_wall):
        return span
    x0, _, x1, _ = span.outline.bounds
    gap = lowering(x1 - x0, span.row.run.stock.thickness, span.allowances.lowering) / 2
    return replace(span, left=replace(span.left, gap=gap), right=replace(span.right, gap=gap))


def _met(spans: list[LaidSpan]) -> list[LaidSpan]:
    """The spans with the tees on their front edges. Raises InputError for a tee that has no whole edge to meet."""
    tees = [e.joint for span in spans for _, e, _ in span.ends if e.joint and e.joint.kind == "tee"]
    met = [replace(span, fronts=tuple(t for t in tees if _runs_past(span, t))) for span in spans]
    homeless = [t for t in tees if not any(t in span.fronts for span in met)]
    for tee in homeless:
        run = next(s.row.run for s in spans for _, e, _ in s.ends if e.joint is tee)
        raise InputError.at(
            f"{run.field}.along",
            found=f"a join of {tee.place} that no one length runs past on both sides",
            allowed="a front edge along the whole depth of the peninsula's top",
            advice="move the peninsula along the wall, or make the row on the wall longer",
        )
    return met


def _runs_past(span: LaidSpan, tee: Joint) -> bool:
    """Whether the tee meets a front edge of the span; where it is bonded its own end lies there too."""
    return all(end.joint is not tee for _, end, _ in span.ends) and _covers(span, tee.line)


def _covers(span: LaidSpan, line: LineString, less: float = 0.0) -> bool:
    """Whether a line of the room's plan lies on the span's boundary, but for ``less`` mm of it."""
    return bool(line.difference(span.in_room.exterior.buffer(ON_LINE)).length <= less + ON_LINE)


def _length(span: LaidSpan, name: str, key: str) -> Length:
    run, x0 = span.row.run, span.outline.bounds[0]
    if not all(_covers(span, line, max(span.left.gap, span.right.gap, span.behind) * 2) for line, _ in span.joints):
        raise _ends_in_join(run)
    frame = run.frame.moved(x0, 0.0, span.row.units[0].family.top)
    part = Part(
        key=PartKey(key, Role.WORKTOP), called=name, layer=Layer.WORKTOPS, material=run.stock.code,
        outline=translate(span.outline, -x0), thickness=run.stock.thickness, pose=frame,
        section=section(run.stock), grain=True,
    )  # fmt: skip
    lines = [(part.pose.plan_from_room(line), condition) for line, condition in _lines(span, x0)]
    return Length(key, replace(part, edges=boundary(part, lines)), span.row, x0, span.left, span.right, span.fronts)


def _ends_in_join(run: PlacedRun) -> InputError:
    return InputError.at(
        f"{run.field}.units",
        found="a worktop that ends within its own join",
        allowed="a row of units that reaches past the joins at its ends",
        advice="more or wider units, or stop the top of one wall before the corner",
    )


def _cut(outline: BaseGeometry, run: PlacedRun, joint: Joint, sex: Sex) -> BaseGeometry:
    """Take from the length what the other one of the joint has."""
    if sex == "male":
        return outline.intersection(run.frame.plan_from_room(joint.male_side))
    return outline.difference(run.frame.plan_from_room(joint.female_loses))


def _lines(span: LaidSpan, x0: float) -> Iterator[tuple[LineString, EdgeCondition]]:
    """Lines in the room's plan and what a boundary that lies on them meets, joints first."""
    run, stock = span.row.run, span.row.run.stock
    yield from span.joints
    for side, end, shape in span.ends:
        if end.wall is not None:
            yield _across(end.wall.frame.moved(-REACH, end.gap), 4 * REACH), EdgeCondition.WALL
        elif end.kind == "free":
            condition = EdgeCondition.MITRED if shape.mitred else EdgeCondition.EXPOSED
            yield run.frame.plan_to_room(end_line(stock.depth, end, side, shape)), condition
        elif end.joint is not None:  # in line, on both sides of what it is notched round
            condition = EdgeCondition.JOINT_MALE if end.sex == "male" else EdgeCondition.JOINT_FEMALE
            yield run.frame.plan_to_room(across(run, end.x)), condition
        elif end.kind == "tall":
            yield run.frame.plan_to_room(LineString([(end.x, 0.0), (end.x, stock.depth)])), EdgeCondition.TALL
    start = run.frame.moved(x0 - 1.0)
    yield _across(start.moved(y=stock.depth), 4 * REACH), EdgeCondition.FACTORY
    back = EdgeCondition.FACTORY if stock.both_edges else EdgeCondition.EXPOSED
    yield _across(start.moved(y=span.behind), 4 * REACH), EdgeCondition.WALL if run.wall else back
    # After the back: what a bulge that ends on the chord leaves there is as it is bought.
    for cut in (*(notch for _, notch in span.notches), *span.bulges):
        yield run.frame.plan_to_room(LineString(cut.exterior.coords)), EdgeCondition.WALL


def _across(frame: Pose, length: float) -> LineString:
    return LineString([frame.to_room((x, 0.0, 0.0))[:2] for x in (0.0, length)])


def _joins(corners: Iterable[Joint], lengths: list[Length]) -> list[Join]:
    """The joins between the lengths: those in corners, then in line, then tees."""
    halves = [(end.joint, end.sex, t) for t in lengths for end in (t.left, t.right) if end.joint is not None]
    halves += [(joint, "female", t) for t in lengths for joint in t.fronts]
    met = {(joint.place, sex): t for joint, sex, t in halves}
    found = {joint.place: joint for joint in (*corners, *(j for j, _, _ in halves))}
    pairs = [(joint, met[place, "female"], met[place, "male"]) for place, joint in found.items()]
    return [
        Join(**vars(joint), key=join_key((one.run.key, one.key), (other.run.key, other.key)), id=f"J{i}",
             female=one.id, male=other.id, stations=stations(joint, (one.stretch, other.stretch)))
        for i, (joint, one, other) in enumerate(pairs, start=1)
    ]  # fmt: skip
