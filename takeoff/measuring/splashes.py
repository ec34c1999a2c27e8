"""Splashes: measures of what covers walls over the tops, one share for each piece; tiles by the set-out; and of
the edges behind tops that nothing covers.

As in `takeoff.measuring.measures`: pure functions of a `Kitchen`, nothing added for waste, nothing rounded.
"""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Point, union_all
from shapely import box as rectangle
from shapely.geometry.base import BaseGeometry

from countersunk.model.catalogue.catalogue import SplashbackStock
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition, Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import CONTACT, OVERLAP_AREA
from countersunk.model.tops.splashbacks import AGAINST, PlacedSplashback
from countersunk.model.tops.upstands import BOX_HOLE, BOXED, NEAR_WALL
from countersunk.takeoff.measuring.measures import Share, Shares

ADHESIVE = {6: 2.3, 8: 3.2, 10: 4.2, 12: 5.5}
"""Tile adhesive by the trowel's notch, kg a square metre (common practice, no source)."""

GROUT_DENSITY = 1.6
"""Of mixed grout, kg a litre (quoted by makers of grout; their sheets not seen)."""


def tiles(kitchen: Kitchen) -> Shares:
    """Tiles seen in each piece, counted, whole or cut; ``key`` is the article."""
    for splashback, part in _pieces(kitchen, tiled=True):
        area = splashback.on_wall(part)
        seen = [t for t in splashback.tiles if t.shape.intersection(area).area > OVERLAP_AREA]
        yield Share(part.id, len(seen), part.material)


def adhesive(kitchen: Kitchen) -> Shares:
    """Adhesive behind the tiles of each piece, kg, by the notch of their trowel."""
    for splashback, part in _pieces(kitchen, tiled=True):
        yield Share(part.id, part.area * 1e-6 * ADHESIVE[splashback.stock.notch])


def grout(kitchen: Kitchen) -> Shares:
    """Grout in the joints of each piece, kg."""
    for splashback, part in _pieces(kitchen, tiled=True):
        yield Share(part.id, part.area * 1e-6 * grout_per_area(splashback.stock))


def grout_per_area(stock: SplashbackStock) -> float:
    """Grout of a square metre of tiles, kg: (L + W) / (L × W) × joint × depth × density, all mm (quoted; common in
    makers' tables). It counts each crossing twice, so it is a little high for small tiles.
    """
    length, width = stock.size
    return (length + width) / (length * width) * stock.joint * stock.thickness * GROUT_DENSITY


def trims(kitchen: Kitchen) -> Shares:
    """Free ends of tiled zones, mm long: upright and upper edges at which nothing stands."""
    for splashback in kitchen.splashbacks:
        if splashback.is_tiled and splashback.free_ends:
            yield Share(splashback.parts[0].id, sum(line.length for line in splashback.free_ends))


def feet(kitchen: Kitchen) -> Shares:
    """Length of each piece that stands on a top or an upstand, mm: the joint that is filled with silicone; ``key``
    is the kind of its stock.
    """
    return (Share(part.id, part.length, splashback.stock.kind) for splashback, part in _standing(kitchen))


def wall_edges(kitchen: Kitchen) -> Shares:
    """Edges against a wall, mm long, as far as no upstand and no splashback stands on them: that joint is hidden.

    Those of a top that moves are left free. ``key`` is the top's thickness.
    """
    upstands = [part for part in kitchen.parts if part.role is Role.UPSTAND]
    hidden = union_all([_foot(part) for part in (*upstands, *(p for _, p in _standing(kitchen)))])
    for length in (top for top in kitchen.lengths if not top.moves):
        for edge in length.part.edges:
            if edge.condition is EdgeCondition.WALL:
                path = length.part.pose.plan_to_room(edge.path)
                seen = edge.length if path.disjoint(hidden) else float(path.difference(hidden).length)
                if seen > CONTACT:
                    yield Share(edge.id, seen, f"{length.part.thickness:g}")


def _foot(part: Part) -> BaseGeometry:
    """Where a piece stands in the room's plan, with what it hides of a hollow behind it and just beside it."""
    plan = part.pose.reaxed((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
    return plan.plan_to_room(rectangle(-NEAR_WALL, -AGAINST, part.length + NEAR_WALL, part.thickness + CONTACT))


def _standing(kitchen: Kitchen) -> Iterator[tuple[PlacedSplashback, Part]]:
    """Every piece at the foot of its zone."""
    for splashback, part in _pieces(kitchen):
        if abs(splashback.on_wall(part).bounds[1] - splashback.zone.bounds[1]) < 1.0:
            yield splashback, part


def panels(kitchen: Kitchen) -> Shares:
    """Area of every panel that is made to measure, holes not taken off, mm²; ``key`` is the article."""
    for _, part in _pieces(kitchen, tiled=False):
        yield Share(part.id, part.length * part.depth, part.material)


def panel_lengths(kitchen: Kitchen) -> Shares:
    """Extent of every panel along its wall, mm: what is glued."""
    return (Share(part.id, part.length) for _, part in _pieces(kitchen, tiled=False))


def panel_holes(kitchen: Kitchen) -> Shares:
    """Holes in panels, counted in each; ``key`` is the kind of panel."""
    for splashback, part in _pieces(kitchen, tiled=False):
        if part.outline.interiors:
            yield Share(part.id, len(part.outline.interiors), splashback.stock.kind)


def upstand_sockets(kitchen: Kitchen) -> Shares:
    """Holes for the boxes of sockets and switches in upstands, counted in each."""
    upstand = kitchen.document.worktop.upstand
    boxed = [s for s in kitchen.survey.services if s.kind in BOXED] if upstand and upstand.sockets else []
    for part in (p for p in kitchen.parts if p.role is Role.UPSTAND):
        low, high = part.pose.origin[2], part.pose.origin[2] + part.depth
        level = [Point(s.point[:2]) for s in boxed if low < s.height < high]
        if near := [point for point in level if part.standing_plan.distance(point) < BOX_HOLE]:
            yield Share(part.id, len(near))


def mass(kitchen: Kitchen) -> Shares:
    """Mass of every piece, kg: net area × thickness × density (kg/m³)."""
    for splashback, part in _pieces(kitchen):
        yield Share(part.id, part.area * part.thickness * splashback.stock.density * 1e-9)


def _pieces(kitchen: Kitchen, tiled: bool | None = None) -> Iterator[tuple[PlacedSplashback, Part]]:
    return ((s, p) for s in kitchen.splashbacks if tiled in (None, s.is_tiled) for p in s.parts)
