"""Duct: the way that air drawn off over a hob takes out of the house, as somebody measured or planned it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.files.strict import Strict


class Duct(Strict):
    """A duct of one ``diameter`` (mm): its ``length`` along all straight pieces, the angle of each of its ``bends``
    in degrees, and how it ``ends``: in the ``room`` where a filter cleans the air and nothing goes out.
    ``flexible`` is a hose of metal instead of smooth pipe. ``airflow`` is what the sheet of its hood or hob says
    that it draws at most, in m³/h, where the catalogue does not say it.
    """

    length: Annotated[float, Field(ge=0, le=60_000)]
    diameter: Annotated[float, Field(ge=80, le=400)] = 150.0
    bends: Annotated[tuple[Annotated[float, Field(ge=15, le=90)], ...], Field(max_length=12)] = ()
    ends: Literal["wall", "roof", "room"] = "wall"
    flexible: bool = False
    airflow: Annotated[float, Field(gt=0, le=5_000)] | None = None
