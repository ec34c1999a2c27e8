"""Boards: the panels of a kitchen put on the sheets that they are sawn from, for each board of the catalogue.

A panel with grain lies along the sheet, the others may be turned. Sizes are rounded up to tenths of a millimetre.
Planning takes up to a second or two for each board, so it is done when somebody asks for it and remembered; until
then the takeoff counts boards by their area and says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache

from model.catalogue import Board
from model.kitchen import Kitchen
from model.part import Part
from takeoff import cutting
from takeoff.rules import Rules, SheetSaw, default_rules

STEPS = 10
"""Steps to the millimetre in which plans are reckoned."""


@dataclass(frozen=True)
class Place:
    """A panel on its sheet: its part, the corner nearest the sheet's corner, and its size as it lies, mm."""

    id: str
    x: float
    y: float
    length: float
    width: float
    turned: bool


@dataclass(frozen=True)
class Offcut:
    """What is left of a sheet, mm; ``x`` and ``y`` of its corner."""

    x: float
    y: float
    length: float
    width: float


@dataclass(frozen=True)
class Line:
    """A saw cut, ``across`` at x = ``at`` or along at y = ``at``, from ``begin`` to ``end``, mm."""

    across: bool
    at: float
    begin: float
    end: float


@dataclass(frozen=True)
class Sheet:
    """One sheet: its panels and saw cuts in the order of the saw, and the offcuts worth keeping, largest first."""

    places: tuple[Place, ...]
    lines: tuple[Line, ...]
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True)
class BoardPlan:
    """Sheets of one board. No plan takes fewer than ``bound``; ``unplaced`` are parts larger than a sheet."""

    board: Board
    sheets: tuple[Sheet, ...]
    bound: int
    unplaced: tuple[str, ...] = ()

    @property
    def is_least(self) -> bool:
        """Whether fewer sheets are impossible."""
        return len(self.sheets) == self.bound

    @cached_property
    def kept(self) -> float:
        """Area of the offcuts worth keeping, mm²."""
        return sum(o.length * o.width for sheet in self.sheets for o in sheet.offcuts)


def board_plans(kitchen: Kitchen, rules: Rules | None = None) -> tuple[BoardPlan, ...]:
    """A plan for each board that the kitchen takes, in the order of the catalogue."""
    saw = (rules or default_rules()).sheets
    return tuple(
        _planned(board, panels, saw)
        for board in kitchen.catalogue.boards.values()
        if (panels := tuple(_panels(kitchen, board)))
    )


def sheet_parts(kitchen: Kitchen) -> Iterator[Part]:
    """Parts that are sawn from sheets: all of board but the plinths, which are bought in lengths."""
    return (p for p in kitchen.parts if p.material in kitchen.catalogue.boards and p.kind != "plinth")


def _panels(kitchen: Kitchen, board: Board) -> Iterator[cutting.Piece]:
    for part in sheet_parts(kitchen):
        if part.material == board.code:
            yield cutting.Piece(part.id, _steps(part.length), 1, _steps(part.depth), turns=not part.grain)


@lru_cache(maxsize=64)
def _planned(board: Board, panels: tuple[cutting.Piece, ...], saw: SheetSaw) -> BoardPlan:
    """The same panels give the same plan, and give it at once again."""
    length, width = (math.floor(side * STEPS) for side in board.sheet)
    stock = cutting.Stock(board.code, length, 1, None, width)
    blade = cutting.Saw(_steps(saw.kerf), _steps(saw.trim))
    fit = [p for p in panels if cutting.fits(p, stock, blade)]
    plan = cutting.cut_sheets(fit, [stock], blade)
    sheets = tuple(_sheet(cutting.sawn(used, blade), saw) for used in plan.used)
    return BoardPlan(board, sheets, plan.lower_bound, tuple(p.id for p in panels if p not in fit))


def _sheet(sawn: cutting.Sawn, saw: SheetSaw) -> Sheet:
    offcuts = [_offcut(rest) for rest in sorted(sawn.offcuts, key=_largest_first)]
    return Sheet(
        tuple(_place(cut) for cut in sawn.pieces),
        tuple(Line(x.across, x.at / STEPS, x.begin / STEPS, x.end / STEPS) for x in sawn.lines),
        tuple(o for o in offcuts if saw.is_kept(o.length, o.width)),
    )


def _place(cut: cutting.Cut) -> Place:
    return Place(cut.id, cut.x / STEPS, cut.y / STEPS, cut.length / STEPS, cut.width / STEPS, cut.rotated)


def _offcut(rest: cutting.Rest) -> Offcut:
    return Offcut(rest.x / STEPS, rest.y / STEPS, rest.length / STEPS, rest.width / STEPS)


def _largest_first(rest: cutting.Rest) -> tuple[int, int, int]:
    return (-rest.area, rest.x, rest.y)


def _steps(mm: float) -> int:
    return math.ceil(mm * STEPS - 1e-6 * STEPS)
