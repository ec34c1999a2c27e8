"""Materials: what each part looks like, physically based, from its catalogue code and the chosen decors."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from countersunk.model.catalogue.catalogue import Decor
from countersunk.model.geometry.identity import Component, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.kinds import is_of
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.scene.textures import TILE_SIZE, rgb


@dataclass(frozen=True)
class Finish:
    """A look. ``colour`` and ``vein`` are sRGB; ``figure`` other than plain takes a texture made from both.

    ``metallic`` and ``roughness`` are 0 to 1 as glTF has them; ``opacity`` below 1 is glass.
    """

    name: str
    colour: str
    metallic: float = 0.0
    roughness: float = 0.5
    figure: str = "plain"
    vein: str = ""
    opacity: float = 1.0

    @property
    def textured(self) -> bool:
        """Whether a texture carries the colour."""
        return self.figure != "plain"

    @property
    def tile(self) -> tuple[float, float]:
        """What the texture covers along u and v, mm."""
        return TILE_SIZE[self.figure]

    @cached_property
    def linear(self) -> tuple[float, float, float, float]:
        """Base colour factor, linear and with opacity; white under a texture, which has the colour."""
        r, g, b = (1.0, 1.0, 1.0) if self.textured else map(float, linear(rgb(self.colour)))
        return (r, g, b, self.opacity)


def linear(srgb: NDArray[np.float64]) -> NDArray[np.float64]:
    """sRGB 0 to 1 as linear light (IEC 61966-2-1, from memory)."""
    return np.where(srgb <= 0.04045, srgb / 12.92, ((srgb + 0.055) / 1.055) ** 2.4)


PALETTE = {
    "white enamel": Finish("white enamel", "#eff0f0", roughness=0.3),
    "carcass": Finish("carcass", "#e4e3df", roughness=0.6),
    "steel": Finish("steel", "#d3d4d4", metallic=0.9, roughness=0.34, figure="brushed", vein="#d3d4d4"),
    "tap": Finish("tap", "#d3d5d7", metallic=0.95, roughness=0.18),
    "dark steel": Finish("dark steel", "#6d7073", metallic=0.85, roughness=0.45),
    "black metal": Finish("black metal", "#26272a", metallic=0.4, roughness=0.42),
    "black glass": Finish("black glass", "#121417", roughness=0.12),
    "zone": Finish("zone", "#54585b", roughness=0.5),
    "burner": Finish("burner", "#1d1e1f", metallic=0.2, roughness=0.7),
    "beech": Finish("beech", "#d3b07c", roughness=0.7),
    "plastic": Finish("plastic", "#2a2b2d", roughness=0.7),
    "wall": Finish("wall", "#eeece8", roughness=0.92),
    "floor": Finish("floor", "#cfcac2", roughness=0.5, figure="floor", vein="#a8a299"),
    "grout": Finish("grout", "#b9b5ac", roughness=0.95),
    "joinery": Finish("joinery", "#f2f0eb", roughness=0.5),
    "diffuser": Finish("diffuser", "#fffdf2", roughness=0.3),
    "pane": Finish("pane", "#dfeaee", roughness=0.05, opacity=0.22),
    "ceiling": Finish("ceiling", "#eeece8", roughness=0.92, opacity=0.3),
    "service water": Finish("service water", "#3a7ca5", roughness=0.5),
    "service waste": Finish("service waste", "#6b6257", roughness=0.6),
    "service gas": Finish("service gas", "#c9a227", roughness=0.5),
    "service socket": Finish("service socket", "#fbfaf7", roughness=0.4),
    "service switch": Finish("service switch", "#cfd6cd", roughness=0.4),
    "service flue": Finish("service flue", "#8f9396", metallic=0.6, roughness=0.4),
    "service fan": Finish("service fan", "#e3e6e6", roughness=0.4),
    "service cooker-outlet": Finish("service cooker-outlet", "#a3402f", roughness=0.5),
}
"""Everything that is not a decor: colours chosen to stay behind those of fronts and worktops."""

MATERIAL_LOOKS = {
    "dishwasher": "dark steel",
    "fridge": "steel",
    "fridge.grip": "dark steel",
    "oven": "dark steel",
    "oven.face": "black glass",
    "oven.grip": "steel",
    "hood": "steel",
    "downdraft": "steel",
    "cooker": "white enamel",
    "cooker.range": "black metal",
    "dryer": "white enamel",
    "sink.front": "white enamel",
    "boiler": "white enamel",
    "freezer": "steel",
    "wine-cooler": "dark steel",
    "warming-drawer": "dark steel",
    "washer": "white enamel",
    "hanger": "steel",
    "glass": "pane",
    "post": "steel",
    "porthole": "steel",
    "knob": "black metal",
    "microwave": "dark steel",
    "microwave.door": "dark steel",
    "hood.under.face": "dark steel",
    "basket": "steel",
    "pull-out": "steel",
    "bin": "plastic",
    "rack.plates": "beech",
    "bracket.shelf": "dark steel",
    "arm": "dark steel",
    "frame.lift": "white enamel",
    "profile.light": "diffuser",
    "driver": "white enamel",
    "tap": "tap",
    "grille": "steel",
    "zone.electric": "zone",
    "zone.gas": "burner",
    "handle": "black metal",
    "profile": "dark steel",
}
"""The look of a bought thing, by its material or the kind that this is of; the nearest kind counts."""

WHITE = "#ffffff"
ROUGH = {"tile": 0.22, "glass": 0.08, "board": 0.5}
"""How rough a splashback is, by its kind."""

LAYER_LOOKS = {Layer.CARCASS: "carcass", Layer.HARDWARE: "plastic", Layer.APPLIANCES: "steel"}

LACQUER = "lacquer"
"""The figure of a decor in one colour. Every decor has a texture, so that one can take the place of another."""

PLINTH_SHADE = 0.72
"""A plinth is the fronts' decor, darkened by this factor, since it lies in the shade."""


Wears = Literal["worktop", "front", "plinth"]
"""What wears a decor; the plinth wears that of the fronts, darkened."""


def role_of(part: Part, kitchen: Kitchen) -> Wears | None:
    """The role whose decor the part wears; None for what has a look of its own."""
    if not kitchen.decor_of(part):
        return None
    if part.layer == Layer.WORKTOPS:
        return "worktop"
    return "plinth" if part.role is Role.PLINTH else "front"


def role_finish(role: Wears, decor: Decor) -> Finish:
    """A decor as it looks in a role."""
    return shaded(decor_finish(decor), PLINTH_SHADE) if role == "plinth" else decor_finish(decor)


def finish_of(part: Part, kitchen: Kitchen) -> Finish:
    """The look of a part."""
    if role := role_of(part, kitchen):
        return role_finish(role, kitchen.catalogue.decors[kitchen.decor_of(part)])
    if part.role is Role.SPLASHBACK:
        stock = kitchen.catalogue.splashbacks[part.material]
        return Finish(f"splashback {stock.code}", stock.colour or WHITE, roughness=ROUGH[stock.kind])
    if part.role is Role.HOB and part.which.component not in (Component.ZONE, Component.GRILLE):
        return PALETTE["dark steel" if part.which.component is Component.BODY else "black glass"]
    return PALETTE[_bought(part) or LAYER_LOOKS[part.layer]]


def surface_finish(kitchen: Kitchen, surface: Literal["wall", "floor"]) -> Finish:
    """The look of the walls or the floor: the decor that the kitchen's finishes name, or one that stays behind."""
    finishes = kitchen.document.finishes
    code = finishes.walls if surface == "wall" else finishes.floor
    return decor_finish(kitchen.catalogue.decors[code]) if code else PALETTE[surface]


def _bought(part: Part) -> str:
    """The look of what is bought whole, nothing for what is made of boards."""
    known = [code for code in MATERIAL_LOOKS if is_of(part.material, code)]
    return MATERIAL_LOOKS[max(known, key=len)] if known else ""


def decor_finish(decor: Decor) -> Finish:
    """A decor of the catalogue as a look; its name carries the decor's code."""
    return Finish(
        name=f"decor {decor.code}",
        colour=decor.colour,
        roughness=decor.roughness,
        figure=LACQUER if decor.figure == "plain" else decor.figure,
        vein=decor.vein,
    )


def shaded(finish: Finish, factor: float) -> Finish:
    """The look, darkened."""
    return Finish(
        name=f"{finish.name}, dark",
        colour=darker(finish.colour, factor),
        metallic=finish.metallic,
        roughness=finish.roughness,
        figure=finish.figure,
        vein=darker(finish.vein, factor),
        opacity=finish.opacity,
    )


def darker(colour: str, factor: float) -> str:
    """An sRGB colour with each channel times ``factor``."""
    r, g, b = (round(255 * c * factor) for c in rgb(colour))
    return f"#{r:02x}{g:02x}{b:02x}"
