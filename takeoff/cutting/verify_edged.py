"""Verify edged: whether pieces with a finished front can be sawn from their lengths; knows nothing of the solver.

Checked: every piece once and in its own size; its front on a finished edge of the stock, and its back too where
both are finished; inside the trimmed stock; straight cuts as wide as the kerf, from edge to edge of what is in
hand, that part them all; no stock taken more often than there is of it; and a bound that is not above the cost.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from shapely import Polygon, unary_union
from shapely.affinity import rotate, translate

from countersunk.model.errors import CountersunkError
from countersunk.takeoff.cutting.stretches import Blank
from countersunk.takeoff.cutting.values import Blade, Cut, CutPlan, CutStock, Used

NEARLY = 1e-6
"""Of a step: distances between slanting ends are not whole."""


def faults_of_edged(plan: CutPlan, blanks: Sequence[Blank], stocks: Sequence[CutStock], saw: Blade) -> list[str]:
    """Everything wrong with a plan, in words; none if it holds."""
    return [
        *_counts(plan, blanks),
        *_supplies(plan, stocks),
        *(fault for used in plan.used for fault in _on_length(used, {b.id: b for b in blanks}, saw)),
        *(["the lower bound is above the cost"] if plan.lower_bound > plan.cost and not plan.unplaced else []),
    ]


def checked_edged(plan: CutPlan, blanks: Sequence[Blank], stocks: Sequence[CutStock], saw: Blade) -> CutPlan:
    """The plan itself. Raises CountersunkError for one with faults: better none than a wrong one."""
    found = faults_of_edged(plan, blanks, stocks, saw)
    if found:
        raise CountersunkError(f"a cutting plan failed its own check and is not shown: {'; '.join(found[:3])}")
    return plan


def _counts(plan: CutPlan, blanks: Sequence[Blank]) -> Iterator[str]:
    cut = Counter([*(c.id for used in plan.used for c in used.cuts), *plan.unplaced])
    for id_ in sorted({b.id for b in blanks} | set(cut)):
        if cut[id_] != sum(b.id == id_ for b in blanks):
            yield f"{id_} is cut {cut[id_]} times"


def _supplies(plan: CutPlan, stocks: Sequence[CutStock]) -> Iterator[str]:
    for stock, count in Counter(used.stock for used in plan.used).items():
        if stock not in stocks:
            yield f"{stock.id} is no stock that was given"
        elif stock.quantity is not None and count > stock.quantity:
            yield f"{count} of {stock.id} where there are {stock.quantity}"


def _on_length(used: Used, blanks: dict[str, Blank], saw: Blade) -> list[str]:
    known = [c for c in used.cuts if c.id in blanks]
    found = [fault for c in known for fault in _misplaced(c, blanks[c.id], used.stock, saw.on(used.stock).trim)]
    if found:
        return found
    shapes = [_shape(c, blanks[c.id]) for c in known]
    if not _are_parted(shapes, saw.kerf):
        return [f"no straight cuts part {', '.join(c.id for c in known)} on {used.stock.id}"]
    return []


def _misplaced(cut: Cut, blank: Blank, stock: CutStock, trim: int) -> Iterator[str]:
    if (cut.length, cut.width) != (blank.length, blank.depth):
        yield f"{cut.id} has not its own size"
    if cut.x < trim or cut.x + cut.length > stock.length - trim or cut.y < 0 or cut.y + cut.width > stock.width:
        yield f"{cut.id} is not inside {stock.id}"
    if cut.rotated and not stock.both_edges:
        yield f"{cut.id} is turned on {stock.id}, which has one finished edge"
    front = cut.y if cut.rotated else stock.width - cut.y - cut.width
    if front:
        yield f"the front of {cut.id} is not on the edge of {stock.id}"
    if blank.both_edges and (not stock.both_edges or cut.width != stock.width):
        yield f"the back of {cut.id} is not on a finished edge of {stock.id}"


def _shape(cut: Cut, blank: Blank) -> Polygon:
    """The piece where it lies."""
    flat = Polygon(blank.corners)
    if cut.rotated:
        flat = rotate(flat, 180.0, origin=(blank.length / 2, blank.depth / 2))
    return translate(flat, cut.x, cut.y)


def _are_parted(shapes: Sequence[Polygon], kerf: int) -> bool:
    """Whether straight cuts part them: two heaps whose hulls are a kerf apart have one between them."""
    if len(shapes) < 2:
        return True
    for heap, rest in _heaps(shapes):
        one, other = unary_union(heap).convex_hull, unary_union(rest).convex_hull
        if one.distance(other) >= kerf - NEARLY and one.intersection(other).area <= NEARLY:
            return _are_parted(heap, kerf) and _are_parted(rest, kerf)
    return False


Heap = list[Polygon]


def _heaps(shapes: Iterable[Polygon]) -> Iterator[tuple[Heap, Heap]]:
    """Both sides of every cut that could part them: in the order of their middles along and across."""
    for axis in (0, 1):
        ordered = sorted(shapes, key=lambda s: float(s.centroid.coords[0][axis]))
        yield from ((ordered[:i], ordered[i:]) for i in range(1, len(ordered)))
