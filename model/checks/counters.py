"""Counters: worktop as whoever stands before it has it, lengths joined in line as one, and what breaks its front.

Along a counter x runs from left to right in the frame of its first length (mm). A stretch of front edge is broken
by the rim of a sink or hob, and wherever the top is less deep than is asked for, as before a column.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from shapely import LineString, remove_repeated_points, union_all
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Place, Stop, Where
from countersunk.model.checks.things import Thing, of_cutout, of_length, of_unit
from countersunk.model.facts.once import once
from countersunk.model.facts.plans import block, face, openings, top_plan
from countersunk.model.geometry.profile import plan_points
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.ties import least, ranked
from countersunk.model.tolerance import CONTACT, ON_LINE, OVERLAP_AREA
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import STRIP_WEB
from countersunk.model.tops.rows import End
from countersunk.model.tops.worktops import Length

Side = Literal["left", "right"]

LANDING_DEPTH = 406.0
"""Worktop less deep than 16 in is no landing, mm (NKBA Kitchen Planning Guidelines, from memory)."""

PREPARATION_DEPTH = 600.0
"""Room to prepare food is as deep as this, mm. 24 in (NKBA, seen) are 610: a metric top of 600 is taken for it."""

NEEDS = (0.0, LANDING_DEPTH, PREPARATION_DEPTH)
"""Depths that a front is asked for, mm; at 0 only rims break it."""

CLEAR = 380.0
"""How high above the face worktop is clear that counts as frontage, mm (15 in clear above: NKBA, seen).

A stretch is drawn as high; a landing may have less above it.
"""

SLIVER = 1.0
"""What is narrower than this along the front, or lacks less than this in depth, breaks nothing, mm."""

ENDS = {"free": Stop.END, "tall": Stop.TALL, "wall": Stop.WALL, "join": Stop.CORNER}


class FrontEdge(NamedTuple):
    """A stretch of front edge from ``start`` to ``stop`` (mm along its counter), and what stops it."""

    start: float
    stop: float
    by: Thing | Stop

    @property
    def ends(self) -> tuple[float, float]:
        """From where to where, mm."""
        return self.start, self.stop

    @property
    def width(self) -> float:
        """Its length along the front, mm."""
        return abs(self.stop - self.start)


class Break(NamedTuple):
    """What breaks a front, from where to where along its counter, mm."""

    x0: float
    x1: float
    by: Thing | Stop


@dataclass(frozen=True)
class Counter:
    """Lengths in line, from left to right. Its front edge goes from ``start`` to ``stop``."""

    lengths: tuple[Length, ...]
    start: float
    stop: float

    @property
    def lead(self) -> Length:
        """The length in whose frame it is."""
        return self.lengths[0]

    def end(self, side: Side) -> End:
        """How it ends on that side."""
        return self.lengths[0].left if side == "left" else self.lengths[-1].right

    def from_length(self, length: Length) -> float:
        """Where one of its lengths begins, mm along it."""
        return length.x - self.lead.x

    def volume(self, x0: float, x1: float) -> Volume:
        """What stands on it from ``x0`` to ``x1``, to be drawn."""
        low = face(self.lead)
        return Volume(block(self.lead.part.pose, x0, 0.0, x1, self.lead.run.stock.depth), low, low + CLEAR)

    def place(
        self, ends: tuple[float, float], where: Where, about: tuple[Thing, ...], fuel: str | None = None
    ) -> Place:
        """A stretch of its front, from and to (mm), as a place of what it is ``about``."""
        x0, x1 = sorted(ends)
        if x1 - x0 < CONTACT:
            return Place(where, 0.0, (*about, of_length(self.lead)), fuel=fuel)
        pose, depth, z = self.lead.part.pose, self.lead.run.stock.depth, self.lead.part.thickness
        start, stop = (pose.to_room((x, depth, z)) for x in ends)
        return Place(where, x1 - x0, (*about, *self.tops(x0, x1)), self.volume(x0, x1), (start, stop), fuel)

    def tops(self, x0: float, x1: float) -> tuple[Thing, ...]:
        """The lengths that lie there."""
        spans = ((of_length(t), self.from_length(t), self.from_length(t) + t.part.length) for t in self.lengths)
        return tuple(top for top, low, high in spans if low < x1 - CONTACT and high > x0 + CONTACT)


@once
def counters(kitchen: Kitchen) -> list[Counter]:
    """Every counter of the kitchen; ends joined in a corner part two of them."""
    rows: list[list[Length]] = []
    for length in kitchen.lengths:
        before = [row for row in rows if _in_line(row[-1], length)]
        if before:
            before[0].append(length)
        else:
            rows.append([length])
    return [_counter(kitchen, row) for row in rows]


def counter_of(kitchen: Kitchen, length: Length) -> Counter:
    """The counter that a length belongs to."""
    return next(counter for counter in counters(kitchen) if length in counter.lengths)


def rim_of(counter: Counter, cutout: PlacedCutout, length: Length) -> tuple[float, float]:
    """From where to where a rim lies along its counter, mm."""
    x0, _, x1, _ = cutout.rim.bounds
    return counter.from_length(length) + x0, counter.from_length(length) + x1


def reach(kitchen: Kitchen, counter: Counter, x: float, side: Side, need: float = LANDING_DEPTH) -> FrontEdge:
    """The stretch from ``x`` to that side up to the first thing that breaks a front ``need`` mm deep.

    What breaks it right at its end is named, and not the end.
    """
    way = 1.0 if side == "right" else -1.0
    end = counter.stop if side == "right" else counter.start
    met = [(b.x0 if side == "right" else b.x1, b.by) for b in breaks(kitchen, counter, need)]
    before = [(at, by) for at, by in met if (at - x) * way >= -CONTACT]
    stop, by = least([*before, (end, _end(counter, side))], key=lambda stop: stop[0] * way)
    return FrontEdge(x, max(x * way, stop * way) * way, by)


def breaks(kitchen: Kitchen, counter: Counter, need: float = LANDING_DEPTH) -> list[Break]:
    """From left to right the rims in a front, and where it is less than ``need`` mm deep, one of `NEEDS`."""
    return _all_breaks(kitchen)[counter.lead.id, need]


@once
def _all_breaks(kitchen: Kitchen) -> dict[tuple[str, float], list[Break]]:
    return {(c.lead.id, need): _breaks(kitchen, c, need) for c in counters(kitchen) for need in NEEDS}


def _breaks(kitchen: Kitchen, counter: Counter, need: float) -> list[Break]:
    ids = {length.id: length for length in counter.lengths}
    rims = [(*rim_of(counter, c, ids[c.length]), of_cutout(c)) for c in openings(kitchen) if c.length in ids]
    shallow = (found for length in counter.lengths for found in _shallow(kitchen, counter, length, need))
    found = [*(Break(*rim) for rim in rims), *(shallow if need else ())]
    return ranked(found, key=lambda found: found.x0)


def pieces(kitchen: Kitchen, need: float = LANDING_DEPTH) -> Iterator[tuple[Counter, float, float]]:
    """Every stretch of front edge that nothing breaks: its counter, from and to, mm along it."""
    for counter in counters(kitchen):
        start = counter.start
        for found in breaks(kitchen, counter, need):
            if found.x0 > start + CONTACT:
                yield counter, start, found.x0
            start = max(start, found.x1)
        if counter.stop > start + CONTACT:
            yield counter, start, counter.stop


def neighbour(counter: Counter, side: Side) -> PlacedUnit | None:
    """What stands beside a counter and carries no top, such as a refrigerator; panels between are passed."""
    end, run = counter.end(side), counter.lead.run
    if end.kind != "tall":
        return None
    beyond = [u for u in run.units if (u.x >= end.x - CONTACT if side == "right" else u.right <= end.x + CONTACT)]
    bodies = [u for u in beyond if not u.family.kind.is_panel]
    return bodies[0 if side == "right" else -1] if bodies else None


def beside(kitchen: Kitchen, unit: PlacedUnit, side: Side) -> Counter | None:
    """The counter that begins or ends at that side of a unit."""
    its = OTHER[side]
    return next((counter for counter in counters(kitchen) if neighbour(counter, its) is unit), None)


def round_corner(kitchen: Kitchen, counter: Counter, side: Side) -> Counter | None:
    """The counter on the other wall, where a counter ends in a corner of the room."""
    joint = counter.end(side).joint
    others = [other for other in counters(kitchen) if other is not counter]
    return next((o for o in others if joint is not None and o.end(OTHER[side]).joint is joint), None)


OTHER: dict[Side, Side] = {"left": "right", "right": "left"}


def front_span(kitchen: Kitchen, length: Length) -> tuple[float, float]:
    """From where to where a length has a front edge in its own frame, mm; less what lies in a corner.

    A peninsula that stands out from the front leaves it as it is: worktop lies on both sides of it. It begins and
    ends at 0 for a length in a tight corner that keeps no front at all.
    """
    depth, outline = length.run.stock.depth, plan_points(length.part.outline.exterior)
    xs = [x for x, y in outline if y > depth - ON_LINE]
    x0, x1 = min(xs, default=0.0), max(xs, default=0.0)
    for join in (j for j in kitchen.joins if j.kind != "in line"):
        if join.male == length.id or (join.female == length.id and join.kind != "tee"):
            x = length.part.pose.plan_from_room(LineString(join.line.coords)).coords[0][0]
            x0, x1 = (max(x0, x), x1) if x < length.part.length / 2 else (x0, min(x1, x))
    return x0, x1


def _in_line(left: Length, right: Length) -> bool:
    joint = left.right.joint
    return joint is not None and joint.kind == "in line" and joint is right.left.joint


def _counter(kitchen: Kitchen, row: list[Length]) -> Counter:
    start, stop = front_span(kitchen, row[0])[0], front_span(kitchen, row[-1])[1]
    return Counter(tuple(row), start, stop + row[-1].x - row[0].x)


def _end(counter: Counter, side: Side) -> Thing | Stop:
    """What ends a counter: a cooker, or its end."""
    beyond = neighbour(counter, side)
    return of_unit(beyond) if beyond and beyond.family.cooks_with else ENDS[counter.end(side).kind]


@once
def _worktop(kitchen: Kitchen) -> BaseGeometry:
    """All tops in the room's plan as one, joints closed, those with the web of a strip as well."""
    close = (SLIVER + STRIP_WEB) / 2
    # Where a bowed wall is met, two corners may be no more than a rounding apart, which no buffer bears.
    plans = (remove_repeated_points(top_plan(length), CONTACT) for length in kitchen.lengths)
    wider = [plan.buffer(close, join_style="mitre") for plan in plans]
    return union_all(wider, grid_size=CONTACT).buffer(-close, join_style="mitre")


def _shallow(kitchen: Kitchen, counter: Counter, length: Length, need: float) -> Iterator[Break]:
    """Where a top is less than ``need`` deep from its front edge."""
    pose, depth, (x0, x1) = length.part.pose, length.run.stock.depth, front_span(kitchen, length)
    asked = block(pose, x0, depth - need + SLIVER, x1, depth - SLIVER)
    lacking = pose.plan_from_room(asked.difference(_worktop(kitchen)))
    for piece in getattr(lacking, "geoms", [lacking]):
        low, _, high, _ = piece.bounds or (0.0, 0.0, 0.0, 0.0)
        if high - low > SLIVER and piece.area > OVERLAP_AREA:
            yield Break(counter.from_length(length) + low, counter.from_length(length) + high, Stop.SHALLOW)
