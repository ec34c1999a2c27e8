"""Seen: how much of the sides of carcasses shows beside what stands there.

A side shows where nothing stands close before it: at a free end without an end panel, above a base unit beside a
tall one, beside a hood. What is nearer than `HIDES` hides it, be it a unit, a panel, a filler or a wall.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shapely import Polygon
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.geometry.identity import Position
from countersunk.model.kept import kept
from countersunk.model.layout.placed import PlacedRun, PlacedUnit
from countersunk.model.tolerance import OVERLAP_AREA

HIDES = 60.0
"""What stands this near before a side hides it, mm (common practice, no source)."""

COVERED = 0.75
"""Share of the front half of a side that something must stand before to hide it."""

SHOWS = 50.0
"""A strip of a side that is lower than this does not count as seen, mm: the thickness of a top, a shadow gap."""


def faced(runs: Sequence[PlacedRun], room: Polygon | None) -> tuple[PlacedRun, ...]:
    """The runs with the sides that show to be made of front board."""
    units = [unit for run in runs for unit in run.units]

    def with_sides(unit: PlacedUnit) -> PlacedUnit:
        seen = frozenset(at for at in (Position.LEFT, Position.RIGHT) if shown(unit, at, units, room) >= SHOWS)
        return replace(unit, faced=seen) if unit.ready is None else unit

    return tuple(replace(run, units=tuple(map(with_sides, run.units))) for run in runs)


def with_bottoms(runs: Sequence[PlacedRun]) -> tuple[PlacedRun, ...]:
    """The runs with the bottoms of what hangs, seen from below, to be made of front board."""

    def clad(unit: PlacedUnit) -> PlacedUnit:
        hung = unit.family.level == "upper" and not unit.family.on_top and unit.ready is None
        return replace(unit, faced=unit.faced | {Position.BOTTOM}) if hung else unit

    return tuple(replace(run, units=tuple(map(clad, run.units))) for run in runs)


def shown(unit: PlacedUnit, at: Position, units: Sequence[PlacedUnit], room: Polygon | None) -> float:
    """How high the side of a unit is that shows, mm; 0 for what has no plain sides, and in a corner."""
    if not unit.family.kind.is_unit or unit.wing or (unit.family.kind.is_blind and unit.hand == at):
        return 0.0
    strip = _strip(unit, at)
    if room is not None and _fills(unit, strip.difference(room)):
        return 0.0
    hidden = [(max(low, unit.family.base), min(high, unit.family.top)) for low, high in _before(unit, strip, units)]
    return unit.family.height - _length(sorted(span for span in hidden if span[1] > span[0]))


def _strip(unit: PlacedUnit, at: Position) -> Polygon:
    """The plan of what lies close before the front half of a side, in the room."""
    x = -HIDES if at is Position.LEFT else unit.width
    return unit.frame.plan_to_room(rectangle(x, unit.family.depth / 2, x + HIDES, unit.family.depth))


def _before(unit: PlacedUnit, strip: Polygon, units: Sequence[PlacedUnit]) -> Iterator[tuple[float, float]]:
    """From where to where whatever stands before a strip is, mm above the floor."""
    for other in units:
        apart = other is unit or other.family.kind.has_knees or not _is_near(unit, other)
        if not apart and _fills(unit, strip.intersection(_body(other))):
            yield (0.0 if other.family.level == "floor" else other.family.base), other.family.top


@kept(2_000)
def _body(unit: PlacedUnit) -> Polygon:
    """The plan of a unit in the room, with what goes on behind its back."""
    body = unit.outline if unit.wing else rectangle(0.0, -unit.reach, unit.width, unit.face)
    return unit.frame.plan_to_room(body)


def _is_near(unit: PlacedUnit, other: PlacedUnit) -> bool:
    """Whether another unit may stand before a side of a unit; what is farther off than both are large does not."""
    (x, y, _), (u, v, _) = unit.frame.origin, other.frame.origin
    return max(abs(x - u), abs(y - v)) <= HIDES + sum(a.width + a.face + a.reach + a.wing for a in (unit, other))


def _fills(unit: PlacedUnit, shadow: BaseGeometry) -> bool:
    """Whether a shape within the strip before a side, in the room, lies before as much of it as hides it."""
    if shadow.area < OVERLAP_AREA:
        return False
    _, y0, _, y1 = unit.frame.plan_from_room(shadow).bounds
    return bool(y1 - y0 >= COVERED * unit.family.depth / 2)


def _length(spans: Sequence[tuple[float, float]]) -> float:
    """The length of what spans in order cover together."""
    covered, end = 0.0, float("-inf")
    for low, high in spans:
        covered += max(0.0, high - max(low, end))
        end = max(end, high)
    return covered
