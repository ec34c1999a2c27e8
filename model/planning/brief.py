"""Brief: a surveyed room, and what is wanted in it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from countersunk.model.document.keys import FORMAT
from countersunk.model.document.schema import (
    Code,
    Format,
    Fronts,
    LastKey,
    Region,
    Room,
    Shown,
    Strict,
    Text,
    Work,
    Worktop,
    refuse_newer,
)

Reach = Annotated[float, Field(ge=100, le=10_000)]


class HobWish(Strict):
    """The hob: what it burns, and its class of width."""

    fuel: Literal["electric", "gas"] = "electric"
    width: Literal[600, 800] = 600


class Wishes(Strict):
    """What is wanted. ``larders`` is how many tall units for food; ``oven`` is under the hob or in a tall unit.

    ``tall_at`` is the end of the kitchen at which all tall units are wanted, as one faces it; the other end is
    tried too, and taken where it is much better. Either lets the fridge stand across from the others. ``island``
    wants one where the aisles round it are wide enough. Sink and dishwasher lie within ``pipes`` mm of water and
    waste, a hob within ``cable`` mm of its outlet or its gas, along the walls.
    """

    sink: Literal["one-bowl", "bowl-drainer"] = "one-bowl"
    sink_at_window: bool = True
    dishwasher: Literal["none", "450", "600"] = "600"
    fridge: bool = True
    oven: Literal["none", "under-hob", "tall"] = "under-hob"
    hob: HobWish = HobWish()
    hood: bool = True
    larders: Annotated[int, Field(ge=0, le=3)] = 0
    tall_at: Literal["left", "right", "either"] = "either"
    island: bool = False
    wall_units: bool = True
    pipes: Reach = 2_000.0
    cable: Reach = 3_000.0


class Brief(Strict):
    """A room file: the survey as in a kitchen file, and wishes in the place of runs.

    ``catalogue`` is as in a kitchen file; it must have what layouts are made of, see `model.planning.ranges`.
    """

    countersunk: Format = FORMAT
    kitchen: Annotated[str, Field(min_length=1, max_length=120)]
    note: Text = ""
    catalogue: Code = "metric"
    cooks: Annotated[int, Field(ge=1, le=6)] = 1
    regions: Annotated[tuple[Region, ...], Field(max_length=3)] = ()
    wheelchair: bool = False
    work: Work = "new"
    lengths: Shown = "mm"
    room: Room
    wishes: Wishes = Wishes()
    worktop: Worktop = Worktop(stock="pf38.600", decor="pale-oak")
    fronts: Fronts = Fronts(decor="chalk")
    last_key: LastKey = 0

    @model_validator(mode="before")
    @classmethod
    def _known(cls, data: Any) -> Any:
        refuse_newer(data)
        return data
