"""Fronts: decor, style and handles of each unit's fronts, and the decor of every part that is faced so.

The nearest word counts: the unit's own, else its row's, else that of its level, else the kitchen's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from countersunk.model.catalogue.catalogue import Board, Catalogue
from countersunk.model.catalogue.front import BAR, SLAB, Handle
from countersunk.model.document.keys import ROWS
from countersunk.model.document.schema import Document, Fronts, Island, Peninsula, Run, Unit
from countersunk.model.geometry.identity import ISLAND_BACK, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.layout.placed import PlacedRun, PlacedUnit


class FrontWord(NamedTuple):
    """What is chosen for fronts: the field of a row or a unit, and those of a kitchen's ``fronts`` by level.

    ``more`` are fields of ``fronts`` that give the same to what is no front.
    """

    own: str
    all: str
    upper: str
    tall: str
    more: tuple[str, ...] = ()


DECOR = FrontWord("fronts", "decor", "upper", "tall", ("panels", "plinth", "cornice", "pelmet"))
STYLE = FrontWord("style", "style", "upper_style", "tall_style")
HANDLE = FrontWord("handle", "handle", "upper_handle", "tall_handle")


def chosen(document: Document, choice: FrontWord) -> Iterator[tuple[str, str]]:
    """Every field that chooses something for fronts, and the code that it gives."""
    given: list[tuple[str, str | None]] = [
        (f"fronts.{at}", getattr(document.fronts, at))
        for at in (choice.all, choice.upper, choice.tall, *choice.more)
    ]
    for kind in ROWS:
        for i, row in enumerate(getattr(document, kind)):
            given.append((f"{kind}[{i}].{choice.own}", getattr(row, choice.own)))
            given += [
                (f"{kind}[{i}].units[{j}].{choice.own}", getattr(u, choice.own)) for j, u in enumerate(row.units)
            ]
    return ((field, code) for field, code in given if code is not None)


def dressed(run: PlacedRun, row: Run | Island | Peninsula, fronts: Fronts, catalogue: Catalogue) -> PlacedRun:
    """The run with the decor, style and handles of its units' fronts; ``row`` is what was typed."""

    def nearest(choice: FrontWord, unit: Unit | None = None, tall: bool = False) -> str:
        level = choice.upper if run.level == "upper" else choice.tall if tall else choice.all
        words = (unit and getattr(unit, choice.own), getattr(row, choice.own), getattr(fronts, level))
        return str(next(filter(None, words), getattr(fronts, choice.all)))

    def faced(placed: PlacedUnit, unit: Unit) -> PlacedUnit:
        panel = fronts.panels if placed.family.kind.is_panel else None
        decor = unit.fronts or row.fronts or panel or nearest(DECOR, unit, placed.is_tall)
        return replace(
            placed,
            fronts=decor,
            figured=decor in catalogue.decors and catalogue.decors[decor].figure != "plain",
            style=catalogue.styles.get(nearest(STYLE, unit, placed.is_tall), SLAB),
            buys_fronts=_bought(placed, row, fronts),
            handle=_suited(placed, nearest(HANDLE, unit, placed.is_tall), catalogue),
        )

    units = zip(run.units, row.units, strict=True)
    along = nearest(DECOR)
    back = row.fronts or fronts.panels or along
    return replace(run, fronts=along, back=back, units=tuple(faced(placed, unit) for placed, unit in units))


def _bought(placed: PlacedUnit, row: Run | Island | Peninsula, fronts: Fronts) -> bool:
    """Whether a unit's fronts are bought apart; those that come along with its carcass are not."""
    along = placed.ready is not None and "fronts" in placed.ready.comes_with
    return not along and (placed.family.front_supply or row.front_supply or fronts.supply) == "bought"


def _suited(placed: PlacedUnit, code: str, catalogue: Catalogue) -> Handle:
    """The handle of that code, or the one that takes its place where no channel can run."""
    handle, family = catalogue.handles.get(code, BAR), placed.family
    if handle.channel is None or (family.carries_top and family.kind.takes_channel):
        return handle
    return catalogue.handles.get(handle.elsewhere or "", BAR)


def decors_by_part(
    runs: Sequence[PlacedRun], parts: Iterable[Part], boards: Mapping[str, Board], fronts: Fronts
) -> Mapping[str, str]:
    """The code of the decor of every part that is faced as fronts are, by its id.

    A part is in the decor of the unit that owns it. What runs along a row is in the row's: its plinth, cornice and
    pelmet, and the back of an island, so that each is one piece in one decor whatever stands behind it (common
    practice, no source), where ``fronts`` of the kitchen give it none of its own.
    """
    owners: dict[str, tuple[PlacedUnit, PlacedRun]] = {u.key: (u, run) for run in runs for u in run.units}
    return {p.id: _decor(p, *owners[p.owner], fronts) for p in parts if _is_faced(p, boards)}


def _decor(part: Part, unit: PlacedUnit, run: PlacedRun, fronts: Fronts) -> str:
    if part.role in TRIMS:
        return own_decor(part, fronts) or run.fronts
    return run.back if (part.role, part.which) == (Role.PANEL, ISLAND_BACK) else unit.fronts


TRIMS = (Role.PLINTH, Role.CORNICE, Role.PELMET)


def own_decor(part: Part, fronts: Fronts) -> str | None:
    """The code of the decor that a kitchen gives to all trims of the part's kind; None where it gives none."""
    own = {Role.PLINTH: fronts.plinth, Role.CORNICE: fronts.cornice, Role.PELMET: fronts.pelmet}
    return own.get(part.role)


def _is_faced(part: Part, boards: Mapping[str, Board]) -> bool:
    """Whether it is of a front board, or among the fronts; glass shows what is behind it."""
    board = boards.get(part.material)
    return (part.layer is Layer.FRONTS and part.role is not Role.PANE) or (
        board is not None and board.use == "front"
    )
