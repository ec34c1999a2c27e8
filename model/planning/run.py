"""Run: the widths that a kitchen file leaves open, solved between what the run stands between.

What ends a run decides what stands there. In a corner with another run a filler lets handles pass, at an opening or
an obstacle an end panel closes the row, and at a wall a filler takes what widths cannot; none is put where the file
has one already, and one that the file lists is never left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from countersunk.model.catalogue.catalogue import Catalogue, Family, catalogue_of
from countersunk.model.document.schema import Document, Run, Unit
from countersunk.model.edit.arrange import Plain, rearranged
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.fit import footprint
from countersunk.model.layout.placing import PlacedRun, PlacedUnit, place_runs
from countersunk.model.planning.fitting import Fitted, Slot, fit, slot_of
from countersunk.model.planning.stretches import FreeStretch, free_stretches
from countersunk.model.survey import Survey, survey_room
from countersunk.model.ties import most, rounded_down, rounded_up
from countersunk.model.tolerance import CONTACT

CORNER_FILLER = 50.0
"""A filler in a corner is at least so wide, so that drawers pass the handles of the other run (common practice)."""

UNDECIDED = 1.0
"""Stands for a width that is not known yet; no family has it."""

PANELS = {"floor": "end-panel", "upper": "wall-panel"}
FILLERS = {"floor": "filler", "upper": "wall-filler"}


@dataclass(frozen=True)
class FittedRun:
    """The document with one run fitted. ``left_over`` mm at its right end stay bare; ``added`` names what was put
    at its ends, in words.
    """

    document: Document
    run: Run
    stretch: FreeStretch
    left_over: float
    added: tuple[str, ...]


def fit_run(document: Document, which: str, spare: float = 0.0, catalogue: Catalogue | None = None) -> FittedRun:
    """Fill the free stretch of wall in which run ``which`` starts, leaving ``spare`` mm free at each wall.

    ``which`` is a wall, or a field such as ``runs[1]``. Widths that the file gives are kept, those that it leaves
    out are solved. Raises InputError where even the narrowest do not fit.
    """
    known = catalogue or catalogue_of(document)
    index = _index(document, which)
    run, field = document.runs[index], f"runs[{index}]"
    families = [_family(unit, f"{field}.units[{i}]", run.level, known) for i, unit in enumerate(run.units)]
    survey, others = survey_room(document.room), _others(document, index, known)
    stretch = _stretch(document, run, families, survey, others, known)
    units, slots, added = _ended(run, families, stretch, known)
    start, end = _ends(stretch, spare)
    found = fit(slots, end - start)
    if found.left_over < 0:
        raise _too_long(field, found, stretch, end - start)
    stood = rearranged(document, field, _standing(units, found.widths, known))
    changed = edited(stood, {f"{field}.start": start})
    taken = [unit for unit, width in zip(units, found.widths, strict=True) if width > 0]
    there = tuple(words for unit, words in added if any(unit is u for u in taken))
    return FittedRun(changed, changed.runs[index], stretch, found.left_over, there)


def _index(document: Document, which: str) -> int:
    fields = {f"runs[{i}]": i for i in range(len(document.runs))}
    if which in fields:
        return fields[which]
    mine = [i for i, run in enumerate(document.runs) if run.wall == which and run.level == "floor"]
    if len(mine) == 1:
        return mine[0]
    if mine:
        raise InputError.at(
            "run", found=f"wall {which}, which has {len(mine)} runs", allowed="one run",
            advice=" or ".join(f"'runs[{i}]'" for i in mine),
        )  # fmt: skip
    raise InputError.unknown("run", which, [*{run.wall: 0 for run in document.runs}, *fields], "a wall or a run")


def _family(unit: Unit, field: str, level: str, catalogue: Catalogue) -> Family:
    family = catalogue.families.get(unit.unit)
    if family is None or family.level != level:
        known = [code for code, f in catalogue.families.items() if f.level == level]
        raise InputError.unknown(f"{field}.unit", unit.unit, known, f"a {level} unit")
    return family


def _others(document: Document, index: int, catalogue: Catalogue) -> list[PlacedRun]:
    """Every other run in its place; one whose widths are still open has none yet, and will go round this one."""
    rest = tuple(run for i, run in enumerate(document.runs) if i != index and not _is_open(run, catalogue))
    bare = document.model_copy(update={"runs": rest})
    return list(place_runs(bare, survey_room(document.room), catalogue))


def _is_open(run: Run, catalogue: Catalogue) -> bool:
    units = [(u, catalogue.families[u.unit]) for u in run.units if u.unit in catalogue.families and u.width is None]
    return any(len(slot.widths) != 1 for slot in (slot_of(f) for _, f in units))


def _stretch(
    document: Document, run: Run, families: list[Family], survey: Survey, others: list[PlacedRun], known: Catalogue
) -> FreeStretch:
    """The free stretch of the run's wall in which it starts, or the next one to the right; where the file leaves
    that open, the first in which the run has place, and no gap beside another run.
    """
    if run.wall not in {wall.name for wall in survey.walls}:
        raise InputError.unknown("runs.wall", run.wall, [w.name for w in survey.walls], "a wall")
    front = known.unit_boards.front.thickness
    depth = max(f.depth for f in families) + front
    stock = known.stocks.get(document.worktop.stock)
    if run.level == "floor" and stock:
        depth = max(depth, stock.depth - document.worktop.overhang.front)
    low = 0.0 if run.level == "floor" else min(f.base for f in families)
    high, start = max(f.top for f in families), run.start or 0.0
    things = [(f"run {r.name}", footprint(u)) for r in others for u in r.units if _meets(r, u, low, high)]
    found = free_stretches(survey, survey.wall(run.wall), depth, low, high, things)
    right = [s for s in found if s.x1 > start + CONTACT]
    if not right:
        raise InputError.at(
            "runs.start", found=f"{start:g}", allowed=f"a free place on wall {run.wall}",
            advice="start it where nothing stands",
        )  # fmt: skip
    if run.start is not None:
        return right[0]
    slots = [slot_of(family, unit.width, listed=True) for family, unit in zip(families, run.units, strict=True)]
    least = sum(s.low or min(s.widths) for s in slots)
    return next((s for s in right if s.length >= least - CONTACT), most(right, key=lambda s: s.length))


def _meets(run: PlacedRun, unit: PlacedUnit, low: float, high: float) -> bool:
    bottom = 0.0 if run.level == "floor" else unit.family.base
    return bottom < high and unit.family.top > low


def _ends(stretch: FreeStretch, spare: float) -> tuple[float, float]:
    """From where to where the run may go, to a tenth of a millimetre inwards."""
    left, right = (spare if what.startswith("wall") else 0.0 for what in (stretch.left, stretch.right))
    return rounded_up((stretch.x0 + left) * 10) / 10, rounded_down((stretch.x1 - right) * 10) / 10


def _ended(
    run: Run, families: list[Family], stretch: FreeStretch, known: Catalogue
) -> tuple[list[Unit], list[Slot], list[tuple[Unit, str]]]:
    """The units with what must stand at either end, the slot of each, and what may be added, in words."""
    units = list(run.units)
    slots = [slot_of(f, u.width, listed=True) for f, u in zip(families, units, strict=True)]
    has_filler = any(f.kind.fills_gap for f in families)
    added = []
    for right in (True, False):
        by, end = (stretch.right, -1) if right else (stretch.left, 0)
        code, least = _closing(by, families[end], run.level, has_filler)
        if families[end].kind.fills_gap and by.startswith("run") and units[end].width is None:
            slots[end] = slot_of(families[end], None, CORNER_FILLER)
        if code and code in known.families:
            at = len(units) if right else 0
            closing = Unit(unit=code)
            units.insert(at, closing)
            slots.insert(at, slot_of(known.families[code], None, least))
            added.append((closing, f"{known.families[code].name} at {by}"))
            has_filler = has_filler or code in FILLERS.values()
    return units, slots, added


def _closing(by: str, family: Family, level: str, has_filler: bool) -> tuple[str, float]:
    """The code of what is put between a run's last unit and what ends it, and the least width of it."""
    if by.startswith("run"):
        closed = family.kind.is_scribed or family.kind.is_in_corner
        return ("", 0.0) if closed else (FILLERS[level], CORNER_FILLER)
    if by.startswith("wall"):
        return ("", 0.0) if has_filler or family.kind.is_in_corner else (FILLERS[level], 0.0)
    closed = family.kind.closes_row or not (family.carries_top or family.level == "upper")
    return ("", 0.0) if closed else (PANELS[level], 0.0)


def _sized(unit: Unit, width: float, known: Catalogue) -> Unit:
    family = known.families[unit.unit]
    only = len(family.widths) == 1 or (family.width_range or (0, 1))[0] == (family.width_range or (0, 1))[1]
    return unit if only else unit.model_copy(update={"width": width})


def _too_long(field: str, found: Fitted, stretch: FreeStretch, room: float) -> InputError:
    return InputError.at(
        f"{field}.units",
        found=f"at least {sum(found.widths):g} mm, with every width that is free at its narrowest",
        allowed=f"{room:.1f} mm on wall {stretch.wall}, from {stretch.left} to {stretch.right}",
        advice=f"leave a unit out, or narrower ones: {-found.left_over:.1f} mm are lacking",
    )


def _standing(units: list[Unit], widths: Sequence[float], known: Catalogue) -> list[Plain]:
    """Units with their widths, as plain fields; what has no width is left out."""
    sized = zip(units, widths, strict=True)
    return [_sized(unit, width, known).model_dump(exclude_unset=True) for unit, width in sized if width > 0]
