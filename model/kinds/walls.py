"""Kinds of walls. One row answers what is asked of a wall; a wall of a kitchen file names its row as ``kind``."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class WallKind:
    """What a wall is made of, as far as what hangs on it depends on that.

    ``hangs`` is the mass that may hang on a metre of it, kg, as far ahead as wall units are deep; None where the
    fixings decide and not the wall. ``studs``: screws hold in its studs, or in what was put between them, alone.
    """

    code: str
    words: str
    hangs: float | None = None
    studs: bool = False


WALL_KINDS = {
    kind.code: kind
    for kind in (
        WallKind("solid", "solid wall"),
        WallKind("stud", "stud wall", 40.0, studs=True),
        WallKind("boarded", "stud wall boarded behind its face", 100.0, studs=True),
    )
}
"""By the word of a kitchen file. Masses: 0.4 kN a metre on plasterboard, 1.0 where something was built in for it
(DIN 4103-1 and DIN 18183-1, light and other bracket loads, from memory).
"""

SOLID = WALL_KINDS["solid"]
"""What a wall is taken for of which nobody says what it is."""
