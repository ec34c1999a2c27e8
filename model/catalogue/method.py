"""Method: how a firm makes its carcasses, and how it fills them, as data that its families name.

A *method* holds the rules that the families of a firm share: which boards, how the back is fixed, how wide the
rails, which edges get band. A *bay* is one opening of a carcass, from side to side; the bays of a family lie one
below the other. Both are numbers and words only: what is made of them is written in `model.units`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.document.schema import Code, Strict
from countersunk.model.errors import InputError
from countersunk.model.kinds.appliances import APPLIANCES

Measure = Annotated[float, Field(gt=0, le=3_000)]
Small = Annotated[float, Field(ge=0, le=200)]
Banded = Annotated[tuple[Literal["front", "back", "left", "right", "inner"], ...], Field(max_length=4)]


Along = Literal["hinges", "legs", "runners", "shelf-pins", "hangers", "handles", "fronts"]
"""What may come along with a carcass that is bought."""


class Bands(Strict):
    """Edges of the carcass boards that get band; ``inner`` is an edge within the board's bounds, as at a corner."""

    side: Banded = ("front",)
    bottom: Banded = ("front",)
    top: Banded = ("front",)
    rail: Banded = ("front",)
    shelf: Banded = ("front",)


class Method(Strict):
    """Rules of construction, mm. Every default is common practice, no source.

    ``back`` lies *on* the carcass behind its boards, or stands in a *groove*, ``groove`` deep and ``inset`` from
    their rear edges. ``reveal`` is half the gap between two fronts; what is wider than ``widest_door`` has two.
    ``runner_gap`` is what a runner takes at each side of a drawer box, which is ``drawer_depth`` deep and keeps
    ``drawer_margin`` below and above it behind its front. ``stile`` is the frame of a glazed door.
    Boards that are not named are the first that the catalogue has for their use.
    """

    code: Code = "standard"
    carcass: Code | None = None
    back_board: Code | None = None
    drawer: Code | None = None
    front: Code | None = None
    back: Literal["on", "groove"] = "on"
    groove: Annotated[float, Field(gt=0, le=15)] = 8.0
    inset: Annotated[float, Field(gt=0, le=60)] = 20.0
    rail: Measure = 100.0
    shelf_setback: Small = 20.0
    shelf_play: Annotated[float, Field(ge=0, le=10)] = 1.0
    reveal: Annotated[float, Field(ge=0, le=10)] = 1.5
    widest_door: Measure = 600.0
    drawer_depth: Measure = 500.0
    runner_gap: Annotated[float, Field(ge=0, le=50)] = 13.0
    drawer_margin: Small = 35.0
    stile: Measure = 70.0
    bands: Bands = Bands()


class Ready(Strict):
    """How a carcass comes where it is bought.

    ``flat``: in a pack, put together in ``minutes``. ``comes_with`` is what is in its price besides the carcass
    with its back and shelves; fronts are made unless they are named.
    """

    flat: bool = False
    minutes: Annotated[float, Field(gt=0, le=600)] | None = None
    comes_with: tuple[Along, ...] = ("hinges", "legs", "runners", "shelf-pins", "hangers")


class Bay(Strict):
    """One opening of a carcass. ``height`` (mm) is what one sees of it; a single bay may leave it out.

    ``shelves`` lie loose behind doors, or are the baskets of a pull-out; ``columns`` and ``rows`` part a rack for
    bottles or trays. An ``oven``, a ``microwave``, a ``warming-drawer``, a ``washer``, a ``dryer`` or the lip of a
    ``hood`` shows its own face, a ``fridge`` stands behind furniture doors. ``bins`` pull out, ``columns`` of
    them side by side, ``plates`` are a rack of dowels, and a ``tambour`` is shut by a curtain of slats that rolls
    up behind its head. ``appliance`` is what is bought, which
    may be another that looks the same: a freezer, or a combination microwave with the face of an ``oven``.
    """

    holds: Literal[
        "doors", "glazed", "open", "drawer", "pull-out", "rack", "blank", "oven", "microwave", "fridge",
        "warming-drawer", "washer", "dryer", "hood", "bins", "plates", "tambour",
    ]  # fmt: skip
    height: Measure | None = None
    shelves: Annotated[int, Field(ge=0, le=12)] = 0
    columns: Annotated[int, Field(ge=1, le=12)] = 1
    rows: Annotated[int, Field(ge=1, le=20)] = 1
    appliance: Code | None = None

    @property
    def backless(self) -> bool:
        """Whether the carcass has no back here, so that what stands in it has air and its connections."""
        return self.holds in APPLIANCES


def heights(bays: tuple[Bay, ...], whole: float, field: str = "bays") -> tuple[float, ...]:
    """The height of every bay, from the top, where together they fill ``whole`` mm. Raises InputError."""
    given = sum(bay.height or 0.0 for bay in bays)
    missing = sum(bay.height is None for bay in bays)
    rest = whole - given
    if missing > 1 or rest < 0 or (rest > 0) != (missing == 1):
        raise InputError.at(
            field,
            found=f"heights that add up to {given:g}, and {missing} without one",
            allowed=f"{whole:g} in all, or less and one bay without a height, which takes the rest",
        )
    return tuple(rest if bay.height is None else bay.height for bay in bays)
