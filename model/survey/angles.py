"""Angles: the inside angle of every corner, as it was read or from lengths by the cosine rule.

A tape measures angles better than most squares do: between a mark on either wall (the 3-4-5 method), or across a
room of four walls, which one diagonal parts into two triangles. At an external corner the marks stand on the walls'
lines drawn on past it: these cross there, so that the angle between them is also that of what stands behind the
corner, and 360° less it is inside.
"""

from __future__ import annotations

import math

from countersunk.model.document.schema import Across, Room, Wall
from countersunk.model.errors import InputError
from countersunk.model.survey.heights import governing

LEAST = 30.0
"""No corner is taken to be sharper than this, degrees."""

OUTSIDE = "; for a corner that points into the room mark both walls' lines drawn on past it, and say external: true"


def opposite(a: float, b: float, c: float) -> float:
    """The angle between the sides ``a`` and ``b`` of a triangle, opposite ``c``, in degrees. Raises ValueError."""
    return math.degrees(math.acos((a * a + b * b - c * c) / (2 * a * b)))


def third_side(a: float, b: float, angle: float) -> float:
    """The side opposite ``angle`` (degrees): the inverse of `opposite`."""
    return math.sqrt(a * a + b * b - 2 * a * b * math.cos(math.radians(angle)))


def inside_angles(room: Room) -> tuple[float | None, ...]:
    """The inside angle at each wall's right-hand end, None where it was not read. Raises InputError."""
    if is_braced(room):
        return _braced(room)
    return tuple(_inside_angle(room, i) for i in range(len(room.walls)))


def is_braced(room: Room) -> bool:
    """Whether a room of four walls is held in shape by a diagonal and nothing else."""
    bare = all(w.corner is None and w.diagonal is None for w in room.walls)
    return bare and len(room.walls) == 4 and bool(room.diagonals)


def corner_names(room: Room) -> list[str]:
    """The name of the corner at each wall's right-hand end, as ``A-B``, the last one leading to the first wall."""
    names = [wall.name for wall in room.walls]
    return [f"{a}-{b}" for a, b in zip(names, [*names[1:], names[0]], strict=True)]


def _inside_angle(room: Room, i: int) -> float | None:
    wall, field = room.walls[i], f"room.walls[{i}]"
    if wall.diagonal is None:
        return wall.corner if wall.corner is not None else _besides(room, i)
    if wall.corner is not None:
        found, advice = "both a corner and a diagonal", "leave out the one that you trust less"
        raise InputError.at(field, found=found, allowed="one of them", advice=advice)
    return _across(wall.diagonal, wall, room.walls[(i + 1) % len(room.walls)], f"{field}.diagonal")


def _besides(room: Room, i: int) -> float | None:
    """The angle of a corner that only ``measured`` has."""
    name = corner_names(room)[i]
    for row in (room.measured[k] for k in sorted(governing(room))):
        if row.corner == name and row.angle is not None:
            return row.angle
        if row.corner == name and row.legs and row.length:
            across = Across(legs=row.legs, length=row.length, external=bool(row.external))
            return _across(across, room.walls[i], room.walls[(i + 1) % len(room.walls)], "room.measured")
    return None


def across_angle(across: Across) -> float:
    """The inside angle of a corner taken with the tape, degrees; over 180 where external. Raises ValueError."""
    between = opposite(*across.legs, across.length)
    return 360.0 - between if across.external else between


def _across(across: Across, wall: Wall, following: Wall, field: str) -> float:
    a, b = across.legs
    for i, (leg, on) in enumerate(((a, wall), (b, following))):
        if leg > on.length and not across.external:
            found, allowed = f"{leg:g}", f"at most the {on.length:g} of wall {on.name}"
            raise InputError.at(
                f"{field}.legs[{i}]", found=found, allowed=allowed, advice="a mark nearer the corner"
            )
    low, high = third_side(a, b, LEAST), a + b
    if not low <= across.length < high:
        raise InputError.at(
            f"{field}.length",
            found=f"{across.length:g}",
            allowed=f"{low:.0f} to less than {high:g} between marks {a:g} and {b:g} from the corner",
            advice=f"measure it again{'' if across.external else OUTSIDE}",
        )
    return across_angle(across)


def _braced(room: Room) -> tuple[float, ...]:
    """The four angles: those at the diagonal's ends lie in both of its triangles, the others in one."""
    brace, names = room.diagonals[0], corner_names(room)
    k = names.index(brace.start) if brace.start in names else -1
    if k < 0 or brace.to != names[(k + 2) % 4]:
        pairs = f"{names[0]} to {names[2]}, or {names[1]} to {names[3]}"
        found, advice = f"{brace.start} to {brace.to}", "name each corner by its walls, left one first"
        raise InputError.at("room.diagonals[0]", found=found, allowed=pairs, advice=advice)
    a, b, c, d = (room.walls[(k + i) % 4].length for i in range(4))
    e = brace.length
    low, high = max(abs(b - c), abs(d - a)), min(b + c, d + a)
    if not low < e < high:
        raise InputError.at(
            "room.diagonals[0].length",
            found=f"{e:g}",
            allowed=f"more than {low:g} and less than {high:g} between these walls",
            advice="measure the diagonal again, and the walls on both sides of it",
        )
    at = (opposite(a, e, d) + opposite(e, b, c), opposite(b, c, e), opposite(c, e, b) + opposite(e, d, a))
    angles = (*at, opposite(d, a, e))
    return tuple(angles[(i - k) % 4] for i in range(4))
