"""Costs: what plain units cost, as whoever has prices hands them in; in points they count as mm of plain row.

A *plain row* is drawers of 600 with their worktop. So the weight of cost in the score is the same in any currency,
and without prices a row counts by its length alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from countersunk.model.kitchen import Kitchen
from countersunk.model.planning.arms import CELL
from countersunk.model.planning.fitting import fill
from countersunk.model.planning.plan import FILL

PLAIN, PLAIN_WIDTH = "base-drawers", 600.0


@dataclass(frozen=True)
class Costs:
    """Money for units by family and width (mm), and for a metre of worktop, in one ``currency``."""

    units: Mapping[tuple[str, float], float]
    top: float
    currency: str

    @property
    def plain_row(self) -> float:
        """Money for a mm of plain row."""
        return self.units[PLAIN, PLAIN_WIDTH] / PLAIN_WIDTH + self.top / 1_000

    def of(self, kitchen: Kitchen) -> tuple[float, int]:
        """Money for units and worktops of a kitchen, and how many units but fillers have no price."""
        counted = [u for u in kitchen.units if not u.family.kind.fills_gap]
        priced = [self.units.get((u.family.code, u.width)) for u in counted]
        tops = sum(length.part.length for length in kitchen.lengths)
        return sum(p or 0.0 for p in priced) + self.top * tops / 1_000, sum(p is None for p in priced)


def row_cost(cells: int, costs: Costs | None) -> int:
    """What plain units that fill so many cells cost, in mm of plain row."""
    length = float(CELL * cells)
    if costs is None:
        return CELL * cells
    money = sum(costs.units[PLAIN, width] for width in fill(length, FILL) or ()) + costs.top * length / 1_000
    return round(money / costs.plain_row)


def cheapest(costs: Costs | None) -> float:
    """The least that a mm of row can cost, in mm of plain row: that of the unit cheapest for its width."""
    return min(row_cost(int(width) // CELL, costs) / width for width in FILL)
