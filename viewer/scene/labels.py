"""Labels: what a part is called in a plain sentence."""

from __future__ import annotations

from countersunk.model.geometry.identity import Component, Role
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen

WORDS: dict[Role, str] = {
    Role.SIDE: "side panel",
    Role.BOTTOM: "bottom",
    Role.TOP: "top",
    Role.BACK: "back",
    Role.RAIL: "rail",
    Role.SHELF: "shelf",
    Role.LEG: "leg",
    Role.HANGER: "rod to the ceiling",
    Role.HANDLE: "handle",
    Role.DOOR: "door",
    Role.FRIDGE_FRONT: "fixed front",
    Role.BLANK_FRONT: "fixed front",
    Role.BLIND_FRONT: "fixed front",
    Role.DRAWER_FRONT: "drawer front",
    Role.DRAWER: "drawer board",
    Role.FILLER: "filler",
    Role.PANEL: "end panel",
    Role.PLINTH: "plinth",
    Role.CORNICE: "cornice",
    Role.PELMET: "light pelmet",
    Role.CEILING_FILLER: "filler to the ceiling",
    Role.DIVIDER: "fixed shelf",
    Role.RACK: "board of the rack",
    Role.LEAF: "folding leaf",
    Role.FRAME: "door frame",
    Role.FACE_FRAME: "face frame",
    Role.PROFILE: "grip profile",
    Role.PANE: "pane",
    Role.PULL_OUT: "pull-out",
    Role.BASKET: "basket",
    Role.BIN: "bin",
    Role.TAMBOUR: "roller shutter",
    Role.PLATE_RACK: "plate rack",
    Role.FLOATING: "floating shelf",
    Role.BRACKET: "bracket",
    Role.ARM: "arm under the top",
    Role.LIGHT: "light",
    Role.DRIVER: "driver of the lights",
    Role.POST: "post",
    Role.LIFT: "frame that moves the top",
    Role.INFILL: "infill of worktop",
    Role.WATERFALL: "end of the top down to the floor",
    Role.REVEAL: "worktop in the reveal",
    Role.SPLASHBACK: "splashback",
}
"""What people call a part by its role."""

COMPONENTS = {
    Component.BODY: "body",
    Component.FACE: "face",
    Component.GRIP: "grip",
    Component.CANOPY: "canopy",
    Component.CHIMNEY: "chimney",
    Component.GLASS: "glass",
    Component.ZONE: "cooking zone",
    Component.RIM: "rim",
    Component.BOWL: "bowl",
    Component.BASE: "bottom",
    Component.TAP_POST: "tap",
    Component.TAP_SPOUT: "tap",
    Component.DOOR: "door",
    Component.DOOR_GLASS: "door",
    Component.DRAWER: "drawer",
    Component.PANEL: "panel",
    Component.KNOB: "knob",
}
"""What people call a component of a bought thing, where that is not its own word."""


BOUGHT = (Role.SINK, Role.HOB, Role.DOWNDRAFT, Role.APPLIANCE)


def part_label(part: Part, kitchen: Kitchen) -> str:
    """Such as "side panel of B3, 18 mm"; for a worktop its length, depth, thickness and decor."""
    if part.role is Role.WORKTOP:
        return _worktop(part, kitchen)
    if part.role is Role.SPLASHBACK:
        name = kitchen.catalogue.splashbacks[part.material].name
        return f"splashback {part.called}, {part.length:.0f} × {part.depth:.0f} mm, {name}"
    if part.role in BOUGHT:
        return _bought(part, kitchen)
    word = WORDS.get(part.role, part.role)
    size = f", {part.thickness:g} mm" if part.material in kitchen.catalogue.boards else ""
    return f"{word} of {part.called}{size}"


def _worktop(part: Part, kitchen: Kitchen) -> str:
    decor = kitchen.catalogue.decors[kitchen.decor_of(part)].name.lower()
    return f"worktop {part.mark}, {part.length:.0f} × {part.depth:.0f} × {part.thickness:g} mm, {decor}"


def _bought(part: Part, kitchen: Kitchen) -> str:
    """Such as "bowl of sink", "cooking zone of hob", "door of A7, free-standing fridge"."""
    component = part.which.component
    piece = COMPONENTS.get(component, component) if component else part.role
    names = {unit.key: unit.family.name for unit in kitchen.units}
    what = f", {names[part.owner]}" if part.owner in names else ""
    return f"{piece} of {part.called}{what}"
