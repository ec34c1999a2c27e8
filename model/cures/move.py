"""Move: a change to a document in plain fields and values, how large it is, and what may be changed at all.

How large a change is: first the number of its moves, one being what a designer decides at once (a trade of two
widths is one); then millimetres, added up. These are the mm by which something moves, grows or shrinks; units that
change places count with what each goes past. What a filler gains counts more, so that the widths of units are
changed before a filler is left wide. What moves nothing counts as said below. So one hob moved far is
smaller than a hob and a unit moved a little, and of two changes of one move that with fewer millimetres is smaller.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import NamedTuple

from countersunk.model.document.schema import Document, Island, Peninsula, Run
from countersunk.model.edit.arrange import Changes, rows
from countersunk.model.layout.placed import PlacedRun

HAND, DOOR, FEMALE, KIND, TURN, ELSEWHERE = 100.0, 300.0, 300.0, 300.0, 500.0, 200.0
"""What counts as so many mm: the other hand of a unit, another swing of a room's door, another female or kind of a
join, an island that faces the other way, a sink or hob over another unit (besides how far it goes)."""

FILLED = 3.0
"""How much each mm counts by which fillers grow: wide ones are left last (common practice, no source)."""

FARTHEST = 800.0
"""Nothing is moved farther than this, mm."""


@dataclass(frozen=True)
class Move:
    """New values for fields of a document, in words; ``size`` is in mm, ``count`` how many moves it is made of.

    ``kinds`` tell moves apart that are tried one after the other: if many of a kind change nothing, none will.
    """

    changes: Changes
    words: str
    size: float
    kinds: tuple[str, ...] = ("slide",)
    count: int = 1

    def then(self, other: Move) -> Move:
        """Both, ``other`` of the document that this one leaves behind."""
        if not self.count:
            return other
        words, size = f"{self.words} and {other.words}", self.size + other.size
        changes, count = _after(self.changes, other.changes), self.count + other.count
        return Move(changes, words, size, (*self.kinds, *other.kinds), count)


NOTHING = Move((), "leave it", 0.0, (), 0)


@dataclass(frozen=True)
class Slide:
    """Moves of one kind: by ``low`` to ``high`` mm, each by a whole number of millimetres."""

    by: Callable[[float], Move]
    low: float
    high: float


class Scope(NamedTuple):
    """What may be changed: the ``runs`` and, where it is about single ones, the ``units`` of these names."""

    runs: frozenset[str]
    units: frozenset[str]

    def within(self, runs: Iterable[PlacedRun]) -> list[PlacedRun]:
        """Those of ``runs`` that may be changed."""
        return [run for run in runs if run.name in self.runs]


def free_rows(document: Document) -> list[tuple[str, Island | Peninsula]]:
    """Every island, then every peninsula, each with its field, such as ``islands[0]``."""
    return [(field, row) for field, row in rows(document).items() if not isinstance(row, Run)]


def place_of(field: str) -> tuple[str, int]:
    """``runs[0].units[2]`` as the row and the place in it: ``runs[0]``, 2."""
    row, _, i = field.rstrip("]").partition(".units[")
    return row, int(i)


def _after(first: Changes, second: Changes) -> Changes:
    """The changes of both; what ``second`` sets anew, or holds whole, ``first`` need not say."""
    new = tuple(field for field, _ in second)
    kept = (
        c for c in first if not any(c[0] == field or c[0].startswith((f"{field}.", f"{field}[")) for field in new)
    )
    return (*kept, *second)
