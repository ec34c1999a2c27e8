"""Measures of worktop that serves several: an oven, two work centres at once, and all the frontage there is."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import LineString, union_all

from model.checks.finding import Place, Volume
from model.checks.landing import ACROSS, CLEAR, front_span
from model.checks.plans import appliances, block, face, front_of, of_kind, openings, unit_plan
from model.kitchen import Kitchen
from model.layout import PlacedRun, PlacedUnit
from model.tolerance import CONTACT
from model.worktops import Length

Piece = tuple[Length, float, float]
"""A stretch of a length's front edge, from and to along it (mm)."""


def beside_oven(kitchen: Kitchen) -> Iterator[Place]:
    """The longest stretch of worktop that lies above an oven, ends beside it or lies across from it, mm.

    Across counts within `ACROSS` of the oven's front. What a rim takes is no worktop.
    """
    for oven in appliances(kitchen, "oven"):
        run = next(run for run in kitchen.runs if oven in run.units)
        found = [p for p in pieces(kitchen) if _at(p, run, oven)] + list(_across(kitchen, run, oven))
        best = max(found, key=lambda piece: round(piece[2] - piece[1], 3), default=None)
        if best is None:
            yield Place(f"{oven.name}: no worktop at it", 0.0, (oven.name,), _volume_of(oven))
        else:
            yield _place(best, f"for {oven.name} on {best[0].id}", (oven.name,))


def sink_to_fridge(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between a sink and a refrigerator in one row, along the front, mm, where nothing else is between."""
    return _to_fridge(kitchen, "sink")


def hob_to_fridge(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between a hob and a refrigerator in one row, along the front, mm, where nothing else is between."""
    return _to_fridge(kitchen, "hob")


def frontage(kitchen: Kitchen) -> Iterator[Place]:
    """All the worktop there is along its fronts, mm: without rims, and only where it is clear above.

    Clear by `CLEAR` above the face; the depth is that of the stock and is not asked here.
    """
    clear = [(piece, _clear_length(kitchen, piece)) for piece in pieces(kitchen)]
    ids = tuple(dict.fromkeys(length.id for (length, *_), _ in clear))
    if ids:
        yield Place(f"frontage of {', '.join(ids)}", sum(size for _, size in clear), ids)


def pieces(kitchen: Kitchen) -> Iterator[Piece]:
    """Every stretch of front edge that no rim breaks."""
    for length in kitchen.lengths:
        start, end = front_span(kitchen, length)
        for x0, _, x1, _ in sorted(c.rim.bounds for c in openings(kitchen) if c.length == length.id):
            if x0 > start + CONTACT:
                yield length, start, x0
            start = max(start, x1)
        if end > start + CONTACT:
            yield length, start, end


def _at(piece: Piece, run: PlacedRun, oven: PlacedUnit) -> bool:
    """Whether a stretch reaches an oven: it lies over it, or ends at its side."""
    length, x0, x1 = piece
    low, high = length.x + x0, length.x + x1
    return length.run is run and low <= oven.right + CONTACT and high >= oven.x - CONTACT


def _across(kitchen: Kitchen, run: PlacedRun, oven: PlacedUnit) -> Iterator[Piece]:
    front = front_of(oven)
    before = block(oven.frame, 0.0, front, oven.width, front + ACROSS)
    for length, x0, x1 in pieces(kitchen):
        depth = length.run.stock.depth
        if length.run is not run and not before.disjoint(block(length.part.pose, x0, depth - 1.0, x1, depth)):
            yield length, x0, x1


def _to_fridge(kitchen: Kitchen, kind: str) -> Iterator[Place]:
    for fridge in appliances(kitchen, "fridge"):
        run = next(run for run in kitchen.runs if fridge in run.units)
        for cutout, length in of_kind(kitchen, kind):
            piece = _between(kitchen, length, cutout.rim.bounds, fridge) if length.run is run else None
            if piece is not None:
                yield _place(piece, f"between {cutout.name} and {fridge.name}", (cutout.name, fridge.name))


def _between(
    kitchen: Kitchen, length: Length, rim: tuple[float, float, float, float], fridge: PlacedUnit
) -> Piece | None:
    """The stretch from a rim to the end of its length, if that end stands at the refrigerator."""
    start, end = front_span(kitchen, length)
    right = length.right.kind == "tall" and 0.0 <= fridge.x - length.right.x < BESIDE
    left = length.left.kind == "tall" and 0.0 <= length.left.x - fridge.right < BESIDE
    wanted = (rim[2], end) if right else (start, rim[0]) if left else None
    return next((p for p in pieces(kitchen) if p[0] is length and wanted == (p[1], p[2])), None)


BESIDE = 40.0
"""A panel this wide may stand between a top and a refrigerator beside it, mm (common practice, no source)."""


def _clear_length(kitchen: Kitchen, piece: Piece) -> float:
    """How much of a stretch has nothing hanging low over it, mm."""
    length, x0, x1 = piece
    depth, low = length.run.stock.depth, face(length)
    hung = [u for u in kitchen.units if u.family.level == "upper" and u.family.base < low + CLEAR]
    shade = union_all([length.part.pose.plan_from_room(unit_plan(u)) for u in hung])
    middle = LineString([(x0, depth / 4), (x1, depth / 4)])
    return float(middle.difference(shade).length)


def _volume_of(unit: PlacedUnit) -> Volume:
    return Volume(unit_plan(unit), unit.family.base, unit.family.top)


def _place(piece: Piece, text: str, names: tuple[str, ...]) -> Place:
    length, x0, x1 = piece
    pose, depth, z = length.part.pose, length.run.stock.depth, length.part.thickness
    volume = Volume(block(pose, x0, 0.0, x1, depth), face(length), face(length) + CLEAR)
    segment = (pose.to_room((x0, depth, z)), pose.to_room((x1, depth, z)))
    return Place(text, x1 - x0, (*names, length.id), volume, segment)
