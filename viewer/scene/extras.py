"""Extras: what the 3D view learns about a part besides its shape. In the axes of glTF: y up, metres, degrees.

owner    what today's numbering calls that which the part belongs to, and ``mark`` the part with it
wall     the wall at which the part stands
level    ``upper`` for what belongs to a wall unit
decor    the role whose decor the part wears, except trims in a decor of their own, and ``tile``, what its texture
         covers along u and v (mm)
opens    the leaf that the part moves with, and how: see `viewer.scene.openings`
apart    the way that the part goes when the worktop is shown in pieces
"""

from __future__ import annotations

from countersunk.model.geometry.frames import Vector
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.fronts import own_decor
from countersunk.model.tops.worktops import Length
from countersunk.viewer.scene.materials import finish_of, role_of
from countersunk.viewer.scene.openings import LeafMotion, openings

LIFT = 260.0
"""By how much a length rises when the worktop is shown in pieces, mm; what is let into it rises twice as much."""
GAP = 160.0
"""By how much it moves away from each of its joins, mm."""

Extras = dict[str, object]


def axes(vector: Vector) -> list[float]:
    """A direction of the room frame in the axes of glTF."""
    x, y, z = vector
    return [x, z, -y]


def metres(vector: Vector) -> list[float]:
    """A point or way of the room frame (mm) in glTF."""
    return [c / 1000.0 for c in axes(vector)]


def part_extras(kitchen: Kitchen) -> dict[str, Extras]:
    """For each part, by its id, everything of the list above that applies to it."""
    opens, apart = openings(kitchen), ways(kitchen)
    upper, walls = {unit.key for unit in kitchen.units if unit.family.level == "upper"}, _walls(kitchen)
    return {
        part.id: {
            "owner": part.called,
            "mark": part.mark,
            **({"wall": walls[part.owner]} if part.owner in walls else {}),
            **({"level": "upper"} if part.owner in upper else {}),
            **_decor(part, kitchen),
            **({"opens": _opens(opens[part.id])} if part.id in opens else {}),
            **({"apart": metres(apart[part.owner])} if part.owner in apart else {}),
        }
        for part in kitchen.parts
    }


def _walls(kitchen: Kitchen) -> dict[str, str]:
    """The wall at which each unit, length, sink and hob stands, by its key; an island stands at none."""
    units = {unit.key: run.wall for run in kitchen.runs for unit in run.units}
    lengths = {length.part.owner: length.run.wall for length in kitchen.lengths}
    let_in = {cutout.key: units[cutout.unit.key] for cutout in kitchen.cutouts}
    return {name: wall for name, wall in {**units, **lengths, **let_in}.items() if wall}


def _decor(part: Part, kitchen: Kitchen) -> Extras:
    role = role_of(part, kitchen)
    if role is None or own_decor(part, kitchen.document.fronts):
        return {}
    return {"decor": role, "tile": list(finish_of(part, kitchen).tile)}


def _opens(opening: LeafMotion) -> Extras:
    shared = {"leaf": opening.leaf, "axis": axes(opening.axis)}
    if opening.hinge is None:
        return {**shared, "kind": "slide", "travel": opening.travel / 1000.0}
    return {**shared, "kind": "turn", "hinge": opening.hinge, "at": metres(opening.at), "travel": opening.travel}


def ways(kitchen: Kitchen) -> dict[str, Vector]:
    """Where each length goes, with what is let into it and what holds its joins, by owner (mm, room frame)."""
    lengths = {length.part.owner: _way(length, kitchen) for length in kitchen.lengths}
    of = {length.id: lengths[length.part.owner] for length in kitchen.lengths}
    let_in = {cutout.key: _sum(of[cutout.length], (0.0, 0.0, LIFT)) for cutout in kitchen.cutouts}
    joins = {join.key: _halved(_sum(of[join.female], of[join.male])) for join in kitchen.joins}
    return {**lengths, **let_in, **joins}


def _way(length: Length, kitchen: Kitchen) -> Vector:
    """Up, and along the run away from the length's joins; a front that a peninsula joins stays where it is."""
    frame, middle = length.part.pose, length.part.outline.centroid.x
    joins = (j for j in kitchen.joins if length.id == j.male or (length.id == j.female and j.kind != "tee"))
    sides = [1.0 if middle > frame.plan_from_room(join.line).centroid.x else -1.0 for join in joins]
    return (GAP * sum(sides) * frame.x[0], GAP * sum(sides) * frame.x[1], LIFT)


def _sum(one: Vector, other: Vector) -> Vector:
    return (one[0] + other[0], one[1] + other[1], one[2] + other[2])


def _halved(way: Vector) -> Vector:
    return (way[0] / 2, way[1] / 2, way[2] / 2)
