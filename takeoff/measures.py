"""Measures: what a kitchen has of each thing, one share for each part, edge, join, cut-out or unit.

Pure functions of a `Kitchen`. Amounts are mm, mm², kg or counts; nothing is added for waste, nothing is rounded.
Measured from parameters, never from meshes: the meshes are the witness in the tests. What a measure is for, and
what it is not, stands in `takeoff.registry`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from model.catalogue import Stock
from model.kitchen import Kitchen
from model.layout import PlacedUnit
from model.part import Edge, EdgeCondition, Layer, Part
from model.plain_cutouts import OWN
from model.tolerance import ON_LINE

FLAT = 0.999
"""A rail whose thickness points up by more than this (cosine) lies flat."""


@dataclass(frozen=True)
class Share:
    """What one thing brings. ``key`` is the catalogue's word that parts one article from another.

    Where the amount is a strip's area, ``along`` and ``across`` are its sides (mm), so that a formula can show
    them.
    """

    id: str
    amount: float
    key: str = ""
    along: float | None = None
    across: float | None = None


Shares = Iterator[Share]


# Worktops


def worktop_lengths(kitchen: Kitchen) -> Shares:
    """Extent of each length along its run, mm; ``key`` is the stock's code."""
    for length in kitchen.lengths:
        yield Share(length.id, length.part.length, length.run.stock.code)


def worktop_mass(kitchen: Kitchen) -> Shares:
    """Mass of each length, kg: net area × thickness less its rounded noses and slots, × density (kg/m³)."""
    for length in kitchen.lengths:
        stock, part = length.run.stock, length.part
        rounded = 2 * stock.nose**2 * (1 - math.pi / 4) * _formed(part, stock)
        slots = sum(p.outline.intersection(part.outline).area * (p.high - p.low) for p in part.pockets)
        volume = part.area * part.thickness - rounded - slots
        yield Share(length.id, volume * stock.density * 1e-9, stock.code)


def raw_edges(kitchen: Kitchen) -> Shares:
    """Faces of every edge that has to be sealed, mm²: length × thickness of the top.

    That is every edge of particleboard that the factory has not formed; compact and solid stock need no sealer.
    """
    for length in kitchen.lengths:
        for edge in length.part.edges:
            if length.run.stock.core == "particleboard" and not _is_formed(edge, length.run.stock):
                yield _strip(length.part, edge)


def exposed_faces(kitchen: Kitchen) -> Shares:
    """Faces of the exposed edges that get an edging strip, mm²; compact and solid stock are polished instead."""
    yield from (_strip(part, e) for part, e in _edged(kitchen))


def exposed_edges(kitchen: Kitchen) -> Shares:
    """Exposed edges that get an edging strip, mm long; ``key`` is the top's thickness."""
    return (Share(edge.id, edge.length, f"{part.thickness:g}") for part, edge in _edged(kitchen))


def wall_edges(kitchen: Kitchen) -> Shares:
    """Edges against a wall, mm long."""
    return _of_condition(kitchen, EdgeCondition.WALL)


def heat_edges(kitchen: Kitchen) -> Shares:
    """Edges of cut-outs at heat, mm long."""
    return _of_condition(kitchen, EdgeCondition.CUTOUT_HEAT)


def sink_rims(kitchen: Kitchen) -> Shares:
    """Outline of the rim of each sink, mm long."""
    for cutout in kitchen.cutouts:
        if cutout.template.kind == "sink":
            yield Share(cutout.id, float(cutout.rim.exterior.length))


def sawn_edges(kitchen: Kitchen) -> Shares:
    """Edges of the worktops sawn for this kitchen, mm long: neither formed nor the back as it is bought."""
    for length in kitchen.lengths:
        for edge in length.part.edges:
            at_back = all(abs(y) < ON_LINE for _, y in edge.path.coords)
            if not at_back and not _is_formed(edge, length.run.stock):
                yield Share(edge.id, edge.length)


# Joins and cut-outs


def mitre_joins(kitchen: Kitchen) -> Shares:
    """Length of each bolted joint, mitred or in line, mm; a mitre's shoulder and long side together."""
    return (Share(j.id, j.length) for j in kitchen.joins if not j.has_strip)


def butt_joins(kitchen: Kitchen) -> Shares:
    """Length of each butt joint, mm; ``key`` is the top's thickness."""
    for join in kitchen.joins:
        if join.has_strip:
            yield Share(join.id, join.length, f"{kitchen.length(join.female).part.thickness:g}")


def joint_bolts(kitchen: Kitchen) -> Shares:
    """Bolts of each joint that is drawn together with them."""
    return (Share(j.id, j.bolts) for j in kitchen.joins if not j.has_strip)


def joint_biscuits(kitchen: Kitchen) -> Shares:
    """Biscuits of each joint that has bolts."""
    return (Share(j.id, j.biscuits) for j in kitchen.joins if not j.has_strip)


def joins(kitchen: Kitchen) -> Shares:
    """Every join, counted."""
    return (Share(j.id, 1, j.kind) for j in kitchen.joins)


def cutouts(kitchen: Kitchen) -> Shares:
    """Every cut-out, counted."""
    return (Share(c.id, 1) for c in kitchen.cutouts)


def let_in(kitchen: Kitchen) -> Shares:
    """What is let in, counted; ``key`` is its code. What was typed as plain numbers is the customer's own."""
    ordered = (c for c in kitchen.cutouts if not c.template.code.startswith(OWN))
    return (Share(c.id, 1, c.template.code) for c in ordered)


def taps(kitchen: Kitchen) -> Shares:
    """Sinks that take a tap, counted."""
    return (Share(c.id, 1) for c in kitchen.cutouts if c.template.kind == "sink" and c.template.tap)


def bowls(kitchen: Kitchen) -> Shares:
    """Bowls that drain, counted."""
    return (Share(c.id, 1) for c in kitchen.cutouts if c.template.bowl)


# Boards


def board_area(kitchen: Kitchen) -> Shares:
    """Net area of every board but the plinths, mm²; ``key`` is the board's code."""
    for part in kitchen.parts:
        if part.material in kitchen.catalogue.boards and part.kind != "plinth":
            yield Share(part.id, part.area, part.material)


def board_mass(kitchen: Kitchen) -> Shares:
    """Mass of every board with the plinths, kg: net area × thickness × density (kg/m³)."""
    for part in kitchen.parts:
        board = kitchen.catalogue.boards.get(part.material)
        if board:
            yield Share(part.id, part.area * part.thickness * board.density * 1e-9, part.material)


def board_outlines(kitchen: Kitchen) -> Shares:
    """Outline of every board but the plinths, mm long."""
    for part in kitchen.parts:
        if part.material in kitchen.catalogue.boards and part.kind != "plinth":
            yield Share(part.id, float(part.outline.length))


def banded_edges(kitchen: Kitchen) -> Shares:
    """Banded edges, one share each, mm long; ``key`` is the board's code. Plinths are bought banded."""
    for part in kitchen.parts:
        if part.kind != "plinth":
            for side in part.banded:
                yield Share(part.id, part.along(side), part.material)


def plinths(kitchen: Kitchen) -> Shares:
    """Plinths, mm long; ``key`` is their height."""
    return (Share(p.id, p.length, f"{p.depth:g}") for p in kitchen.parts if p.kind == "plinth")


# Units and hardware


def carcass_joints(kitchen: Kitchen) -> Shares:
    """Boards that end on both sides of a carcass (bottom, rails, top, a fixed shelf): their depth, mm."""
    for unit in _made(kitchen):
        fixed = {"bottom", "rail", "top"} | ({"shelf"} if unit.family.construction == "oven" else set())
        for part in kitchen.parts_of.get(unit.name, ()):
            if part.kind in fixed:
                yield Share(part.id, part.depth)


def drawer_joints(kitchen: Kitchen) -> Shares:
    """Front and back of each drawer's box, which end on both its sides: their height, mm."""
    for part in kitchen.parts:
        if part.kind == "drawer" and part.id.rsplit(".", 1)[-1] in ("front", "back"):
            yield Share(part.id, part.depth)


def back_panels(kitchen: Kitchen) -> Shares:
    """Outline of every back that is screwed onto its carcass, mm long."""
    for unit in _made(kitchen):
        parts = kitchen.parts_of.get(unit.name, ())
        yield from (Share(p.id, float(p.outline.length)) for p in parts if p.kind == "back")


def flat_rails(kitchen: Kitchen) -> Shares:
    """Rails under a top that lie flat, mm long."""
    return (Share(p.id, p.length) for p in _rails(kitchen) if p.pose.z[2] > FLAT)


def edge_rails(kitchen: Kitchen) -> Shares:
    """Rails under a top that stand on edge, mm long."""
    return (Share(p.id, p.length) for p in _rails(kitchen) if p.pose.z[2] <= FLAT)


def unit_joints(kitchen: Kitchen) -> Shares:
    """Carcasses that stand beside a carcass, filler or panel: the height (mm) that both have, for each pair."""
    for run in kitchen.runs:
        for left, right in pairwise(run.units):
            side = _side(kitchen, left, "right") or _side(kitchen, right, "left")
            if side and "appliance" not in (left.family.construction, right.family.construction):
                yield Share(side.id, min(left.family.height, right.family.height))


def doors(kitchen: Kitchen) -> Shares:
    """Height of every door that hangs on a carcass, mm."""
    for unit in _made(kitchen):
        for part in kitchen.parts_of.get(unit.name, ()):
            if part.layer is Layer.FRONTS and part.kind.split(".")[0] == "door":
                yield Share(part.id, part.length)


def drawers(kitchen: Kitchen) -> Shares:
    """Drawers, counted by their fronts; ``key`` is the length of their runners (mm)."""
    for unit in _made(kitchen):
        for part in kitchen.parts_of.get(unit.name, ()):
            if part.kind.split(".")[0] == "drawer-front":
                yield Share(part.id, 1, f"{unit.boards.method.drawer_depth:g}")


def handles(kitchen: Kitchen) -> Shares:
    """Handles, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in kitchen.parts if p.kind == "handle")


def legs(kitchen: Kitchen) -> Shares:
    """Legs, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in kitchen.parts if p.kind == "leg")


def loose_shelves(kitchen: Kitchen) -> Shares:
    """Shelves that lie on pins, counted; the shelf that carries an oven is fixed."""
    for unit in _made(kitchen):
        if unit.family.construction != "oven":
            parts = kitchen.parts_of.get(unit.name, ())
            yield from (Share(p.id, 1) for p in parts if p.kind == "shelf")


def units_placed(kitchen: Kitchen) -> Shares:
    """Floor units, fillers and panels, counted."""
    return (Share(u.name, 1) for u in _made(kitchen) if u.family.level == "floor")


def units_at_wall(kitchen: Kitchen) -> Shares:
    """Carcasses that stand on the floor at a wall, counted; fillers, panels and islands are not fixed to one."""
    for run in kitchen.runs:
        if run.wall is not None:
            for unit in run.units:
                if unit.family.level == "floor" and _side(kitchen, unit, "left"):
                    yield Share(unit.name, 1)


def hung_widths(kitchen: Kitchen) -> Shares:
    """Width of every wall unit, mm."""
    return (Share(u.name, u.width) for u in _made(kitchen) if u.family.level == "upper")


def units_hung(kitchen: Kitchen) -> Shares:
    """Wall units, counted; fillers and panels between them are screwed to these."""
    hung = (u for u in _made(kitchen) if u.family.construction not in ("filler", "panel"))
    return (Share(u.name, 1) for u in hung if u.family.level == "upper")


def lengths_laid(kitchen: Kitchen) -> Shares:
    """Lengths of worktop, counted."""
    return (Share(length.id, 1) for length in kitchen.lengths)


def walls(kitchen: Kitchen) -> Shares:
    """Walls of the survey, counted."""
    return (Share(wall.name, 1) for wall in kitchen.survey.walls)


def runs(kitchen: Kitchen) -> Shares:
    """Runs of units on the floor or on the wall, and islands, counted by their first unit."""
    return (Share(run.units[0].name, 1) for run in kitchen.runs)


def _edges(kitchen: Kitchen) -> Iterator[tuple[Part, Edge]]:
    return ((length.part, edge) for length in kitchen.lengths for edge in length.part.edges)


def _edged(kitchen: Kitchen) -> Iterator[tuple[Part, Edge]]:
    """The exposed edges of particleboard."""
    for length in kitchen.lengths:
        if length.run.stock.core == "particleboard":
            yield from ((length.part, e) for e in length.part.edges if e.condition is EdgeCondition.EXPOSED)


def _strip(part: Part, edge: Edge) -> Share:
    return Share(edge.id, edge.length * part.thickness, along=edge.length, across=part.thickness)


def _formed(part: Part, stock: Stock) -> float:
    """Length of the edges that the factory formed, mm."""
    return sum(e.length for e in part.edges if _is_formed(e, stock))


def _is_formed(edge: Edge, stock: Stock) -> bool:
    """Whether the factory formed the edge, whatever it stands against: the back of a top formed on both edges."""
    lines = (stock.depth, 0.0) if stock.both_edges else (stock.depth,)
    return any(all(abs(point[1] - y) < ON_LINE for point in edge.path.coords) for y in lines)


def _of_condition(kitchen: Kitchen, condition: EdgeCondition) -> Shares:
    for part, edge in _edges(kitchen):
        if edge.condition is condition:
            yield Share(edge.id, edge.length, f"{part.thickness:g}")


def _made(kitchen: Kitchen) -> Iterator[PlacedUnit]:
    """Units that are made of boards."""
    return (u for u in kitchen.units if u.family.construction != "appliance")


def _rails(kitchen: Kitchen) -> Iterator[Part]:
    for length in kitchen.lengths:
        for unit in length.stretch.units:
            yield from (p for p in kitchen.parts_of.get(unit.name, ()) if p.kind == "rail")


def _side(kitchen: Kitchen, unit: PlacedUnit, hand: str) -> Part | None:
    return kitchen.parts_by_id.get(f"{unit.name}.side.{hand}")
