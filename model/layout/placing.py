"""Layout: the runs of a document in their places, unit by unit, before anything is made of boards."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Literal

from shapely import box as rectangle
from shapely import union_all

from countersunk.model.catalogue.catalogue import HANGS_BELOW, Catalogue, Family, Stock, TopArm
from countersunk.model.document.keys import prefix
from countersunk.model.document.schema import Cutout, Document, Island, Peninsula, Run, Supply, Unit
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Pose
from countersunk.model.kinds.appliances import supplied
from countersunk.model.layout.corners import UnplacedRun, check_clear, start_of, taken
from countersunk.model.layout.fronts import dressed
from countersunk.model.layout.placed import TALL, Root
from countersunk.model.layout.placed import PlacedRun as PlacedRun
from countersunk.model.layout.placed import PlacedUnit as PlacedUnit
from countersunk.model.layout.seen import faced, with_bottoms
from countersunk.model.layout.sizes import Sizes, of_size, off_grid, sizes
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.room import BREAST
from countersunk.model.ties import settled
from countersunk.model.tolerance import FIT, OVERLAP_AREA

RESERVED = re.compile(r"^[TJS]\d+$")
"""Lengths, joins and upstands are called T1, J1, S1; nothing else may be."""


MAX_STAND_OFF = 200.0
"""Base units further than this from the wall would leave the top's back unsupported (common practice)."""


ARM_SHORT = 30.0
"""An arm ends so far before the edge of its top, mm: nobody is to see it (common practice, no source)."""


@dataclass(frozen=True)
class _Site:
    """What placing reads all the time."""

    document: Document
    survey: Survey
    catalogue: Catalogue

    def wall(self, name: str, field: str) -> SurveyedWall:
        names = [w.name for w in self.survey.walls]
        if name not in names:
            raise InputError.unknown(f"{field}.wall", name, names, "a wall")
        return self.survey.wall(name)

    def stock(self, code: str, depth: float | None, field: str, deep: str) -> Stock:
        """The stock of a top, as deep as it is typed in the field ``deep``; both are fields of ``field``."""
        if code not in self.catalogue.stocks:
            raise InputError.unknown(f"{field}.stock", code, self.catalogue.stocks)
        stock = self.catalogue.stocks[code]
        if depth is None:
            return stock
        if stock.slab is None:
            allowed = f"left out, since {stock.code} is {stock.depth:g} deep as it is bought"
            raise InputError.at(f"{field}.{deep}", found=f"{depth:g}", allowed=allowed)
        if depth > min(stock.slab):
            allowed = f"at most {min(stock.slab):g}, the width of the slab of {stock.code}"
            raise InputError.at(f"{field}.{deep}", found=f"{depth:g}", allowed=allowed)
        return stock.model_copy(update={"depth": depth})

    def families(self, units: tuple[Unit, ...], field: str, level: str) -> list[Family]:
        known = {c: f for c, f in self.catalogue.families.items() if f.level == level}
        for i, unit in enumerate(units):
            if unit.unit not in known:
                raise InputError.unknown(f"{field}.units[{i}].unit", unit.unit, known, f"a {level} unit")
        fields = [f"{field}.units[{i}]" for i in range(len(units))]
        return [self._of_size(known[unit.unit], unit, at) for unit, at in zip(units, fields, strict=True)]

    def _of_size(self, family: Family, unit: Unit, field: str) -> Family:
        """The family of a unit, as high and as deep as this one is."""
        method = self.catalogue.boards_by(family.method).method
        hung = _hung(_supplied(family, unit, f"{field}.fuel"), unit, f"{field}.bottom")
        return of_size(self._to_ceiling(hung, unit, f"{field}.to_ceiling"), unit, method, field)

    def _to_ceiling(self, family: Family, unit: Unit, field: str) -> Family:
        """The family of a hood whose chimney goes up to the ceiling, or of any other unit as it is."""
        if not unit.to_ceiling:
            return family
        if family.level != "upper" or not (family.own and family.own.is_a("hood")):
            raise InputError.at(field, found=f"true for {family.code}", allowed="only for a hood that hangs")
        height = self.document.room.height - family.base
        if height <= 0.0:
            found = f"a hood {family.base:g} above the floor under a ceiling at {self.document.room.height:g}"
            raise InputError.at(field, found=found, allowed="a hood below the ceiling")
        return family.model_copy(update={"height": height})

    def under_hobs(self, stock: Stock) -> frozenset[str]:
        """The keys of units under a hob that hangs lower than a top of that stock is thick."""
        return frozenset(cutout.over for cutout in self.document.cutouts if self._hangs(cutout) > stock.thickness)

    def _hangs(self, cutout: Cutout) -> float:
        """How far a hob hangs below the top's face, mm; 0 for everything else, and for what nobody knows."""
        template = self.catalogue.templates.get(cutout.template or "")
        if template is not None:
            return template.depth if template.kind == "hob" else 0.0
        return cutout.depth or HANGS_BELOW["hob"] if cutout.kind == "hob" else 0.0


def _supplied(family: Family, unit: Unit, field: str) -> Family:
    """The family of a unit, its cooker supplied with the fuel that is typed."""
    if unit.fuel is None:
        return family
    if not (family.appliance and family.cooks_with):
        raise InputError.at(field, found=f"{unit.fuel} for {family.code}", allowed="only for a cooker")
    name = f"{family.name}, {'dual fuel' if unit.fuel == 'dual' else unit.fuel}"[:80]
    return family.model_copy(update={"appliance": supplied(family.appliance, unit.fuel), "name": name})


def _hung(family: Family, unit: Unit, field: str) -> Family:
    """The family of a unit, at the height where this one hangs."""
    if unit.bottom is None:
        return family
    if family.level != "upper":
        raise InputError.at(field, found=f"{unit.bottom:g} for a unit on the floor", allowed="only for what hangs")
    return family.model_copy(update={"bottom": unit.bottom})


def place_runs(document: Document, survey: Survey, catalogue: Catalogue) -> tuple[PlacedRun, ...]:
    """Every run and island in its place. Raises InputError for unknown names, widths and runs too long."""
    site = _Site(document, survey, catalogue)
    counts: Counter[str] = Counter()
    rows = [_row(run, f"runs[{i}]", site) for i, run in enumerate(document.runs)]
    rows = [_on_tall(row, rows) for row in rows]
    runs = [_wall_run(row, rows, site, counts) for row in rows]
    runs += [_island(island, f"islands[{i}]", site) for i, island in enumerate(document.islands)]
    runs += [_peninsula(p, f"peninsulas[{i}]", site) for i, p in enumerate(document.peninsulas)]
    _check_unique(runs)
    typed: tuple[Run | Island | Peninsula, ...] = (*document.runs, *document.islands, *document.peninsulas)
    pairs = zip(runs, typed, strict=True)
    base = document.worktop.decor
    placed = tuple(
        replace(dressed(run, row, document.fronts, catalogue), top=row.top or base) for run, row in pairs
    )
    placed = tuple(_up_to_ceiling(run, row, survey) for run, row in zip(placed, typed, strict=True))
    sided = faced(placed, survey.outline) if document.fronts.sides == "fronts" else placed
    return with_bottoms(sided) if document.fronts.bottoms == "fronts" else sided


def _row(run: Run, field: str, site: _Site) -> UnplacedRun:
    """A run on its wall with the sizes of its units, before it has its place."""
    wall = site.wall(run.wall, field)
    top = site.document.worktop
    stock = site.stock(top.stock, top.depth, "worktop", "depth")
    families = site.families(run.units, field, run.level)
    _check_hung_out(run, field)
    _check_moving(families, field)
    _check_forward(run.units, families, field)
    forward = [unit.forward for unit in run.units]
    floor = run.level == "floor"
    stand_off = _stand_off(families, forward, stock, site, "worktop.overhang.front") if floor else run.out
    widths, wings = sizes(run.units, families, field)
    front = site.catalogue.unit_boards.front.thickness
    return UnplacedRun(run, field, wall, stock, tuple(families), widths, wings, stand_off, front)


def _on_tall(row: UnplacedRun, rows: Sequence[UnplacedRun]) -> UnplacedRun:
    """A row of boxes on tall units as far off the wall as these stand; any other as it is."""
    if row.run.level == "floor" or row.run.out or not all(family.on_tall for family in row.families):
        return row
    beneath = [
        other for other in rows
        if other.wall == row.wall and other.run.level == "floor"
        and any(family.top > TALL for family in other.families)
    ]  # fmt: skip
    start = row.run.start or 0.0
    over = [other for other in beneath if 0.0 <= start - (other.run.start or 0.0) < other.width]
    found = next(iter((*over, *beneath)), None)
    return replace(row, stand_off=found.stand_off) if found else row


def _up_to_ceiling(run: PlacedRun, row: Run | Island | Peninsula, survey: Survey) -> PlacedRun:
    """A run with the ceiling over its fronts, where a filler goes up to it. Raises InputError where there is none
    to go up.
    """
    if not isinstance(row, Run) or not row.to_ceiling:
        return run
    over = [u for u in run.units if not u.family.kind.is_bought and (run.level == "upper" or u.is_tall)]
    field = f"{run.field}.to_ceiling"
    if not over:
        raise InputError.at(field, found="true", allowed="over units that hang, boxes on tall units, or tall units")
    xs = {x for u in over for x in (u.x, u.right)}
    xs |= {
        x for read in survey.ceiling if read.wall.name == run.wall for x, _ in read.read if min(xs) < x < max(xs)
    }
    places = [(x, run.frame.to_room((x, run.stand_off + over[0].front, 0.0))) for x in sorted(xs)]
    heights = tuple((x, survey.ceiling_at(at[0], at[1])) for x, at in places)
    top, low = max(u.family.top for u in over), min(height for _, height in heights)
    if low < top + LEAST_FILLER:
        found = f"{top:g} under a ceiling at {low:.0f}"
        raise InputError.at(field, found=found, allowed=f"a gap of {LEAST_FILLER:g} or more", advice="lower boxes")
    return replace(run, ceiling=heights)


LEAST_FILLER = 5.0
"""A filler to the ceiling is no lower than this, mm (common practice, no source)."""


def _check_hung_out(run: Run, field: str) -> None:
    """Only what hangs is off its wall or turned to it, and lights are only under what hangs."""
    if run.lights and run.level != "upper":
        raise InputError.at(
            f"{field}.lights", found=f"'{run.lights}' on the floor", allowed="only for level: upper"
        )
    if run.level == "floor" and (run.out or run.facing != "room"):
        name, found = ("out", f"{run.out:g}") if run.out else ("facing", run.facing)
        raise InputError.at(f"{field}.{name}", found=f"{found} on the floor", allowed="only on the level upper")


def _check_moving(families: Sequence[Family], field: str) -> None:
    """A top that moves is joined to none that does not. Raises InputError."""
    carrying = [family for family in families if family.carries_top]
    moving = [family for family in carrying if family.kind.moves_top]
    if moving and len(moving) < len(carrying):
        raise InputError.at(
            f"{field}.units", found=f"{moving[0].name} beside a worktop that does not move",
            allowed="a row that moves as one", advice="a run of its own on the same wall, a gap away",
        )  # fmt: skip


BACKED = 30.0
"""What hangs no further than this before a breast is fixed to it, mm (common practice, no source)."""


def _hangs_from_ceiling(row: UnplacedRun, site: _Site) -> bool:
    """Whether a row hangs off its wall, and from the ceiling: not before a chimney breast, nor hoods alone, which
    have what they hang by.
    """
    run, start = row.run, row.run.start or 0.0
    if run.facing != "room":
        return True
    if not run.out or all(family.is_bare and family.holds("hood") for family in row.families):
        return False
    low, high = min(f.base for f in row.families), max(f.top for f in row.families)
    breasts = [
        o for o in site.survey.obstacles
        if o.kind == BREAST and o.wall == run.wall and 0.0 <= run.out - o.y - o.depth + FIT <= BACKED
        if o.bottom < high and o.top > low
    ]  # fmt: skip
    behind = union_all([rectangle(o.x, 0.0, o.right, 1.0) for o in breasts])
    return float(behind.intersection(rectangle(start, 0.0, start + row.width, 1.0)).area) < row.width / 2


def _wall_run(row: UnplacedRun, rows: Sequence[UnplacedRun], site: _Site, counts: Counter[str]) -> PlacedRun:
    """A run in its place; ``counts`` goes on numbering where an earlier run on the wall stopped."""
    if _hangs_from_ceiling(row, site):
        return _hung_run(row, site, counts)
    run, wall = row.run, row.wall
    start, ends = start_of(row, rows, site.survey), taken(row, rows, site.survey)
    check_clear(row, start, rows, site.survey)
    units = _of_row(row, start, wall.frame.moved(y=row.stand_off), site, counts)
    _check_ends(units, wall.length)
    units = _reaching(units, row, site.survey) if run.level == "floor" else units
    return PlacedRun(
        run.key, run.wall, run.level, wall.frame, row.stand_off, row.stock, units, run.wall, row.field,
        taken=ends, returns=run.returns, cornice=run.cornice, pelmet=run.pelmet,
        light=site.catalogue.lights.get(run.lights or ""),
    )  # fmt: skip


def _of_row(
    row: UnplacedRun, start: float, frame: Pose, site: _Site, counts: Counter[str]
) -> tuple[PlacedUnit, ...]:
    """The units of a row from ``start`` along the frame of their backs, with the next names on their wall."""
    run, begins = row.run, prefix(row.run.wall, row.run.level)
    names = [f"{begins}{counts[begins] + i}" for i in range(1, len(run.units) + 1)]
    counts[begins] += len(names)
    return _in_line(
        run.units, row.families, (row.widths, row.wings), names, start, frame, row.field, site.catalogue,
        run.supply or site.document.supply, site.under_hobs(row.stock),
    )  # fmt: skip


def _hung_run(row: UnplacedRun, site: _Site, counts: Counter[str]) -> PlacedRun:
    """A row that hangs from the ceiling, placed as an island or a peninsula is; a panel closes its back."""
    run, wall, along = row.run, row.wall.frame, row.run.start or 0.0
    _refuse_corners(row.families, row.field)
    _check_in_row(run.units, row.field)
    for i, family in enumerate(row.families):
        if family.kind.on_brackets:
            allowed = "a unit with sides to hang by, away from walls and breasts"
            raise InputError.at(f"{row.field}.units[{i}].unit", found=family.name, allowed=allowed)
    depth = max(family.depth for family in row.families)
    if run.facing == "left" or run.facing == "right":
        frame = _across_frame(wall.moved(along), run.out, run.facing, row.width)
    else:
        frame = _island_frame(run.facing, along, run.out, wall, (row.width, depth), row.front)
    units = _of_row(row, 0.0, frame, site, counts)
    over = (site.survey.ceiling_over(unit.frame.plan_to_room(unit.outline)) for unit in units)
    units = tuple(replace(unit, ceiling=ceiling) for unit, ceiling in zip(units, over, strict=True))
    return PlacedRun(
        run.key, run.wall, run.level, frame, 0.0, row.stock, units, None, row.field,
        returns=run.returns, cornice=run.cornice, pelmet=run.pelmet,
        light=site.catalogue.lights.get(run.lights or ""),
    )  # fmt: skip


def _reaching(units: tuple[PlacedUnit, ...], row: UnplacedRun, survey: Survey) -> tuple[PlacedUnit, ...]:
    """The units with how far the outermost two may go on behind their backs."""
    ends = (0, len(units) - 1)
    return tuple(replace(u, reach=_behind(u, row, survey)) if i in ends else u for i, u in enumerate(units))


def _behind(unit: PlacedUnit, row: UnplacedRun, survey: Survey) -> float:
    """From the back of a unit to the wall, or to what stands before it or bulges out of it, mm."""
    behind = row.stand_off + unit.forward
    frame, strip = row.wall.frame, rectangle(unit.x, 0.0, unit.right, behind)
    solid = [o.plan for o in survey.obstacles if o.bottom < unit.family.top and o.top > 0.0]
    solid += [bulge for wall in survey.walls for bulge in wall.bulges]
    met = [strip.intersection(frame.plan_from_room(plan)) for plan in solid]
    return behind - max((shape.bounds[3] for shape in met if shape.area > OVERLAP_AREA), default=0.0)


def _island(island: Island, field: str, site: _Site) -> PlacedRun:
    wall, board = site.wall(island.wall, field).frame, site.catalogue.unit_boards.front.thickness
    return _free_standing(
        island, field, site,
        lambda *size: _island_frame(island.facing, island.along, island.out, wall, size, board),
    )  # fmt: skip


def _peninsula(peninsula: Peninsula, field: str, site: _Site) -> PlacedRun:
    """Units across the wall; facing left, the wall is at the left hand of whoever faces them."""
    wall = site.wall(peninsula.wall, field).frame.moved(peninsula.along)
    placed = _free_standing(
        peninsula, field, site, lambda width, _: _across_frame(wall, peninsula.out, peninsula.facing, width)
    )
    return replace(placed, root=Root(peninsula.wall, peninsula.facing))


def _across_frame(wall: Pose, out: float, facing: Literal["left", "right"], width: float) -> Pose:
    """The frame of units across a wall, along their backs, where their backs meet the wall's frame at 0."""
    up, away, back = (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (0.0, -1.0, 0.0)
    if facing == "left":
        return wall.moved(y=out).reaxed(away, (-1.0, 0.0, 0.0), up)
    return wall.reaxed(back, (1.0, 0.0, 0.0), up).moved(-out - width)


def _free_standing(
    wish: Island | Peninsula, field: str, site: _Site, frame_of: Callable[[float, float], Pose]
) -> PlacedRun:
    """A run with a back panel; ``frame_of`` its width and depth is the frame along its units' backs."""
    top = site.document.worktop
    if wish.stock or wish.top_depth:
        stock = site.stock(wish.stock or top.stock, wish.top_depth, field, "top_depth")
    else:
        stock = site.stock(top.stock, top.depth, "worktop", "depth")
    families = site.families(wish.units, field, "floor")
    board = site.catalogue.unit_boards.front.thickness
    _check_in_row(wish.units, field)
    stand_off = _stand_off(families, [0.0] * len(families), stock, site, f"{field}.stock", back=board)
    names = [f"{prefix(wish.name, 'floor')}{i}" for i in range(1, len(wish.units) + 1)]
    _refuse_corners(families, field)
    both = sizes(wish.units, families, field)
    behind = frame_of(sum(both[0]), families[0].depth)
    supply = wish.supply or site.document.supply
    units = _in_line(
        wish.units, families, both, names, 0.0, behind, field, site.catalogue, supply, site.under_hobs(stock)
    )
    frame = behind.moved(y=-stand_off)
    return PlacedRun(
        wish.key, wish.name, "floor", frame, stand_off, stock, units, None, field, returns=wish.returns,
        arm=_arm(wish.arms, site.catalogue, stand_off - board, f"{field}.arms"),
    )  # fmt: skip


def _arm(code: str | None, catalogue: Catalogue, past: float, field: str) -> TopArm | None:
    """The arm of that code. Raises InputError for one that reaches to the edge of a top ``past`` the units."""
    if code is None or code not in catalogue.arms:
        return None
    arm = catalogue.arms[code]
    if arm.reach > past - ARM_SHORT:
        found = f"{arm.name}, which reaches {arm.reach:g} under a top {past:g} past the units"
        allowed = f"one that reaches at most {max(0.0, past - ARM_SHORT):g}"
        raise InputError.at(field, found=found, allowed=allowed, advice="a shorter arm, or a deeper stock")
    return arm


def _check_forward(units: Sequence[Unit], families: Sequence[Family], field: str) -> None:
    """A corner unit stands in its corner, and what carries a top not so far out that its back hangs in the air."""
    for i, (unit, family) in enumerate(zip(units, families, strict=True)):
        most = MAX_STAND_OFF if family.carries_top else math.inf
        if unit.forward and (family.kind.is_in_corner or unit.forward > most):
            found = f"{unit.forward:g} for {family.name}"
            allowed = "left out in a corner" if family.kind.is_in_corner else f"up to {most:g} under a top"
            raise InputError.at(f"{field}.units[{i}].forward", found=found, allowed=allowed)


def _check_in_row(units: Sequence[Unit], field: str) -> None:
    """Away from walls the backs of units are in line."""
    for i, unit in enumerate(units):
        if unit.forward:
            found = f"{unit.forward:g} away from a wall"
            raise InputError.at(f"{field}.units[{i}].forward", found=found, allowed="only in a row on a wall")


def _refuse_corners(families: Sequence[Family], field: str) -> None:
    for i, family in enumerate(families):
        if family.kind.fills_corner:
            raise InputError.at(
                f"{field}.units[{i}].unit", found=family.name, allowed="a unit without a corner, away from walls"
            )


def _island_frame(
    facing: Literal["room", "wall"], along: float, out: float, wall: Pose, size: tuple[float, float], board: float
) -> Pose:
    """The frame of the island's units, its y = 0 at their backs; ``size`` is how wide and deep they are, ``board``
    the thickness of back and fronts.
    """
    if facing == "room":
        return wall.moved(along, out + board)
    turned = wall.reaxed((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
    return turned.moved(-along - size[0], -out - size[1] - board)


def _stand_off(
    families: list[Family], forward: Sequence[float], stock: Stock, site: _Site, field: str, back: float = 0.0
) -> float:
    """What a top of full depth leaves behind the units, once it overhangs their fronts as the file says.

    ``back`` is the thickness of an island's back panel; an island's top may stand far over that, a wall's not.
    """
    depths = [f.depth + by for f, by in zip(families, forward, strict=True) if f.carries_top]
    if not depths:
        return 0.0
    depth = max(depths) + site.catalogue.unit_boards.front.thickness
    overhang = site.document.worktop.overhang.front
    rest, room_behind = stock.depth - depth - overhang, stock.depth if back else MAX_STAND_OFF
    if back <= rest <= room_behind:
        return rest
    most = stock.depth - depth - back
    raise InputError.at(
        field,
        found=f"an overhang of {overhang:g} with a top {stock.depth:g} deep over units {depth:g} deep",
        allowed=f"an overhang of {max(0.0, settled(most - room_behind)):g} to {settled(most):g}"
        if most >= 0
        else "a deeper top",
        advice="another overhang or a stock of another depth",
    )


def _in_line(
    units: tuple[Unit, ...],
    families: Sequence[Family],
    both: Sizes,
    names: list[str],
    start: float,
    frame: Pose,
    field: str,
    catalogue: Catalogue,
    supply: Supply,
    hobs: Collection[str],
) -> tuple[PlacedUnit, ...]:
    """Units one after the other from ``start``; ``frame`` runs along their backs, ``hobs`` hang over some."""
    fields = [f"{field}.units[{i}]" for i in range(len(units))]
    lefts = accumulate(both[0], initial=start)
    placed = zip(units, names, families, *both, lefts, fields, strict=False)
    return tuple(
        PlacedUnit(
            u.key, u.name or name, f, catalogue.boards_by(f.method), w, u.hand, x, frame.moved(x, u.forward), at,
            wing,
            f.comes_ready(supply), u.key in hobs, telescopes=u.to_ceiling, off_grid=off_grid(u), forward=u.forward,
        )
        for u, name, f, w, wing, x, at in placed
    )  # fmt: skip


def _check_ends(units: tuple[PlacedUnit, ...], wall_length: float) -> None:
    for unit in units:
        if unit.right > wall_length + FIT:
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
        if run.free:
            _check_name(run.name, f"{run.field}.name", taken)
        for unit in run.units:
            _check_name(unit.name, f"{unit.field}.name", taken)


def _check_name(name: str, field: str, taken: set[str]) -> None:
    if name in taken or RESERVED.match(name):
        why = "a name that worktops or joins have" if RESERVED.match(name) else "a name already given"
        raise InputError.at(field, found=f"'{name}', {why}", allowed="a name of its own", advice=f"'{name}x'")
    taken.add(name)
