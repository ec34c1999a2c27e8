"""Score: how good a plan is, in points to be kept low, each term with its own weight and reason.

A *plan* says where on the grid the sink with its dishwasher and the hob stand, and where each arm begins and ends.
Figures named NKBA are from the Kitchen Planning Guidelines with Access Standards, National Kitchen & Bath
Association (seen); weights are our own judgement (common practice, no source). `model.planning.search` finds the
plan with the fewest points; both read the same tables, and tests hold them against each other.
"""

from __future__ import annotations

from functools import cached_property, lru_cache, partial
from itertools import combinations

from countersunk.model.document.schema import Opening
from countersunk.model.kinds.appliances import CONNECTIONS
from countersunk.model.planning.arms import CELL, FACE, TALLS, Arm, Shape
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.costs import Costs, row_cost
from countersunk.model.planning.islands import work_aisle
from countersunk.model.planning.plan import AWAY, HobAt, RoomPlan, SinkAt, beside, gaps, sink_unit, sizes_of
from countersunk.model.survey import Survey
from countersunk.model.ties import settled
from countersunk.model.tolerance import CONTACT

WEIGHT = {
    "sink at the window": 20,
    "near water and waste": 6,
    "hob clear of windows and doors": 200,
    "near the hob's connection": 4,
    "worktop beside the hob": 120,
    "worktop to prepare food": 40,
    "worktop beside the sink": 60,
    "standing room at the dishwasher": 40,
    "legs of the triangle": 20,
    "way between the centres": 1,
    "worktop beside the tall units": 60,
    "tall units at the wall's end": 16,
    "tall units where wished": 10,
    "an island where wished": 10,
    "tall units together": 10,
    "enough worktop": 16,
    "storage": 6,
    "cost": 4,
    "width of the aisle": 80,
}
"""Points for each mm."""

NO_WINDOW = 1_200
"""A sink away from the window is as bad as one so many mm off its middle."""

HOB_SIDE = 400
PREPARE, SINK_SIDE = 900, 450
STAND = 550
LEG = (1_220, 2_743)
FRIDGE_SIDE = 400
"""NKBA: 15 and 12 in beside a cooktop, 36 and 18 beside a sink, 21 beside a dishwasher, legs of 4 to 9 ft, 15 at
a refrigerator; taken up to the grid, since rims end within their units."""

FRIDGE_MIDDLE = 6.4
"""Cells from the end of the worktop to the middle of the fridge beside it."""

FRONTAGE = 4_600
"""NKBA: 158 in of worktop besides what lies in it, so that much and a sink and a hob."""

CORNER_COST, ARM_COST = 500, 600
"""What a corner unit with its join, and a further arm, cost in mm of plain row."""
ISLAND_COST = 600
"""What an island's back, its panels and a top of its own cost in mm of plain row, besides its length."""

NO_ISLAND = 1_200
"""No island where one is wished is as bad as so many mm of it lacking."""

DRAWERS, TALL_STORES = 3_000, 1_200
"""So many mm of drawer units are wanted beside what sink, dishwasher and hob take, of which half a corner unit
counts; and what a tall unit of 600 with its six shelves counts for (common practice, no source)."""

WIDE = 1_800.0
"""Two rows farther apart than this are no longer one kitchen (common practice, no source), mm."""

PIPES_FREE, CABLE_FREE = 300, 600
"""So far along the walls nothing is counted, mm."""


class Judge:
    """The tables that plans of one brief are judged by."""

    def __init__(self, brief: Brief, survey: Survey, costs: Costs | None = None) -> None:
        self.costs = costs
        self.row_cost = lru_cache(maxsize=None)(partial(row_cost, costs=costs))
        self.brief, self.survey, self.sizes = brief, survey, sizes_of(brief)
        self._ways = lru_cache(maxsize=None)(self._farthest)
        self.windows = [o for o in survey.openings if o.kind == "window" and o.sill >= FACE]

    @cached_property
    def outlet(self) -> str:
        """The kind of service that the hob needs."""
        return CONNECTIONS[self.brief.wishes.hob.fuel]

    def to_pipes(self, shape: Shape, at: SinkAt) -> int:
        """From the middle of the sink along the walls to the farther of water and waste, mm."""
        arm, unit = shape.arms[at.arm], sink_unit(at, self.sizes)
        return self._distance(arm, arm.at(sum(unit) / 2), ("water", "waste"))

    def to_outlet(self, shape: Shape, at: HobAt) -> int:
        """From the middle of the hob along the walls to its connection, mm."""
        arm = shape.arms[at.arm]
        return self._distance(arm, arm.at(at.cell + self.sizes.hob / 2), (self.outlet,))

    def sink_terms(self, shape: Shape, at: SinkAt) -> dict[str, int] | None:
        """What the sink's place costs by itself; None where pipes do not reach."""
        arm, (first, last) = shape.arms[at.arm], sink_unit(at, self.sizes)
        far = self.to_pipes(shape, at)
        if far > self.brief.wishes.pipes:
            return None
        return {
            "sink at the window": self._off_window(arm, arm.at((first + last) / 2)),
            "near water and waste": max(0, far - PIPES_FREE),
        }

    def hob_terms(self, shape: Shape, at: HobAt) -> dict[str, int] | None:
        """What the hob's place costs by itself; None where its connection does not reach."""
        arm = shape.arms[at.arm]
        x0, x1 = arm.at(at.cell), arm.at(at.cell + self.sizes.hob)
        far = self.to_outlet(shape, at)
        if far > self.brief.wishes.cable:
            return None
        near = [_between(x0, x1, o) for o in self.survey.openings if o.wall == arm.wall.name and o.head > FACE]
        lacking = max((AWAY - gap for gap in near), default=0.0)
        return {
            "hob clear of windows and doors": max(0, round(settled(lacking))),
            "near the hob's connection": max(0, far - CABLE_FREE),
        }

    def shape_terms(self, shape: Shape) -> dict[str, int]:
        """What a shape costs whatever stands in it."""
        corners = len(shape.arms) - 1 if shape.kind in ("L", "U") else 0
        return {
            "width of the aisle": max(
                0, round(settled(work_aisle(self.brief.cooks) - shape.aisle)), self._too_wide(shape)
            ),
            "tall units where wished": self._tall_elsewhere(shape),
            "tall units together": _tall_apart(shape),
            "an island where wished": NO_ISLAND if self.brief.wishes.island and not shape.island else 0,
            "cost": CORNER_COST * corners + ARM_COST * (len(shape.arms) - 1) + _island_cost(shape),
        }

    def _tall_elsewhere(self, shape: Shape) -> int:
        """mm of tall units at another end than wished."""
        ends = [end for end in shape.tall_ends if self.brief.wishes.tall_at not in ("either", end.side)]
        return round(sum(TALLS[tall][1] for end in ends for tall in end.talls))

    def storage_needed(self, shape: Shape) -> int:
        """How long rows must be, with sink, dishwasher, hob and corners, to store what is needed; mm.

        A tall unit for food stores as much as `TALL_STORES` mm of drawers.
        """
        larders = sum(end.talls.count("larder") for end in shape.tall_ends)
        taken = CELL * sum(self.sizes) + sum(CELL * sum(arm.corner_cells) // 2 for arm in shape.arms)
        isle = shape.island.width if shape.island else 0.0
        return round(DRAWERS + taken - TALL_STORES * larders - isle)

    def _too_wide(self, shape: Shape) -> int:
        """Half of what an aisle between two rows is wider than `WIDE`, so that one goes to and fro."""
        return round(settled(max(0.0, shape.aisle - WIDE) / 2)) if shape.kind in ("galley", "U") else 0

    def fridge_front(self, shape: Shape, cell: int) -> tuple[int, int]:
        """The middle of the fridge's front, where the worktop ends at a cell beside the tall block."""
        end = shape.fridge_end
        assert end is not None
        return shape.arms[end.arm].front(cell - FRIDGE_MIDDLE if end.side == "left" else cell + FRIDGE_MIDDLE)

    def _off_window(self, arm: Arm, x: float) -> int:
        """mm from the middle of the sink to that of the nearest window it looks out of."""
        if not self.brief.wishes.sink_at_window or not self.windows:
            return 0
        half = CELL * self.sizes.sink / 2
        mine = [o for o in self.windows if o.wall == arm.wall.name]
        offs = [
            abs(x - o.at - o.width / 2)
            for o in mine
            if abs(x - o.at - o.width / 2) <= max(o.width / 2 - half / 2, 0) + CONTACT
        ]
        return round(settled(min(offs))) if offs else NO_WINDOW

    def _distance(self, arm: Arm, x: float, kinds: tuple[str, ...]) -> int:
        """The farthest of services along the walls, to the nearest of each kind, mm; 0 where none was surveyed."""
        return self._ways(arm.wall.name, x, kinds)

    def _farthest(self, wall: str, x: float, kinds: tuple[str, ...]) -> int:
        px, py, _ = self.survey.wall(wall).frame.to_room((x, 0.0, 0.0))
        found = []
        for kind in kinds:
            points = [s.point for s in self.survey.services if s.kind == kind]
            ways = [abs(px - sx) + abs(py - sy) for sx, sy, _ in points]
            found += [min(ways)] if ways else []
        return round(settled(max(found, default=0.0)))


def _between(x0: float, x1: float, opening: Opening) -> float:
    """From a hob to an opening in its wall, mm; negative where they overlap."""
    return max(opening.at - x1, x0 - opening.at - opening.width)


def frontage_needed(shape: Shape) -> int:
    """How long rows must be besides an island for enough worktop, mm."""
    return FRONTAGE - round(shape.island.width if shape.island else 0.0)


def _tall_apart(shape: Shape) -> int:
    """mm of tall units that stand away from the most of them."""
    blocks = sorted(sum(TALLS[tall][1] for tall in end.talls) for end in shape.tall_ends)
    return sum(blocks[:-1])


def _island_cost(shape: Shape) -> int:
    return ISLAND_COST + round(shape.island.width) if shape.island else 0


def terms(plan: RoomPlan, judge: Judge) -> dict[str, int]:
    """What a plan is short of or takes, in mm, term by term."""
    sink, hob = judge.sink_terms(plan.shape, plan.sink), judge.hob_terms(plan.shape, plan.hob)
    assert sink is not None
    assert hob is not None
    total = CELL * sum(hi - lo for lo, hi in plan.spans)
    found = {**dict.fromkeys(WEIGHT, 0), **sink, **hob, **judge.shape_terms(plan.shape)}
    found["cost"] += total + sum(judge.row_cost(cells) - CELL * cells for cells in gaps(plan))
    found["enough worktop"] = max(0, frontage_needed(plan.shape) - total)
    found["storage"] = max(0, judge.storage_needed(plan.shape) - total)
    found |= _landings(plan)
    return found | _triangle(plan, judge)


def points(found: dict[str, int]) -> int:
    """The sum that is kept low."""
    return sum(WEIGHT[name] * mm for name, mm in found.items())


def _landings(plan: RoomPlan) -> dict[str, int]:
    hob, sink = beside(plan, "hob"), beside(plan, "sink")
    return {
        "worktop beside the hob": sum(max(0, HOB_SIDE - CELL * side) for side in hob),
        "worktop to prepare food": max(0, PREPARE - CELL * max(sink)),
        "worktop beside the sink": max(0, SINK_SIDE - CELL * min(sink)),
        "standing room at the dishwasher": _standing(plan),
        "worktop beside the tall units": _at_fridge(plan),
        "tall units at the wall's end": _adrift(plan),
    }


def _standing(plan: RoomPlan) -> int:
    """What is lacking between the dishwasher and the front of a row round the corner, mm."""
    if not plan.sizes.dishwasher:
        return 0
    arm, (b0, b1) = plan.shape.arms[plan.sink.arm], plan.sink_block
    lo, hi = plan.spans[plan.sink.arm]
    cells = b0 - lo - arm.stops_inside[0] if plan.sink.side == "left" else hi - arm.stops_inside[1] - b1
    return max(0, STAND - CELL * cells) if arm.end(plan.sink.side).is_corner else 0


def _at_fridge(plan: RoomPlan) -> int:
    """What is lacking of worktop beside the tall block, mm."""
    gaps = []
    for end in plan.shape.tall_ends:
        units = [plan.sink_unit] * (plan.sink.arm == end.arm) + [plan.hob_unit] * (plan.hob.arm == end.arm)
        lo, hi = plan.spans[end.arm]
        gaps += [x0 - lo if end.side == "left" else hi - x1 for x0, x1 in units]
    return max((0, *(FRIDGE_SIDE - CELL * gap for gap in gaps)))


def _adrift(plan: RoomPlan) -> int:
    """How far tall units stand from the end of the wall that is free for them, mm."""
    cells = 0
    for end in plan.shape.tall_ends:
        lo, hi = plan.spans[end.arm]
        cells += lo if end.side == "left" else plan.shape.arms[end.arm].cells - hi
    return CELL * cells


def corners_of(plan: RoomPlan, judge: Judge) -> list[tuple[int, int]]:
    """The middles of the fronts of sink, hob and fridge, those that there are, in the room's plan."""
    shape = plan.shape
    found = [shape.arms[plan.sink.arm].front(sum(plan.sink_unit) / 2)]
    found.append(shape.arms[plan.hob.arm].front(sum(plan.hob_unit) / 2))
    if shape.fridge_end:
        span = plan.spans[shape.fridge_end.arm]
        found.append(judge.fridge_front(shape, span[0 if shape.fridge_end.side == "left" else 1]))
    return found


def _triangle(plan: RoomPlan, judge: Judge) -> dict[str, int]:
    """Legs are counted along the fronts, as one goes: across plus along."""
    at = corners_of(plan, judge)
    legs = [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in combinations(at, 2)]
    return {
        "legs of the triangle": sum(max(0, LEG[0] - leg, leg - LEG[1]) for leg in legs),
        "way between the centres": sum(legs),
    }
