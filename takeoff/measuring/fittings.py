"""Fittings: measures of what is fixed onto units and tops besides their boards, one share for each part.

As in `takeoff.measuring.measures`: pure functions of a `Kitchen`, nothing added for waste, nothing rounded.
"""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.geometry.identity import FIXED_FRONTS, ISLAND_BACK, Component, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.measuring.measures import Share, Shares

SCREWED_ON = (*FIXED_FRONTS, Role.PULL_OUT)
"""Roles of faces that screws hold from inside; an appliance carries its own front, and doors hang."""


def leaves(kitchen: Kitchen) -> Shares:
    """Height of every leaf that hangs on another door, mm."""
    return (Share(p.id, p.length) for p in _of_role(kitchen, Role.LEAF))


def frame_rails(kitchen: Kitchen) -> Shares:
    """Rails of the frames of glazed doors, counted; each ends on two stiles."""
    return (Share(p.id, 1) for p in _of_role(kitchen, Role.FRAME) if p.which.component is Component.RAIL)


def fixed_faces(kitchen: Kitchen) -> Shares:
    """Fronts that nothing opens and faces of pull-outs, counted."""
    return (Share(p.id, 1) for p in kitchen.parts if p.layer is Layer.FRONTS and p.role in SCREWED_ON)


def island_backs(kitchen: Kitchen) -> Shares:
    """Panels that close islands behind their units, mm long."""
    return (Share(p.id, p.length) for p in _of_role(kitchen, Role.PANEL) if p.which == ISLAND_BACK)


def panes(kitchen: Kitchen) -> Shares:
    """Area of every pane in a door, mm²; ``key`` is the article."""
    return (Share(p.id, p.area, p.material) for p in _of_role(kitchen, Role.PANE))


def pull_outs(kitchen: Kitchen) -> Shares:
    """Frames of pull-outs, counted."""
    return (Share(p.id, 1) for p in _of_role(kitchen, Role.PULL_OUT) if p.layer is Layer.HARDWARE)


def baskets(kitchen: Kitchen) -> Shares:
    """Baskets of pull-outs, counted."""
    return (Share(p.id, 1) for p in _of_role(kitchen, Role.BASKET))


def posts(kitchen: Kitchen) -> Shares:
    """Posts under a worktop, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.POST))


def infills(kitchen: Kitchen) -> Shares:
    """Infills of worktop before diagonal corner units, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.INFILL))


def upstand_mass(kitchen: Kitchen) -> Shares:
    """Mass of every upstand, kg: net area × thickness × density (kg/m³); ``key`` is its stock's code."""
    for part in _of_role(kitchen, Role.UPSTAND):
        density = kitchen.catalogue.upstands[part.material].density
        yield Share(part.id, part.area * part.thickness * density * 1e-9, part.material)


def infill_mass(kitchen: Kitchen) -> Shares:
    """Mass of every infill, kg, by the density of the worktop that its row has."""
    density = {unit.key: run.stock.density for run in kitchen.runs for unit in run.units}
    for part in _of_role(kitchen, Role.INFILL):
        yield Share(part.id, part.area * part.thickness * density[part.owner] * 1e-9, part.material)


def appliances(kitchen: Kitchen) -> Shares:
    """Appliances in or between units, counted; ``key`` is the article. Hobs are cut-outs."""
    return (Share(u.key, 1, bought.code) for u in kitchen.units for bought in u.family.appliances)


def wall_trims(kitchen: Kitchen) -> Shares:
    """Cornices and light pelmets, mm along their longer edge; ``key`` is the article."""
    for role in (Role.CORNICE, Role.PELMET):
        yield from (Share(p.id, p.length, p.material) for p in _of_role(kitchen, role))


def _of_role(kitchen: Kitchen, role: Role) -> Iterator[Part]:
    return (p for p in kitchen.parts if p.role is role)
