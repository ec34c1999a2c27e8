"""Fronts: the decor of each unit's fronts, of what runs along its row, and of every part that is faced so.

The nearest word counts: the unit's own, else its row's, else that of its level, else the kitchen's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from countersunk.model.catalogue.catalogue import Board, Decor
from countersunk.model.document.keys import ROWS
from countersunk.model.document.schema import Document, Fronts, Island, Peninsula, Run
from countersunk.model.geometry.identity import ISLAND_BACK, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.layout.placed import PlacedRun, PlacedUnit

LEVELS = ("decor", "upper", "tall")
"""The fields of a kitchen's fronts that give a decor."""


def fronts_given(document: Document) -> Iterator[tuple[str, str]]:
    """Every field that gives a decor of fronts, and that decor."""
    given: list[tuple[str, str | None]] = [(f"fronts.{at}", getattr(document.fronts, at)) for at in LEVELS]
    for kind in ROWS:
        for i, row in enumerate(getattr(document, kind)):
            given.append((f"{kind}[{i}].fronts", row.fronts))
            given += [(f"{kind}[{i}].units[{j}].fronts", unit.fronts) for j, unit in enumerate(row.units)]
    return ((field, code) for field, code in given if code is not None)


def in_decors(
    run: PlacedRun, row: Run | Island | Peninsula, fronts: Fronts, decors: Mapping[str, Decor]
) -> PlacedRun:
    """The run with the decor of its units' fronts, and of what runs along them; ``row`` is what was typed."""

    def dressed(placed: PlacedUnit, own: str | None) -> PlacedUnit:
        code = own or row.fronts or _of_level(run.level, placed.is_tall, fronts)
        return replace(placed, fronts=code, figured=code in decors and decors[code].figure != "plain")

    units = zip(run.units, row.units, strict=True)
    return replace(
        run,
        fronts=row.fronts or _of_level(run.level, False, fronts),
        units=tuple(dressed(placed, unit.fronts) for placed, unit in units),
    )


def _of_level(level: str, tall: bool, fronts: Fronts) -> str:
    own = fronts.upper if level == "upper" else fronts.tall if tall else None
    return own or fronts.decor


def decors_by_part(
    runs: Sequence[PlacedRun], parts: Iterable[Part], boards: Mapping[str, Board]
) -> Mapping[str, str]:
    """The code of the decor of every part that is faced as fronts are, by its id.

    A part is in the decor of the unit that owns it. What runs along a row is in the row's: its plinth, cornice and
    pelmet, and the back of an island, so that each is one piece in one decor whatever stands behind it (common
    practice, no source).
    """
    owners: dict[str, tuple[PlacedUnit, PlacedRun]] = {u.key: (u, run) for run in runs for u in run.units}
    return {p.id: owners[p.owner][_runs_along(p)].fronts for p in parts if _is_faced(p, boards)}


def _runs_along(part: Part) -> bool:
    return part.role in (Role.PLINTH, Role.CORNICE, Role.PELMET) or (part.role, part.which) == (
        Role.PANEL,
        ISLAND_BACK,
    )


def _is_faced(part: Part, boards: Mapping[str, Board]) -> bool:
    """Whether it is of a front board, or among the fronts; glass shows what is behind it."""
    board = boards.get(part.material)
    return (part.layer is Layer.FRONTS and part.role is not Role.PANE) or (
        board is not None and board.use == "front"
    )
