"""Shapes: along which walls a kitchen may go, and at which ends its tall units may stand.

A *shape* is one arm (straight), two on one wall (divided), two that share a corner (L), three (U) or two across
from each other (galley). In a corner one arm has a blind corner unit and the other a filler that lets handles pass.
Tall units stand at outer ends, so that they part no work centres.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache, partial
from itertools import combinations, product

from shapely import box as rectangle

from countersunk.model.catalogue.catalogue import Catalogue, default_catalogue
from countersunk.model.planning.arms import (
    AT_WALL,
    CELL,
    DEPTH,
    FACE,
    LEAST_FILLER,
    OVERHANG,
    PANEL,
    TALL,
    Arm,
    ArmEnd,
    EndKind,
    Isle,
    Kind,
    Shape,
    Side,
    Talls,
    tall_widths,
)
from countersunk.model.planning.brief import Brief
from countersunk.model.planning.islands import island_before
from countersunk.model.planning.stretches import FreeStretch, Thing, free_stretches, ways_in
from countersunk.model.survey import Survey, SurveyedWall, survey_room
from countersunk.model.ties import rounded_down, rounded_up, settled
from countersunk.model.tolerance import CONTACT

NARROWEST_AISLE = 800.0
"""Below this no shape is looked at, mm."""

LEAST_PART = 650.0
"""The shortest stretch for a part of a divided row, mm."""


class Site:
    """The room that is planned in, and its free stretches."""

    def __init__(self, brief: Brief, survey: Survey, catalogue: Catalogue | None = None) -> None:
        self.brief, self.survey = brief, survey
        self.ways = list(ways_in(survey))
        self.free = {w.name: free_stretches(survey, w, DEPTH, 0.0, FACE, self.ways) for w in survey.walls}
        self.talls = tuple(talls_of(brief))
        self._tall_free = lru_cache(maxsize=None)(self._free_for_talls)
        stocks = (catalogue or default_catalogue()).stocks
        self._isles = lru_cache(maxsize=None)(partial(island_before, brief, survey, stocks, tuple(self.ways)))

    @classmethod
    def of(cls, brief: Brief, catalogue: Catalogue | None = None) -> Site:
        """The site of a brief's own room."""
        return cls(brief, survey_room(brief.room), catalogue)

    def stretch_beside(self, wall: SurveyedWall, other: SurveyedWall, side: Side) -> FreeStretch | None:
        """The stretch at one end of ``wall`` that is left before a row on ``other``."""
        row = other.frame.plan_to_room(rectangle(0.0, 0.0, other.length, DEPTH))
        things: list[Thing] = [*self.ways, (f"row {other.name}", row)]
        found = free_stretches(self.survey, wall, DEPTH, 0.0, FACE, things)
        ends = [s for s in found if (s.left if side == "left" else s.right) == f"row {other.name}"]
        return ends[0] if ends else None

    def island_before(self, kind: Kind, arms: list[Arm]) -> Isle | None:
        """The island of a shape, where one is wished and its floor is wide enough."""
        if not self.brief.wishes.island or kind not in ("straight", "divided", "L"):
            return None
        return self._isles(tuple(arm.stretch for arm in arms))

    def tall_is_free(self, wall: SurveyedWall, x0: float, x1: float) -> bool:
        """Whether tall units can stand from ``x0`` to ``x1`` along a wall."""
        return any(s.x0 - 0.5 <= x0 and x1 <= s.x1 + 0.5 for s in self._tall_free(wall.name))

    def _free_for_talls(self, name: str) -> tuple[FreeStretch, ...]:
        return free_stretches(self.survey, self.survey.wall(name), DEPTH, 0.0, TALL, self.ways)


def talls_of(brief: Brief) -> Iterator[str]:
    """Tall units from the outside in: the fridge next to the worktop, for its landing."""
    yield from ["larder"] * brief.wishes.larders
    yield from ["oven"] * (brief.wishes.oven == "tall")
    yield from ["fridge"] * brief.wishes.fridge


def shapes(site: Site) -> Iterator[Shape]:
    """Every shape that the room could have, in a fixed order."""
    for kind, walls in _along(site.survey):
        for row in _rows(site, kind, walls):
            arms = [arm for arm in row if arm]
            aisle = free_before(site.survey, [a.wall for a in arms]) if len(arms) == len(walls) else 0.0
            if aisle >= NARROWEST_AISLE:
                yield Shape(kind, tuple(arms), aisle, site.island_before(kind, arms))


def _along(survey: Survey) -> Iterator[tuple[Kind, list[SurveyedWall]]]:
    """Which walls could carry a kitchen, and in which shape."""
    for wall in survey.walls:
        yield "straight", [wall]
    for wall in survey.walls:
        second = _round_corner(survey, wall)
        third = _round_corner(survey, second) if second else None
        if second:
            yield "L", [wall, second]
        if second and third and third is not wall:
            yield "U", [wall, second, third]
    for i, wall in enumerate(survey.walls):
        for other in survey.walls[i + 1 :]:
            if abs(abs(wall.heading - other.heading) % 360 - 180) < 5:
                yield "galley", [wall, other]
    for wall in survey.walls:
        yield "divided", [wall, wall]


def _round_corner(survey: Survey, wall: SurveyedWall) -> SurveyedWall | None:
    """The wall after an inside corner that a blind corner unit fits."""
    other = survey.next_wall(wall)
    return other if other and wall.corner is not None and 87.0 <= wall.corner <= 95.0 else None


def _rows(site: Site, kind: Kind, walls: list[SurveyedWall]) -> Iterator[list[Arm | None]]:
    """Each way to solve the corners, to choose stretches and to place the tall block."""
    corners = len(walls) - 1 if kind in ("L", "U") else 0
    outer: list[tuple[int, Side]] = [(0, "left"), (len(walls) - 1, "right")]
    if kind in ("galley", "divided"):
        outer = [(0, "left"), (0, "right"), (1, "left"), (1, "right")]
    places = list(_tall_places(site, outer))
    for runs_through in product((True, False), repeat=corners):
        for chosen in _divided(site, walls[0]) if kind == "divided" else _chosen(site, walls, runs_through):
            for place in places:
                yield [
                    _arm(site, stretch, _kinds(i, stretch, corners, runs_through), _at(place, i))
                    for i, stretch in enumerate(chosen)
                ]


Places = dict[tuple[int, Side], Talls]


def _tall_places(site: Site, outer: list[tuple[int, Side]]) -> Iterator[Places]:
    """All tall units at one outer end; or, where either end will do, the fridge at one and the rest at another."""
    talls, wished = site.talls, site.brief.wishes.tall_at
    yield from ({end: talls} for end in outer if talls)
    if not talls:
        yield {}
    if len(talls) > 1 and talls[-1] == "fridge" and wished == "either":
        yield from ({one: talls[-1:], other: talls[:-1]} for one in outer for other in outer if one != other)


def _at(places: Places, i: int) -> tuple[Talls, Talls]:
    return places.get((i, "left"), ()), places.get((i, "right"), ())


def _divided(site: Site, wall: SurveyedWall) -> Iterator[tuple[FreeStretch, ...]]:
    """Two stretches of one wall, such as to both sides of a door or of a low window."""
    yield from combinations([s for s in site.free[wall.name] if s.length >= LEAST_PART], 2)


def _chosen(
    site: Site, walls: list[SurveyedWall], runs_through: tuple[bool, ...]
) -> Iterator[tuple[FreeStretch, ...]]:
    """Which stretch of each wall: those at the shared corners, or any that is long enough."""
    if not runs_through:
        yield from product(*([s for s in site.free[w.name] if s.length >= 1_200] for w in walls))
        return
    found = [_cornered(site, walls, i, runs_through) for i in range(len(walls))]
    if all(found):
        yield tuple(s for s in found if s)


def _cornered(site: Site, walls: list[SurveyedWall], i: int, runs_through: tuple[bool, ...]) -> FreeStretch | None:
    """The stretch of the arm ``i`` between its corners; before a row that runs through there it is shorter."""
    found: FreeStretch | None = None
    ends: tuple[tuple[Side, int], ...] = (("left", i - 1), ("right", i))
    for side, corner in ends:
        if not 0 <= corner < len(runs_through):
            continue
        other = walls[i - 1] if side == "left" else walls[i + 1]
        yields = runs_through[corner] == (side == "left")
        one = site.stretch_beside(walls[i], other, side) if yields else _at_end(site, walls[i], other, side)
        if one is None:
            return None
        found = one if found is None else _both(found, one)
    return found


def _at_end(site: Site, wall: SurveyedWall, other: SurveyedWall, side: Side) -> FreeStretch | None:
    """The stretch that reaches into a corner."""
    found = site.free[wall.name]
    ends = [s for s in found if (s.left if side == "left" else s.right) == f"wall {other.name}"]
    return ends[0] if ends else None


def _both(a: FreeStretch, b: FreeStretch) -> FreeStretch | None:
    """What two stretches of one wall, cut short at one end each, have in common."""
    x0, x1 = max(a.x0, b.x0), min(a.x1, b.x1)
    return FreeStretch(a.wall, x0, x1, a.left, b.right) if x1 > x0 + CONTACT else None


def _kinds(i: int, stretch: FreeStretch, corners: int, runs_through: tuple[bool, ...]) -> tuple[EndKind, EndKind]:
    ends: list[EndKind] = ["wall" if by.startswith("wall") else "open" for by in (stretch.left, stretch.right)]
    if 0 < i <= corners:
        ends[0] = "corner-filler" if runs_through[i - 1] else "corner-unit"
    if i < corners:
        ends[1] = "corner-unit" if runs_through[i] else "corner-filler"
    return ends[0], ends[1]


def _arm(
    site: Site, stretch: FreeStretch, kinds: tuple[EndKind, EndKind], talls: tuple[Talls, Talls]
) -> Arm | None:
    """The grid between two ends; None where it is too short, or tall units have no place."""
    wall, has_tall = site.survey.wall(stretch.wall), [bool(names) for names in talls]
    blocks = [tall_widths(names) for names in talls]
    taken = [_taken(kind, block) for kind, block in zip(kinds, blocks, strict=True)]
    spots = [_least(kind, is_tall) for kind, is_tall in zip(kinds, has_tall, strict=True)]
    if not any(spots) and "open" not in kinds and any(has_tall):
        spots = [LEAST_FILLER["tall"] if is_tall else 0.0 for is_tall in has_tall]
    room = stretch.length - sum(taken)
    cells = rounded_down((room - sum(spots)) / CELL)
    rest = round(settled(room - sum(spots) - CELL * max(cells, 0)), 1)
    fillers = _shared(spots, kinds, rounded_down(rest * 10) / 10)
    x0 = rounded_up((stretch.x0 + taken[0]) * 10) / 10 + fillers[0]
    ends = [ArmEnd(k, t, f) for k, t, f in zip(kinds, talls, fillers, strict=True)]
    if cells < 12:
        return None
    starts, stops = _free_ends(cells, ends[0]), [cells - k for k in _free_ends(cells, ends[1])]
    if has_tall[0]:
        starts = [k for k in starts if site.tall_is_free(wall, x0 + CELL * k - blocks[0], x0 + CELL * k)]
    if has_tall[1]:
        stops = [k for k in stops if site.tall_is_free(wall, x0 + CELL * k, x0 + CELL * k + blocks[1])]
    if not starts or not stops:
        return None
    return Arm(wall, stretch, x0, cells, ends[0], ends[1], tuple(starts), tuple(stops))


def _taken(kind: EndKind, block: float) -> float:
    """What stands between the end of the stretch and the grid besides a filler, mm."""
    if block:
        return OVERHANG + block
    return {"wall": AT_WALL, "corner-unit": AT_WALL, "open": OVERHANG + PANEL, "corner-filler": 0.0}[kind]


def _least(kind: EndKind, tall: bool) -> float:
    return 0.0 if tall else LEAST_FILLER.get(kind, 0.0)


def _shared(spots: list[float], kinds: tuple[EndKind, EndKind], rest: float) -> list[float]:
    """The fillers with what the grid leaves; at a wall rather than in a corner, where it can be scribed."""
    open_ = [i for i, least in enumerate(spots) if least]
    if open_:
        at = max(open_, key=lambda i: (kinds[i] == "wall", i))
        spots = [least + rest * (i == at) for i, least in enumerate(spots)]
    return [round(settled(s), 1) for s in spots]


def _free_ends(cells: int, end: ArmEnd) -> list[int]:
    """By how many cells a row may stop short of an end: not at all, or by enough to walk up to."""
    return [0] if end.is_corner else [0, *range(12, cells)]


def free_before(survey: Survey, walls: list[SurveyedWall]) -> float:
    """The least free width before the rows to what is across, mm; unbounded in an open survey."""
    taken = {wall.name for wall in walls}
    found = [10_000.0]
    for wall in walls:
        for other in survey.walls:
            if abs(abs(wall.heading - other.heading) % 360 - 180) < 45 - CONTACT:
                apart = wall.line.distance(other.line)
                found.append(apart - DEPTH - (DEPTH if other.name in taken else 0.0))
    return min(found)
