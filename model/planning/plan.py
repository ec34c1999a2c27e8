"""Plan: where on the grid of a shape sink, dishwasher and hob stand, and where each row begins and ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple

from countersunk.model.planning.arms import CELL, Arm, Shape, Side
from countersunk.model.planning.brief import Brief

AWAY = 300
"""Between a hob and a window, a door, a tall unit, a wall or a sink, and between a sink and the end of its row, mm
(common practice, no source)."""

FILL = (300.0, 400.0, 450.0, 500.0, 600.0, 800.0, 900.0, 1000.0)
"""Widths of the drawer units that fill what lies between; nothing narrower than a useful drawer."""


class CellSizes(NamedTuple):
    """Cells of the sink's unit, the dishwasher and the hob's unit."""

    sink: int
    dishwasher: int
    hob: int


class SinkAt(NamedTuple):
    """The block of sink and dishwasher: its arm, first cell, and on which side the dishwasher is."""

    arm: int
    cell: int
    side: Side


class HobAt(NamedTuple):
    """The hob's arm and first cell."""

    arm: int
    cell: int


@dataclass(frozen=True)
class RoomPlan:
    """Where everything stands; ``spans`` are the first and the last cell of each arm's row."""

    shape: Shape
    sizes: CellSizes
    sink: SinkAt
    hob: HobAt
    spans: tuple[tuple[int, int], ...]

    @property
    def sink_unit(self) -> tuple[int, int]:
        """The cells of the sink's unit."""
        return sink_unit(self.sink, self.sizes)

    @property
    def sink_block(self) -> tuple[int, int]:
        """The cells of sink and dishwasher."""
        return self.sink.cell, self.sink.cell + self.sizes.sink + self.sizes.dishwasher

    @property
    def hob_unit(self) -> tuple[int, int]:
        """The cells of the hob's unit."""
        return self.hob.cell, self.hob.cell + self.sizes.hob


def sink_unit(at: SinkAt, sizes: CellSizes) -> tuple[int, int]:
    """The cells of the sink's unit in its block."""
    first = at.cell + (sizes.dishwasher if at.side == "left" else 0)
    return first, first + sizes.sink


def sizes_of(brief: Brief) -> CellSizes:
    """What the wishes take on the grid."""
    dishwasher = 0 if brief.wishes.dishwasher == "none" else int(brief.wishes.dishwasher) // CELL
    return CellSizes(
        12 if brief.wishes.sink == "one-bowl" else 20, dishwasher, 12 if brief.wishes.hob.width == 600 else 18
    )


@lru_cache(maxsize=512)
def fillable(most: int) -> tuple[int, ...]:
    """Numbers of cells up to ``most`` that plain units fill without a rest; 0 is one of them."""
    sums = {0}
    for cells in range(1, most + 1):
        if any(cells - int(width) // CELL in sums for width in FILL):
            sums.add(cells)
    return tuple(sorted(sums))


class Landings(NamedTuple):
    """Worktop to the left and the right of something, cells."""

    left: int
    right: int


def gaps(plan: RoomPlan) -> Iterator[int]:
    """Cells that plain units fill, gap by gap on every arm."""
    for i, arm in enumerate(plan.shape.arms):
        blocks = sorted([plan.sink_block] * (plan.sink.arm == i) + [plan.hob_unit] * (plan.hob.arm == i))
        lo, hi = plan.spans[i]
        edges = [lo + arm.corner_cells[0], *(x for block in blocks for x in block), hi - arm.corner_cells[1]]
        yield from (edges[k + 1] - edges[k] for k in range(0, len(edges), 2))


def allowed(plan: RoomPlan, fills: frozenset[int]) -> bool:
    """Whether a plan keeps the hard rules: gaps that units fill, sink and hob away from ends and each other."""
    for i, arm in enumerate(plan.shape.arms):
        lo, hi = plan.spans[i]
        begin, end = lo + arm.corner_cells[0], hi - arm.corner_cells[1]
        blocks = sorted(
            [(*plan.sink_block, "sink")] * (plan.sink.arm == i) + [(*plan.hob_unit, "hob")] * (plan.hob.arm == i)
        )
        if not blocks:
            if end - begin not in fills or hi - lo < 12:
                return False
            continue
        edges = [begin, *(x for b in blocks for x in b[:2]), end]
        gaps = [edges[k + 1] - edges[k] for k in range(0, len(edges), 2)]
        if any(g not in fills for g in gaps):
            return False
        if gaps[0] < end_gap(arm, "left", blocks[0][2], washer(plan.sink, plan.sizes)):
            return False
        if gaps[-1] < end_gap(arm, "right", blocks[-1][2], washer(plan.sink, plan.sizes)):
            return False
    return _apart(plan)


def washer(at: SinkAt, sizes: CellSizes) -> Side | None:
    """The side of the sink on which a dishwasher stands."""
    return at.side if sizes.dishwasher else None


def end_gap(arm: Arm, side: Side, what: str, washer: Side | None) -> int:
    """Cells that must lie between a hob or a sink and the end of what is filled on one side.

    A dishwasher keeps the sink off the end.
    """
    kept = arm.end(side).kind == "corner-unit" or (what == "sink" and washer == side)
    return 0 if kept else AWAY // CELL


def _apart(plan: RoomPlan) -> bool:
    """Sink and hob on one arm keep their distance."""
    if plan.sink.arm != plan.hob.arm:
        return True
    (s0, s1), (h0, h1) = plan.sink_unit, plan.hob_unit
    return h0 - s1 >= AWAY // CELL or s0 - h1 >= AWAY // CELL


def beside(plan: RoomPlan, what: Literal["sink", "hob"]) -> Landings:
    """Unbroken worktop beside the sink's or the hob's unit, to the other's unit, a corner or the end."""
    at, (x0, x1) = (plan.sink, plan.sink_unit) if what == "sink" else (plan.hob, plan.hob_unit)
    arm, (lo, hi) = plan.shape.arms[at.arm], plan.spans[at.arm]
    left, right = lo + arm.stops_inside[0], hi - arm.stops_inside[1]
    if plan.sink.arm == plan.hob.arm:
        y0, y1 = plan.hob_unit if what == "sink" else plan.sink_unit
        left, right = (max(left, y1), right) if y0 < x0 else (left, min(right, y0))
    return Landings(x0 - left, right - x1)
