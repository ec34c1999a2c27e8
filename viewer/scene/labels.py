"""Labels: what a part is called in a plain sentence."""

from __future__ import annotations

from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen

WORDS = {
    "side": "side panel",
    "bottom": "bottom",
    "top": "top",
    "back": "back",
    "rail": "rail",
    "shelf": "shelf",
    "leg": "leg",
    "handle": "handle",
    "door": "door",
    "front": "fixed front",
    "drawer-front": "drawer front",
    "drawer": "drawer board",
    "filler": "filler",
    "panel": "end panel",
    "plinth": "plinth",
    "cornice": "cornice",
    "pelmet": "light pelmet",
    "divider": "fixed shelf",
    "rack": "board of the rack",
    "leaf": "folding leaf",
    "frame": "door frame",
    "pane": "pane",
    "pull-out": "pull-out",
    "basket": "basket",
    "post": "post",
    "infill": "infill of worktop",
}
"""First word of a part's kind, and what people call it."""

PIECES = {
    "body": "body",
    "face": "face",
    "grip": "grip",
    "canopy": "canopy",
    "chimney": "chimney",
    "glass": "glass",
    "zone": "cooking zone",
    "rim": "rim",
    "bowl": "bowl",
    "base": "bottom",
    "tap": "tap",
    "door": "door",
    "drawer": "drawer",
    "panel": "panel",
    "knob": "knob",
}
"""What a mark in the id of a bought thing stands for."""


def part_label(part: Part, kitchen: Kitchen) -> str:
    """Such as "side panel of B3, 18 mm"; for a worktop its length, depth, thickness and decor."""
    if part.kind == "worktop":
        return _worktop(part, kitchen)
    if part.kind in ("sink", "hob", "appliance"):
        return _bought(part, kitchen)
    word = WORDS.get(part.kind.split(".")[0], part.kind)
    size = f", {part.thickness:g} mm" if part.material in kitchen.catalogue.boards else ""
    return f"{word} of {part.owner}{size}"


def _worktop(part: Part, kitchen: Kitchen) -> str:
    decor = kitchen.catalogue.decors[kitchen.document.worktop.decor].name.lower()
    return f"worktop {part.id}, {part.length:.0f} × {part.depth:.0f} × {part.thickness:g} mm, {decor}"


def _bought(part: Part, kitchen: Kitchen) -> str:
    """Such as "bowl of sink", "cooking zone of hob", "door of A7, free-standing fridge"."""
    marks = part.id.removeprefix(f"{part.owner}.").removeprefix("appliance.").split(".")
    piece = PIECES.get(marks[0], marks[0])
    names = {unit.name: unit.family.name for unit in kitchen.units}
    what = f", {names[part.owner]}" if part.owner in names else ""
    return f"{piece} of {part.owner}{what}"
