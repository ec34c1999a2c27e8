"""Slabs: tops that are made to measure put on the slabs that they are cut from, so that these can be counted.

Pieces are laid as the rectangles round them, parted by cuts from edge to edge as a bridge saw makes them, by the
same search as boards and with its bound; whoever makes them may do better with another machine. No cutting list
follows from it: it is theirs. Sizes are rounded up to tenths of a millimetre.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from shapely import Polygon

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff import cutting
from countersunk.takeoff.measuring.rules import SheetSaw, TakeoffRules, default_rules
from countersunk.takeoff.plans.boards import BoardSheet, laid_sheet
from countersunk.takeoff.stock.steps import COARSE, down, up


@dataclass(frozen=True)
class SlabPiece:
    """A piece of top or upstand: ``outline`` in the frame of its part, mm, with its cut-outs."""

    id: str
    outline: Polygon

    @property
    def size(self) -> tuple[float, float]:
        """Of the rectangle round it."""
        x0, y0, x1, y1 = self.outline.bounds
        return float(x1 - x0), float(y1 - y0)


@dataclass(frozen=True)
class SlabAreas:
    """Where the area of all slabs of a plan goes, mm²: to the pieces as they are, their cut-outs, what is shaped
    off the rectangles round them (and rounded up), to offcuts that are kept, to waste, and to the saw.
    """

    slabs: float
    pieces: float
    cut_outs: float
    shaped: float
    offcuts: float
    waste: float
    kerf: float


@dataclass(frozen=True)
class SlabPlan:
    """Slabs of one stock in one decor. No plan of such cuts takes fewer than ``bound``; ``unplaced`` fit none."""

    stock: Stock
    decor: str
    pieces: tuple[SlabPiece, ...]
    slabs: tuple[BoardSheet, ...]
    areas: SlabAreas
    bound: int
    unplaced: tuple[str, ...] = ()

    @property
    def is_least(self) -> bool:
        """Whether fewer are impossible with cuts from edge to edge."""
        return len(self.slabs) == self.bound


def slab_plans(kitchen: Kitchen, rules: TakeoffRules | None = None) -> tuple[SlabPlan, ...]:
    """A plan for each stock and decor of the tops that are made to measure, in the order of the tops."""
    pieces: dict[tuple[str, str], list[SlabPiece]] = {}
    for id_, stock in kitchen.made_to_measure.items():
        part = kitchen.parts_by_id[id_]
        pieces.setdefault((stock.code, kitchen.top_decor_at(id_)), []).append(SlabPiece(id_, part.outline))
    saw, stocks = (rules or default_rules()).slabs, kitchen.catalogue.stocks
    return tuple(_planned(stocks[code], decor, tuple(some), saw) for (code, decor), some in pieces.items())


@lru_cache(maxsize=64)
def _planned(stock: Stock, decor: str, pieces: tuple[SlabPiece, ...], saw: SheetSaw) -> SlabPlan:
    """The same pieces give the same plan, and give it at once again."""
    length, width = stock.slab or (0.0, 0.0)
    whole = cutting.CutStock("", down(length, COARSE), 1, None, down(width, COARSE))
    blade = cutting.Blade(up(saw.kerf, COARSE), up(saw.trim, COARSE))
    wanted = [cutting.CutPiece(p.id, *_in_steps(p), turns=not stock.veined) for p in pieces]
    fit = [piece for piece in wanted if cutting.fits(piece, whole, blade)]
    plan = cutting.cut_sheets(fit, [whole], blade)
    slabs = tuple(laid_sheet(used, blade, saw) for used in plan.used)
    placed = [piece for piece in pieces if any(piece.id == p.id for p in fit)]
    areas = _areas(length * width, slabs, placed, plan.used, blade)
    return SlabPlan(
        stock, decor, pieces, slabs, areas, plan.lower_bound, tuple(p.id for p in wanted if p not in fit)
    )


def _in_steps(piece: SlabPiece) -> tuple[int, int, int]:
    """Length, quantity and width, as a piece to cut has them."""
    length, width = piece.size
    return up(length, COARSE), 1, up(width, COARSE)


def _areas(
    slab: float, slabs: Sequence[BoardSheet], pieces: Sequence[SlabPiece], used: Sequence[cutting.Used],
    blade: cutting.Blade,
) -> SlabAreas:  # fmt: skip
    whole = slab * len(slabs)
    taken = sum(place.length * place.width for sheet in slabs for place in sheet.places)
    rests = sum(rest.area for one in used for rest in cutting.sawn(one, blade).offcuts) / COARSE**2
    net = sum(piece.outline.area for piece in pieces)
    holes = sum(Polygon(piece.outline.exterior).area - piece.outline.area for piece in pieces)
    kept = sum(rest.length * rest.width for sheet in slabs for rest in sheet.offcuts)
    return SlabAreas(
        whole, net, holes, taken - net - holes, kept, rests - kept, whole - taken - rests,
    )  # fmt: skip
