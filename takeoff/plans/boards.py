"""Boards: the panels of a kitchen put on the sheets that they are sawn from, for each board of the catalogue.

A panel with grain lies along the sheet, the others may be turned. What the firm has kept is used before a sheet is
bought. Sizes are rounded up to tenths of a millimetre.
Planning takes up to a second or two for each board, so it is done when somebody asks for it and remembered; until
then the takeoff counts boards by their area and says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from itertools import product

from countersunk.model.catalogue.catalogue import Board, Decor
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff import cutting
from countersunk.takeoff.measuring.rules import SheetSaw, TakeoffRules, default_rules
from countersunk.takeoff.stock.offcuts import Offcut as Kept
from countersunk.takeoff.stock.offcuts import new_offcut
from countersunk.takeoff.stock.steps import COARSE, down, up


@dataclass(frozen=True)
class PlacedPanel:
    """A panel on its sheet: its part, the corner nearest the sheet's corner, and its size as it lies, mm."""

    id: str
    x: float
    y: float
    length: float
    width: float
    turned: bool


@dataclass(frozen=True)
class SheetRest:
    """What is left of a sheet, mm; ``x`` and ``y`` of its corner."""

    x: float
    y: float
    length: float
    width: float


@dataclass(frozen=True)
class SawLine:
    """A saw cut, ``across`` at x = ``at`` or along at y = ``at``, from ``begin`` to ``end``, mm."""

    across: bool
    at: float
    begin: float
    end: float


@dataclass(frozen=True)
class BoardSheet:
    """One sheet: its panels and saw cuts in the order of the saw, and the offcuts worth keeping, largest first.

    ``offcut`` names the one that it is, where it is none of the board's own size, and ``size`` is that, mm.
    """

    places: tuple[PlacedPanel, ...]
    lines: tuple[SawLine, ...]
    offcuts: tuple[SheetRest, ...]
    size: tuple[float, float]
    offcut: str = ""


@dataclass(frozen=True)
class BoardPlan:
    """Sheets of one board, in one decor if it comes in some.

    No plan buys fewer than ``bound``; ``unplaced`` are larger than a sheet.
    """

    board: Board
    decor: Decor | None
    sheets: tuple[BoardSheet, ...]
    bound: int
    unplaced: tuple[str, ...] = ()

    @property
    def decor_code(self) -> str:
        """The code of its decor, nothing where it comes in none."""
        return self.decor.code if self.decor else ""

    @property
    def code(self) -> str:
        """The code of the board with that of its decor, as a price book has it."""
        return f"{self.board.code}.{self.decor.code}" if self.decor else self.board.code

    @property
    def name(self) -> str:
        """The name of the board with that of its decor."""
        return f"{self.board.name}, {self.decor.name}" if self.decor else self.board.name

    @property
    def bought(self) -> int:
        """How many whole sheets are bought."""
        return sum(not sheet.offcut for sheet in self.sheets)

    @property
    def is_least(self) -> bool:
        """Whether fewer sheets are impossible."""
        return self.bought == self.bound

    @property
    def left(self) -> Iterator[Kept]:
        """The offcuts that are worth keeping."""
        for sheet in self.sheets:
            yield from (new_offcut(self.board.code, self.decor_code, o.length, o.width) for o in sheet.offcuts)

    @cached_property
    def kept(self) -> float:
        """Area of the offcuts worth keeping, mm²."""
        return sum(o.length * o.width for sheet in self.sheets for o in sheet.offcuts)


def board_plans(
    kitchen: Kitchen, rules: TakeoffRules | None = None, offcuts: Sequence[Kept] = ()
) -> tuple[BoardPlan, ...]:  # fmt: skip
    """A plan for each board and decor of the kitchen, in the order of the catalogue; ``offcuts`` are used first."""
    return plans_together([kitchen], rules, offcuts)


def plans_together(
    kitchens: Sequence[Kitchen], rules: TakeoffRules | None = None, offcuts: Sequence[Kept] = ()
) -> tuple[BoardPlan, ...]:  # fmt: skip
    """The same for kitchens of one catalogue that share sheets where their decor is the same."""
    shared: dict[tuple[str, str], list[cutting.CutPiece]] = {}
    boards = kitchens[0].catalogue.boards
    for board, kitchen in product(boards.values(), kitchens):
        for decor, panel in _panels(kitchen, board):
            shared.setdefault((board.code, decor), []).append(panel)
    saw, decors = (rules or default_rules()).sheets, kitchens[0].catalogue.decors
    return tuple(
        _planned(boards[code], decors.get(decor), _numbered(panels, len(kitchens)), saw, _of(offcuts, code, decor))
        for (code, decor), panels in shared.items()
    )


def _numbered(panels: Sequence[cutting.CutPiece], kitchens: int) -> tuple[cutting.CutPiece, ...]:
    """Panels of several kitchens by a number as well, since their ids are the same."""
    if kitchens == 1:
        return tuple(panels)
    return tuple(replace(panel, id=f"{number}. {panel.id}") for number, panel in enumerate(panels, start=1))


def _of(offcuts: Sequence[Kept], code: str, decor: str) -> tuple[Kept, ...]:
    return tuple(o for o in offcuts if (o.material, o.decor) == (code, decor) and o.quantity and o.width)


def sheet_parts(kitchen: Kitchen) -> Iterator[Part]:
    """Parts that are sawn from sheets: all of board but plinths, bought in lengths, and bought carcasses."""
    boards = (p for p in kitchen.parts if p.material in kitchen.catalogue.boards and p.role is not Role.PLINTH)
    return (part for part in boards if part.id not in kitchen.ready_parts)


def _panels(kitchen: Kitchen, board: Board) -> Iterator[tuple[str, cutting.CutPiece]]:
    """Every panel of a board, with the code of the decor that its board must have."""
    for part in sheet_parts(kitchen):
        if part.material == board.code:
            scribed = kitchen.allowances.ceiling if part.role is Role.CEILING_FILLER else 0.0
            sizes = (up(part.length, COARSE), up(part.depth + scribed, COARSE))
            panel = cutting.CutPiece(part.id, sizes[0], 1, sizes[1], turns=not part.grain)
            yield kitchen.decor_of(part) if board.use == "front" else "", panel


@lru_cache(maxsize=64)
def _planned(
    board: Board,
    decor: Decor | None,
    panels: tuple[cutting.CutPiece, ...],
    saw: SheetSaw,
    offcuts: tuple[Kept, ...],
) -> BoardPlan:
    """The same panels give the same plan, and give it at once again."""
    whole = cutting.CutStock("", down(board.sheet[0], COARSE), 1, None, down(board.sheet[1], COARSE))
    kept = [
        cutting.CutStock(o.id, down(o.length, COARSE), 0, o.quantity, down(o.width, COARSE), kept=True)
        for o in offcuts
    ]
    blade = cutting.Blade(up(saw.kerf, COARSE), up(saw.trim, COARSE))
    fit = [p for p in panels if cutting.fits(p, whole, blade)]
    keep = (up(max(saw.keep), COARSE), up(min(saw.keep), COARSE))
    plan = cutting.cut_sheets(fit, [*kept, whole], blade, keep=keep)
    sheets = tuple(laid_sheet(used, blade, saw) for used in plan.used)
    return BoardPlan(board, decor, sheets, plan.lower_bound, tuple(p.id for p in panels if p not in fit))


def laid_sheet(used: cutting.Used, blade: cutting.Blade, saw: SheetSaw) -> BoardSheet:
    """A sheet in mm, with its cuts in order and the offcuts worth keeping."""
    sawn = cutting.sawn(used, blade)
    offcuts = [_offcut(rest) for rest in sorted(sawn.offcuts, key=_largest_first)]
    return BoardSheet(
        tuple(_place(cut) for cut in sawn.pieces),
        tuple(SawLine(x.across, x.at / COARSE, x.begin / COARSE, x.end / COARSE) for x in sawn.lines),
        tuple(o for o in offcuts if saw.is_kept(o.length, o.width)),
        (used.stock.length / COARSE, used.stock.width / COARSE),
        used.stock.id,
    )


def _place(cut: cutting.Cut) -> PlacedPanel:
    return PlacedPanel(cut.id, cut.x / COARSE, cut.y / COARSE, cut.length / COARSE, cut.width / COARSE, cut.rotated)


def _offcut(rest: cutting.Rest) -> SheetRest:
    return SheetRest(rest.x / COARSE, rest.y / COARSE, rest.length / COARSE, rest.width / COARSE)


def _largest_first(rest: cutting.Rest) -> tuple[int, int, int]:
    return (-rest.area, rest.x, rest.y)
