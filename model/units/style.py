"""Style: what makes a slab a front of its style, the recess of a panel or grooves, and the frame round fronts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.catalogue.front import Recess
from countersunk.model.geometry.identity import FACES, Component, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import Block, board
from countersunk.model.units.carcass import openings

PLAIN = "front.slab"
"""The article of a plain front that is bought to measure."""

PAST = 1.0
"""How far a pocket reaches past the face, so that no skin is left on it, mm."""


def styled(unit: PlacedUnit, part: Part) -> Part:
    """The part as its unit's style has it: a front with its recess or grooves, bought to measure if that is so."""
    style = unit.style
    if part.layer is not Layer.FRONTS or part.role not in FACES or part.which.component is Component.STILE:
        return part
    made = replace(part, pockets=tuple(_pockets(unit, part)))
    article = style.article or (_article(unit, made) if unit.buys_fronts else None)
    return replace(made, material=article, banded=()) if article else made


def _article(unit: PlacedUnit, part: Part) -> str:
    """By what a front is bought whose style does not name it: plain, or with the grooves of its style."""
    return f"front.{unit.style.code}" if part.pockets else PLAIN


def _pockets(unit: PlacedUnit, part: Part) -> Iterator[Pocket]:
    """What is taken out of the face of a front, in its own frame."""
    up = abs(part.pose.x[2]) > 0.5
    wide, high = (part.depth, part.length) if up else (part.length, part.depth)

    def pocket(x0: float, x1: float, z0: float, z1: float, deep: float) -> Pocket:
        plan: Polygon = rectangle(z0, x0, z1, x1) if up else rectangle(x0, z0, x1, z1)
        t = part.thickness
        return Pocket(plan, t - deep, t + PAST) if looks_up(unit, part) else Pocket(plan, -PAST, deep)

    recess, grooves = unit.style.recess, unit.style.grooves
    if recess and (rail := rail_of(recess, high)) and wide > 2 * recess.frame + recess.slim:
        yield pocket(recess.frame, wide - recess.frame, rail, high - rail, recess.depth)
    if grooves and (count := round(wide / grooves.every) - 1) > 0:
        for i in range(count):
            x = wide * (i + 1) / (count + 1)
            yield pocket(x - grooves.width / 2, x + grooves.width / 2, -PAST, high + PAST, grooves.depth)


def rail_of(recess: Recess, high: float) -> float:
    """How high the rails of a front are, mm; 0 where it is too low for a panel between two."""
    if high >= 3 * recess.frame:
        return recess.frame
    return recess.slim if high >= 3 * recess.slim else 0.0


def looks_up(unit: PlacedUnit, part: Part) -> bool:
    """Whether the face that one sees is the upper one in the part's frame; a leaf on a wing looks to its side."""
    out = sum(a * b for a, b in zip(part.pose.z, unit.frame.y, strict=True))
    if abs(out) > 0.5:
        return out > 0.0
    aside = sum(a * b for a, b in zip(part.pose.z, unit.frame.x, strict=True))
    return (aside < 0.0) == (unit.hand == "right")


def face_frame(unit: PlacedUnit) -> list[Part]:
    """The frame before a carcass in which its fronts are set: stiles, and rails above, below and between bays."""
    frame = unit.face_frame
    if frame is None:
        return []
    depth, t, code = unit.family.depth, unit.boards.front.thickness, unit.boards.front.code
    edges, along = [unit.family.top, *(o.z0 for o in openings(unit))], ("front", "back")
    upright = Block(0.0, frame.stile, depth, depth + t, unit.family.base, unit.family.top)
    stiles = {
        Position.LEFT: upright,
        Position.RIGHT: upright._replace(x0=unit.width - frame.stile, x1=unit.width),
    }
    found = [
        board(unit, Role.FACE_FRAME, block, "zxy", code, which=Which(component=Component.STILE, at=(at,)),
              layer=Layer.FRONTS, banded=along, grain=True)
        for at, block in stiles.items()
    ]  # fmt: skip
    for i, z in enumerate(edges, start=1):
        low = z if i == len(edges) else z - frame.rail / (1 if i == 1 else 2)
        rail = Block(frame.stile, unit.width - frame.stile, depth, depth + t, low, low + frame.rail)
        found.append(board(unit, Role.FACE_FRAME, rail, "xzy", code, layer=Layer.FRONTS, banded=along, grain=True,
                           which=Which(component=Component.RAIL, numbers=(i,))))  # fmt: skip
    return found
