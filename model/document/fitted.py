"""Fitted: what was measured on the units once they stood, as a strict schema. Tops are cut from it.

Every reading names a unit by its key; its name or its place, as A4, may be typed and is written as its key.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, ConfigDict, Field

from countersunk.model.document.fields import CornerName, Leg, Over, Text
from countersunk.model.files.strict import Strict

Within = Annotated[float, Field(gt=0, le=50)]


def _as_typed(value: Any) -> Any:
    """A day that YAML takes for a date, as it was typed."""
    return value.isoformat() if isinstance(value, date) else value


Day = Annotated[
    str,
    Field(pattern=r"^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$", description="a day as 2026-11-20"),
    BeforeValidator(_as_typed),  # after the field, so that its pattern stands in the JSON Schema
]


class FittedLength(Strict):
    """A length along a fitted run, from the left side of one unit to the right side of another; of one, its width.

    In the place of one of the two a ``corner`` may be given: the inner corner, where the fronts of two runs meet.
    The length is then taken along the fronts.
    """

    model_config = ConfigDict(serialize_by_alias=True)

    start: Annotated[Over | None, Field(alias="from")] = None
    to: Over | None = None
    corner: CornerName | None = None
    length: Annotated[float, Field(gt=0, le=20_000)]
    tolerance: Within | None = None


class FittedCorner(Strict):
    """The angle between the fronts of two fitted runs, in degrees; or the ``length`` of the tape between a mark on
    either, ``legs`` from where they meet.
    """

    corner: CornerName
    angle: Annotated[float, Field(ge=30, le=175)] | None = None
    legs: tuple[Leg, Leg] | None = None
    length: Leg | None = None
    tolerance: Within | None = None


class FittedGap(Strict):
    """From the ``end`` of a run, a side of its last unit, to the wall there; at the unit's back or front."""

    unit: Over
    end: Literal["left", "right"]
    gap: Annotated[float, Field(ge=0, le=5_000)]
    at: Literal["back", "front"] = "back"
    tolerance: Within | None = None


class FittedWall(Strict):
    """From the wall behind a run to the ``back`` of a unit, or to its ``front``, at the height of the top.

    ``side`` is the place along the unit.
    """

    unit: Over
    side: Literal["left", "middle", "right"] = "left"
    back: Annotated[float, Field(ge=0, le=1_000)] | None = None
    front: Annotated[float, Field(ge=0, le=2_000)] | None = None
    tolerance: Within | None = None


class FittedHeight(Strict):
    """How high a unit stands above the floor, without the top."""

    unit: Over
    height: Annotated[float, Field(gt=0, le=3_000)]
    tolerance: Within | None = None


class FittedTolerance(Strict):
    """How far readings on fitted units may be off: of 20 of them 19 lie within ± this, in mm, angles in degrees.

    ``offset`` is for distances of the wall from units, ``length`` for gaps too.
    """

    length: Within = 1.0
    angle: Annotated[float, Field(gt=0, le=5)] = 0.2
    offset: Within = 1.0
    height: Within = 1.0


class AsFitted(Strict):
    """What was measured on the fitted units, on a ``date``. What is not given is as planned."""

    date: Day
    note: Text = ""
    lengths: Annotated[tuple[FittedLength, ...], Field(max_length=100)] = ()
    corners: Annotated[tuple[FittedCorner, ...], Field(max_length=40)] = ()
    gaps: Annotated[tuple[FittedGap, ...], Field(max_length=80)] = ()
    walls: Annotated[tuple[FittedWall, ...], Field(max_length=200)] = ()
    heights: Annotated[tuple[FittedHeight, ...], Field(max_length=100)] = ()
    tolerance: FittedTolerance = FittedTolerance()
