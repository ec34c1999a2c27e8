"""Measured: what was measured besides, as people take it: a length twice, by another tape, square to a wall."""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field

from countersunk.model.files.strict import Strict

Name = Annotated[str, Field(pattern=r"^[A-Za-z][A-Za-z0-9]{0,11}$")]
Place = Annotated[
    str,
    Field(
        pattern=r"^(start|end|[A-Za-z][A-Za-z0-9]*-[A-Za-z][A-Za-z0-9]*)$",
        description="a corner as A-B, or start or end of the walls of an open room",
    ),
]
Length = Annotated[float, Field(ge=10, le=30_000)]


class Measured(Strict):
    """One more measurement of the room; its keys say which.

    ``wall`` with ``length`` is a wall once more, with ``pieces`` a chain of lengths from its left end to its right.
    ``corner`` with ``angle`` is a corner once more; with ``legs`` and ``length`` (and ``external``) the tape across
    it, as in a wall's ``diagonal``; with ``square_to`` a wall and ``length`` how far it stands off that wall's
    line, square to it. ``from``, ``to`` and ``length`` lie between two corners, or the ``start`` and the ``end`` of
    an open room. ``wall``, ``out`` and ``length`` are the width between the walls on either side of a wall, so far
    before it. ``wall``, ``at``, ``across`` and ``length`` go square from a place on a wall to another wall.

    ``tolerance`` is how far this reading may be off, mm or degrees; the room's unless it is given. ``height`` is
    how far above the floor it was taken: where walls lean, corners go by what was read nearest to the top's height.
    """

    model_config = ConfigDict(serialize_by_alias=True)

    wall: Name | None = None
    corner: Place | None = None
    start: Annotated[Place | None, Field(alias="from")] = None
    to: Place | None = None
    across: Name | None = None
    square_to: Name | None = None
    at: Annotated[float, Field(ge=0, le=20_000)] | None = None
    out: Annotated[float, Field(ge=0, le=20_000)] | None = None
    legs: tuple[Annotated[float, Field(ge=100, le=20_000)], Annotated[float, Field(ge=100, le=20_000)]] | None = (
        None
    )
    external: bool | None = None
    length: Length | None = None
    angle: Annotated[float, Field(ge=30, le=330)] | None = None
    pieces: Annotated[tuple[Length, ...], Field(min_length=2, max_length=40)] | None = None
    tolerance: Annotated[float, Field(gt=0, le=50)] | None = None
    height: Annotated[float, Field(ge=0, le=6_000)] | None = None
    note: Annotated[str, Field(max_length=120)] = ""
