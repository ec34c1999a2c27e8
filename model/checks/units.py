"""Measures of units against the coordinating sizes of kitchen furniture."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import groupby

from shapely import union_all
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Decor
from countersunk.model.catalogue.method import Bay
from countersunk.model.checks.finding import Amount, Aspect, Figure, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import (
    WHOLE,
    of_length,
    of_lengths,
    of_opening,
    of_part,
    of_row,
    of_unit,
    of_units,
)
from countersunk.model.facts.bends import bends
from countersunk.model.facts.covering import wedges
from countersunk.model.facts.plans import around, block, face, heights, overlap, top_plan, upright, wall_units
from countersunk.model.geometry.identity import Position, Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.profile import plan_points
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import TALL
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.layout.seen import shown
from countersunk.model.ties import most, settled
from countersunk.model.tolerance import CONTACT

KNEES = 685.0
"""Up to this height nothing is in the way of knees, mm (27 in: ADA Standards 306.3, from memory)."""

BEHIND = 50.0
"""A window with a top so near before it has the top behind its sill, mm (common practice, no source)."""

FOOT = 304.8
"""mm."""

COORDINATING_HEIGHTS = (820.0, 870.0, 920.0)
"""mm, from the floor to the top of base units (EN 1116:2018, quoted by others, not seen)."""


def off_coordinating_height(kitchen: Kitchen) -> Iterator[Place]:
    """How far the top of base units is off the nearest coordinating height, mm; neighbours alike are one place.

    Units in inches go by other heights, and are not asked.
    """
    if kitchen.document.catalogue == "inch":
        return
    for run, units in _alike(kitchen, lambda u: u.family.top):
        top = units[0].family.top
        off = min(abs(top - h) for h in COORDINATING_HEIGHTS)
        high = (Figure(Amount.HEIGHT, top),)
        where = Where(Phrase.HIGH, of_row(run), more=of_units(units), figures=high)
        yield _place(units, where, off, 0.0, top)


def plinth_height(kitchen: Kitchen) -> Iterator[Place]:
    """From the floor to the underside of base units, mm; neighbours alike are one place."""
    for run, units in _alike(kitchen, lambda u: u.family.base):
        where = Where(Phrase.UNDER, of_row(run), more=of_units(units))
        yield _place(units, where, units[0].family.base, 0.0, units[0].family.base)


def wall_unit_depth(kitchen: Kitchen) -> Iterator[Place]:
    """From the wall to the front of a wall unit, mm."""
    for unit in wall_units(kitchen):
        yield _place([unit], Where(Phrase.DEPTH, of_unit(unit)), unit.face, unit.family.base, unit.family.top)


WHITE = 0xE0
"""A decor of which every channel is at least this passes for white beside a carcass (invented)."""


def white_side(kitchen: Kitchen) -> Iterator[Place]:
    """How high a carcass's plain side shows beside fronts in a colour, mm; 0 where the side is of front board.

    Only sides that show are asked; see `model.layout.seen` for what hides one.
    """
    boards, decors = kitchen.catalogue.boards, kitchen.catalogue.decors
    for unit in kitchen.units:
        if _white(decors[unit.fronts]):
            continue
        sides = {p.which.at: p for p in kitchen.parts_of.get(unit.key, ()) if p.role is Role.SIDE}
        for at, aspect in ((Position.LEFT, Aspect.LEFT), (Position.RIGHT, Aspect.RIGHT)):
            side = sides.get((at,))
            high = shown(unit, at, kitchen.units, kitchen.survey.outline) if side else 0.0
            if side and high > 0.0:
                plain = 0.0 if boards[side.material].use == "front" else high
                x = 0.0 if at is Position.LEFT else unit.width
                plan = block(unit.frame, x - 5.0, 0.0, x + 5.0, unit.family.depth)
                low, top = unit.family.top - high, unit.family.top
                segment = (unit.frame.to_room((x, unit.face, low)), unit.frame.to_room((x, unit.face, top)))
                where = Where(Phrase.SIDE_OF, of_unit(unit), aspect)
                yield Place(where, plain, where.things, Volume(plan, low, top), segment)


def _white(decor: Decor) -> bool:
    return min(int(decor.colour[i : i + 2], 16) for i in (1, 3, 5)) >= WHITE


def wall_unit_base(kitchen: Kitchen) -> Iterator[Place]:
    """From the floor to the underside of a wall unit, mm: the least that one has to reach up to it."""
    for unit in wall_units(kitchen):
        where = Where(Phrase.UNDERSIDE, of_unit(unit))
        yield _place([unit], where, unit.family.base, 0.0, unit.family.base)


def beside_wing(kitchen: Kitchen) -> Iterator[Place]:
    """Between the wing of a square corner unit and the front of the unit beside it on the other wall, mm.

    In a corner of more than 90° they lean apart; in one of less they touch in front, and what gapes is behind.
    """
    for wedge in wedges(kitchen):
        segment = ((*wedge.start, wedge.corner.family.base), (*wedge.end, wedge.corner.family.base))
        volume = around(segment, wedge.corner.family.base, wedge.corner.family.top)
        where = Where(Phrase.BETWEEN, of_unit(wedge.corner), against=of_unit(wedge.beside))
        yield Place(where, wedge.gap, where.things, volume, segment)


def in_bend(kitchen: Kitchen) -> Iterator[Place]:
    """Between straight units of two rows whose tops are joined in a corner of 120° and more, mm."""
    for bend in bends(kitchen):
        base, left, right = bend.left.family.base, of_unit(bend.left), of_unit(bend.right)
        segment = ((*bend.start, base), (*bend.end, base))
        volume = around(segment, base, bend.left.family.top)
        advice = (
            f"close {settled(bend.before):.0f} beside {bend.left.name} and {settled(bend.behind):.0f} beside "
            f"{bend.right.name}: there their fronts meet; a filler on each wall, or units so much nearer"
        )
        where = Where(Phrase.BETWEEN, left, against=right)
        yield Place(where, bend.gap, where.things, volume, segment, advice=advice)


def knee_space(kitchen: Kitchen) -> Iterator[Place]:
    """The widest space beneath a top with nothing up to `KNEES`, between what stands there, mm; 0 for none."""
    gaps = [gap for run in kitchen.runs for units in _knees(run) for gap in _gaps(kitchen, units)]
    if not gaps:
        yield Place(Where(Phrase.NO_KNEE_SPACE, WHOLE), 0.0, of_lengths(kitchen.lengths))
        return
    unit, x0, x1 = most(gaps, key=lambda gap: gap[2] - gap[1])
    low, high = (unit.frame.to_room((x, unit.family.depth, KNEES / 2)) for x in (x0, x1))
    plan = block(unit.frame, x0, 0.0, x1, unit.family.depth)
    where = Where(Phrase.KNEE_SPACE, WHOLE, more=(of_unit(unit),))
    yield Place(where, x1 - x0, where.more, Volume(plan, 0.0, KNEES), (low, high))


def _knees(run: PlacedRun) -> Iterator[list[PlacedUnit]]:
    """Neighbours that are knee spaces."""
    for knees, group in groupby(run.units, lambda u: u.family.kind.has_knees):
        if knees:
            yield list(group)


def _gaps(kitchen: Kitchen, units: list[PlacedUnit]) -> Iterator[tuple[PlacedUnit, float, float]]:
    """From where to where nothing stands beneath the top of knee spaces, x in the frame of the first."""
    first, wide = units[0], units[-1].right - units[0].x
    parts = [p for u in units for p in kitchen.parts_of[u.key] if heights(p)[0] < KNEES]
    taken = union_all([first.frame.plan_from_room(p.standing_plan) for p in parts])
    start = 0.0
    for x0, x1 in [*sorted((b[0], b[2]) for b in _bounds(taken)), (wide, wide)]:
        if x0 > start + CONTACT:
            yield first, start, x0
        start = max(start, x1)


def _bounds(shape: BaseGeometry) -> Iterator[tuple[float, float, float, float]]:
    return (piece.bounds for piece in getattr(shape, "geoms", [shape]) if not piece.is_empty)


def under_sill(kitchen: Kitchen) -> Iterator[Place]:
    """From the face of a worktop up to the sill of a window behind it, mm; negative where the top stands before it.

    Where the top runs on into the reveal there is no sill above it.
    """
    for window in (o for o in kitchen.survey.openings if o.kind == "window" and not o.top_in):
        wall = kitchen.survey.wall(window.wall)
        behind = block(wall.frame, window.at, -CONTACT, window.at + window.width, BEHIND)
        for length in (t for t in kitchen.lengths if overlap(top_plan(t), behind)):
            volume, segment = upright(behind, face(length), window.sill)
            where = Where(Phrase.TO, of_length(length), against=of_opening(window))
            yield Place(where, window.sill - face(length), (of_length(length),), volume, segment)


FRAME = 60.0
"""From the foot of a window's frame up to its sash, mm: from the wall's sill (common practice, no source)."""


def under_sash(kitchen: Kitchen) -> Iterator[Place]:
    """From the face of a top that runs into a reveal up to the sash that opens over it into the room, mm."""
    pieces = {part.owner: part for part in kitchen.parts if part.role is Role.REVEAL}
    for window in kitchen.survey.openings:
        part = pieces.get(f"{window.key}:reveal")
        if part is not None and window.swing in ("left", "right"):
            top, low = part.pose.origin[2] + part.thickness, window.sill + FRAME
            volume, segment = upright(part.standing_plan, min(top, low), max(top, low) + CONTACT)
            where = Where(Phrase.TO, of_part(part), against=of_opening(window))
            yield Place(where, low - top, (of_part(part),), volume, segment)


def under_ceiling(kitchen: Kitchen) -> Iterator[Place]:
    """The least that a filler is high between units and the ceiling that it goes up to, mm, for each row."""
    for run, units, gaps in _to_ceiling(kitchen):
        yield _over(run, units, gaps, min(gaps))


def ceiling_falls(kitchen: Kitchen) -> Iterator[Place]:
    """How much higher a filler to the ceiling is at one place of a row than at another, mm."""
    for run, units, gaps in _to_ceiling(kitchen):
        yield _over(run, units, gaps, max(gaps) - min(gaps))


def _to_ceiling(kitchen: Kitchen) -> Iterator[tuple[PlacedRun, list[PlacedUnit], list[float]]]:
    """Each row with a filler up to the ceiling, the units under it, and how high that is from left to right, mm."""
    for run in (run for run in kitchen.runs if run.ceiling):
        fillers = [p for p in kitchen.parts if p.role is Role.CEILING_FILLER and _is_of(p, run)]
        heights = [y for p in fillers for _, y in sorted(plan_points(p.outline.exterior)) if y > CONTACT]
        if heights:
            yield run, [u for u in run.units if u.family.top > TALL], heights


def _is_of(part: Part, run: PlacedRun) -> bool:
    return any(part.owner == unit.key for unit in run.units)


def _over(run: PlacedRun, units: list[PlacedUnit], gaps: list[float], value: float) -> Place:
    figures = (Figure(Amount.FROM, gaps[0]), Figure(Amount.TO, gaps[-1]))
    where = Where(Phrase.TO_CEILING, of_row(run), more=of_units(units), figures=figures)
    top = max(unit.family.top for unit in units)
    return _place(units, where, value, top, top + max(gaps))


def storage_frontage(kitchen: Kitchen) -> Iterator[Place]:
    """Shelves and drawers: width times how many there are times the depth in feet, over all units, mm.

    The bottom of a unit counts as a shelf. So a unit 600 wide and a foot deep with one shelf is 1200.
    """
    held = {of_unit(unit): unit.width * storage_surfaces(unit) * unit.family.depth / FOOT for unit in kitchen.units}
    units = tuple(unit for unit, size in held.items() if size)
    if units:
        where = Where(Phrase.STORAGE, WHOLE, figures=(Figure(Amount.COUNT, float(len(units))),))
        yield Place(where, sum(held.values()), units)


def storage_surfaces(unit: PlacedUnit) -> int:
    """Shelves, bottom and drawers of a unit; none of an appliance, a filler or a panel."""
    return sum(map(_held, unit.family.openings)) if unit.family.kind.stores else 0


def _held(bay: Bay) -> int:
    """A drawer is one; behind doors or open, the floor of the bay counts as a shelf; baskets hang above it."""
    counts = {"drawer": 1, "pull-out": bay.shelves}
    return counts.get(bay.holds, bay.shelves + 1 if bay.holds in ("doors", "glazed", "open") else 0)


def _alike(kitchen: Kitchen, size: Callable[[PlacedUnit], float]) -> Iterator[tuple[PlacedRun, list[PlacedUnit]]]:
    """Neighbours under a top that have the same size, with their run."""
    for run in kitchen.runs:
        base = [u for u in run.units if u.family.carries_top]
        yield from ((run, list(group)) for _, group in groupby(base, size))


def _place(units: list[PlacedUnit], where: Where, value: float, low: float, high: float) -> Place:
    first, last = units[0], units[-1]
    plan = block(first.frame, 0.0, 0.0, last.right - first.x, max(unit.face for unit in units))
    volume, segment = upright(plan, low, high)
    return Place(where, value, of_units(units), volume, segment)
