"""Places: where along the fitted walls and runs lies what a document places along those as planned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from countersunk.model.document.schema import Document, InLineJoin, Room, Worktop
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.tolerance import CONTACT, FIT


def fitted_places(
    document: Document, survey: Survey, walls: Sequence[SurveyedWall], plan: Sequence[PlacedRun],
    runs: Sequence[PlacedRun],
) -> Document:  # fmt: skip
    """The document with what is in a wall as far from its nearer end as it was measured, and joins in line over the
    same place of the same unit.

    ``survey`` and ``plan`` are the room and the runs as planned, ``walls`` and ``runs`` as fitted.
    """
    lengths = {wall.name: wall.length for wall in survey.walls}
    grown = {wall.name: wall.length - lengths[wall.name] for wall in walls}
    joins = tuple(join.model_copy(update={"at": _over(join, plan, runs)}) for join in document.worktop.in_line)
    worktop = _worktop(document.worktop, lengths, grown).model_copy(update={"in_line": joins})
    return document.model_copy(update={"room": _room(document.room, lengths, grown), "worktop": worktop})


def _room(room: Room, lengths: Mapping[str, float], grown: Mapping[str, float]) -> Room:
    kinds = {kind: _moved(getattr(room, kind), lengths, grown) for kind in ("openings", "obstacles", "services")}
    return room.model_copy(update=kinds)


def _moved(items: Sequence[Any], lengths: Mapping[str, float], grown: Mapping[str, float]) -> tuple[Any, ...]:
    return tuple(item.model_copy(update={"at": _at(item, lengths, grown)}) for item in items)


def _at(item: Any, lengths: Mapping[str, float], grown: Mapping[str, float]) -> float:
    """Where an item on a wall begins: it keeps its distance from the end that it is nearer to."""
    if item.wall not in lengths:
        return float(item.at)
    past = 2 * item.at + getattr(item, "width", 0.0) - lengths[item.wall]
    share = 0.5 if abs(past) <= FIT else float(past > 0)
    return max(0.0, float(item.at + share * grown[item.wall]))


def _worktop(worktop: Worktop, lengths: Mapping[str, float], grown: Mapping[str, float]) -> Worktop:
    if worktop.upstand is None:
        return worktop
    holes = _moved(worktop.upstand.holes, lengths, grown)
    return worktop.model_copy(update={"upstand": worktop.upstand.model_copy(update={"holes": holes})})


def _over(join: InLineJoin, plan: Sequence[PlacedRun], runs: Sequence[PlacedRun]) -> float:
    """Where a join in line is along its run as fitted; between two units half of what both have moved."""
    moved = [new.x + new.width / 2 - old.x - old.width / 2 for old, new in _units(plan, runs, join)]
    return join.at + (sum(moved) / len(moved) if moved else 0.0)


def _units(
    plan: Sequence[PlacedRun], runs: Sequence[PlacedRun], join: InLineJoin
) -> Iterator[tuple[PlacedUnit, PlacedUnit]]:
    """The units under a join, as planned and as fitted."""
    for old, new in zip(plan, runs, strict=True):
        if old.level == "floor" and old.name == join.run:
            pairs = zip(old.units, new.units, strict=True)
            yield from ((a, b) for a, b in pairs if a.x - CONTACT <= join.at <= a.right + CONTACT)
