"""Appliances: bodies that are bought, with the front panel that hides them where there is one."""

from __future__ import annotations

from model.layout import PlacedUnit
from model.part import Layer, Part
from model.units.board import REVEAL, Block, board, handle


def appliance(unit: PlacedUnit) -> list[Part]:
    """The body of the family's appliance; a hood is a canopy with its chimney."""
    if unit.family.appliance == "hood":
        return _hood(unit)
    if unit.family.front:
        return _behind_front(unit)
    return _free_standing(unit)


def _body(unit: PlacedUnit, mark: str, block: Block, material: str = "") -> Part:
    code = material or unit.family.appliance or unit.family.code
    return board(unit, "appliance", block, "xyz", code, mark=mark, layer=Layer.APPLIANCES)


def _behind_front(unit: PlacedUnit) -> list[Part]:
    """Integrated: the body keeps clear of the plinth, the front hangs on it."""
    family, w = unit.family, unit.width
    body = Block(2.0, w - 2.0, 10.0, family.depth - 55.0, 5.0, family.top - 5.0)
    door = Block(2.0, w - 2.0, family.depth - 55.0, family.depth, family.base + 10.0, family.top - 5.0)
    face = Block(
        REVEAL,
        w - REVEAL,
        family.depth,
        family.depth + unit.boards.front.thickness,
        family.base + REVEAL,
        family.top - REVEAL,
    )
    all_round = ("front", "back", "left", "right")
    front = board(
        unit, "door", face, "zxy", unit.boards.front.code, layer=Layer.FRONTS, banded=all_round, grain=True
    )
    grip = handle(unit, "door", w / 2, family.top - 45.0, upright=False)
    return [_body(unit, "body", body), _body(unit, "door", door), front, grip]


def _free_standing(unit: PlacedUnit) -> list[Part]:
    """A cabinet on its own feet with two doors, such as a fridge over a freezer."""
    family, w, split = unit.family, unit.width, 700.0
    body = Block(4.0, w - 4.0, 30.0, family.depth - 60.0, 20.0, family.top)
    lower = Block(4.0, w - 4.0, family.depth - 60.0, family.depth, 60.0, split - 4.0)
    upper = lower._replace(z0=split + 4.0, z1=family.top)
    face = family.depth
    x = w - 60.0 if unit.hand == "left" else 44.0  # the grip is away from the hinges
    grip = Block(x, x + 16.0, face, face + 30.0, split + 40.0, split + 540.0)
    return [
        _body(unit, "body", body),
        _body(unit, "door.lower", lower),
        _body(unit, "door.upper", upper),
        _body(unit, "grip", grip, f"{family.appliance}.grip"),
    ]


def _hood(unit: PlacedUnit) -> list[Part]:
    family, middle = unit.family, unit.width / 2
    canopy = Block(1.0, unit.width - 1.0, 0.0, family.depth, family.base, family.base + 60.0)
    chimney = Block(middle - 130.0, middle + 130.0, 0.0, 260.0, family.base + 60.0, family.top)
    return [_body(unit, "canopy", canopy), _body(unit, "chimney", chimney)]
