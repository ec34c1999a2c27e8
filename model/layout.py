"""Layout: the runs of a document in their places, unit by unit, before anything is made of boards."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import accumulate

from model.catalogue import Catalogue, Family, Stock, UnitBoards
from model.document import Document, Island, Run, Unit
from model.errors import InputError
from model.frames import Pose
from model.survey import Survey

RESERVED = re.compile(r"^[TJ]\d+$")
"""Worktop lengths and joins are called T1, J1; nothing else may be."""


@dataclass(frozen=True)
class PlacedUnit:
    """A unit in its place. ``frame`` has its origin at the left back corner of the unit on the floor.

    ``x`` is its left side along the run (mm); ``field`` is where the document says it.
    """

    name: str
    family: Family
    boards: UnitBoards
    width: float
    hand: str
    x: float
    frame: Pose
    field: str

    @property
    def right(self) -> float:
        """Its right side along the run, mm."""
        return self.x + self.width


@dataclass(frozen=True)
class PlacedRun:
    """Units side by side. In ``frame`` the line y = 0 is where the back of a top lies.

    ``stand_off`` is how far the units' backs stand from that line, so that a top of its full depth overhangs
    the fronts as wished. ``wall`` is None for an island.
    """

    name: str
    level: str
    frame: Pose
    stand_off: float
    stock: Stock
    units: tuple[PlacedUnit, ...]
    wall: str | None
    field: str


MAX_STAND_OFF = 200.0
"""Base units further than this from the wall would leave the top's back unsupported (common practice)."""


def place_runs(document: Document, survey: Survey, catalogue: Catalogue) -> tuple[PlacedRun, ...]:
    """Every run and island in its place. Raises InputError for unknown names, widths and runs too long."""
    stock = _stock(document.worktop.stock, "worktop.stock", catalogue)
    counts: dict[str, int] = {}
    runs = [
        _wall_run(r, f"runs[{i}]", stock, document, survey, catalogue, counts) for i, r in enumerate(document.runs)
    ]
    runs += [
        _island(r, f"islands[{i}]", stock, document, survey, catalogue) for i, r in enumerate(document.islands)
    ]
    _check_unique(runs)
    return tuple(runs)


def _stock(code: str, field: str, catalogue: Catalogue) -> Stock:
    if code not in catalogue.stocks:
        raise InputError.at(field, found=f"'{code}'", allowed=", ".join(catalogue.stocks))
    return catalogue.stocks[code]


def _wall_run(
    run: Run,
    field: str,
    stock: Stock,
    document: Document,
    survey: Survey,
    catalogue: Catalogue,
    counts: dict[str, int],
) -> PlacedRun:
    names = [w.name for w in survey.walls]
    if run.wall not in names:
        raise InputError.at(f"{field}.wall", found=f"'{run.wall}'", allowed=f"a wall: {', '.join(names)}")
    wall = survey.wall(run.wall)
    families = _families(run.units, field, run.level, catalogue)
    stand_off = _stand_off(families, stock, document, field, catalogue) if run.level == "floor" else 0.0
    prefix = run.wall if run.level == "floor" else f"{run.wall}U"
    behind = wall.frame.moved(y=stand_off)
    units = _in_line(run.units, families, run.start, behind, field, prefix, counts.get(prefix, 0), catalogue)
    counts[prefix] = counts.get(prefix, 0) + len(units)
    _check_ends(units, wall.length)
    return PlacedRun(run.wall, run.level, wall.frame, stand_off, stock, units, run.wall, field)


def _island(
    island: Island, field: str, stock: Stock, document: Document, survey: Survey, catalogue: Catalogue
) -> PlacedRun:
    names = [w.name for w in survey.walls]
    if island.wall not in names:
        raise InputError.at(f"{field}.wall", found=f"'{island.wall}'", allowed=f"a wall: {', '.join(names)}")
    if island.stock:
        stock = _stock(island.stock, f"{field}.stock", catalogue)
    families = _families(island.units, field, "floor", catalogue)
    back = catalogue.unit_boards.front.thickness
    stand_off = _stand_off(families, stock, document, field, catalogue, back)
    widths = [
        _width(u, f, f"{field}.units[{i}]") for i, (u, f) in enumerate(zip(island.units, families, strict=True))
    ]
    behind = _island_frame(island, survey.wall(island.wall).frame, sum(widths), families[0].depth, back)
    units = _in_line(island.units, families, 0.0, behind, field, island.name, 0, catalogue)
    frame = behind.moved(y=-stand_off)
    return PlacedRun(island.name, "floor", frame, stand_off, stock, units, None, field)


def _island_frame(island: Island, wall: Pose, width: float, depth: float, board: float) -> Pose:
    """The frame of the island's units, its y = 0 at their backs; ``board`` is the thickness of back and fronts."""
    if island.facing == "room":
        return wall.moved(island.along, island.out + board)
    turned = wall.reaxed((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
    return turned.moved(-island.along - width, -island.out - depth - board)


def _families(units: tuple[Unit, ...], field: str, level: str, catalogue: Catalogue) -> list[Family]:
    for i, unit in enumerate(units):
        known = {c: f for c, f in catalogue.families.items() if f.level == level}
        if unit.unit not in known:
            raise InputError.at(
                f"{field}.units[{i}].unit",
                found=f"'{unit.unit}'",
                allowed=f"a {level} unit: {', '.join(known)}",
            )
    return [catalogue.families[u.unit] for u in units]


def _stand_off(
    families: list[Family],
    stock: Stock,
    document: Document,
    field: str,
    catalogue: Catalogue,
    back: float = 0.0,
) -> float:
    """What a top of full depth leaves behind the units, once it overhangs their fronts as wished."""
    depths = [f.depth for f in families if f.carries_top]
    if not depths:
        return 0.0
    depth = max(depths) + catalogue.unit_boards.front.thickness
    rest = stock.depth - depth - document.worktop.overhang.front
    most_behind = MAX_STAND_OFF if back == 0 else stock.depth
    if back <= rest <= most_behind:
        return rest
    most = stock.depth - depth - back
    raise InputError.at(
        "worktop.overhang.front" if document.worktop.stock == stock.code else f"{field}.stock",
        found=f"{document.worktop.overhang.front:g} with a top {stock.depth:g} deep over units {depth:g} deep",
        allowed=f"an overhang of {max(0.0, most - most_behind):g} to {most:g}",
        advice="another overhang or a stock of another depth",
    )


def _width(unit: Unit, family: Family, field: str) -> float:
    if unit.width is None and len(family.widths) == 1:
        return family.widths[0]
    if unit.width is None and family.width_range and family.width_range[0] == family.width_range[1]:
        return family.width_range[0]
    low, high = family.width_range or (0.0, 0.0)
    if unit.width is not None and (unit.width in family.widths or low <= unit.width <= high):
        return unit.width
    allowed = ", ".join(f"{w:g}" for w in family.widths) or f"{low:g} to {high:g}"
    found = "nothing" if unit.width is None else f"{unit.width:g}"
    raise InputError.at(f"{field}.width", found=found, allowed=f"for {family.code}: {allowed}")


def _in_line(
    units: tuple[Unit, ...],
    families: list[Family],
    start: float,
    frame: Pose,
    field: str,
    prefix: str,
    count: int,
    catalogue: Catalogue,
) -> tuple[PlacedUnit, ...]:
    """Units one after the other from ``start``; ``frame`` runs along their backs."""
    fields = [f"{field}.units[{i}]" for i in range(len(units))]
    widths = [_width(u, f, at) for u, f, at in zip(units, families, fields, strict=True)]
    lefts = list(accumulate(widths, initial=start))[:-1]
    boards = catalogue.unit_boards
    return tuple(
        PlacedUnit(u.name or f"{prefix}{count + i + 1}", f, boards, w, u.hand, x, frame.moved(x), at)
        for i, (u, f, w, x, at) in enumerate(zip(units, families, widths, lefts, fields, strict=True))
    )


def _check_ends(units: tuple[PlacedUnit, ...], wall_length: float) -> None:
    for unit in units:
        if unit.right > wall_length:
            left = wall_length - unit.x
            raise InputError.at(
                f"{unit.field}.width",
                found=f"{unit.width:g}, which ends at {unit.right:g}",
                allowed=f"the wall is {wall_length:.0f} long and leaves {max(0.0, left):.0f}",
                advice="a narrower unit, or start the run further left",
            )


def _check_unique(runs: list[PlacedRun]) -> None:
    taken = {run.wall for run in runs if run.wall}
    for run in runs:
        if run.wall is None:
            _check_name(run.name, f"{run.field}.name", taken)
        for unit in run.units:
            _check_name(unit.name, f"{unit.field}.name", taken)


def _check_name(name: str, field: str, taken: set[str]) -> None:
    if name in taken or RESERVED.match(name):
        why = "a name that worktops or joins have" if RESERVED.match(name) else "a name already given"
        raise InputError.at(field, found=f"'{name}', {why}", allowed="a name of its own", advice=f"'{name}x'")
    taken.add(name)
