"""Verify: whether a plan can be sawn and does what was asked; knows nothing of how the plan was found.

Checked: every piece as often as asked, in its own size, turned only where it may be; inside the trimmed stock; a
kerf between any two; cuts from edge to edge that part them all; no stock taken more often than there is of it;
and a lower bound that is not above the cost.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import TypeVar

from countersunk.model.errors import CountersunkError
from countersunk.takeoff.cutting.values import Blade, Cut, CutPiece, CutPlan, CutStock, Used


def faults(plan: CutPlan, pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade) -> list[str]:
    """Everything wrong with a plan, in words; none if it holds."""
    return [
        *_counts(plan, pieces),
        *_supplies(plan, stocks),
        *(fault for used in plan.used for fault in _on_stock(used, pieces, saw)),
        *(["the lower bound is above the cost"] if plan.lower_bound > plan.cost and not plan.unplaced else []),
    ]


def faults_of_one(used: Used, pieces: Sequence[CutPiece], saw: Blade) -> list[str]:
    """The same for one sheet that need not hold every piece, but none more often than asked."""
    wanted, cut = {p.id: p.quantity for p in pieces}, Counter(c.id for c in used.cuts)
    many = [f"{id_} is cut {n} times" for id_, n in cut.items() if n > wanted.get(id_, 0)]
    return [*many, *_on_stock(used, pieces, saw)]


def checked(plan: CutPlan, pieces: Sequence[CutPiece], stocks: Sequence[CutStock], saw: Blade) -> CutPlan:
    """The plan itself. Raises CountersunkError for one with faults: better none than a wrong one."""
    return _without(faults(plan, pieces, stocks, saw), plan)


def checked_one(used: Used, pieces: Sequence[CutPiece], saw: Blade) -> Used:
    """The same for one sheet that need not hold every piece."""
    return _without(faults_of_one(used, pieces, saw), used)


Sawn = TypeVar("Sawn", CutPlan, Used)


def _without(found: list[str], thing: Sawn) -> Sawn:
    if found:
        raise CountersunkError(f"a cutting plan failed its own check and is not shown: {'; '.join(found[:3])}")
    return thing


def _counts(plan: CutPlan, pieces: Sequence[CutPiece]) -> Iterator[str]:
    cut = Counter(c.id for used in plan.used for c in used.cuts) + Counter(plan.unplaced)
    wanted = Counter({p.id: p.quantity for p in pieces})
    for id_ in sorted(set(cut) | set(wanted)):
        if cut[id_] != wanted[id_]:
            yield f"{id_} is cut {cut[id_]} times instead of {wanted[id_]}"


def _supplies(plan: CutPlan, stocks: Sequence[CutStock]) -> Iterator[str]:
    known = {s.id: s for s in stocks}
    for used in plan.used:
        if known.get(used.stock.id) != used.stock:
            yield f"{used.stock.id} is no stock that was given"
    for id_, count in Counter(used.stock.id for used in plan.used).items():
        most = known[id_].quantity if id_ in known else None
        if most is not None and count > most:
            yield f"{count} of {id_} where there are {most}"


def _on_stock(used: Used, pieces: Sequence[CutPiece], saw: Blade) -> list[str]:
    found = [*_misplaced(used, {p.id: p for p in pieces}, saw.on(used.stock).trim), *_crowded(used.cuts, saw.kerf)]
    if not found and not _can_be_parted(used.cuts, saw.kerf):
        return [f"no cuts from edge to edge part the pieces on {used.stock.id}"]
    return found


def _misplaced(used: Used, pieces: dict[str, CutPiece], trim: int) -> Iterator[str]:
    for cut in used.cuts:
        if cut.id not in pieces or not _is_own_size(cut, pieces[cut.id]):
            yield f"{cut.id} has not its own size"
        if not _is_inside(cut, used.stock, trim):
            yield f"{cut.id} is not inside {used.stock.id}"


def _crowded(cuts: Iterable[Cut], kerf: int) -> Iterator[str]:
    for a, b in combinations(cuts, 2):
        if not _are_apart(a, b, kerf):
            yield f"{a.id} and {b.id} are not a saw cut apart"


def _is_own_size(cut: Cut, piece: CutPiece) -> bool:
    if cut.rotated:
        return piece.turns and (cut.length, cut.width) == (piece.width, piece.length)
    return (cut.length, cut.width) == (piece.length, piece.width)


def _is_inside(cut: Cut, stock: CutStock, trim: int) -> bool:
    along = trim <= cut.x and cut.x + cut.length <= stock.length - trim
    return along and (not stock.width or (trim <= cut.y and cut.y + cut.width <= stock.width - trim))


def _are_apart(a: Cut, b: Cut, kerf: int) -> bool:
    along = a.x + a.length + kerf <= b.x or b.x + b.length + kerf <= a.x
    across = a.y + a.width + kerf <= b.y or b.y + b.width + kerf <= a.y
    return along or (across and bool(a.width))


def _can_be_parted(cuts: Iterable[Cut], kerf: int) -> bool:
    """Whether cuts from edge to edge, each ``kerf`` wide, leave every piece alone."""
    boxes = [(c.x, c.y, c.x + c.length, c.y + c.width) for c in cuts]
    heaps = [boxes]
    while heaps:
        heap = heaps.pop()
        if len(heap) > 1:
            parted = _parted(heap, 0, kerf) or _parted(heap, 1, kerf)
            if parted is None:
                return False
            heaps += parted
    return True


Box = tuple[int, int, int, int]


def _parted(heap: list[Box], axis: int, kerf: int) -> tuple[list[Box], list[Box]] | None:
    """The heap on both sides of the first straight cut across ``axis``; None where none passes."""
    ordered = sorted(heap, key=lambda box: box[axis])
    reach = ordered[0][axis + 2]
    for i, box in enumerate(ordered[1:], start=1):
        if box[axis] >= reach + kerf and box[axis] > ordered[i - 1][axis]:
            return ordered[:i], ordered[i:]
        reach = max(reach, box[axis + 2])
    return None
