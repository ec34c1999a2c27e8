"""Family: a kind of unit as a row of data; what it is made of is the code that its construction names."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.catalogue.method import Bay
from countersunk.model.document.schema import Code, Strict

Size = Annotated[float, Field(gt=0, le=10_000)]
Label = Annotated[str, Field(min_length=1, max_length=80)]


class Family(Strict):
    """A family of units. ``construction`` names the code that makes its boards; the rest are its parameters.

    ``height`` is that of the carcass, above ``legs`` (floor) or ``bottom`` (upper); ``depth`` that of the
    carcass without its front. ``bays`` are its openings from the top; ``doors`` and ``shelves``, or ``drawers``
    (front heights from the top) say the same of a plain carcass. ``niche`` is the height for a built-under oven.
    ``wings`` is how far a corner unit may go along the other wall; ``chamfer`` is cut off an open end's corner;
    ``posts`` says that a knee space has them in place of a panel; ``form`` is what an appliance looks like where
    its code does not say it; ``method`` names how the unit is made.
    """

    code: Code
    name: Label
    construction: Literal[
        "box", "drawers", "blind-corner", "l-corner", "diagonal-corner", "open-end", "knee-space",
        "oven", "appliance", "filler", "panel",
    ]  # fmt: skip
    level: Literal["floor", "upper"]
    height: Size
    depth: Size
    legs: Annotated[float, Field(ge=0, le=300)] = 0.0
    bottom: Annotated[float, Field(ge=0, le=3_000)] = 0.0
    widths: tuple[Size, ...] = ()
    width_range: tuple[Size, Size] | None = None
    carries_top: bool = False
    shelves: Annotated[int, Field(ge=0, le=12)] = 0
    rails: Literal["flat", "edge", "none"] = "none"
    doors: bool = False
    door_width: Size | None = None
    drawers: tuple[Size, ...] = ()
    bays: tuple[Bay, ...] = ()
    niche: Size | None = None
    wings: tuple[Size, ...] = ()
    chamfer: Annotated[float, Field(ge=0, le=500)] = 0.0
    posts: bool = False
    appliance: Code | None = None
    front: bool = False
    form: Code | None = None
    method: Code = "standard"

    @property
    def base(self) -> float:
        """Height of the carcass's underside above the floor, mm."""
        return self.legs if self.level == "floor" else self.bottom

    @property
    def top(self) -> float:
        """Height of the carcass's top above the floor, mm."""
        return self.base + self.height

    @property
    def openings(self) -> tuple[Bay, ...]:
        """Its bays from the top, also where they are said in short."""
        if self.drawers:
            return tuple(Bay(holds="drawer", height=height) for height in self.drawers)
        return self.bays or (Bay(holds="doors" if self.doors else "open", shelves=self.shelves),)

    @property
    def appliances(self) -> tuple[str, ...]:
        """Codes of the appliances that it is or holds."""
        held = (bay.appliance for bay in self.bays)
        return tuple(code for code in (self.appliance, *held) if code)

    def holds(self, kind: str) -> bool:
        """Whether it is or holds an appliance of a kind."""
        return any(is_of(code, kind) for code in self.appliances)

    @property
    def is_bare(self) -> bool:
        """Whether it is an appliance that stands without a front of the kitchen."""
        return self.construction == "appliance" and not self.front


def is_of(code: str, kind: str) -> bool:
    """Whether a code is that of a kind, or goes on after it with a dot: ``fridge.under`` is a ``fridge``."""
    return f"{code}.".startswith(f"{kind}.")
