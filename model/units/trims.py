"""What runs along a whole row of units: plinth, cornice and light pelmet, with their returns to the wall.

A *path* is where the outer face of a trim lies in plan, left to right, in the frame of the first unit behind it.
It turns back to the wall where the run asks for a return, and follows the fronts round a corner unit. The plinths
of two rows that end in a wide corner go on to where they meet.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import groupby, pairwise
from typing import NamedTuple

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.geometry.identity import ONLY, PartKey, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.survey import Survey
from countersunk.model.tolerance import CONTACT
from countersunk.model.units.board import AXES

PLINTH_SETBACK = 50.0
PLINTH_GAP = 3.0
"""Between plinth and carcass, so that an uneven floor does not lift the units (common practice, no source)."""

BENT = (120.0, 175.0)
"""Corners in which straight rows meet without a corner unit, degrees (common practice, no source)."""

AT_MOST = 150.0
"""No plinth goes on further than this past its row, mm (common practice, no source)."""

Beyond = Mapping[tuple[str, str], float]
"""How far a plinth goes on past the ``left`` or ``right`` end of a row, mm, by the row's key and that end."""


class Trim(NamedTuple):
    """A trim of wall units: its section (y outward from its back, z up), what it stands before fronts and ends."""

    role: Role
    section: Polygon
    past: float

    @property
    def depth(self) -> float:
        """From its back to its outermost, mm."""
        return float(self.section.bounds[2])

    @property
    def height(self) -> float:
        """From its foot to its top, mm."""
        return float(self.section.bounds[3])


COVE = [(0, 0), (42, 0), (43, 10), (47, 20), (54, 28), (58, 34), (58, 40), (60, 40), (60, 50), (0, 50)]
CORNICE = Trim(Role.CORNICE, Polygon(COVE), 20.0)
PELMET = Trim(Role.PELMET, rectangle(0.0, 0.0, 18.0, 45.0), 0.0)
"""Sections are invented; sizes are common practice, no source."""


class TrimPiece(NamedTuple):
    """A straight piece of a path, with the turn (radians, to the left) at which it meets its neighbours.

    ``which`` says on which side of the row's front it lies, nothing for the front itself.
    """

    start: Point
    end: Point
    before: float
    after: float
    which: Which

    @property
    def length(self) -> float:
        """Along its outer face, mm."""
        return math.dist(self.start, self.end)

    @property
    def along(self) -> Point:
        """Unit vector from start to end; what is out before the fronts lies to the left of it."""
        return (self.end[0] - self.start[0]) / self.length, (self.end[1] - self.start[1]) / self.length


def plinths_beyond(runs: Sequence[PlacedRun], survey: Survey) -> Beyond:
    """Where the plinths of two rows on the floor go on to meet each other, in each corner that is `BENT`."""
    low, high = BENT
    found: dict[tuple[str, str], float] = {}
    for wall in survey.walls:
        following = survey.next_wall(wall)
        if following is None or not low - CONTACT <= (wall.corner or 0.0) <= high:
            continue
        before, behind = ([r for r in runs if r.level == "floor" and r.wall == w.name] for w in (wall, following))
        if before and behind:
            one = max(before, key=lambda run: run.units[-1].right)
            other = min(behind, key=lambda run: run.units[0].x)
            found |= _meeting(one, other)
    return found


def _meeting(one: PlacedRun, other: PlacedRun) -> dict[tuple[str, str], float]:
    """How far the plinths of two rows go on to where their faces meet; nothing where either has none there."""
    left, right = one.units[-1], other.units[0]
    turned = one.returns in ("right", "both") or other.returns in ("left", "both") or left.wing or right.wing
    if turned or not (_has_plinth(left) and _has_plinth(right)):
        return {}
    (px, py), (qx, qy) = _plinth_at(left, left.width), _plinth_at(right, 0.0)
    (ax, ay), (bx, by) = _plinth_at(left, left.width + 1.0), _plinth_at(right, -1.0)
    (ux, uy), (vx, vy) = (ax - px, ay - py), (bx - qx, by - qy)
    across = ux * vy - uy * vx
    on, back = ((qx - px) * vy - (qy - py) * vx) / across, ((qx - px) * uy - (qy - py) * ux) / across
    near = 0.0 < on <= AT_MOST and 0.0 < back <= AT_MOST
    return {(one.key, "right"): on, (other.key, "left"): back} if near else {}


def _plinth_at(unit: PlacedUnit, x: float) -> Point:
    """A point in the face of a unit's plinth, in the room's plan."""
    return unit.frame.to_room((x, _plinth_face(unit), 0.0))[:2]


def _plinth_face(unit: PlacedUnit) -> float:
    """How far the face of a unit's plinth stands from its back, mm."""
    return unit.family.depth - PLINTH_SETBACK + unit.boards.front.thickness


def trims(run: PlacedRun, beyond: Beyond | None = None) -> list[Part]:
    """Plinths of a row on the floor; cornice and pelmet of a row on the wall where they are asked for, and the
    fillers up to the ceiling.
    """
    over = _rows(run, lambda u: _reaches(u) and (u.family.top, u.front)) if run.ceiling else ()
    found = [_to_ceiling(run, row) for row in over]
    if run.level == "floor":
        return [*found, *(part for row in _rows(run, _has_plinth) for part in _plinths(run, row, beyond or {}))]
    for row in _rows(run, lambda u: not u.family.kind.is_bought and (u.family.top, u.front)):
        found += _mitred(run, row, CORNICE, row[0].family.top) if run.cornice else []
    for row in _rows(run, lambda u: not u.family.kind.is_bought and (u.family.base, u.front)):
        found += _mitred(run, row, PELMET, row[0].family.base - PELMET.height) if run.pelmet else []
    return found


def _reaches(unit: PlacedUnit) -> bool:
    """Whether a filler to the ceiling lies over it."""
    return not unit.family.kind.is_bought and (unit.is_tall or unit.family.level == "upper")


def _to_ceiling(run: PlacedRun, row: list[PlacedUnit]) -> Part:
    """A board in the plane of the fronts from the top of neighbours up to the ceiling, however that falls."""
    first, stuff, top, right = row[0], row[0].boards.front, row[0].family.top, row[-1].right
    above = [(x - first.x, height - top) for x, height in run.ceiling if first.x - CONTACT <= x <= right + CONTACT]
    width = right - first.x
    pose = first.frame.moved(0.0, first.family.depth + stuff.thickness, top)
    return Part(
        key=PartKey(first.key, Role.CEILING_FILLER), called=first.name, layer=Layer.FRONTS, material=stuff.code,
        outline=Polygon([(0.0, 0.0), (width, 0.0), *reversed(above)]), thickness=stuff.thickness,
        pose=pose.reaxed((1.0, 0.0, 0.0), AXES["z"], (0.0, -1.0, 0.0)), banded=("front",), grain=True,
    )  # fmt: skip


def _rows(run: PlacedRun, key: Callable[[PlacedUnit], object]) -> Iterator[list[PlacedUnit]]:
    """Neighbours of which ``key`` says the same, and more than nothing."""
    return (list(group) for alike, group in groupby(run.units, key) if alike)


def _has_plinth(unit: PlacedUnit) -> tuple[float, float] | None:
    """How deep it is and how high it stands, by which neighbours share a plinth; None for what has none."""
    has = not unit.family.is_bare and unit.family.kind.has_plinth
    return (unit.forward + unit.family.depth, unit.family.legs) if has else None


def _plinths(run: PlacedRun, row: list[PlacedUnit], beyond: Beyond) -> Iterator[Part]:
    """Boards on edge, named after the first unit behind them; a return ends behind the front that it turns from."""
    first, stuff = row[0], row[0].boards.front
    face = _plinth_face(first)
    height = first.family.legs - PLINTH_GAP
    if len(row) == len(run.units) and run.returns == "both" and row[-1].right - row[0].x <= 2 * stuff.thickness:
        raise _too_narrow(run, row, "plinth", 2 * stuff.thickness - row[-1].right + row[0].x)
    path = _path(run, row, face, 0.0)
    if first is run.units[0]:
        path[0] = (path[0][0] - beyond.get((run.key, "left"), 0.0), path[0][1])
    if row[-1] is run.units[-1]:
        path[-1] = (path[-1][0] + beyond.get((run.key, "right"), 0.0), path[-1][1])
    for piece in _pieces(path):
        a, b = (stuff.thickness * (turn < -0.1) * bool(piece.which.at) for turn in (piece.before, piece.after))
        (ux, uy), (x, y) = piece.along, piece.start
        pose = first.frame.moved(x + uy * stuff.thickness + ux * a, y - ux * stuff.thickness + uy * a)
        yield Part(
            key=PartKey(first.key, Role.PLINTH, piece.which), called=first.name,
            layer=Layer.FRONTS, material=stuff.code,
            outline=rectangle(0.0, 0.0, piece.length - a - b, height), thickness=stuff.thickness,
            pose=pose.reaxed((ux, uy, 0.0), AXES["z"], (-uy, ux, 0.0)),
            banded=("front", "back"), grain=True,
        )  # fmt: skip


def _mitred(run: PlacedRun, row: list[PlacedUnit], trim: Trim, z: float) -> Iterator[Part]:
    """A trim along the fronts at height ``z``, mitred wherever it turns."""
    first = row[0]
    for piece in _pieces(_path(run, row, first.face + trim.past, trim.past)):
        (ux, uy), (x, y), d = piece.along, piece.start, trim.depth
        back = (-d * math.tan(piece.before / 2), piece.length + d * math.tan(piece.after / 2))
        if back[1] - back[0] <= CONTACT:
            raise _too_narrow(run, row, trim.role, back[0] - back[1])
        pose = first.frame.moved(x + uy * d, y - ux * d, z)
        yield Part(
            key=PartKey(first.key, trim.role, piece.which), called=first.name, layer=Layer.FRONTS,
            material=f"{trim.role}.{trim.height:g}",
            outline=Polygon([(back[0], 0.0), (back[1], 0.0), (piece.length, d), (0.0, d)]), thickness=trim.height,
            pose=pose.reaxed((ux, uy, 0.0), (-uy, ux, 0.0), AXES["z"]), section=trim.section,
        )  # fmt: skip


def _too_narrow(run: PlacedRun, row: list[PlacedUnit], kind: str, over: float) -> InputError:
    """A row that is ``over`` mm too narrow for the returns of a trim, which meet behind its front."""
    width = row[-1].right - row[0].x
    return InputError.at(
        f"{run.field}.returns",
        found=f"a {kind} that turns back beside a row {width:g} wide",
        allowed=f"a row wider than {width + over:g} there",
        advice="a return at the other end alone or none, or a wider row",
    )


def _no_return(run: PlacedRun, unit: PlacedUnit) -> InputError:
    """An appliance at the end of a row stands on the floor, where the plinth would turn back."""
    return InputError.at(
        f"{run.field}.returns",
        found=f"a plinth that turns back through {unit.name}, {unit.family.name}",
        allowed="a return beside a unit on legs",
        advice="an end panel beside the appliance, or no return at that end",
    )


def _pieces(path: list[Point]) -> Iterator[TrimPiece]:
    """The straight pieces of a path; the longest run of fronts is that which goes straight to the right."""
    ways = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(path)]
    main = next((i for i, way in enumerate(ways) if abs(way) < 1e-9), None)
    turns = [0.0, *(after - before for before, after in pairwise(ways)), 0.0]
    for i, (a, b) in enumerate(pairwise(path)):
        yield TrimPiece(a, b, turns[i], turns[i + 1], _which(i, main, len(ways)))


def _which(i: int, main: int | None, count: int) -> Which:
    """Nothing for the front; of the pieces at either side, a number where there are several."""
    if i == main:
        return ONLY
    if main is None or i < main:
        return Which(at=(Position.LEFT,), numbers=() if (main or count) == 1 else (i + 1,))
    return Which(at=(Position.RIGHT,), numbers=() if count - main == 2 else (i - main,))


def _path(run: PlacedRun, row: list[PlacedUnit], out: float, past: float) -> list[Point]:
    """The path of a trim whose outer face lies ``out`` from the units' backs and ``past`` an end where it turns."""
    width = row[-1].right - row[0].x
    left = [(width - x, y) for x, y in reversed(_end(run, row, "left", width, out, past))]
    points = [*left, *_end(run, row, "right", width, out, past)]
    return [p for i, p in enumerate(points) if i == 0 or math.dist(p, points[i - 1]) > 1e-6]


def _end(run: PlacedRun, row: list[PlacedUnit], hand: str, width: float, out: float, past: float) -> list[Point]:
    """How the path ends at the right of a row ``width`` long; for the left it is mirrored."""
    unit, outermost = (row[-1], run.units[-1]) if hand == "right" else (row[0], run.units[0])
    if unit.wing and unit.hand == hand:
        inner = (width - out, out) if unit.family.kind.front == "folded" else (width - unit.width, out)
        return [inner, (width - out, unit.wing)]
    if unit is not outermost or run.returns not in (hand, "both"):
        return [(width, out)]
    if unit.family.kind.is_bought:
        raise _no_return(run, unit)
    turn = [(width + past, out)]
    if unit.family.chamfer:
        cut = unit.family.chamfer - past * (math.sqrt(2.0) - 1.0)
        turn = [(width - cut, out), (width + past, out - past - cut)]
    return [*turn, (width + past, unit.forward - row[0].forward - unit.reach)]
