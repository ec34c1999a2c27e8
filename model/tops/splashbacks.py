"""Splashbacks: what covers a zone of a wall over the tops, and how its tiles or panels are set out.

A zone lies on the wall's face: x along the wall, y the height above the floor, mm. It begins on the tops, or on
what upstand stands on them, ends where units, tall appliances and obstacles stand against the wall, and lies below
the ceiling. Windows, doors, sockets and switches are its openings: pieces and openings together are the zone.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise

from shapely import LineString, Point, Polygon, get_coordinates, union_all
from shapely import box as rectangle
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import Catalogue, SplashbackStock
from countersunk.model.document.schema import Document, Splashback
from countersunk.model.errors import InputError
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.profile import lines_of
from countersunk.model.layout.placed import PlacedRun, PlacedUnit
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.ties import ranked
from countersunk.model.tolerance import CONTACT, FIT, OVERLAP_AREA
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.joins import Interval
from countersunk.model.tops.upstands import NEAR_WALL, PAST, SHORTEST, box_holes, cut_back, stretches
from countersunk.model.tops.worktops import Length
from countersunk.model.units import unit_parts

AGAINST = 60.0
"""What stands no further from a wall than this covers it, mm: units stand off it by what overhangs leave."""

NOTHING_ABOVE = 600.0
"""A zone behind a hob is so high where nothing hangs over it, mm (common practice, no source)."""


@dataclass(frozen=True)
class Tile:
    """A place of the set-out: what of it is seen, on the wall's face. ``whole`` has no cut."""

    shape: BaseGeometry
    whole: bool

    @property
    def size(self) -> tuple[float, float]:
        """Its width and height as cut, mm."""
        x0, y0, x1, y1 = self.shape.bounds
        return (x1 - x0, y1 - y0)


@dataclass(frozen=True)
class PlacedSplashback:
    """One in its place. ``zone`` and ``openings`` lie on the wall's face; ``parts`` are its pieces, ``beside`` what
    else covers the wall, and where the wall ends.
    """

    key: str
    name: str
    wall: SurveyedWall
    wish: Splashback
    stock: SplashbackStock
    zone: BaseGeometry
    openings: BaseGeometry
    beside: BaseGeometry
    parts: tuple[Part, ...]

    @cached_property
    def covered(self) -> BaseGeometry:
        """The zone less its openings, on the wall's face."""
        return self.zone.difference(self.openings)

    def on_wall(self, part: Part) -> Polygon:
        """One of its pieces on the wall's face."""
        x, _, z = self.wall.frame.from_room(part.pose.origin)
        return translate(part.outline, x, z)

    @cached_property
    def tiles(self) -> tuple[Tile, ...]:
        """Every tile that is seen, row by row from the lowest, whole or cut; none of a panel."""
        return tuple(set_out(self.covered, self.zone.bounds, self.stock, self.wish)) if self.is_tiled else ()

    @property
    def is_tiled(self) -> bool:
        """Whether it is of tiles; panels are made to measure."""
        return self.stock.kind == "tile"

    @property
    def slivers(self) -> tuple[Tile, ...]:
        """Cut tiles that are narrower or lower than a third of a whole one."""
        least = [size / 3 - FIT for size in self.stock.size]
        return tuple(t for t in self.tiles if any(a < b for a, b in zip(t.size, least, strict=True)))

    @cached_property
    def free_ends(self) -> tuple[LineString, ...]:
        """Its upright and upper edges at which nothing stands: no unit, no opening, no other wall, no ceiling."""
        round_about = union_all([self.beside, self.openings]).buffer(2.0, join_style="mitre")
        found = []
        for polygon in polygons(self.covered):
            for a, b in pairwise(polygon.exterior.coords):
                line = LineString([a, b])
                foot = abs(a[1] - b[1]) < CONTACT and polygon.covers(Point((a[0] + b[0]) / 2, a[1] + 0.5))
                free = line.difference(round_about)
                if not foot and free.length > SHORTEST:
                    found += lines_of(free)
        return tuple(found)


def lay_splashbacks(
    document: Document, catalogue: Catalogue, survey: Survey, runs: Sequence[PlacedRun],
    lengths: Sequence[Length], cutouts: Sequence[PlacedCutout], upstands: Sequence[Part],
) -> tuple[PlacedSplashback, ...]:  # fmt: skip
    """Every splashback with its pieces, called ``Z1``, ``Z2`` …

    Raises InputError for an unknown wall or material, for a zone that has nothing to end at, and an empty one.
    """
    laid: list[PlacedSplashback] = []
    for i, wish in enumerate(document.splashbacks):
        field = f"splashbacks[{i}]"
        walls = {wall.name: wall for wall in survey.walls}
        if wish.wall not in walls:
            raise InputError.unknown(f"{field}.wall", wish.wall, walls, "a wall")
        if wish.material not in catalogue.splashbacks:
            raise InputError.unknown(f"{field}.material", wish.material, catalogue.splashbacks)
        wall, stock = walls[wish.wall], catalogue.splashbacks[wish.material]
        zone = _Zone(wall, survey, tuple(runs), tuple(lengths), tuple(cutouts), wish, field)
        bodies = union_all([*_bodies(wall, survey, runs), *_seen(upstands, wall)])
        plane = zone.raised().intersection(survey.face(wall)).difference(bodies)
        plane = plane.difference(union_all([p.zone for p in laid if p.wall is wall]))
        plane = _clear_of_corners(plane, wall, stock, survey, laid).simplify(CONTACT)
        if plane.area <= OVERLAP_AREA:
            raise InputError.at(
                field, found="nothing of the wall", allowed="a zone between the tops and what is above",
                advice="another zone, another start and end, or take away what covers the same place before it",
            )  # fmt: skip
        rim = rectangle(-PAST, -PAST, wall.length + PAST, survey.height + PAST).difference(
            survey.face(wall).buffer(-NEAR_WALL, join_style="mitre")
        )
        beside = union_all([bodies, rim, *(p.zone for p in laid if p.wall is wall)])
        laid.append(_placed(i + 1, wall, wish, stock, plane, _openings(wall, survey), beside, laid))
    return tuple(laid)


def polygons(shape: BaseGeometry) -> list[Polygon]:
    """The pieces of a shape with an area, from the left, then from below."""
    found = [p for p in getattr(shape, "geoms", [shape]) if isinstance(p, Polygon) and p.area > OVERLAP_AREA]
    return ranked(found, key=lambda p: (p.bounds[0], p.bounds[1]))


@dataclass(frozen=True)
class _Zone:
    """What a zone of a wall follows from."""

    wall: SurveyedWall
    survey: Survey
    runs: tuple[PlacedRun, ...]
    lengths: tuple[Length, ...]
    cutouts: tuple[PlacedCutout, ...]
    wish: Splashback
    field: str

    def raised(self) -> BaseGeometry:
        """The zone before anything is taken out of it."""
        low, high = self._along()
        foot = self._foot(low, high)
        above = self._above(low, high)
        return union_all([foot.intersection(rectangle(a, 0.0, b, z)) for a, b, z in above])

    def _along(self) -> Interval:
        """From where to where along the wall, as typed or as wide as what it is for."""
        wish, tops = self.wish, [s for s in stretches(self.wall, list(self.lengths)) if s[1] > s[0]]
        if not tops:
            raise self._lacks("top", "a top that stands against the wall")
        usual = (max(0.0, tops[0][0]), min(self.wall.length, tops[-1][1]))
        if wish.zone == "behind-hob":
            usual = self._over([(u.x, u.right) for u in self._cooking()], "hob")
        elif wish.zone == "to-hood":
            usual = self._over([(u.x, u.right) for u in self._hoods()], "hood")
        low = usual[0] if wish.start is None else wish.start
        high = usual[1] if wish.end is None else min(wish.end, self.wall.length)
        if low >= high:
            raise InputError.at(
                f"{self.field}.end", found=f"{high:g}", allowed=f"more than its start at {low:g}",
                advice="both are measured from the wall's left end",
            )  # fmt: skip
        return low, high

    def _over(self, spans: list[Interval], what: str) -> Interval:
        if not spans:
            raise self._lacks(what, f"a {what} on the wall")
        return min(a for a, _ in spans), max(b for _, b in spans)

    def _lacks(self, what: str, allowed: str) -> InputError:
        return InputError.at(
            f"{self.field}.zone", found=f"{self.wish.zone}, and no {what} on wall {self.wall.name}",
            allowed=allowed, advice="another zone, such as full-height, or another wall",
        )  # fmt: skip

    def _cooking(self) -> list[PlacedUnit]:
        hobs = {c.unit.key for c in self.cutouts if c.template.kind == "hob"}
        return [u for u in self._units("floor") if u.key in hobs or u.family.holds("cooker")]

    def _hoods(self) -> list[PlacedUnit]:
        return [u for u in self._units("upper") if any(a.draws for a in u.family.appliances)]

    def _units(self, level: str) -> Iterator[PlacedUnit]:
        return (u for run in self.runs if run.wall == self.wall.name and run.level == level for u in run.units)

    def _foot(self, low: float, high: float) -> BaseGeometry:
        """Above the tops: each from its own face up; where none is between two, from the lower of their faces."""
        found = []
        for length in self.lengths:
            face = length.part.pose.origin[2] + length.part.thickness
            found += [(a, b, face) for a, b in stretches(self.wall, [length])]
        least = min(face for _, _, face in found)
        tops = [rectangle(a, 0.0, b, face) for a, b, face in found]
        whole = rectangle(low, least, high, self.survey.height)
        return whole.difference(union_all(tops))

    def _above(self, low: float, high: float) -> list[tuple[float, float, float]]:
        """From where to where, and how high it goes there, mm."""
        hung = [u for u in self._units("upper") if u.right > low + CONTACT and u.x < high - CONTACT]
        hoods = [u for u in self._hoods() if u in hung]
        if self.wish.zone == "full-height":
            return [(low, high, self.survey.height)]
        if self.wish.zone == "to-hood":
            if not hoods:
                raise self._lacks("hood", "a hood between its start and end")
            return [(low, high, min(u.family.base for u in hoods))]
        if self.wish.zone == "behind-hob":
            foot = self._foot(low, high).bounds[1]
            return [(low, high, min((u.family.base for u in hung), default=foot + NOTHING_ABOVE))]
        units = [u for u in hung if u not in hoods and not (u.family.on_top or u.family.kind.on_brackets)]
        if not units:
            raise self._lacks("wall unit", "wall units over the top")
        below = [(max(low, u.x), min(high, u.right), u.family.base) for u in units]
        return [(low, high, min(u.family.base for u in units)), *below]


def _bodies(wall: SurveyedWall, survey: Survey, runs: Iterable[PlacedRun]) -> Iterator[Polygon]:
    """What stands against a wall, on its face: units with a hood's chimney, and obstacles."""
    strip = rectangle(-AGAINST, -AGAINST, wall.length + AGAINST, AGAINST)
    for unit in (u for run in runs for u in run.units):
        high = survey.height if unit.telescopes else unit.family.top
        seen = wall.frame.plan_from_room(unit.frame.plan_to_room(unit.outline)).intersection(strip)
        if seen.area > OVERLAP_AREA and unit.family.is_bare and unit.family.holds("hood"):
            yield from _hood(unit, wall)
        elif seen.area > OVERLAP_AREA and (unit.is_tall or unit.family.level == "upper"):
            yield rectangle(seen.bounds[0], unit.family.base if unit.family.level == "upper" else 0.0,
                            seen.bounds[2], high)  # fmt: skip
    for o in survey.obstacles:
        seen = wall.frame.plan_from_room(o.plan).intersection(strip)
        if seen.area > OVERLAP_AREA:
            yield rectangle(seen.bounds[0], o.bottom, seen.bounds[2], o.top)


def _hood(unit: PlacedUnit, wall: SurveyedWall) -> Iterator[Polygon]:
    """What stands against a wall of a hood: its canopy, and its chimney, which is narrower."""
    for part in unit_parts(unit):
        x0, y0, x1, y1 = part.outline.bounds
        ends = [(x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (0.0, part.thickness)]
        xs, _, zs = zip(*(wall.frame.from_room(part.pose.to_room(end)) for end in ends), strict=True)
        yield rectangle(min(xs), min(zs), max(xs), max(zs))


def _seen(upstands: Iterable[Part], wall: SurveyedWall) -> Iterator[Polygon]:
    """Upstands on a wall's face, and the ends of those in its corners."""
    strip = rectangle(-AGAINST, -AGAINST, wall.length + AGAINST, AGAINST / 2)
    for part in upstands:
        seen = wall.frame.plan_from_room(part.standing_plan).intersection(strip)
        if seen.area > CONTACT:
            low = part.pose.origin[2]
            yield rectangle(seen.bounds[0], low, seen.bounds[2], low + part.depth)


def _openings(wall: SurveyedWall, survey: Survey) -> BaseGeometry:
    """Windows, doors, and the holes for boxes, on a wall's face."""
    holes = [rectangle(o.at, o.sill, o.at + o.width, o.head) for o in survey.openings if o.wall == wall.name]
    return union_all([*holes, *box_holes(wall, survey)])


def _clear_of_corners(
    plane: BaseGeometry, wall: SurveyedWall, stock: SplashbackStock, survey: Survey, laid: list[PlacedSplashback]
) -> BaseGeometry:
    """The zone before what was laid on the walls beside it, where both come to the corner."""
    front = wall.peak(0.0, wall.length) + stock.thickness
    for other in laid:
        out = other.wall.peak(0.0, other.wall.length) + other.stock.thickness
        _, y0, x1, y1 = other.zone.bounds
        if other.wall is survey.previous_wall(wall) and other.wall.corner and x1 > other.wall.length - NEAR_WALL:
            back = cut_back(other.wall.corner, front, out)
            plane = plane.difference(rectangle(-NEAR_WALL, y0, back, y1))
        if other.wall is survey.next_wall(wall) and wall.corner and other.zone.bounds[0] < NEAR_WALL:
            back = cut_back(wall.corner, front, out)
            plane = plane.difference(rectangle(wall.length - back, y0, wall.length + NEAR_WALL, y1))
    return plane


def _placed(
    number: int, wall: SurveyedWall, wish: Splashback, stock: SplashbackStock, zone: BaseGeometry,
    openings: BaseGeometry, beside: BaseGeometry, before: list[PlacedSplashback],
) -> PlacedSplashback:  # fmt: skip
    key, first = f"{wall.name}:splashback-{number}", sum(len(p.parts) for p in before) + 1
    inside = zone.intersection(openings)
    out = wall.peak(zone.bounds[0], zone.bounds[2])
    pieces = _pieces(zone.difference(inside), stock)
    parts = [
        _part(f"{key}-{i + 1}", f"Z{first + i}", piece, wall.frame, out, stock) for i, piece in enumerate(pieces)
    ]
    return PlacedSplashback(key, f"splashback {number}", wall, wish, stock, zone, inside, beside, tuple(parts))


def _pieces(covered: BaseGeometry, stock: SplashbackStock) -> list[Polygon]:
    """What hangs together of tiles; panels no larger than they come. Panes have no corner that points inward, since
    toughened glass breaks there: they part where their height changes (common practice, no source).
    """
    whole = polygons(covered)
    if stock.kind == "tile":
        return whole
    if stock.kind == "glass":
        whole = [part for piece in whole for part in _upright(piece)]
    return [part for piece in whole for part in _in_stock(piece, stock)]


def _upright(piece: Polygon) -> list[Polygon]:
    """A piece in strips, each from one upright of its outline to the next."""
    places = sorted({round(float(x), 3) for x, _ in get_coordinates(Polygon(piece.exterior))})
    edges = [places[0], *(b for a, b in pairwise(places) if b - a > 1.0)]
    edges[-1] = places[-1]
    cut = (piece.intersection(rectangle(a, -CONTACT, b, 1e5)) for a, b in pairwise(edges))
    return [part for strip in cut for part in polygons(strip)]


def _in_stock(piece: Polygon, stock: SplashbackStock) -> Iterator[Polygon]:
    """A piece in equal panels no larger than the stock, which may lie either way."""
    x0, y0, x1, y1 = piece.bounds
    long, short = max(stock.size), min(stock.size)
    counts = [
        (math.ceil((x1 - x0 - FIT) / w), math.ceil((y1 - y0 - FIT) / h)) for w, h in ((long, short), (short, long))
    ]
    across, up = min(counts, key=lambda count: (count[0] * count[1], count[1]))
    for j in range(up):
        for i in range(across):
            cell = rectangle(
                x0 + (x1 - x0) * i / across, y0 + (y1 - y0) * j / up,
                x0 + (x1 - x0) * (i + 1) / across, y0 + (y1 - y0) * (j + 1) / up,
            )  # fmt: skip
            yield from polygons(piece.intersection(cell))


def _part(key: str, name: str, piece: Polygon, frame: Pose, out: float, stock: SplashbackStock) -> Part:
    """Frame: x along the wall, y up, z out from the wall."""
    x, z, _, _ = piece.bounds
    pose = frame.moved(x, out, z).reaxed((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
    return Part(
        key=PartKey(key, Role.SPLASHBACK), called=name, layer=Layer.WORKTOPS, material=stock.code,
        outline=translate(piece, -x, -z), thickness=stock.thickness, pose=pose,
    )  # fmt: skip


@lru_cache(maxsize=64)
def set_out(
    covered: BaseGeometry, bounds: tuple[float, float, float, float], stock: SplashbackStock, wish: Splashback
) -> tuple[Tile, ...]:
    """The set-out: whole tiles on the lower edge, columns by the datum."""
    (width, height), joint = stock.size, stock.joint
    x0, y0, x1, y1 = bounds
    begin, pitch, rise = _begin(x1 - x0, width, joint, wish.datum), width + joint, height + joint
    found = []
    for row in range(math.ceil((y1 - y0) / rise)):
        moved = pitch / 2 if wish.bond == "half" and row % 2 else 0.0
        first = math.floor(-(begin + moved) / pitch) - 1
        for column in range(first, first + math.ceil((x1 - x0) / pitch) + 3):
            left = x0 + begin + moved + column * pitch
            tile = rectangle(left, y0 + row * rise, left + width, y0 + row * rise + height)
            seen = tile.intersection(covered)
            if seen.area > 1.0:
                found.append(Tile(seen, seen.area > tile.area - 1.0))
    return tuple(found)


def _begin(length: float, width: float, joint: float, datum: str) -> float:
    """Where a column of whole tiles begins, from the left of a zone so long, mm.

    From the centre a tile or a joint is in the middle, whichever leaves the wider cut at both ends (common
    practice, no source).
    """
    if datum == "left":
        return 0.0
    if datum == "right":
        return length - width
    pitch = width + joint
    begins = ((length - width) / 2, (length + joint) / 2)
    return max(begins, key=lambda begin: _end_cut(begin % pitch, joint, width))


def _end_cut(rest: float, joint: float, width: float) -> float:
    """How wide the tile at the end is where ``rest`` mm are left beside a whole one."""
    return rest - joint if rest > joint else width
