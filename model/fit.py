"""Fit: whether units, tops and appliances find their place in the room and beside each other.

What cannot exist is refused here: a unit in a wall, across a door, or in another unit. What exists but is
unwise is a finding, see `model.checks`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPoint, Polygon

from countersunk.model.document.schema import Opening
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.geometry.solids import clashes_between
from countersunk.model.layout.placed import BENCH
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.room import obstacles_met, spoken
from countersunk.model.tolerance import CONTACT, FIT, OVERLAP_AREA
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import Interval
from countersunk.model.tops.worktops import Length

PartsOf = Mapping[str, tuple[Part, ...]]
Body = tuple[str, str, Polygon, float, float]
"""Mark, field, plan in the room, and the heights between which it lies."""


def check_fit(
    survey: Survey,
    runs: Sequence[PlacedRun],
    parts_of: PartsOf,
    lengths: Sequence[Length],
    cutouts: Sequence[PlacedCutout],
) -> None:
    """Raises InputError for the first thing that has no place."""
    for run in runs:
        for unit in run.units:
            _check_in_room(unit, survey)
            _check_openings(run, unit, survey)
    for length in lengths:
        _check_within(length.id, length.run.field, _room_plan(length.part), survey)
    bodies = _bodies(runs, parts_of, lengths, cutouts)
    solid = list(bodies.values())
    boxes = [_box(unit) for run in runs for unit in run.units]
    _check_obstacles(boxes, survey)
    _check_slopes([*boxes, *solid[len(boxes) :]], survey)
    _check_clashes(bodies, parts_of)


def _room_plan(part: Part) -> Polygon:
    return part.pose.plan_to_room(part.outline)


def footprint(unit: PlacedUnit) -> Polygon:
    """The plan of a unit with its front, in the room."""
    return unit.frame.plan_to_room(unit.outline)


def _box(unit: PlacedUnit) -> Body:
    """A unit as the box that it fills above its legs; what has no legs stands on the floor."""
    on_legs = unit.family.level == "upper" or unit.family.kind.on_legs
    return unit.name, unit.field, footprint(unit), unit.family.base if on_legs else 0.0, unit.family.top


def _check_in_room(unit: PlacedUnit, survey: Survey) -> None:
    if unit.family.top > survey.height:
        raise InputError.at(
            unit.field,
            found=f"{unit.name}, {unit.family.top:g} high",
            allowed=f"the room's {survey.height:g}",
        )
    _check_within(unit.name, unit.field, footprint(unit), survey)


def _check_within(name: str, field: str, plan: Polygon, survey: Survey) -> None:
    """Nothing stands in a wall; in a closed survey nothing stands outside the room."""
    shrunk = plan.buffer(-FIT, join_style="mitre")
    struck = [wall.name for wall in survey.walls if wall.line.intersects(shrunk)]
    outside = survey.outline is not None and not survey.outline.buffer(FIT, join_style="mitre").covers(plan)
    if struck or outside:
        where = f"{name} in wall {', '.join(struck)}" if struck else f"{name} outside the room"
        raise InputError.at(
            field, found=where, allowed="a place inside the room",
            advice="another start, a filler at the wall, or a narrower unit",
        )  # fmt: skip


def _check_openings(run: PlacedRun, unit: PlacedUnit, survey: Survey) -> None:
    if run.wall is None or (run.level == "upper" and run.stand_off > 0.0 and not _on_tall(run)):
        return
    stands = {run.wall: (unit.x, unit.right), **_wing(unit, survey.wall(run.wall), survey)}
    low, high = 0.0 if run.level == "floor" else unit.family.base, unit.family.top
    for opening in survey.openings:
        if opening.kind == "window" and opening.sill > 0.0 and run.level == "floor" and high <= BENCH:
            continue  # a low sill behind a base unit is a finding: `units.under_sill`
        if opening.wall in stands and _covers(stands[opening.wall], (low, high), opening):
            at = "from {:.6g} to {:.6g}".format(*stands[opening.wall])
            raise InputError.at(
                unit.field,
                found=f"{unit.name} {at}" + (f" along wall {opening.wall}" if opening.wall != run.wall else ""),
                allowed=f"clear of the {opening.kind} from {opening.at:g} to {opening.at + opening.width:g}",
                advice="move the run or leave the unit out",
            )


def _on_tall(run: PlacedRun) -> bool:
    return all(unit.family.on_tall for unit in run.units)


def _wing(unit: PlacedUnit, wall: SurveyedWall, survey: Survey) -> dict[str, Interval]:
    """Where the wing of a corner unit stands along the wall beside its own, by that wall's name."""
    beside = survey.next_wall(wall) if unit.hand == "right" else survey.previous_wall(wall)
    if not unit.wing or beside is None:
        return {}
    left, _, right, _ = beside.frame.plan_from_room(footprint(unit)).bounds
    return {beside.name: (left, right)}


def _covers(along: Interval, upright: Interval, opening: Opening) -> bool:
    """Whether what takes these stretches of a wall, along it and in height, stands before a part of an opening."""
    beside = along[1] <= opening.at + FIT or along[0] >= opening.at + opening.width - FIT
    below_or_above = upright[1] <= opening.sill + FIT or upright[0] >= opening.head - FIT
    return not beside and not below_or_above


def _bodies(
    runs: Sequence[PlacedRun], parts_of: PartsOf, lengths: Sequence[Length], cutouts: Sequence[PlacedCutout]
) -> dict[str, Body]:
    """What stands, by its key: units first, then tops, what is let in, upstands."""
    stood = [(unit.key, unit.field) for run in runs for unit in run.units]
    stood += [(length.key, length.run.field) for length in lengths]
    stood += [(cutout.key, cutout.field) for cutout in cutouts]
    stood += [(key, "worktop.upstand") for key, parts in parts_of.items() if parts[0].role is Role.UPSTAND]
    return {key: _body(field, parts_of[key]) for key, field in stood}


def _body(field: str, parts: Sequence[Part]) -> Body:
    """All the parts of one owner in the tightest upright prism."""
    corners = np.concatenate([_corners(part) for part in parts])
    lying = len(parts) == 1 and parts[0].pose.z == (0.0, 0.0, 1.0)
    plan = _room_plan(parts[0]) if lying else one_polygon(MultiPoint(corners[:, :2]).convex_hull)
    return parts[0].called, field, plan, float(corners[:, 2].min()), float(corners[:, 2].max())


def _corners(part: Part) -> NDArray[np.float64]:
    """(8, 3) float: the corners of the box round a part, along its own axes, in the room."""
    x0, y0, x1, y1 = part.outline.bounds
    local = [(x, y, z, 1.0) for x in (x0, x1) for y in (y0, y1) for z in (0.0, part.thickness)]
    return np.asarray(local) @ part.pose.matrix.T


def _check_obstacles(units: Sequence[Body], survey: Survey) -> None:
    """Units stand clear of what stands in the room; tops are notched round it, see `room.obstacles_met`."""
    for name, field, plan, low, high in units if survey.obstacles else ():
        for o in obstacles_met(survey.obstacles, plan, low, high):
            raise InputError.at(
                field,
                found=f"{name} in the {spoken(o.kind)} on wall {o.wall} from {o.x:g} to {o.right:g}",
                allowed=f"clear of it, {o.y + o.depth:g} out from the wall, {o.bottom:g} to {o.top:g} high",
                advice="end the run before it and begin another past it, or a narrower unit",
            )


def _check_slopes(bodies: Sequence[Body], survey: Survey) -> None:
    for name, field, plan, _, high in bodies if survey.slopes or survey.ceiling else ():
        ceiling, way = survey.ceiling_over(plan), "slopes" if survey.slopes else "comes"
        if high > ceiling + FIT:
            raise InputError.at(
                field,
                found=f"{name}, {high:g} high",
                allowed=f"{ceiling:.0f} high, where the ceiling {way} down over it",
                advice="a lower unit here, or a place where the ceiling is higher",
            )


def _check_clashes(bodies: Mapping[str, Body], parts_of: PartsOf) -> None:
    for (a, one), (b, other) in combinations(bodies.items(), 2):
        (_, _, plan_a, low_a, high_a), (_, field, plan_b, low_b, high_b) = one, other
        if low_a >= high_b - CONTACT or low_b >= high_a - CONTACT:
            continue
        if not plan_a.intersects(plan_b) or plan_a.intersection(plan_b).area < OVERLAP_AREA:
            continue
        _check_pair(parts_of[a], parts_of[b], field)


def _check_pair(some: Sequence[Part], others: Sequence[Part], field: str) -> None:
    for one, other, shared in clashes_between(some, others):
        raise InputError.at(
            field,
            found=f"{other.mark} in the place of {one.mark}, {shared / 1000:.1f} cm³ of it",
            allowed=f"{one.called} and {other.called} beside each other",
            advice="move one of them, put a filler between, or choose a narrower one",
        )
