"""Materials of worktops. One row answers every question asked of a material; a stock names its row as ``core``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Edges = Literal["sealed", "polished", "oiled"]
DAMP, DRY = 12.0, 8.0
"""Moisture of wood in a damp and in a heated room, % (common practice, no source)."""


@dataclass(frozen=True)
class TopMaterial:
    """What a top is made of, and what follows from that.

    ``edges`` are sealed as raw particleboard is, or polished, or oiled as all of the piece is. Two lengths of a
    ``bonded`` material are glued edge to edge, by ``glue``; others are drawn together by bolts or meet in a strip.
    A ``bedded`` top lies in dabs of silicone, and takes no screw. A sink may hang under one that is ``wet``, whose
    cut edge stands water. ``moves`` is the coefficient of dimensional change across the grain, for each 1 % of
    moisture; None is what does not move with it.
    """

    code: str
    words: str
    edges: Edges
    bonded: bool = True
    glue: Literal["seam", "wood", ""] = "seam"
    bedded: bool = False
    wet: bool = True
    moves: float | None = None

    def movement(self, depth: float) -> float:
        """How much wider ``depth`` mm across the grain get from `DRY` to `DAMP`, mm; 0 for what is no wood.

        ΔD = D · C · (Mf - Mi), from 6 to 14 % (Wood Handbook, FPL-GTR-190, chapter 13).

        >>> round(MATERIALS["white-oak"].movement(620.0), 2)
        9.05
        """
        return depth * (self.moves or 0.0) * (DAMP - DRY)


def _wood(code: str, words: str, tangential: float) -> TopMaterial:
    return TopMaterial(code, f"solid {words}, oiled", "oiled", glue="wood", moves=tangential)


MATERIALS = {
    material.code: material
    for material in (
        TopMaterial("particleboard", "laminate", "sealed", bonded=False, glue="", wet=False),
        TopMaterial("compact", "compact laminate", "polished"),
        TopMaterial("solid", "solid surface", "polished", bedded=True),
        _wood("red-oak", "red oak", 0.00369),
        _wood("white-oak", "white oak", 0.00365),
        _wood("beech", "beech", 0.00431),
        _wood("maple", "maple", 0.00353),
        _wood("walnut", "walnut", 0.00274),
    )
}
"""How each is joined, bedded and finished: common practice, no source; silicone under solid surface from memory.

Coefficients are tangential, the larger of the two, since staves lie as they come: Wood Handbook, table 13-5,
American beech, sugar maple and black walnut; European woods are not in it.
"""
