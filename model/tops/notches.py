"""Notches: what a top loses to a column, a boxing or a breast that stands in its way."""

from __future__ import annotations

from collections.abc import Iterable

from shapely import Polygon

from countersunk.model.errors import InputError
from countersunk.model.geometry.profile import less, one_polygon, quarter_segments
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.survey.room import PlacedObstacle, obstacles_met


def notches_in(
    outline: Polygon, run: PlacedRun, obstacles: Iterable[PlacedObstacle], low: float, high: float, gap: float
) -> list[tuple[PlacedObstacle, Polygon]]:
    """Each obstacle in the way of a top between two heights, with the notch round it in the run's frame.

    ``gap`` mm are left between, which is the radius of the notch's inside corners too: a saw-cut corner tears.
    """
    met = obstacles_met(obstacles, run.frame.plan_to_room(outline), low, high)
    return [(o, run.frame.plan_from_room(_round(o.plan, gap))) for o in met]


def notched(outline: Polygon, run: PlacedRun, notches: Iterable[tuple[PlacedObstacle, Polygon]]) -> Polygon:
    """The outline less its notches. Raises InputError for an obstacle that it cannot be slid round."""
    for obstacle, notch in notches:
        left = less(outline, notch)
        if not isinstance(left, Polygon) or left.interiors or left.is_empty:
            raise _not_round(obstacle, run, whole=isinstance(left, Polygon))
        outline = left
    return outline


def _round(plan: Polygon, gap: float) -> Polygon:
    return one_polygon(plan.buffer(gap, quad_segs=quarter_segments(gap)))


def _not_round(obstacle: PlacedObstacle, run: PlacedRun, *, whole: bool) -> InputError:
    middle = (obstacle.x + obstacle.right) / 2
    ring = f"a {obstacle.kind} within the top of {run.name}, with top all round it"
    through = f"a {obstacle.kind} that goes through the whole depth of the top of {run.name}"
    return InputError.at(
        f"{run.field}.units",
        found=ring if whole else through,
        allowed="what a top can be slid round, from its back or from an end",
        advice=(
            f"a join through its middle: worktop.in_line: [{{run: {run.name}, at: {middle:.0f}}}]"
            if whole
            else "end the run before it and begin another past it"
        ),
    )
