"""Moves: what of a layout may be changed, smallest kinds first. A move is plain fields and values of a document.

Sizes say how much is changed, in mm that something moves. What moves nothing, as choosing the other hand or the
other female, has a size of its own below.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from model.document import CornerJoin, Document, Island, Peninsula, Unit
from model.joins import Join
from model.kitchen import Kitchen
from model.layout import PlacedRun, PlacedUnit

HAND, FEMALE = 100.0, 300.0
"""What changing the hand of a unit or the female of a join counts as, mm."""

IN_CORNER = "corner "

FARTHEST = 800.0
"""Nothing is moved farther than this, mm."""


@dataclass(frozen=True)
class Move:
    """New values for fields of a document, in words; ``size`` is how much that changes, mm.

    ``kind`` tells moves apart that are tried one after the other: if many of a kind change nothing, none will.
    """

    changes: tuple[tuple[str, Any], ...]
    words: str
    size: float
    kind: str = "slide"


@dataclass(frozen=True)
class Slide:
    """Moves of one kind: by ``low`` to ``high`` mm, each by a whole number of millimetres."""

    by: Callable[[float], Move]
    low: float
    high: float


def slides(kitchen: Kitchen, runs: set[str]) -> list[Slide]:
    """What may be moved by any distance, of the runs named: sinks and hobs, runs, islands, peninsulas, notches."""
    document = kitchen.document
    return [
        *(s for i in range(len(document.cutouts)) for s in _cutout(kitchen, i, runs)),
        *_starts(kitchen, runs),
        *_free_standing(document, runs),
        *_notches(kitchen, runs),
    ]


def choices(kitchen: Kitchen, runs: set[str]) -> list[Move]:
    """What may be chosen otherwise, of the runs named, the smallest change first."""
    placed = [run for run in kitchen.runs if run.name in runs]
    found = [
        *(move for run in placed for move in _hands(run)),
        *(move for run in placed for move in _widths(run)),
        *(move for run in placed for move in _trades(run)),
        *(move for run in placed for move in _swaps(kitchen, run)),
        *_females(kitchen, runs),
    ]
    return sorted(found, key=lambda move: (move.size, move.words))


def _cutout(kitchen: Kitchen, i: int, runs: set[str]) -> Iterator[Slide]:
    wish, placed = kitchen.document.cutouts[i], kitchen.cutouts[i]
    length = kitchen.length(placed.length)
    if length.run.name not in runs:
        return
    name, field = placed.name, f"cutouts[{i}]"
    front = round(length.run.stock.depth - placed.line.bounds[3], 3)

    def aside(by: float) -> Move:
        side = "right" if by > 0 else "left"
        words = f"move {name} {abs(by):g} mm to the {side}"
        return Move(((f"{field}.shift", wish.shift + by or None),), words, abs(by))

    def deep(by: float) -> Move:
        way = "back from the front edge" if by > 0 else "towards the front edge"
        changes = ((f"{field}.from_front", front + by), (f"{field}.from_back", None))
        return Move(changes, f"move {name} {abs(by):g} mm {way}", abs(by))

    yield Slide(aside, -FARTHEST, FARTHEST)
    yield Slide(deep, -front, FARTHEST)


def _starts(kitchen: Kitchen, runs: set[str]) -> Iterator[Slide]:
    """Each run along its wall, and all runs of a wall together, so that a hood stays over its hob."""
    on_walls: dict[str, list[int]] = {}
    for i, run in enumerate(kitchen.document.runs):
        if kitchen.runs[i].name in runs:
            on_walls.setdefault(run.wall, []).append(i)
    for wall, several in on_walls.items():
        for some in [several, *([[i] for i in several] if len(several) > 1 else [])]:
            yield _start(kitchen, wall, some, "all of wall" if len(some) == len(several) else "a run of wall")


def _start(kitchen: Kitchen, wall: str, some: list[int], what: str) -> Slide:
    starts = {i: kitchen.runs[i].units[0].x for i in some}  # a run may begin where a corner unit ends, unsaid

    def along(by: float) -> Move:
        changes = tuple((f"runs[{i}].start", x + by) for i, x in starts.items())
        return Move(changes, f"move {what} {wall} {abs(by):g} mm to the {'right' if by > 0 else 'left'}", abs(by))

    return Slide(along, -min(starts.values()), FARTHEST)


def _free_standing(document: Document, runs: set[str]) -> Iterator[Slide]:
    """Islands and peninsulas along their walls, and out from them."""
    rows: list[tuple[str, Island | Peninsula]] = [
        *((f"islands[{i}]", island) for i, island in enumerate(document.islands)),
        *((f"peninsulas[{i}]", peninsula) for i, peninsula in enumerate(document.peninsulas)),
    ]
    for field, row in rows:
        if row.name in runs:
            yield from _away(field, row)


def _away(field: str, row: Island | Peninsula) -> Iterator[Slide]:
    def along(by: float) -> Move:
        words = f"move {row.name} {abs(by):g} mm to the {'right' if by > 0 else 'left'} along wall {row.wall}"
        return Move(((f"{field}.along", row.along + by),), words, abs(by))

    def out(by: float) -> Move:
        words = f"move {row.name} {abs(by):g} mm {'away from' if by > 0 else 'towards'} wall {row.wall}"
        return Move(((f"{field}.out", row.out + by),), words, abs(by))

    yield Slide(along, -min(row.along, FARTHEST), FARTHEST)
    yield Slide(out, -min(row.out, FARTHEST), FARTHEST)


def _notches(kitchen: Kitchen, runs: set[str]) -> Iterator[Slide]:
    for join in kitchen.joins:
        if join.kind == "mitre" and kitchen.length(join.female).run.name in runs:
            yield _notch(kitchen.document, _corner(join), join.notch)


def _notch(document: Document, corner: str, notch: float) -> Slide:
    def deeper(by: float) -> Move:
        words = f"make the notch of the join in corner {corner} {notch + by:g} mm"
        return Move((_join(document, corner, notch=notch + by),), words, abs(by))

    return Slide(deeper, 1.0 - notch, 100.0 - notch)


def _corner(join: Join) -> str:
    """The corner of the room that a join is in, such as ``A-B``; empty for others."""
    return join.place.removeprefix(IN_CORNER) if join.place.startswith(IN_CORNER) else ""


def _females(kitchen: Kitchen, runs: set[str]) -> Iterator[Move]:
    for join in kitchen.joins:
        male, corner = kitchen.length(join.male).run, _corner(join)
        if corner and male.wall and {male.name, kitchen.length(join.female).run.name} & runs:
            change = _join(kitchen.document, corner, female=male.wall)
            yield Move(
                (change,), f"let the top of wall {male.wall} run through in corner {corner}", FEMALE, "female"
            )


def _join(document: Document, corner: str, **fields: Any) -> tuple[str, Any]:
    """The list of joins with some fields of one of them changed, or with that one added."""
    named = {join.corner: join.model_dump(exclude_unset=True) for join in document.worktop.joins}
    named[corner] = {**named.get(corner, CornerJoin(corner=corner).model_dump(exclude_unset=True)), **fields}
    return "worktop.joins", tuple(named.values())


def _hands(run: PlacedRun) -> Iterator[Move]:
    """The other hand of whatever has one; on a blind corner it says where the corner is, which stays."""
    for unit in run.units:
        single = unit.family.doors or unit.family.appliance == "fridge"
        if single and unit.family.construction != "blind-corner":
            hand = "right" if unit.hand == "left" else "left"
            yield Move(((f"{unit.field}.hand", hand),), f"hang the door of {unit.name} on the {hand}", HAND, "hand")


def _widths(run: PlacedRun) -> Iterator[Move]:
    for unit in run.units:
        for width in unit.family.widths:
            if width != unit.width:
                words = f"make {unit.name} {width:g} wide instead of {unit.width:g}"
                yield Move(((f"{unit.field}.width", width),), words, abs(width - unit.width), "width")


def _trades(run: PlacedRun) -> Iterator[Move]:
    """One unit wider and another narrower by the same, so that the run stays as long."""
    for a, b in combinations(run.units, 2):
        for width in a.family.widths:
            rest = a.width + b.width - width
            if width != a.width and _comes_in(b, rest):
                words = f"make {a.name} {width:g} wide instead of {a.width:g}"
                words += f" and {b.name} {rest:g} instead of {b.width:g}"
                changes = ((f"{a.field}.width", width), (f"{b.field}.width", rest))
                yield Move(changes, words, 2 * abs(width - a.width), "trade")


def _comes_in(unit: PlacedUnit, width: float) -> bool:
    low, high = unit.family.width_range or (1.0, 0.0)
    return width in unit.family.widths or (low <= width <= high and low < high)


def _swaps(kitchen: Kitchen, run: PlacedRun) -> Iterator[Move]:
    """Two units of a run in each other's places; what is let in over them goes with them."""
    for a, b in combinations(run.units, 2):
        if (a.family, a.width, a.hand) != (b.family, b.width, b.hand):
            between = b.x - a.right
            size = a.width + b.width + between
            words = f"let {a.name} and {b.name} change places"
            yield Move(_swapped(kitchen.document, a, b), words, size, "swap")


def _swapped(document: Document, a: PlacedUnit, b: PlacedUnit) -> tuple[tuple[str, Any], ...]:
    """Fields of a swap. Units without a name of their own are called by their places: what is over them follows."""
    typed = {unit.field: _typed(document, unit.field) for unit in (a, b)}
    moved = {a.name: b.name, b.name: a.name}
    own = {unit.name for unit in (a, b) if typed[unit.field].name}
    overs = [
        (f"cutouts[{i}].over", moved[cutout.over])
        for i, cutout in enumerate(document.cutouts)
        if cutout.over in moved and cutout.over not in own
    ]
    plain = {field: unit.model_dump(exclude_unset=True) for field, unit in typed.items()}
    return ((a.field, plain[b.field]), (b.field, plain[a.field]), *overs)


def _typed(document: Document, field: str) -> Unit:
    """The unit of a document at a field such as ``runs[0].units[2]``."""
    rows, i, _, j = field.replace("]", "").replace(".", "[").split("[")
    unit: Unit = getattr(document, rows)[int(i)].units[int(j)]
    return unit
