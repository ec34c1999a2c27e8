"""Distances: what of a layout may be moved, widened or hung by any number of millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from countersunk.model.cures.kept import WIDEST_FILLER, hooded
from countersunk.model.cures.move import FARTHEST, FILLED, Move, Scope, Slide, free_rows
from countersunk.model.document.schema import Document, Island, Peninsula
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import in_short
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.tops.joins import Join

MOST_PAST = 60.0
"""A top is let stand at most so far past fronts or free ends, mm: more calls for legs or brackets (practice)."""

LEAST_CORNER = 3.0
"""A corner that is clipped or rounded at all takes at least so much, mm."""

HIGHER = 400.0
"""Wall units and hoods are hung at most so much higher or lower, mm."""


def slides(kitchen: Kitchen, scope: Scope) -> list[Slide]:
    """Sinks and hobs, runs, islands, peninsulas, joins, fillers, heights of what hangs, overhangs, of a scope."""
    runs = scope.within(kitchen.runs)
    return [
        *(s for i in range(len(kitchen.cutouts)) for s in _cutout(kitchen, i, scope)),
        *_together(kitchen, scope),
        *_starts(kitchen, scope),
        *_free_standing(kitchen.document, scope),
        *(_filler(unit) for run in runs for unit in run.units if unit.family.kind.fills_gap),
        *(s for run in runs if run.level == "upper" for s in _hung(run)),
        *_notches(kitchen, scope),
        *_in_line(kitchen, scope),
        *_overhangs(kitchen.document),
        *_corners(kitchen, scope),
    ]


def way(by: float) -> str:
    """Where it goes along a wall."""
    return f"{abs(by):g} mm to the {'right' if by > 0 else 'left'}"


def _cutout(kitchen: Kitchen, i: int, scope: Scope) -> Iterator[Slide]:
    placed = kitchen.cutouts[i]
    length = kitchen.length(placed.length)
    if length.run.name in scope.runs:
        front = round(length.run.stock.depth - placed.line.bounds[3], 3)
        yield Slide(partial(_aside, kitchen, (i,)), -FARTHEST, FARTHEST)
        yield Slide(partial(_deep, placed.name, f"cutouts[{i}]", front), -front, FARTHEST)


def _together(kitchen: Kitchen, scope: Scope) -> Iterator[Slide]:
    """A sink with its tap hole, and whatever else is let in over the same unit."""
    over: dict[str, list[int]] = {}
    for i, placed in enumerate(kitchen.cutouts):
        if kitchen.length(placed.length).run.name in scope.runs:
            over.setdefault(placed.unit.name, []).append(i)
    yield from (
        Slide(partial(_aside, kitchen, tuple(some)), -FARTHEST, FARTHEST) for some in over.values() if len(some) > 1
    )


def _aside(kitchen: Kitchen, some: tuple[int, ...], by: float) -> Move:
    names = " and ".join(kitchen.cutouts[i].name for i in some)
    wishes = kitchen.document.cutouts
    changes = tuple((f"cutouts[{i}].shift", wishes[i].shift + by or None) for i in some)
    return Move(changes, f"move {names} {way(by)}", abs(by))


def _deep(name: str, field: str, front: float, by: float) -> Move:
    where = "back from the front edge" if by > 0 else "towards the front edge"
    changes = ((f"{field}.from_front", front + by), (f"{field}.from_back", None))
    return Move(changes, f"move {name} {abs(by):g} mm {where}", abs(by))


def _starts(kitchen: Kitchen, scope: Scope) -> Iterator[Slide]:
    """Each run along its wall, and all runs of a wall together, so that a hood stays over its hob."""
    on_walls: dict[str, list[int]] = {}
    for i, run in enumerate(kitchen.document.runs):
        if kitchen.runs[i].name in scope.runs:
            on_walls.setdefault(run.wall, []).append(i)
    for wall, several in on_walls.items():
        for some in [several, *([[i] for i in several] if len(several) > 1 else [])]:
            what = f"all of wall {wall}" if len(some) == len(several) else in_short(kitchen.runs[some[0]].units)
            starts = {
                i: kitchen.planned.runs[i].units[0].x for i in some
            }  # where a corner unit ends, it goes unsaid
            yield Slide(partial(_along, what, starts), -min(starts.values()), FARTHEST)


def hoods_after(before: Kitchen, after: Kitchen) -> Move | None:
    """A hood to where its hob went; None where none was over a hob, or it cannot follow."""
    for hob, hood in hooded(before):
        moved = next((cutout for cutout in after.cutouts if cutout.key == hob.key), None)
        rows = [run for run in after.runs if run.wall and hood.key in (unit.key for unit in run.units)]
        if moved and rows:
            run, (x0, x1) = rows[0], (rows[0].frame.plan_from_room(c.rim_in_room.centroid).x for c in (hob, moved))
            at, by = int(run.field[len("runs[") : -1]), round(x1 - x0, 3)
            return replace(_along(f"{in_short(run.units)} with it", {at: run.units[0].x}, by), kinds=("hood",))
    return None


def _along(what: str, starts: dict[int, float], by: float) -> Move:
    return Move(tuple((f"runs[{i}].start", x + by) for i, x in starts.items()), f"move {what} {way(by)}", abs(by))


def _free_standing(document: Document, scope: Scope) -> Iterator[Slide]:
    """Islands and peninsulas along their walls, and out from them."""
    for field, row in free_rows(document):
        if row.name in scope.runs:
            back = FARTHEST if isinstance(row, Island) else min(row.along, FARTHEST)  # may begin before its wall
            yield Slide(partial(_beside, field, row), -back, FARTHEST)
            yield Slide(partial(_out, field, row), -min(row.out, FARTHEST), FARTHEST)


def _beside(field: str, row: Island | Peninsula, by: float) -> Move:
    return Move(((f"{field}.along", row.along + by),), f"move {row.name} {way(by)} along wall {row.wall}", abs(by))


def _out(field: str, row: Island | Peninsula, by: float) -> Move:
    where = "away from" if by > 0 else "towards"
    words = f"move {row.name} {abs(by):g} mm {where} wall {row.wall}"
    return Move(((f"{field}.out", row.out + by),), words, abs(by))


def _filler(unit: PlacedUnit) -> Slide:
    def wider(by: float) -> Move:
        width = unit.width + by
        words = f"make the filler {unit.name} {width:g} wide instead of {unit.width:g}"
        return Move(((f"{unit.field}.width", width),), words, by * FILLED if by > 0 else -by)

    low, high = unit.family.width_range or (unit.width, unit.width)
    return Slide(wider, min(low - unit.width, 0.0), max(0.0, min(high, WIDEST_FILLER) - unit.width))


def _hung(run: PlacedRun) -> Iterator[Slide]:
    """All that hangs in a row, and its hood alone."""
    hoods = [unit for unit in run.units if unit.family.holds("hood")]
    for some in [list(run.units), *([hoods] if hoods and len(hoods) < len(run.units) else [])]:
        yield Slide(partial(_higher, some), -HIGHER, HIGHER)


def _higher(some: list[PlacedUnit], by: float) -> Move:
    words = f"hang {in_short(some)} {abs(by):g} mm {'higher' if by > 0 else 'lower'}"
    return Move(tuple((f"{unit.field}.bottom", unit.family.bottom + by) for unit in some), words, abs(by))


def _notches(kitchen: Kitchen, scope: Scope) -> Iterator[Slide]:
    for join in kitchen.joins:
        if join.kind == "mitre" and kitchen.length(join.female).run.name in scope.runs:
            yield Slide(partial(_notch, kitchen.document, join), 1.0 - join.notch, 100.0 - join.notch)


def _notch(document: Document, join: Join, by: float) -> Move:
    corner, notch = join.corner, join.notch + by
    changed = join_changed(document, corner, notch=notch)
    return Move((changed,), f"make the notch of the join in corner {corner} {notch:g} mm", abs(by))


def join_changed(document: Document, corner: str, **fields: object) -> tuple[str, object]:
    """The list of joins with some fields of one of them changed, or with that one added."""
    named = {join.corner: join.model_dump(exclude_unset=True) for join in document.worktop.joins}
    named[corner] = {**named.get(corner, {"corner": corner}), **fields}
    return "worktop.joins", tuple(named.values())


def _in_line(kitchen: Kitchen, scope: Scope) -> Iterator[Slide]:
    """Where long rows are parted; the other places are said as well, so that they stay."""
    held = {wish.key for wish in kitchen.document.worktop.in_line}
    places = [(kitchen.length(join.female).run, join) for join in kitchen.joins if join.kind == "in line"]
    at = [(run.name, round(run.frame.plan_from_room(join.line).bounds[0], 3)) for run, join in places]
    keys = [{"key": join.key} if join.key in held else {} for _, join in places]
    for i, (run, _) in enumerate(at):
        if run in scope.runs:
            yield Slide(partial(_parted, at, keys, i), -FARTHEST, FARTHEST)


def _parted(at: list[tuple[str, float]], keys: list[dict[str, str]], i: int, by: float) -> Move:
    wishes = [{"run": run, "at": x + by if i == j else x, **keys[j]} for j, (run, x) in enumerate(at)]
    return Move((("worktop.in_line", tuple(wishes)),), f"move the join in line on {at[i][0]} {way(by)}", abs(by))


def _overhangs(document: Document) -> Iterator[Slide]:
    overhang = document.worktop.overhang
    for side, now, what in (("front", overhang.front, "fronts"), ("ends", overhang.ends, "free ends")):
        yield Slide(partial(_overhang, side, now, what), -now, max(0.0, MOST_PAST - now))


def _overhang(side: str, now: float, what: str, by: float) -> Move:
    words = f"let the top stand {now + by:g} mm past the {what} instead of {now:g}"
    return Move(((f"worktop.overhang.{side}", now + by),), words, abs(by))


def _corners(kitchen: Kitchen, scope: Scope) -> Iterator[Slide]:
    """The corners of free ends that are clipped or rounded, by less."""
    ends = {unit.key: unit for run in scope.within(kitchen.runs) for unit in run.units}
    for i, corner in enumerate(kitchen.document.worktop.corners):
        if corner.over in ends and (corner.clip or corner.radius):
            unit = ends[corner.over]
            what, size = ("clip", corner.clip) if corner.clip else ("radius", corner.radius or 0.0)
            which = "both corners" if corner.edge == "both" else f"the {corner.edge} corner"
            at = f"{which} at the {corner.end} of {unit.name}"
            smaller = partial(_corner, f"worktop.corners[{i}].{what}", f"{what} of {at}", size)
            yield Slide(smaller, LEAST_CORNER - size, 0.0)


def _corner(field: str, what: str, now: float, by: float) -> Move:
    return Move(((field, now + by),), f"make the {what} {now + by:g} mm instead of {now:g}", abs(by))
