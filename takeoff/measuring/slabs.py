"""Slabs: measures of tops that a mason, fabricator or metalworker makes to measure from slabs.

As in `takeoff.measuring.measures`: pure functions of a `Kitchen`, nothing added for waste, nothing rounded.
"""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import EdgeCondition
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.worktops import Length
from countersunk.takeoff.measuring.measures import Share, Shares

FINISHED = (EdgeCondition.FACTORY, EdgeCondition.EXPOSED)
"""Edges of a top that stay in view."""


def slab_pieces(kitchen: Kitchen) -> Shares:
    """Area of the rectangle round every piece, mm²; ``key`` is the stock's code."""
    for id_, stock in kitchen.made_to_measure.items():
        part = kitchen.parts_by_id[id_]
        yield Share(id_, part.length * part.depth, stock.code)


def slab_edges(kitchen: Kitchen) -> Shares:
    """Edges that stay in view, mm long: of tops, upper ones of upstands, upright ones of ends to the floor.

    ``key`` is maker and thickness.
    """
    free = {length.key for length in _lengths(kitchen) if length.run.free}
    for length in _lengths(kitchen):
        stock = length.run.stock
        for edge in (e for e in length.part.edges if e.condition in FINISHED):
            yield Share(edge.id, edge.length, f"{stock.made_by}.{stock.thickness:g}")
    for id_, stock in kitchen.made_to_measure.items():
        part = kitchen.parts_by_id[id_]
        edges = {Role.UPSTAND: part.length, Role.WATERFALL: part.length * (2 if part.owner in free else 1)}
        if part.role in edges:
            yield Share(id_, edges[part.role], f"{stock.made_by}.{stock.thickness:g}")


def slab_cutouts(kitchen: Kitchen) -> Shares:
    """Every cut-out, counted; ``key`` is how what goes in is set, or ``hole``."""
    made = {length.id for length in _lengths(kitchen)}
    for cutout in (c for c in kitchen.cutouts if c.length in made):
        large = cutout.template.kind in ("sink", "hob")
        yield Share(cutout.key, 1, cutout.template.mount if large else "hole")


def slab_grooves(kitchen: Kitchen) -> Shares:
    """Sets of grooves that drain into a sink, counted."""
    return (Share(c.key, 1) for c in kitchen.cutouts if c.grooves)


def slab_seams(kitchen: Kitchen) -> Shares:
    """Length of every seam, mm, ends to the floor too; ``key`` is ``mitre`` where both are sawn on a bisector."""
    made = {length.id for length in _lengths(kitchen)}
    for join in (j for j in kitchen.joins if j.female in made):
        yield Share(join.key, join.length, "mitre" if join.kind == "full mitre" else "seam")
    for id_ in kitchen.made_to_measure:
        part = kitchen.parts_by_id[id_]
        if part.role is Role.WATERFALL:
            yield Share(id_, part.depth, "mitre" if part.pockets else "seam")


def slab_makers(kitchen: Kitchen) -> Shares:
    """Every maker of tops once, by the first that they make; ``key`` says who."""
    first: dict[str, str] = {}
    for length in _lengths(kitchen):
        first.setdefault(length.run.stock.made_by, length.key)
    return (Share(key, 1, maker) for maker, key in first.items())


def _lengths(kitchen: Kitchen) -> Iterator[Length]:
    return (length for length in kitchen.lengths if length.run.stock.made_by)
