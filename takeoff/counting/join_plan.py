"""Join plan: one way to place the joins of a kitchen's tops, and the document that says so."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from countersunk.model.document.schema import CornerJoin, Document, InLineJoin
from countersunk.model.edit.edits import edited
from countersunk.model.ties import settled
from countersunk.model.tops.bands import Band
from countersunk.model.tops.placed_joins import Need


@dataclass(frozen=True)
class PlannedLength:
    """A length of a plan: its measure along the run, mm, and its mass, kg."""

    id: str
    length: float
    mass: float


@dataclass(frozen=True)
class JoinPlan:
    """One way to place the joins. ``reasons`` are why it cannot be; ``notes`` what to know of it.

    ``total`` is the price of the whole kitchen without tax, None where it cannot be. ``own`` says that the program
    would do so by itself. ``bands`` are where each join in line may lie while the others stay, in their order.
    ``need`` is what the program places joins by where the file wants them by stock.
    """

    corners: tuple[CornerJoin, ...]
    in_line: tuple[InLineJoin, ...]
    reasons: tuple[str, ...]
    notes: tuple[str, ...] = ()
    total: Decimal | None = None
    pieces: tuple[PlannedLength, ...] = ()
    own: bool = False
    bands: tuple[Band, ...] = ()
    need: Need = (0, False, 0.0)

    @property
    def admissible(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.reasons

    @property
    def kinds(self) -> tuple[str | None, ...]:
        """How the corners are joined, in their order."""
        return tuple(corner.kind for corner in self.corners)

    @property
    def words(self) -> str:
        """The plan in words."""
        corners = [f"corner {c.corner}: {_joined(c)}" for c in self.corners]
        parted = [f"{j.run} parted at {settled(j.at):.0f}" for j in self.in_line]
        return "; ".join([*corners, *parted]) or "no joins"


def _joined(corner: CornerJoin) -> str:
    return "full mitre" if corner.kind == "full-mitre" else f"{corner.female} runs through, {corner.kind}"


def unpinned(document: Document) -> Document:
    """The document without its joins, so that every way is open again."""
    return edited(document, {"worktop.joins": None, "worktop.in_line": None})


def pinned(document: Document, plan: JoinPlan) -> Document:
    """The document with the plan's joins in place of its own; a join at the same place keeps its key."""
    top = document.worktop
    keys = {wish.corner: wish.key for wish in top.joins} | {(wish.run, wish.at): wish.key for wish in top.in_line}
    joins = tuple(_keyed(join, keys.get(join.corner)) for join in plan.corners)
    in_line = tuple(_keyed(join, keys.get((join.run, join.at))) for join in plan.in_line)
    return edited(document, {"worktop.joins": joins or None, "worktop.in_line": in_line or None})


def _keyed(join: CornerJoin | InLineJoin, key: str | None) -> dict[str, Any]:
    plain = join.model_dump(exclude_none=True, exclude={"key"})
    return {**plain, "key": key} if key else plain
