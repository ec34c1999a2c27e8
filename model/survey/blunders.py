"""Blunders: which single measurement most likely is wrong in a survey that does not close.

Each measurement in turn is given the value that closes the figure best, all others kept. Of a wall that is the part
of the gap along it. Of an angle it is the turn about its corner that brings the end nearest to the beginning: it
meets it where the perpendicular bisector of the closing line passes through the corner (surveying textbooks, from
memory). What then still misses is weighed against what is tolerated: the gap, the sum of the angles, the room's
diagonals. Opposite walls of a rectangle explain a gap equally well; then both are named.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from countersunk.model.document.schema import Across, Room
from countersunk.model.survey.angles import corner_names, third_side
from countersunk.model.survey.traverse import Traverse, distance, ends_of
from countersunk.model.ties import ranked
from countersunk.model.tolerance import MISCLOSURE_ANGLE, MISCLOSURE_DIAGONAL, MISCLOSURE_LENGTH

AS_LIKELY = 0.25
"""Suspects that miss by so little more than the best, in shares of what is tolerated, are named with it."""

SPELT = 3
"""More than these are named in a list: of a room with square corners every wall along the gap explains it."""

APART = "; a diagonal across the room would tell them apart"


@dataclass(frozen=True)
class Check:
    """A diagonal of the room: the walls (by index) at whose right-hand ends it ends, and its length (mm)."""

    name: str
    ends: tuple[int, int]
    length: float

    def across(self, ends: tuple[tuple[float, float], ...]) -> float:
        """The same diagonal between corners in their places, mm."""
        return distance(*(ends[i] for i in self.ends))


@dataclass(frozen=True)
class Suspect:
    """A measurement with the value that would close the survey. ``strain`` is what then still misses; up to 1 the
    survey would be taken.
    """

    what: str
    field: str
    value: str
    strain: float


def strain(traverse: Traverse, checks: tuple[Check, ...]) -> float:
    """By how much a survey misses, over all, in shares of what is tolerated."""
    square = traverse.balanced()
    ends = ends_of(square.closed())
    off = ((check.across(ends) - check.length) / MISCLOSURE_DIAGONAL for check in checks)
    gap = math.hypot(*square.gap) / MISCLOSURE_LENGTH
    return math.hypot(gap, traverse.over / MISCLOSURE_ANGLE, *off)


def suspects(room: Room, traverse: Traverse, checks: tuple[Check, ...]) -> list[Suspect]:
    """Every measurement, the most likely wrong one first; walls before corners before diagonals where none is."""
    found = [*_walls(room, traverse, checks), *_corners(room, traverse, checks), *_diagonals(traverse, checks)]
    return ranked(found, key=lambda suspect: suspect.strain)


def likely(ordered: list[Suspect]) -> list[Suspect]:
    """Those of ``ordered`` that alone would close the survey, and nearly as well as the first."""
    return [s for s in ordered if s.strain <= min(1.0, ordered[0].strain + AS_LIKELY)]


def advice(ordered: list[Suspect]) -> str:
    """What to measure again, in words."""
    named = likely(ordered)
    if not named:
        first = ordered[0]
        return f"measure everything again: no single measurement explains it; begin with {first.what}"
    apart = "" if len(named) == 1 or any(s.field.startswith("room.diagonals") for s in ordered) else APART
    if len(named) > SPELT:
        those = ", ".join(f"{s.what} ({s.value})" for s in named)
        return f"measure again {those}: any one of them would close the room{apart}"
    return f"measure {', or '.join(f'{s.what} again ({s.value} would close the room)' for s in named)}{apart}"


def _walls(room: Room, traverse: Traverse, checks: tuple[Check, ...]) -> Iterator[Suspect]:
    square = traverse.balanced()
    gx, gy = square.gap
    for i, (wall, (x, y)) in enumerate(zip(room.walls, square.legs, strict=True)):
        length = wall.length - (gx * x + gy * y) / wall.length
        if length > 0:
            left = strain(traverse.with_length(i, length), checks)
            yield Suspect(f"wall {wall.name}", f"room.walls[{i}].length", f"{length:.0f}", left)


def _corners(room: Room, traverse: Traverse, checks: tuple[Check, ...]) -> Iterator[Suspect]:
    for i, name in enumerate(corner_names(room)):
        angle = (traverse.angles[i] + _turn(traverse, i)) % 360.0
        left, across = strain(traverse.with_angle(i, angle), checks), room.walls[i].diagonal
        if across is None:
            yield Suspect(f"corner {name}", f"room.walls[{i}].corner", f"{angle:.1f}°", left)
        else:
            yield _tape(f"corner {name}", f"room.walls[{i}].diagonal", across, angle, left)


def _tape(corner: str, field: str, across: Across, angle: float, left: float) -> Suspect:
    """A corner taken with the tape: its length, or on which side of the corner the marks were said to stand."""
    if across.external != (angle > 180.0):
        side = str(angle > 180.0).lower()
        return Suspect(f"the marks at {corner}", f"{field}.external", f"external: {side}", left)
    return Suspect(f"the diagonal at {corner}", f"{field}.length", f"{third_side(*across.legs, angle):.0f}", left)


def _turn(traverse: Traverse, i: int) -> float:
    """Degrees to add to an angle so that the end comes nearest to the beginning; the last one turns nothing."""
    if i == len(traverse.angles) - 1:
        return -traverse.over
    (px, py), (ex, ey) = traverse.ends[i], traverse.gap
    turn = math.degrees(math.atan2(-py, -px) - math.atan2(ey - py, ex - px))
    return (turn + 180.0) % 360.0 - 180.0


def _diagonals(traverse: Traverse, checks: tuple[Check, ...]) -> Iterator[Suspect]:
    ends = ends_of(traverse.balanced().closed())
    for i, check in enumerate(checks):
        left = strain(traverse, (*checks[:i], *checks[i + 1 :]))
        value = f"{check.across(ends):.0f}"
        yield Suspect(f"the diagonal {check.name}", f"room.diagonals[{i}].length", value, left)
