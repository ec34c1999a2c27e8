"""Corner units: where runs begin whose corner is filled by one unit that stands along both walls.

A corner unit is the last of its run with its corner at the right hand, or the first with it at the left. Its *wing*
goes along the other wall. The unit is square whatever the corner is: it stands as far from both walls as its run
does where it comes nearest to them, and the gap that widens behind it is scribed or filled on site.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from countersunk.model.catalogue.catalogue import Family, Stock
from countersunk.model.document.schema import Run
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Point
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.tolerance import FIT

LOOSE = 60.0
"""A corner unit further than this from its place is not in the corner (common practice, no source)."""


@dataclass(frozen=True)
class UnplacedRun:
    """A run before it has its place; ``widths`` and ``wings`` of its units, and thickness of the ``front``s, mm."""

    run: Run
    field: str
    wall: SurveyedWall
    stock: Stock
    families: tuple[Family, ...]
    widths: tuple[float, ...]
    wings: tuple[float, ...]
    stand_off: float
    front: float

    @property
    def width(self) -> float:
        """All its units together, mm."""
        return sum(self.widths)

    def corner_at(self, hand: str) -> int | None:
        """Which unit fills the corner at that end of the run."""
        i = 0 if hand == "left" else len(self.families) - 1
        fills = self.families[i].kind.fills_corner and self.run.units[i].hand == hand
        return i if fills else None


def start_of(row: UnplacedRun, rows: Sequence[UnplacedRun], survey: Survey) -> float:
    """Where the run begins along its wall, mm. Raises InputError for a corner unit that stands in no corner."""
    _check_places(row)
    for hand in ("left", "right"):
        if row.corner_at(hand) is not None:
            _check_beside(row, hand, rows, survey)
    start = _wished(row, rows, survey)
    _check_corner(row, start, survey)
    return start


def taken(row: UnplacedRun, rows: Sequence[UnplacedRun], survey: Survey) -> tuple[float, float]:
    """How far the wings of corner units reach along the run's wall from its left and from its right end, mm.

    A filler at an end begins at the wing in the plane of the fronts, and closes the wedge beside it.
    """
    ends = _wings(row, rows, survey)
    return ends[0].reach(row, 0), ends[1].reach(row, -1)


def check_clear(row: UnplacedRun, start: float, rows: Sequence[UnplacedRun], survey: Survey) -> None:
    """Raises InputError where a run stands in the wings that reach along its wall from both ends."""
    ends, wings = taken(row, rows, survey), _wings(row, rows, survey)
    least, most = ends[0], row.wall.length - ends[1] - row.width
    late = ends[1] > 0.0 and start > most + FIT
    if late and most < least - FIT:
        raise InputError.at(
            f"{row.field}.units",
            found=f"{row.width:g} wide together, and wings of corner units reach in from the walls beside",
            allowed=f"at most {max(0.0, most - least + row.width):.1f} clear of the wings",
            advice="fewer or narrower units",
        )
    if start < least - FIT or late:
        raise InputError.at(
            f"{row.field}.start",
            found=f"{start:g}, in the wing of the corner unit on the wall beside",
            allowed=f"at most {most:.1f}" if late else f"at least {least:.1f}, where the wing ends",
            advice="narrower units" if late else "leave start out, and the run begins there",
        )
    after = row.wall.length - start - row.width
    for i, wing, space in ((0, wings[0], start), (len(row.widths) - 1, wings[1], after)):
        if row.families[i].kind.fills_gap and space + row.widths[i] < wing.most - FIT:
            raise InputError.at(
                f"{row.field}.units[{i}].width",
                found=f"a filler {row.widths[i]:g} wide beside the wing of the corner unit, which leans behind it",
                allowed=f"at least {wing.most - space:.1f}, so that the next unit clears the wing",
                advice="a wider filler",
            )


@dataclass(frozen=True)
class _Wing:
    """Where the end of a wing reaches along a wall, (along, out) from the corner, mm: its back and its front."""

    back: Point = (0.0, 0.0)
    front: Point = (0.0, 0.0)

    @property
    def most(self) -> float:
        """The farthest that any part of it reaches."""
        return max(self.back[0], self.front[0])

    def reach(self, row: UnplacedRun, i: int) -> float:
        """As far as it reaches where the unit ``i`` of the row beside it is: a filler stands before the others."""
        family = row.families[i]
        if not family.kind.fills_gap:
            return self.most
        near = row.stand_off + family.depth
        return max(self._along(near), self._along(near + row.front))

    def _along(self, out: float) -> float:
        """How far it reaches at ``out`` from the wall; beyond its front as far as that does."""
        (x0, y0), (x1, y1) = self.back, self.front
        share = 1.0 if y1 == y0 else min(1.0, max(0.0, (out - y0) / (y1 - y0)))
        return x0 + share * (x1 - x0)


def _wings(row: UnplacedRun, rows: Sequence[UnplacedRun], survey: Survey) -> tuple[_Wing, _Wing]:
    """The ends of the wings on the run's wall, at its left and at its right end."""
    before, after = survey.previous_wall(row.wall), survey.next_wall(row.wall)
    left = [_wing(r, "right", row.wall, survey) for r in _on(before, row, rows) if r.corner_at("right") is not None]
    right = [_wing(r, "left", row.wall, survey) for r in _on(after, row, rows) if r.corner_at("left") is not None]
    return max(left, default=_Wing(), key=_most), max(right, default=_Wing(), key=_most)


def _most(wing: _Wing) -> float:
    return wing.most


def _wished(row: UnplacedRun, rows: Sequence[UnplacedRun], survey: Survey) -> float:
    if row.run.start is not None:
        return row.run.start
    if row.corner_at("left") is not None:
        return _inset(row, "left", survey)
    if row.corner_at("right") is not None:
        return max(0.0, row.wall.length - _inset(row, "right", survey) - row.width)
    return taken(row, rows, survey)[0]


def _on(wall: SurveyedWall | None, row: UnplacedRun, rows: Sequence[UnplacedRun]) -> list[UnplacedRun]:
    """The runs on a wall that are of the same level as ``row``."""
    return [r for r in rows if wall is not None and r.wall == wall and r.run.level == row.run.level]


def _inset(row: UnplacedRun, hand: str, survey: Survey) -> float:
    """How far before the end of its wall a corner unit stands so that it is ``stand_off`` from the other wall."""
    i = row.corner_at(hand)
    at = row.wall if hand == "right" else survey.previous_wall(row.wall)
    angle = at.corner if at is not None else None
    if i is None or angle is None:
        raise InputError.at(f"{row.field}.units", found="a corner unit where no wall meets", allowed="a corner")
    lean = 1.0 / math.tan(math.radians(angle)) if angle != 90.0 else 0.0
    near, far = row.stand_off * lean, (row.stand_off + row.wings[i]) * lean
    return row.stand_off / math.sin(math.radians(angle)) + max(near, far)


def _wing(row: UnplacedRun, hand: str, wall: SurveyedWall, survey: Survey) -> _Wing:
    """The end of the wing of the corner unit at that end of ``row``, along ``wall`` from their corner."""
    i = row.corner_at(hand) or 0
    start = _wished(row, (), survey)
    side = start if hand == "left" else start + row.width
    inner = row.families[i].depth + row.front
    xs = (side, side + inner if hand == "left" else side - inner)
    points = [_on_wall(wall, row.wall, (x, row.stand_off + row.wings[i])) for x in xs]
    back, front = ((wall.length - x if hand == "left" else x, y) for x, y in points)
    return _Wing(back, front)


def _on_wall(wall: SurveyedWall, other: SurveyedWall, point: Point) -> Point:
    """A point given in the plan of ``other`` in that of ``wall``."""
    x, y, _ = wall.frame.from_room(other.frame.to_room((*point, 0.0)))
    return x, y


def _check_places(row: UnplacedRun) -> None:
    ends = {i for hand in ("left", "right") if (i := row.corner_at(hand)) is not None}
    for i, family in enumerate(row.families):
        if family.kind.fills_corner and i not in ends:
            raise InputError.at(
                f"{row.field}.units[{i}].hand",
                found=f"{family.name}, with its corner at the {row.run.units[i].hand}",
                allowed="a corner unit first in its run with hand: left, or last with hand: right",
                advice="another hand, or the other end of the run",
            )


def _check_beside(row: UnplacedRun, hand: str, rows: Sequence[UnplacedRun], survey: Survey) -> None:
    """A top over the wing belongs to the run on the other wall, so there must be one."""
    i = row.corner_at(hand)
    other = survey.next_wall(row.wall) if hand == "right" else survey.previous_wall(row.wall)
    if i is not None and row.families[i].carries_top and not _on(other, row, rows):
        raise InputError.at(
            f"{row.field}.units[{i}]",
            found=f"{row.families[i].name} with nothing beside its wing",
            allowed="a run on the other wall of the corner, which carries the top over the wing",
            advice="a run there with an end panel" if other else "a survey with the other wall",
        )


def _check_corner(row: UnplacedRun, start: float, survey: Survey) -> None:
    for hand in ("left", "right"):
        if row.corner_at(hand) is not None:
            gap = start if hand == "left" else row.wall.length - start - row.width
            least = _inset(row, hand, survey)
            if not least - FIT <= gap <= least + LOOSE:
                narrower = "fewer or narrower units"
                raise InputError.at(
                    f"{row.field}.start",
                    found=f"{start:g}, which leaves {gap:.1f} between the corner unit and its corner",
                    allowed=f"{least:.1f} to {least + LOOSE:.1f} there",
                    advice=narrower
                    if row.run.start is None
                    else f"leave start out, and the run stands in its corner; else {narrower}",
                )
