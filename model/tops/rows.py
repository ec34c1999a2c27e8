"""Rows: unbroken rows of units that carry a top, how a top ends over them, and the corners that two share."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from countersunk.model.document.schema import CornerJoin, Document
from countersunk.model.errors import InputError
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.tolerance import CONTACT, FIT
from countersunk.model.tops.corner_joins import Corner, check_corner
from countersunk.model.tops.joins import Joint, Sex

TO_WALL = 60.0
"""A top that would stop closer than this to a wall is run to the wall (common practice, no source)."""

CORNER_GAP = 150.0
"""Units may begin this much behind the place where the fronts meet and still share the corner (common practice)."""

STRAIGHT = 175.0
"""Walls that meet at more than this are one wall, or turn away; a top ends there as if it were free."""

EndKind = Literal["free", "tall", "wall", "join"]


@dataclass(frozen=True)
class End:
    """How a length ends: at ``x`` along the run (mm), on ``wall``, or in ``joint``, of which it has the ``sex``.

    ``gap`` is what it is cut short of the wall so that it can be lowered in between two of them.
    """

    kind: EndKind
    x: float
    wall: SurveyedWall | None = None
    joint: Joint | None = None
    sex: Sex = "female"
    gap: float = 0.0

    @property
    def on_wall(self) -> bool:
        """Whether the length itself reaches the wall; a male ends before it, and a full mitre in the corner."""
        if self.wall is None or self.joint is None:
            return self.wall is not None
        return self.sex == "female" and self.joint.kind != "full mitre"


@dataclass(frozen=True)
class Stretch:
    """An unbroken row of units under one top, or those of them that one length covers."""

    run: PlacedRun
    units: tuple[PlacedUnit, ...]

    @property
    def left(self) -> float:
        """Left side of its first unit along the run, mm."""
        return self.units[0].x

    @property
    def right(self) -> float:
        """Right side of its last unit along the run, mm."""
        return self.units[-1].right


@dataclass(frozen=True)
class SharedCorner:
    """A corner with the stretch that ends in it and the one that begins there."""

    corner: Corner
    ending: Stretch
    beginning: Stretch


def stretches(runs: tuple[PlacedRun, ...]) -> list[Stretch]:
    """Every row of units that carry a top, in the order of the runs."""
    return [
        Stretch(run, tuple(group))
        for run in runs
        if run.level == "floor"
        for carries, group in groupby(run.units, lambda u: u.family.carries_top)
        if carries
    ]


def shared_corners(rows: list[Stretch], survey: Survey, document: Document) -> list[SharedCorner]:
    """The corners of the room that two stretches share. Raises InputError for a join that no corner has."""
    wishes = _wishes(document)
    found = []
    for left in survey.walls:
        right = survey.next_wall(left)
        if right is None or left.corner is None or left.corner > STRAIGHT + CONTACT:
            continue
        ending = _reaching(rows, left, left.length, left.corner)
        beginning = _reaching(rows, right, 0.0, left.corner)
        if ending and beginning:
            name = f"{left.name}-{right.name}"
            field, wish = wishes.pop(name, ("worktop.joins", CornerJoin(corner=name)))
            corner = Corner(left, right, ending.run.stock, wish, field)
            check_corner(corner)
            found.append(SharedCorner(corner, ending, beginning))
    for name, (field, _) in wishes.items():
        known = ", ".join(c.corner.name for c in found) or "none, since no two tops share a corner"
        allowed = f"a corner where two tops meet: {known}"
        raise InputError.at(f"{field}.corner", found=f"'{name}'", allowed=allowed)
    return found


def _wishes(document: Document) -> dict[str, tuple[str, CornerJoin]]:
    """The joins of the document with their fields, by corner."""
    wishes: dict[str, tuple[str, CornerJoin]] = {}
    for i, wish in enumerate(document.worktop.joins):
        field = f"worktop.joins[{i}]"
        if wish.corner in wishes:
            raise InputError.at(f"{field}.corner", found=f"'{wish.corner}' twice", allowed="each corner once")
        wishes[wish.corner] = (field, wish)
    return wishes


def _reaching(rows: list[Stretch], wall: SurveyedWall, x: float, angle: float) -> Stretch | None:
    """The stretch on ``wall`` that comes near enough to its end at ``x`` to share the corner of ``angle``."""
    shoulder = max(1.0, 1.0 / math.tan(math.radians(angle / 2)))
    reach = CORNER_GAP + CONTACT
    near = (r for r in rows if r.run.wall == wall.name and _gap(r, x) <= r.run.stock.depth * shoulder + reach)
    return next((r for r in near if _is_outermost(r, x)), None)


def _gap(row: Stretch, x: float) -> float:
    left, right = row.run.taken
    return row.left - left if x == 0 else x - row.right - right


def _is_outermost(row: Stretch, x: float) -> bool:
    units = row.run.units
    return row.units[0] is units[0] if x == 0 else row.units[-1] is units[-1]


def ends_of(row: Stretch, corners: list[SharedCorner], survey: Survey, document: Document) -> tuple[End, End]:
    """How the one top over a row would end at its left and at its right."""
    units = row.run.units
    wall = survey.wall(row.run.wall) if row.run.wall else None
    left, right = End("tall", row.left), End("tall", row.right)
    if units[0] is row.units[0]:
        before = survey.previous_wall(wall) if wall else None
        beside = before if before and (before.corner or 0.0) <= STRAIGHT + CONTACT else None
        corner = next((c.corner for c in corners if c.beginning is row), None)
        left = _outer_end(row, row.left, row.left - past(document, row, "left"), beside, corner)
        left = End("tall", row.left) if corner is None and _at_wing(row, "left", wall) else left
    if units[-1] is row.units[-1]:
        beside = survey.next_wall(wall) if wall and (wall.corner or 0.0) <= STRAIGHT + CONTACT else None
        corner = next((c.corner for c in corners if c.ending is row), None)
        gap = wall.length - row.right if wall else 0.0
        right = _outer_end(row, gap, row.right + past(document, row, "right"), beside, corner)
        right = End("tall", row.right) if corner is None and _at_wing(row, "right", wall) else right
    return left, right


def past(document: Document, row: Stretch, side: str) -> float:
    """How far a free end of a row stands past its last unit, mm: as is wished, or by what goes down there."""
    unit = row.units[0] if side == "left" else row.units[-1]
    wishes = [w for w in document.worktop.corners if (w.over, w.end) == (unit.key, side)]
    usual = row.run.stock.thickness if any(w.waterfall for w in wishes) else document.worktop.overhang.ends
    return next((w.past for w in wishes if w.past is not None), usual)


def _at_wing(row: Stretch, hand: Literal["left", "right"], wall: SurveyedWall | None) -> bool:
    """Whether a row ends at the wing of a tall corner unit: one under a top would share the corner."""
    wing = row.run.taken[0 if hand == "left" else 1]
    if wall is None or wing <= 0.0:
        return False
    return (row.left if hand == "left" else wall.length - row.right) - wing <= TO_WALL + FIT


def _outer_end(row: Stretch, gap: float, x: float, beside: SurveyedWall | None, corner: Corner | None) -> End:
    """An end with no unit beyond it."""
    if corner is not None:
        return End("join", x, beside, corner.joint, "female" if row.run.wall == corner.female.name else "male")
    if beside is not None and gap <= TO_WALL + FIT:
        return End("wall", x, beside)
    return End("free", x)
