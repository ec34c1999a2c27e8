"""Stages of the way in, as a person measured them. What is made of them is `model.carry`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.files.strict import Strict


class Door(Strict):
    """A door, passage or hatch on the way in: its clear width past the open leaf, its clear height, and how thick
    the wall is in which it stands.

    ``beyond`` is for a door in the side of a corridor: how far the floor on its other side is free along the wall,
    from the far jamb on as one comes along the corridor. Left out, nobody slips through at a slant.
    """

    width: Annotated[float, Field(ge=300, le=6_000)]
    height: Annotated[float, Field(ge=300, le=6_000)] = 2_000.0
    wall: Annotated[float, Field(ge=0, le=1_000)] = 100.0
    beyond: Annotated[float, Field(ge=0, le=50_000)] | None = None


class Corridor(Strict):
    """A corridor, hall or path between walls: clear width at its narrowest and clear height.

    ``length`` is measured inside from wall to wall; left out, it is longer than any piece.
    """

    width: Annotated[float, Field(ge=300, le=20_000)]
    length: Annotated[float, Field(ge=300, le=50_000)] | None = None
    height: Annotated[float, Field(ge=300, le=6_000)] = 2_400.0


class Lift(Strict):
    """A lift car: its clear width, its depth from the closed doors to the wall behind, and its clear height.

    The piece must lie within it with the doors closed. Its doors, and the landings before them, are stages of their
    own.
    """

    width: Annotated[float, Field(ge=300, le=6_000)]
    depth: Annotated[float, Field(ge=300, le=10_000)]
    height: Annotated[float, Field(ge=300, le=6_000)] = 2_100.0


class Window(Strict):
    """A window or hatch that a piece goes in through, handed up from outside: its clear width and height with the
    sash open or out, how thick the wall is, and how high its sill is above the ground outside.
    """

    width: Annotated[float, Field(ge=300, le=6_000)]
    height: Annotated[float, Field(ge=300, le=6_000)]
    wall: Annotated[float, Field(ge=0, le=1_000)] = 300.0
    sill: Annotated[float, Field(ge=0, le=50_000)] = 900.0


class Hoist(Strict):
    """A furniture hoist outside: its platform, on which the whole piece lies, and the clear height over that."""

    width: Annotated[float, Field(ge=300, le=6_000)]
    length: Annotated[float, Field(ge=300, le=10_000)]
    height: Annotated[float, Field(ge=300, le=6_000)] = 2_000.0


class Stairs(Strict):
    """A flight of stairs: clear width between wall and handrail, and clear height square to the slope.

    A straight flight is as a corridor, along which the piece lies. Whether a piece comes round ``winding`` stairs
    is not worked out.
    """

    width: Annotated[float, Field(ge=300, le=6_000)]
    height: Annotated[float, Field(ge=300, le=6_000)] = 2_000.0
    winding: bool = False


class Turn(Strict):
    """A change of direction, as one walks in: 90 degrees is round a square corner, 30 a slight bend."""

    to: Literal["left", "right"]
    angle: Annotated[float, Field(ge=30, le=150)] = 90.0


class Stage(Strict):
    """One stage of the way in: a door, a corridor, a lift, a window, a hoist or stairs, or a turn that joins the
    stages before and after it.

    A corridor with a length that comes last is a box that the piece must lie in, as a lift is.
    """

    door: Door | None = None
    corridor: Corridor | None = None
    lift: Lift | None = None
    window: Window | None = None
    hoist: Hoist | None = None
    stairs: Stairs | None = None
    turn: Turn | None = None
