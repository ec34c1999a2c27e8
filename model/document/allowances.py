"""Allowances: what is left free round a top where it is cut, lowered in and carried."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from countersunk.model.files.strict import Strict


class Allowances(Strict):
    """What is left free round a top, mm. A kitchen says its own; what it leaves out is as its catalogue has it.

    ``lowering`` is what a top between two walls is cut shorter than they are apart, besides what its thickness
    takes when it is lowered in tilted. ``notch`` is the gap to what a top is notched round, and the radius of the
    notch's inside corners, which tear below 3 (quoted). ``hand_room`` is kept free on every side of a piece that is
    carried, above and below too: knuckles, and no scraped decor. ``packing`` is what a piece is thicker by as it is
    carried in, both faces together. ``tilt`` says whether it may be carried out of the level: rolled, one end up or
    on end. ``router`` is the room between two ends that are both routed after a rough cut, on the length of stock:
    1/2 in, a usual cutter. ``expansion`` is left at the wall behind a top of wood, which moves across its grain.
    ``ceiling`` is what a filler up to the ceiling is sawn higher than the gap, to be scribed to it.
    All but the radius: common practice, no source.
    """

    lowering: Annotated[float, Field(ge=0, le=30)] = 2.0
    notch: Annotated[float, Field(ge=3, le=30)] = 3.0
    hand_room: Annotated[float, Field(ge=0, le=150)] = 30.0
    packing: Annotated[float, Field(ge=0, le=200)] = 0.0
    tilt: bool = True
    router: Annotated[float, Field(ge=0, le=50)] = 12.7
    expansion: Annotated[float, Field(ge=0, le=30)] = 5.0
    ceiling: Annotated[float, Field(ge=0, le=60)] = 15.0

    def with_own(self, own: Allowances) -> Allowances:
        """These with what ``own`` says in their place."""
        return self.model_copy(update={name: getattr(own, name) for name in own.model_fields_set})
