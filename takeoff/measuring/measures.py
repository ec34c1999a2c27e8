"""Measures: what a kitchen has of each thing, one share for each part, edge, join, cut-out or unit.

Pure functions of a `Kitchen`. Amounts are mm, mm², kg or counts; nothing is added for waste, nothing is rounded.
Measured from parameters, never from meshes: the meshes are the witness in the tests. What a measure is for, and
what it is not, stands in `takeoff.measuring.definitions`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import box as rectangle
from shapely import union_all

from countersunk.model.catalogue.catalogue import Stock
from countersunk.model.catalogue.method import Along
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Edge, EdgeCondition, Part
from countersunk.model.kitchen import Kitchen


@dataclass(frozen=True)
class Share:
    """What one thing brings. ``key`` is the catalogue's word that parts one article from another.

    Where the amount is a strip's area, ``along`` and ``across`` are its sides (mm), so that a formula can show
    them. ``comes_with`` is what comes along with the bought carcass that it is of.
    """

    id: str
    amount: float
    key: str = ""
    along: float | None = None
    across: float | None = None
    comes_with: tuple[Along, ...] = ()


Shares = Iterator[Share]


# Worktops


def worktop_lengths(kitchen: Kitchen) -> Shares:
    """Extent of each length along its run, mm; ``key`` is the stock's code."""
    for length in kitchen.lengths:
        yield Share(length.key, length.part.length, length.run.stock.code)


def worktop_mass(kitchen: Kitchen) -> Shares:
    """Mass of each length, kg; ``key`` is the stock's code."""
    return (Share(length.key, length.mass, length.run.stock.code) for length in kitchen.lengths)


def raw_edges(kitchen: Kitchen) -> Shares:
    """Faces of every edge that has to be sealed, mm²: length × thickness of the top.

    That is every edge of particleboard that the factory has not formed; compact and solid stock need no sealer.
    """
    for length in kitchen.lengths:
        for edge in length.part.edges:
            if length.run.stock.material.edges == "sealed" and not _is_formed(edge, length.run.stock):
                yield _strip(length.part, edge)
    for part in (part for part in kitchen.parts if part.role is Role.REVEAL):
        if kitchen.top_at(part).run.stock.material.edges == "sealed":
            round_it = float(part.outline.length)
            yield Share(part.id, round_it * part.thickness, along=round_it, across=part.thickness)


def exposed_faces(kitchen: Kitchen) -> Shares:
    """Faces of the exposed edges that get an edging strip, mm²; compact and solid stock are polished instead."""
    yield from (_strip(part, e) for part, e in _edged(kitchen))


def exposed_edges(kitchen: Kitchen) -> Shares:
    """Exposed edges that get an edging strip, mm long; ``key`` is the top's thickness."""
    return (Share(edge.id, edge.length, f"{part.thickness:g}") for part, edge in _edged(kitchen))


def polished_edges(kitchen: Kitchen) -> Shares:
    """Exposed edges of stock that is the same all through, mm long; those of wood are sanded as long."""
    return (Share(edge.id, edge.length) for _, edge in _edged(kitchen, board=False))


def oiled_faces(kitchen: Kitchen) -> Shares:
    """Every face of each top that is oiled, mm²: both sides and all edges, joints and cut-outs too."""
    for length in kitchen.lengths:
        if length.run.stock.material.edges == "oiled":
            outline = length.part.outline
            yield Share(length.key, 2 * outline.area + outline.length * length.part.thickness)


def tall_edges(kitchen: Kitchen) -> Shares:
    """Edges against the side of a tall unit, mm long."""
    return _of_condition(kitchen, EdgeCondition.TALL)


def heat_edges(kitchen: Kitchen) -> Shares:
    """Edges of cut-outs at heat, mm long."""
    return _of_condition(kitchen, EdgeCondition.CUTOUT_HEAT)


def sink_rims(kitchen: Kitchen) -> Shares:
    """Outline of the rim of each sink, mm long."""
    for cutout in kitchen.cutouts:
        if cutout.template.kind == "sink":
            yield Share(cutout.key, float(cutout.rim.exterior.length))


def sawn_edges(kitchen: Kitchen) -> Shares:
    """Edges of the worktops sawn for this kitchen, mm long: neither formed nor the back as it is bought."""
    for length in kitchen.lengths:
        for edge in length.part.edges:
            if not edge.lies_at(0.0) and not _is_formed(edge, length.run.stock):
                yield Share(edge.id, edge.length)


def upstands(kitchen: Kitchen) -> Shares:
    """Length of every upstand, mm; ``key`` is its stock's code."""
    return (Share(p.id, p.length, p.material) for p in kitchen.parts if p.role is Role.UPSTAND)


# Joins and cut-outs


def bolted_joins(kitchen: Kitchen) -> Shares:
    """Length of each joint that is bolted and not glued, mm; a mitre's shoulder and long side together."""
    return (Share(j.key, j.length) for j in kitchen.joins if j.has_bolts and not j.bonded)


def strip_joins(kitchen: Kitchen) -> Shares:
    """Length of each joint that a strip closes, mm, by its strip; ``key`` is the top's thickness."""
    for join in kitchen.joins:
        if join.has_strip:
            yield Share(
                PartKey(join.key, Role.JOINT_STRIP).text,
                join.length,
                f"{kitchen.length(join.female).part.thickness:g}",
            )


def bonded_joins(kitchen: Kitchen) -> Shares:
    """Face of each seam that is bonded edge to edge, mm²: its length × the top's thickness."""
    return _glued(kitchen, "seam")


def wood_joins(kitchen: Kitchen) -> Shares:
    """Face of each joint of wood that is glued edge to edge, mm²: its length × the top's thickness."""
    return _glued(kitchen, "wood")


def _glued(kitchen: Kitchen, glue: str) -> Shares:
    for join in (j for j in kitchen.joins if j.glue == glue):
        thick = kitchen.length(join.female).part.thickness
        yield Share(join.key, join.length * thick, along=join.length, across=thick)


def joint_bolts(kitchen: Kitchen) -> Shares:
    """Bolts of each joint that is drawn together with them."""
    return (Share(j.key, j.bolts) for j in kitchen.joins if j.has_bolts)


def joint_biscuits(kitchen: Kitchen) -> Shares:
    """Biscuits of each joint that has bolts."""
    return (Share(j.key, j.biscuits) for j in kitchen.joins if j.has_bolts)


def joins(kitchen: Kitchen) -> Shares:
    """Every join, counted; ``key`` is how it is made."""
    return (Share(j.key, 1, j.making) for j in kitchen.joins)


def cutouts(kitchen: Kitchen) -> Shares:
    """Every cut-out, counted."""
    return (Share(c.key, 1) for c in kitchen.cutouts)


def let_in(kitchen: Kitchen) -> Shares:
    """What is let in, counted; ``key`` is its code. What was typed without an article is the customer's own."""
    ordered = (c for c in kitchen.cutouts if not c.own)
    return (Share(c.key, 1, c.template.code) for c in ordered)


def taps(kitchen: Kitchen) -> Shares:
    """Sinks that take a tap, counted."""
    yield from (Share(c.key, 1) for c in kitchen.cutouts if c.template.kind == "sink" and c.template.tap)
    yield from (Share(u.key, 1) for u in kitchen.units if u.family.holds("sink"))


def sinks(kitchen: Kitchen) -> Shares:
    """Sinks, counted."""
    yield from (Share(c.key, 1) for c in kitchen.cutouts if c.template.kind == "sink")
    yield from (Share(u.key, 1) for u in kitchen.units if u.family.holds("sink"))


def painted_walls(kitchen: Kitchen) -> Shares:
    """Area of every wall that the job paints, openings taken off, mm²; what stands before it is not."""
    if kitchen.document.finishes.supplied in ("walls", "both"):
        for wall in kitchen.survey.walls:
            holes = [
                rectangle(o.at, o.sill, o.at + o.width, o.head)
                for o in kitchen.survey.openings
                if o.wall == wall.name
            ]
            yield Share(wall.name, float(kitchen.survey.face(wall).difference(union_all(holes)).area))


def covered_floor(kitchen: Kitchen) -> Shares:
    """Area of the floor that the job covers, under the units too, mm²; an open survey has none."""
    if kitchen.document.finishes.supplied in ("floor", "both") and kitchen.survey.outline is not None:
        stood = [o.plan for o in kitchen.survey.obstacles if o.bottom == 0.0]
        yield Share("floor", float(kitchen.survey.outline.difference(union_all(stood)).area))


def _edges(kitchen: Kitchen) -> Iterator[tuple[Part, Edge]]:
    return ((length.part, edge) for length in kitchen.lengths for edge in length.part.edges)


def _edged(kitchen: Kitchen, *, board: bool = True) -> Iterator[tuple[Part, Edge]]:
    """The exposed edges of particleboard, or of all else."""
    for length in kitchen.lengths:
        if (length.run.stock.material.edges == "sealed") == board:
            yield from ((length.part, e) for e in length.part.edges if e.condition is EdgeCondition.EXPOSED)


def _strip(part: Part, edge: Edge) -> Share:
    return Share(edge.id, edge.length * part.thickness, along=edge.length, across=part.thickness)


def _is_formed(edge: Edge, stock: Stock) -> bool:
    """Whether the factory formed the edge, whatever it stands against: the back of a top formed on both edges."""
    lines = (stock.depth, 0.0) if stock.both_edges else (stock.depth,)
    return any(map(edge.lies_at, lines))


def _of_condition(kitchen: Kitchen, condition: EdgeCondition) -> Shares:
    for part, edge in _edges(kitchen):
        if edge.condition is condition:
            yield Share(edge.id, edge.length, f"{part.thickness:g}")
