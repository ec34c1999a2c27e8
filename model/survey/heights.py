"""Heights: of what was read at several heights above the floor, the readings that corners are adjusted by.

Walls lean, so a width near the floor and one at the top need not be one value. Of all readings of one thing those
taken nearest to the height of tops count; what else was read of it says how much the walls lean, and no more. A
wall's own row, a diagonal of the room, and a row without a height are as at the height of the top.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator

from countersunk.model.document.measured import Measured
from countersunk.model.document.room import Room

LEVEL = 900.0
"""About where tops lie, above the floor (mm): by this readings are chosen, and nothing is built to it."""

NEAR = 150.0
"""What was read no further above or below that was read at the top (mm; common practice, no source)."""

SAME = 50.0
"""What was read no further apart in height than this was read at one height (mm; common practice, no source)."""

VALUES = {"length", "angle", "pieces", "legs", "external", "tolerance", "height", "note"}
"""What a row says of a thing, and not which it is."""


def off_level(row: Measured) -> float:
    """How far above or below the height of tops a row was read, mm; 0 near it, and for one without a height."""
    return 0.0 if row.height is None else max(0.0, abs(row.height - LEVEL) - NEAR)


def governing(room: Room) -> frozenset[int]:
    """The rows of ``measured``, by their places, that corners must agree with."""
    read = defaultdict[Hashable, list[float]](list)
    for thing in _own(room):
        read[thing].append(0.0)
    for row in room.measured:
        read[thing_of(row)].append(off_level(row))
    return frozenset(i for i, row in enumerate(room.measured) if off_level(row) <= min(read[thing_of(row)]) + SAME)


def thing_of(row: Measured) -> Hashable:
    """What a row measures, however it was read: a wall by its length or a chain, a corner by degrees or a tape."""
    which = {key: value for key, value in row.model_dump(exclude_none=True).items() if key not in VALUES}
    if "from" in which and "to" in which:
        return frozenset((which["from"], which["to"]))
    return tuple(sorted(which.items()))


def _own(room: Room) -> Iterator[Hashable]:
    """What walls and diagonals of the room have been read for."""
    names = [wall.name for wall in room.walls]
    for wall, following in zip(room.walls, [*names[1:], names[0]], strict=True):
        yield (("wall", wall.name),)
        if wall.corner is not None or wall.diagonal is not None:
            yield (("corner", f"{wall.name}-{following}"),)
    for diagonal in room.diagonals:
        yield frozenset((diagonal.start, diagonal.to))
