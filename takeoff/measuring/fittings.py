"""Fittings: measures of what is fixed onto units and tops besides their boards, one share for each part.

As in `takeoff.measuring.measures`: pure functions of a `Kitchen`, nothing added for waste, nothing rounded.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from countersunk.model.geometry.identity import FACES, FIXED_FRONTS, ISLAND_BACK, OPENED, Component, Role
from countersunk.model.geometry.part import FLAT, Layer, Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedUnit
from countersunk.takeoff.measuring.measures import Share, Shares

MEETS = 1.0
"""Ends of two profiles so near each other meet, mm."""

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


def face_frame_rails(kitchen: Kitchen) -> Shares:
    """Rails of face frames, counted; each ends on two stiles."""
    return (Share(p.id, 1) for p in _of_role(kitchen, Role.FACE_FRAME) if p.which.component is Component.RAIL)


def face_frames(kitchen: Kitchen) -> Shares:
    """Stiles of face frames, mm long: what is glued and screwed to the edges of a carcass."""
    return (
        Share(p.id, p.length) for p in _of_role(kitchen, Role.FACE_FRAME) if p.which.component is Component.STILE
    )


def bought_fronts(kitchen: Kitchen) -> Shares:
    """Area of every front that is bought to measure, mm²; ``key`` is the article."""
    boards = kitchen.catalogue.boards
    fronts = (p for p in kitchen.parts if p.layer is Layer.FRONTS and p.role in FACES)
    return (Share(p.id, p.area, p.material) for p in fronts if p.material not in boards)


def front_mass(kitchen: Kitchen) -> Shares:
    """Mass of every front that is bought to measure, kg: net area × thickness × density; ``key`` is the article."""
    styles = {unit.key: unit.style for unit in kitchen.units}
    for share in bought_fronts(kitchen):
        part = kitchen.parts_by_id[share.id]
        yield Share(part.id, part.area * part.thickness * styles[part.owner].density * 1e-9, part.material)


def profile_caps(kitchen: Kitchen) -> Shares:
    """Ends of grip profiles that meet no other, counted in each; ``key`` is the article."""
    caps = {unit.key: unit.handle.caps for unit in kitchen.units if unit.handle.caps}
    held = [part for part in _of_role(kitchen, Role.PROFILE) if part.owner in caps]
    ends = {part.id: [part.pose.to_room((x, 0.0, 0.0)) for x in (0.0, part.length)] for part in held}
    for part in held:
        others = [end for id_, both in ends.items() if id_ != part.id for end in both]
        if free := [end for end in ends[part.id] if all(math.dist(end, other) > MEETS for other in others)]:
            yield Share(part.id, len(free), caps[part.owner])


def front_grooves(kitchen: Kitchen) -> Shares:
    """Grooves that are routed into fronts of front board, mm long in each front."""
    styles, boards = {unit.key: unit.style for unit in kitchen.units}, kitchen.catalogue.boards
    for part in kitchen.parts:
        if part.role in FACES and part.material in boards and part.pockets and styles[part.owner].grooves:
            high = part.length if abs(part.pose.x[2]) > FLAT else part.depth
            yield Share(part.id, high * len(part.pockets))


def profiles(kitchen: Kitchen) -> Shares:
    """Grip profiles behind the upper edges of fronts, mm long; ``key`` is the article."""
    return (Share(p.id, p.length, p.material) for p in _of_role(kitchen, Role.PROFILE))


def profile_notches(kitchen: Kitchen) -> Shares:
    """Notches cut into the sides of carcasses for grip profiles, counted in each side."""
    sides = (p for p in _of_role(kitchen, Role.SIDE) if p.pockets)
    return (Share(p.id, len(p.pockets)) for p in sides)


def push_catches(kitchen: Kitchen) -> Shares:
    """Fronts that open by a push, counted; ``key`` is the article of their catch."""
    codes = {unit.key: unit.handle.article for unit in kitchen.units if _pushed(unit)}
    for part in kitchen.parts:
        if part.layer is Layer.FRONTS and part.role in OPENED and (code := codes.get(part.owner)):
            yield Share(part.id, 1, code)


def _pushed(unit: PlacedUnit) -> bool:
    return unit.handle.kind == "push" and not unit.family.kind.is_bought


def handle_screws(kitchen: Kitchen) -> Shares:
    """Screws that handles, or catches in their place, take besides those in their own packs, counted."""
    each = {unit.key: unit.handle.screws for unit in kitchen.units if unit.handle.screws}
    caught = (share.id for share in push_catches(kitchen))
    for id_ in (*(p.id for p in _of_role(kitchen, Role.HANDLE)), *caught):
        if screws := each.get(kitchen.owners[id_]):
            yield Share(id_, screws)


def island_backs(kitchen: Kitchen) -> Shares:
    """Panels that close islands behind their units, mm long."""
    return (Share(p.id, p.length) for p in _of_role(kitchen, Role.PANEL) if p.which == ISLAND_BACK)


def panes(kitchen: Kitchen) -> Shares:
    """Area of every pane in a door, mm²; ``key`` is the article."""
    return (Share(p.id, p.area, p.material) for p in _of_role(kitchen, Role.PANE))


def pull_outs(kitchen: Kitchen) -> Shares:
    """Frames of pull-outs, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.PULL_OUT) if p.layer is Layer.HARDWARE)


def baskets(kitchen: Kitchen) -> Shares:
    """Baskets and bins of pull-outs, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for role in (Role.BASKET, Role.BIN) for p in _of_role(kitchen, role))


def tambours(kitchen: Kitchen) -> Shares:
    """Area of every roller shutter, mm²; ``key`` is the article."""
    return (Share(p.id, p.area, p.material) for p in _of_role(kitchen, Role.TAMBOUR))


def plate_racks(kitchen: Kitchen) -> Shares:
    """Frames of racks for plates, counted."""
    return (Share(p.id, 1) for p in _of_role(kitchen, Role.PLATE_RACK))


def floating_shelves(kitchen: Kitchen) -> Shares:
    """Area of every floating shelf, mm²; ``key`` is the article."""
    return (Share(p.id, p.area, p.material) for p in _of_role(kitchen, Role.FLOATING))


def shelf_brackets(kitchen: Kitchen) -> Shares:
    """Brackets hidden in floating shelves, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.BRACKET))


def top_arms(kitchen: Kitchen) -> Shares:
    """Arms under the backs of tops, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.ARM))


def light_profiles(kitchen: Kitchen) -> Shares:
    """Profiles of lights, mm long; ``key`` is the article."""
    return (Share(p.id, p.length, p.material) for p in _of_role(kitchen, Role.LIGHT))


def light_strips(kitchen: Kitchen) -> Shares:
    """Strips in the profiles of lights, mm long; ``key`` is the article."""
    strips = {unit.key: run.light.strip for run in kitchen.runs if run.light for unit in run.units}
    return (Share(p.id, p.length, strips[p.owner]) for p in _of_role(kitchen, Role.LIGHT))


def light_drivers(kitchen: Kitchen) -> Shares:
    """Drivers of lights, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.DRIVER))


def posts(kitchen: Kitchen) -> Shares:
    """Posts under a worktop, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.POST))


def lifts(kitchen: Kitchen) -> Shares:
    """Frames that move a top up and down, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for p in _of_role(kitchen, Role.LIFT))


def infills(kitchen: Kitchen) -> Shares:
    """Infills of worktop before diagonal corner units and in reveals, counted; ``key`` is the article."""
    return (Share(p.id, 1, p.material) for role in (Role.INFILL, Role.REVEAL) for p in _of_role(kitchen, role))


def waterfalls(kitchen: Kitchen) -> Shares:
    """Ends of tops that go down to the floor and that are bought to size, counted; ``key`` is the thickness."""
    return (Share(p.id, 1, f"{p.thickness:g}") for p in _of_role(kitchen, Role.WATERFALL))


def reveal_edges(kitchen: Kitchen) -> Shares:
    """Sides and backs of the pieces in reveals, mm long: what is filled at the wall and the window's frame."""
    return (Share(p.id, p.length + 2 * p.depth) for p in _of_role(kitchen, Role.REVEAL))


def upstand_mass(kitchen: Kitchen) -> Shares:
    """Mass of every upstand, kg: net area × thickness × density (kg/m³); ``key`` is its stock's code."""
    for part in _of_role(kitchen, Role.UPSTAND):
        density = kitchen.catalogue.upstands[part.material].density
        yield Share(part.id, part.area * part.thickness * density * 1e-9, part.material)


def infill_mass(kitchen: Kitchen) -> Shares:
    """Mass of every infill and piece in a reveal, kg, by the density of the worktop that its row has."""
    density = {unit.key: run.stock.density for run in kitchen.runs for unit in run.units}
    for part in _of_role(kitchen, Role.INFILL):
        yield Share(part.id, part.area * part.thickness * density[part.owner] * 1e-9, part.material)
    for part in _of_role(kitchen, Role.REVEAL):
        of = kitchen.top_at(part).run.stock.density
        yield Share(part.id, part.area * part.thickness * of * 1e-9, part.material)


def appliances(kitchen: Kitchen) -> Shares:
    """Appliances in or between units, counted; ``key`` is the article. Hobs are cut-outs."""
    return (Share(u.key, 1, bought.code) for u in kitchen.units for bought in u.family.appliances)


def wall_trims(kitchen: Kitchen) -> Shares:
    """Cornices and light pelmets, mm along their longer edge; ``key`` is the article."""
    for role in (Role.CORNICE, Role.PELMET):
        yield from (Share(p.id, p.length, p.material) for p in _of_role(kitchen, role))


def _of_role(kitchen: Kitchen, role: Role) -> Iterator[Part]:
    return (p for p in kitchen.parts if p.role is role)
