"""Measures of cut-outs: what stays standing of a worktop round the line to cut.

All distances are from the line, in the plan, to the boundary of the worktop as it is cut. Holes that are drilled,
for taps, switches and pop-up sockets, are looked at only where a unit's side may be in their way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Aspect, Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Sort, Thing, of_cutout, of_join, of_length, of_part, of_slope
from countersunk.model.facts.plans import around, between, heights, parts_beneath, upright, weakenings
from countersunk.model.geometry.identity import Component, Role
from countersunk.model.geometry.part import Edge
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import least
from countersunk.model.tolerance import CONTACT, EQUAL, OVERLAP_AREA
from countersunk.model.tops.bands import where_else
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.edges import CUT_OUTS, JOINTS
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length

TAPS = (Component.TAP_POST, Component.TAP_SPOUT)

NEAR = 100.0
"""Sides of units farther from the line than this are not looked at, mm."""


def to_cutout(kitchen: Kitchen) -> Iterator[Place]:
    """Between the lines of every two cut-outs of one length, mm; not of a hob and a downdraft, whose
    sheets say it.
    """
    for a, b in combinations(weakenings(kitchen), 2):
        if a.length == b.length and {a.template.kind, b.template.kind} != {"hob", "downdraft"}:
            length = kitchen.length(a.length)
            where = Where(Phrase.TO_IN, of_cutout(a), against=of_cutout(b), more=(of_length(length),))
            yield _place(a, length, where, b.line_in_room)


def to_join(kitchen: Kitchen) -> Iterator[Place]:
    """From the line to the joint that its length is cut to, mm, for every join of the length."""
    for cutout, length in _all(kitchen):
        for join in kitchen.joins:
            if length.id in (join.female, join.male):
                where = Where(Phrase.TO_JOIN, of_cutout(cutout), against=of_join(join))
                yield replace(_place(cutout, length, where, _joint(length, join)), advice=_elsewhere(join))


def _elsewhere(join: Join) -> str:
    """What would help where the join is in line."""
    return f"{place}, or move the cut-out" if (place := where_else(join)) else ""


def to_front_edge(kitchen: Kitchen) -> Iterator[Place]:
    """From the line to the front edge of the top, mm."""
    for cutout, length in _all(kitchen):
        for edge in _edges(length):
            if edge.lies_at(length.run.stock.depth):
                where = Where(Phrase.FRONT_EDGE, of_cutout(cutout), against=of_length(length))
                yield _place(cutout, length, where, _path(length, edge))


def to_back_edge(kitchen: Kitchen) -> Iterator[Place]:
    """From the line to the back edge of the top, mm; also where that is scribed or goes round something."""
    for cutout, length in _all(kitchen):
        for edge in _edges(length):
            if _runs_along(edge) and not edge.lies_at(length.run.stock.depth):
                where = Where(Phrase.BACK_EDGE, of_cutout(cutout), against=of_length(length))
                yield _place(cutout, length, where, _path(length, edge))


def to_end(kitchen: Kitchen) -> Iterator[Place]:
    """From the line to each end of the top that is no join, mm: exposed, against a wall, against a tall unit."""
    for cutout, length in _all(kitchen):
        for edge in _edges(length):
            if not _runs_along(edge):
                left = edge.path.centroid.x < cutout.line.centroid.x
                side, top = Aspect.LEFT_END if left else Aspect.RIGHT_END, of_length(length)
                where = Where(Phrase.END_EDGE, of_cutout(cutout), side, top, note=edge.condition)
                yield _place(cutout, length, where, _path(length, edge))


def corner_radius(kitchen: Kitchen) -> Iterator[Place]:
    """Radius of the inside corners of the line to cut, mm."""
    for cutout, length in _all(kitchen):
        volume = Volume(cutout.line_in_room, *_heights(length))
        where, about = Where(Phrase.CORNERS, of_cutout(cutout)), (of_cutout(cutout), of_length(length))
        yield Place(where, cutout.template.radius, about, volume)


def typed_corner_radius(kitchen: Kitchen) -> Iterator[Place]:
    """The radius of corners that somebody typed, mm; that of an article is its maker's."""
    own = {cutout.key for cutout in kitchen.cutouts if cutout.own}
    return (place for place in corner_radius(kitchen) if place.where.subject.key in own)


def to_unit_sides(kitchen: Kitchen) -> Iterator[Place]:
    """From the line to the nearest side or panel of a unit beneath, mm; negative by how far it is cut into.

    Of a sink with a drainer only the line round its bowl: the drainer is thinner than the top and goes over a side.
    A rail on edge beneath the line is no side: rails are what a sink or hob hangs between.
    """
    for cutout in kitchen.cutouts:
        length = kitchen.length(cutout.length)
        line, sides = cutout.hung_in_room, _sides(kitchen, cutout, length)
        gaps = [(line.distance(plan) - _bite(cutout, line, plan), side, plan) for side, plan in sides.items()]
        if gaps:
            gap, side, plan = least(gaps, key=lambda g: g[0])
            where = Where(Phrase.OVER, of_cutout(cutout), against=side)
            yield replace(_place(cutout, length, where, plan, line), value=gap)


def _all(kitchen: Kitchen) -> Iterator[tuple[PlacedCutout, Length]]:
    return ((cutout, kitchen.length(cutout.length)) for cutout in weakenings(kitchen))


def _edges(length: Length) -> list[Edge]:
    """The outer edges that are no joint."""
    return [e for e in length.part.edges if e.condition not in (*CUT_OUTS, *JOINTS)]


def _runs_along(edge: Edge) -> bool:
    """Whether it is a front or a back edge, straight or scribed, and no end."""
    x0, y0, x1, y1 = edge.path.bounds
    return bool(x1 - x0 > y1 - y0 + EQUAL)


def _path(length: Length, edge: Edge) -> LineString:
    return length.part.pose.plan_to_room(edge.path)


def _joint(length: Length, join: Join) -> LineString:
    """The joint as this length has it: of its joint edges, the one at ``join``."""
    paths = [_path(length, e) for e in length.part.edges if e.condition in JOINTS]
    return least(paths, key=lambda path: path.centroid.distance(join.line.centroid))


def _sides(kitchen: Kitchen, cutout: PlacedCutout, length: Length) -> dict[Thing, BaseGeometry]:
    """The plans of the sides and panels under the line or within `NEAR` of it."""
    line, parts = cutout.hung_in_room, parts_beneath(kitchen, length)
    plans = {of_part(part): part.standing_plan for part in parts if part.role in (Role.SIDE, Role.PANEL)}
    return {side: plan for side, plan in plans.items() if line.distance(plan) < NEAR + CONTACT}


def _bite(cutout: PlacedCutout, line: Polygon, plan: BaseGeometry) -> float:
    """How far along the top the line cuts into ``plan``, mm; 0 where it stays clear."""
    shared = line.intersection(plan)
    if shared.area < OVERLAP_AREA:
        return 0.0
    x0, _, x1, _ = cutout.frame.plan_from_room(shared).bounds
    return float(x1 - x0)


def _heights(length: Length) -> tuple[float, float]:
    under = length.part.pose.origin[2]
    return under, under + length.part.thickness


def _place(
    cutout: PlacedCutout, length: Length, where: Where, other: BaseGeometry, line: Polygon | None = None
) -> Place:
    """A place measured from the line, or a part of it; a join is named but not lit up."""
    low, high = _heights(length)
    segment = between(line or cutout.line_in_room, other, high)
    top = of_length(length)
    others = [t for t in where.things[1:2] if t.sort in (Sort.CUTOUT, Sort.PART)]
    about = tuple(dict.fromkeys((where.subject, *others, top)))
    return Place(where, math.dist(*segment), about, around(segment, low, high), segment)


def tap_below(kitchen: Kitchen) -> Iterator[Place]:
    """Upright from the top of a tap to a sloping ceiling over it, mm; only where it stands under one."""
    for cutout in kitchen.cutouts:
        parts = [p for p in kitchen.parts_of[cutout.key] if p.which.component in TAPS]
        if parts:
            plan = MultiPolygon([p.pose.plan_to_room(p.outline) for p in parts]).convex_hull
            assert isinstance(plan, Polygon)
            high = max(heights(p)[1] for p in parts)
            for slope in kitchen.survey.slopes:
                if slope.plan.intersects(plan):
                    where = Where(Phrase.TO, of_cutout(cutout), against=of_slope(slope))
                    volume, segment = upright(plan, high, slope.over(plan))
                    yield Place(where, slope.over(plan) - high, (of_cutout(cutout),), volume, segment)
