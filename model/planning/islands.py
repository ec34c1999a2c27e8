"""Islands: the largest that stands free before a row, with true aisles on every side.

The front looks at the row across a work aisle; the other sides keep a walkway from walls and obstacles, a work
aisle from other rows, and nothing stands in a way in. What rows may take counts as taken, however long they become.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain

from shapely import Polygon, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry
from shapely.prepared import prep

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.planning.arms import CELL, DEPTH, PANEL, Isle
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.fitting import fill
from countersunk.model.planning.stretches import FreeStretch, Thing
from countersunk.model.survey import Survey
from countersunk.model.ties import ranked, rounded_down, settled

WALKWAY = 915.0
"""NKBA: 36 in (914.4), where nobody works, mm (Kitchen Planning Guidelines with Access Standards, seen)."""

ONE_COOK, SEVERAL_COOKS = 1_067.0, 1_220.0
"""NKBA: 42 in for one cook, 48 for several (the same, seen), mm."""

CARCASS, FRONT, BACK, OVERHANG, ENDS = 560.0, 18.0, 18.0, 20.0, 10.0
"""Of an island's units, and how far its top stands over their fronts and ends, mm."""

FARTHER = 400
"""An island may stand so much farther out than its aisle asks, mm; beyond, one walks."""

OPEN_DOOR = 1_200.0
"""An aisle in which somebody stands before an open dishwasher, mm, where the floor allows it (common practice, no
source)."""

LENGTHS = range(2_400, 950, -CELL)
"""From the longest that is easily walked round, to the shortest that is worth its aisles (common practice), mm."""

Stocks = Mapping[str, Stock]
"""Worktops of a catalogue by their code."""

WIDTHS = (400.0, 500.0, 600.0, 800.0, 900.0, 1000.0)


def work_aisle(cooks: int) -> float:
    """The free width before a row where people work, mm."""
    return ONE_COOK if cooks == 1 else SEVERAL_COOKS


def island_before(
    brief: Brief, survey: Survey, stocks: Stocks, ways: tuple[Thing, ...], rows: tuple[FreeStretch, ...]
) -> Isle | None:
    """The longest island before one of ``rows``, the nearest to it; None where the floor takes none."""
    stock = _stock(brief, stocks)
    if stock is None or survey.outline is None:
        return None
    free = {row: _free(brief, survey, ways, rows, row) for row in rows}
    lengths = filter(None, (fill(float(length), WIDTHS) for length in LENGTHS))
    isles = (_places(brief, survey, row, free[row], widths, stock) for widths in lengths for row in rows)
    return next(chain.from_iterable(isles), None)


def _free(
    brief: Brief, survey: Survey, ways: tuple[Thing, ...], rows: tuple[FreeStretch, ...], row: FreeStretch
) -> BaseGeometry:
    """The floor that an island before ``row`` may take: a work aisle from the other rows, and no way in."""
    others = [_band(survey, other).buffer(work_aisle(brief.cooks)) for other in rows if other != row]
    return _floor(survey).difference(union_all([*others, *(plan for _, plan in ways)]))


def _stock(brief: Brief, stocks: Stocks) -> Stock | None:
    """The narrowest top that may be seen from all sides and covers the units with their back."""
    own = stocks.get(brief.worktop.stock)
    least = CARCASS + FRONT + BACK + OVERHANG
    fit = [s for s in stocks.values() if own and s.thickness == own.thickness and s.core == own.core]
    open_ = [s for s in fit if (s.both_edges or s.nose == 0) and s.depth >= least]
    return min(open_, key=lambda s: s.depth, default=None)


def _floor(survey: Survey) -> Polygon:
    """Where an island may stand: a walkway from the walls and from what stands before them."""
    outline = survey.outline
    assert outline is not None
    solid = [o.plan for o in survey.obstacles] + [b for wall in survey.walls for b in wall.bulges]
    return outline.difference(union_all(solid)).buffer(-WALKWAY)


def _band(survey: Survey, row: FreeStretch) -> Polygon:
    return survey.wall(row.wall).frame.plan_to_room(rectangle(row.x0, 0.0, row.x1, DEPTH))


def _places(
    brief: Brief, survey: Survey, row: FreeStretch, free: BaseGeometry, widths: tuple[float, ...], stock: Stock
) -> Iterator[Isle]:
    """Places before a row, the nearest to it first, then the nearest to its middle."""
    frame, ready, total = survey.wall(row.wall).frame, prep(free), sum(widths) + 2 * PANEL
    middle = (row.x0 + row.x1 - total) / 2
    along = (row.x0 + CELL * k for k in range(rounded_down((row.x1 - row.x0 - total) / CELL) + 1))
    starts = ranked(along, key=lambda x: abs(x - middle))
    least = work_aisle(brief.cooks)
    for aisle in sorted((least + k for k in range(0, FARTHER + 1, CELL)), key=lambda mm: (mm < OPEN_DOOR, mm)):
        y = DEPTH + aisle
        for x in starts:
            top = rectangle(x - ENDS, y, x + total + ENDS, y + stock.depth)
            if ready.contains(frame.plan_to_room(top)):
                yield Isle(
                    row.wall, round(settled(x), 1), round(settled(y + OVERHANG), 1), widths, stock.code, aisle
                )
