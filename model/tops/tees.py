"""Tees: the top of a peninsula, which ends on the front edge of the length that it stands out from."""

from __future__ import annotations

from collections.abc import Iterable

from shapely import LineString
from shapely import box as rectangle

from countersunk.model.geometry.frames import Pose
from countersunk.model.layout.placing import PlacedRun
from countersunk.model.tolerance import CONTACT, ON_LINE
from countersunk.model.tops.joins import REACH, STRIP_WEB, Joint
from countersunk.model.tops.rows import Stretch

TEE_GAP = 300.0
"""A peninsula whose first unit is no further from a top's front edge than this is joined to it (practice)."""


def is_root(row: Stretch) -> bool:
    """Whether the row is the one at the wall end of a peninsula."""
    root, units = row.run.root, row.run.units
    return root is not None and (row.units[0] is units[0] if root.end == "left" else row.units[-1] is units[-1])


def root_distance(row: Stretch, wall: Pose) -> float:
    """How far the row's wall end stands out from the line y = 0 of a wall's frame, mm."""
    at = row.left if row.run.root and row.run.root.end == "left" else row.right
    x, y, _ = row.run.frame.to_room((at, 0.0, 0.0))
    return wall.from_room((x, y, 0.0))[1]


def tee_joint(row: Stretch, runs: Iterable[PlacedRun]) -> Joint | None:
    """The join of a peninsula's row with the run whose top it meets; None where it meets none."""
    for run in runs:
        near = row.run.root is not None and run.wall == row.run.root.wall and run.level == "floor"
        if near and _fronts(run) <= root_distance(row, run.frame) + ON_LINE and _is_close(row, run):
            return _joint(row, run)
    return None


def _fronts(run: PlacedRun) -> float:
    """How far out from the frame of a run on a wall its fronts stand, mm: a peninsula's units may begin there."""
    carrying = (u for u in run.units if u.family.carries_top)
    return run.stand_off + max((u.front for u in carrying), default=run.stock.depth)


def _is_close(row: Stretch, run: PlacedRun) -> bool:
    """Whether the peninsula's units begin near the front edge of the top on the wall, and lie across its row."""
    low, high = _reach(row, run)
    carrying = (unit for unit in run.units if unit.family.carries_top)
    across = any(unit.x < high - CONTACT and unit.right > low + CONTACT for unit in carrying)
    return across and root_distance(row, run.frame) - run.stock.depth <= TEE_GAP + CONTACT


def _reach(row: Stretch, run: PlacedRun) -> tuple[float, float]:
    """From where to where the peninsula's top lies along the run on the wall."""
    strip = rectangle(-1.0, 0.0, 1.0, row.run.stock.depth)
    x0, _, x1, _ = run.frame.plan_from_room(row.run.frame.plan_to_room(strip)).bounds
    return x0, x1


def _joint(row: Stretch, run: PlacedRun) -> Joint:
    """Square on the front edge of the run's top, the strip's web between unless they are bonded."""
    low, high = _reach(row, run)
    front, back = (low, high) if row.run.root and row.run.root.end == "left" else (high, low)
    d, glues = run.stock.depth, (run.stock.material.glue, row.run.stock.material.glue)
    glue = min(glues)  # nothing before a seam, and a seam before wood
    meets = d if glue else d + STRIP_WEB
    line, male_line = (run.frame.plan_to_room(LineString([(front, y), (back, y)])) for y in (d, meets))
    male_side = run.frame.plan_to_room(rectangle(-2 * REACH, meets, 3 * REACH, 3 * REACH))
    nothing = run.frame.plan_to_room(rectangle(-2 * REACH, d, 3 * REACH, 3 * REACH))
    return Joint(
        kind="tee", place=f"{row.run.name} on {run.name}", angle=90.0,
        line=line, male_line=male_line, male_side=male_side, female_loses=nothing, glue=glue,
    )  # fmt: skip
