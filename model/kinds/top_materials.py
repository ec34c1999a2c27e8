"""Materials of worktops. One row answers every question asked of a material; a stock names its row as ``core``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Edges = Literal["sealed", "polished", "oiled"]
Glue = Literal["seam", "wood", ""]
Maker = Literal["", "mason", "fabricator", "metalworker"]
DAMP, DRY = 12.0, 8.0
"""Moisture of wood in a damp and in a heated room, % (common practice, no source)."""

ByThickness = tuple[tuple[float, float], ...]
"""From so many mm of thickness on, so much; from the thinnest up."""


@dataclass(frozen=True)
class TopMaterial:
    """What a top is made of, and what follows from that.

    ``edges`` are sealed as raw particleboard is, or polished, or oiled as all of the piece is. Two lengths of a
    material with a ``glue`` are joined by it edge to edge: in a seam, or, of wood, over biscuits, drawn together by
    bolts. Others are drawn together by bolts or meet in a strip.
    A ``bedded`` top lies in dabs of silicone, and takes no screw. A sink may hang under one that is ``wet``, whose
    cut edge stands water, and lie flush in one that ``lets_in``, which may also be ``grooved`` to drain.
    ``moves`` is the coefficient of dimensional change across the grain, for each 1 % of moisture; None is what does
    not move with it. ``maker`` is who makes tops of it from a slab. ``silica`` is its crystalline silica, %; that
    of stone bound by ``resin`` is what regions ask for.
    """

    code: str
    words: str
    edges: Edges
    glue: Glue = "seam"
    bedded: bool = False
    wet: bool = True
    lets_in: bool = False
    grooved: bool = False
    moves: float | None = None
    maker: Maker = ""
    silica: float = 0.0
    resin: bool = False

    def movement(self, depth: float) -> float:
        """How much wider ``depth`` mm across the grain get from `DRY` to `DAMP`, mm; 0 for what is no wood.

        ΔD = D · C · (Mf - Mi), from 6 to 14 % (Wood Handbook, FPL-GTR-190, chapter 13).

        >>> round(MATERIALS["white-oak"].movement(620.0), 2)
        9.05
        """
        return depth * (self.moves or 0.0) * (DAMP - DRY)


def _wood(code: str, words: str, tangential: float) -> TopMaterial:
    return TopMaterial(code, f"solid {words}, oiled", "oiled", glue="wood", moves=tangential)


def _slab(code: str, words: str, silica: float, *, resin: bool = False) -> TopMaterial:
    return TopMaterial(
        code, words, "polished", bedded=True, lets_in=True, grooved=True, maker="mason", silica=silica, resin=resin
    )


MATERIALS = {
    material.code: material
    for material in (
        TopMaterial("particleboard", "laminate", "sealed", glue="", wet=False),
        TopMaterial("compact", "compact laminate", "polished", bedded=True, lets_in=True),
        TopMaterial(
            "solid", "solid surface", "polished", bedded=True, lets_in=True, grooved=True, maker="fabricator"
        ),
        _slab("granite", "granite", 35.0),
        _slab("engineered", "engineered stone", 90.0, resin=True),
        _slab("low-silica", "engineered stone without silica", 0.9, resin=True),
        _slab("porcelain", "porcelain", 15.0),
        TopMaterial("steel", "stainless steel on board", "polished", bedded=True, maker="metalworker"),
        _wood("red-oak", "red oak", 0.00369),
        _wood("white-oak", "white oak", 0.00365),
        _wood("beech", "beech", 0.00431),
        _wood("maple", "maple", 0.00353),
        _wood("walnut", "walnut", 0.00274),
    )
}
"""How each is joined, bedded and finished: common practice, no source; silicone under solid surface from memory.

Coefficients are tangential, the larger of the two, since staves lie as they come: Wood Handbook, table 13-5,
American beech, sugar maple and black walnut; European woods are not in it. Silica is what is usual, from memory:
granite 20 to 45 %, engineered stone 90, porcelain 10 to 20; the maker's sheet decides.
"""
