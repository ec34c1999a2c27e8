"""Room: what was surveyed, as a strict schema: walls, what is in them, and what stands before them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from countersunk.model.document.fields import CornerName, Key, Leg, Name, Offset
from countersunk.model.document.measured import Measured
from countersunk.model.files.strict import Strict

Within = Annotated[float, Field(gt=0, le=50)]


class Bow(Strict):
    """How far a wall stands off the straight line between its ends, read every ``every`` mm from its left end.

    Positive is hollow: the wall stands back and leaves a gap behind a straight top. Negative bulges into the room.
    """

    every: Annotated[float, Field(ge=50, le=5_000)]
    offsets: Annotated[tuple[Annotated[float, Field(ge=-100, le=100)], ...], Field(min_length=2, max_length=200)]


class Across(Strict):
    """A corner taken with the tape: a mark on either wall, ``legs`` from the corner (this wall's first), and the
    ``length`` between the marks.

    At an ``external`` corner, which points into the room, the wall is between such marks. There both walls are
    drawn on past the corner, as with a batten laid along each, and the marks stand on those lines, in the room.
    ``tolerance`` is that of the length, mm; the room's unless it is given.
    """

    legs: tuple[Leg, Leg]
    length: Leg
    external: bool = False
    tolerance: Within | None = None


class Wall(Strict):
    """A wall, measured from left to right as one faces it, at the height of the top where walls lean.

    ``corner`` is the inside angle at its right-hand end, or ``diagonal`` what gives it. Given at every wall, the
    survey is closed: the last corner leads back to the first wall. ``tolerance`` is how far its length may be off
    (mm), ``corner_tolerance`` its corner (degrees); the room's unless they are given. ``kind`` is what it is made
    of: ``solid``, of ``stud`` with boards on them, or ``boarded`` behind the face where units hang.
    """

    name: Name
    length: Annotated[float, Field(ge=100, le=20_000)]
    corner: Annotated[float, Field(ge=30, le=330)] | None = None
    diagonal: Across | None = None
    bow: Bow | None = None
    tolerance: Within | None = None
    corner_tolerance: Annotated[float, Field(gt=0, le=5)] | None = None
    kind: Literal["solid", "stud", "boarded"] | None = None


class Opening(Strict):
    """A door, window or open passage. ``at`` is its left side, measured along the wall.

    ``swing`` is how a door's leaf or a window's sash turns: hinged on the left or right and into the room, out of
    it, or not at all. ``reveal`` is how deep a window's reveal is, from the face of the wall to the frame;
    ``top_in`` lets the worktop run on into it in the place of a sill board, over the ``sill`` of the wall.
    ``tolerance`` is how far its place and its width may be off, mm; the room's unless it is given.
    """

    kind: Literal["door", "window", "passage"]
    wall: Name
    at: Offset
    width: Annotated[float, Field(ge=200, le=6_000)]
    sill: Annotated[float, Field(ge=0, le=3_000)] = 0.0
    head: Annotated[float, Field(ge=300, le=6_000)] = 2_000.0
    swing: Literal["left", "right", "out", "none"] = "none"
    reveal: Annotated[float, Field(ge=20, le=1_000)] | None = None
    top_in: bool = False
    tolerance: Within | None = None
    key: Key = ""


class BreastOpening(Strict):
    """The opening of a chimney breast, as for a cooker: from the floor to the lintel's underside at ``height``.

    ``from_left`` is how wide the cheek at its left is; ``depth`` goes in from the face of the breast, through to
    the wall behind it unless it is given.
    """

    from_left: Offset
    width: Annotated[float, Field(ge=100, le=5_000)]
    height: Annotated[float, Field(ge=300, le=6_000)]
    depth: Annotated[float, Field(ge=50, le=5_000)] | None = None


class Obstacle(Strict):
    """What stands in the room and units and tops must go round, as a box; ``at`` is its left side along the wall.

    ``depth`` reaches from the wall into the room, or from ``out`` mm before it where it stands free of the wall.
    From the floor to the ceiling unless ``bottom`` and ``top`` are given. ``opening`` is that of a chimney breast.
    ``tolerance`` is how far its place and its sizes in the plan may be off, mm; the room's unless it is given.
    """

    kind: Literal[
        "column", "pipe-boxing", "radiator", "chimney-breast", "stove", "gas-meter", "electricity-meter"
    ]  # fmt: skip
    wall: Name
    at: Offset
    width: Annotated[float, Field(ge=10, le=10_000)]
    depth: Annotated[float, Field(ge=5, le=5_000)]
    out: Offset = 0.0
    bottom: Annotated[float, Field(ge=0, le=6_000)] = 0.0
    top: Annotated[float, Field(gt=0, le=6_000)] | None = None
    opening: BreastOpening | None = None
    tolerance: Within | None = None


class Service(Strict):
    """Where a pipe, a cable or a duct comes out of a wall, in mm along it and above the floor; or a fan in a wall
    or in
    the pane of a window, with the ``airflow`` of its sheet, m³/h.
    """

    kind: Literal["water", "waste", "gas", "socket", "switch", "flue", "cooker-outlet", "fan"]
    wall: Name
    at: Offset
    height: Annotated[float, Field(ge=0, le=6_000)]
    airflow: Annotated[float, Field(gt=0, le=5_000)] | None = None


class RoofWindow(Strict):
    """A window in a sloping ceiling. ``at`` is its left side along the wall, ``sill`` and ``head`` are the heights
    of its lower and upper edge above the floor. It ``opens`` in about its middle, or out.
    """

    at: Offset
    width: Annotated[float, Field(ge=200, le=3_000)]
    sill: Annotated[float, Field(ge=0, le=6_000)]
    head: Annotated[float, Field(ge=0, le=6_000)]
    opens: Literal["in", "out"] = "in"


class Dormer(Strict):
    """Where a roof stands up over its wall: from ``at`` on, ``width`` wide, the ceiling is level at ``height``.

    At the room's height unless it is given. Its window is an opening of the wall.
    """

    at: Offset
    width: Annotated[float, Field(ge=300, le=10_000)]
    height: Annotated[float, Field(ge=1_000, le=6_000)] | None = None


class Slope(Strict):
    """A sloping ceiling: ``eaves`` high at the wall, at the room's full height ``run`` mm before it; with its
    ``windows``, and its ``dormers``, where it is cut away.
    """

    wall: Name
    eaves: Annotated[float, Field(ge=0, le=6_000)]
    run: Annotated[float, Field(ge=50, le=20_000)]
    windows: Annotated[tuple[RoofWindow, ...], Field(max_length=10)] = ()
    dormers: Annotated[tuple[Dormer, ...], Field(max_length=6)] = ()


class CeilingHeight(Strict):
    """How high the ceiling was read over a wall, ``at`` along it; between two readings it is taken to be
    straight.
    """

    wall: Name
    at: Offset
    height: Annotated[float, Field(ge=1_800, le=6_000)]


class Diagonal(Strict):
    """The ``length`` across the floor from one corner to another; corners are named as in ``A-B``.

    ``tolerance`` is how far it may be off, mm; the room's unless it is given.
    """

    model_config = ConfigDict(serialize_by_alias=True)

    start: Annotated[CornerName, Field(alias="from")]
    to: CornerName
    length: Annotated[float, Field(ge=100, le=30_000)]
    tolerance: Within | None = None


class Tolerance(Strict):
    """How far readings may be off: of 20 of them 19 lie within ± this, in mm and for corners in degrees.

    ``diagonal`` is for those across corners and across the room, ``position`` for where openings and obstacles are,
    how large, and how far out a slope ends, ``height`` for ceiling and eaves, ``offset`` for bowed walls.
    """

    wall: Annotated[float, Field(gt=0, le=50)] = 3.0
    corner: Annotated[float, Field(gt=0, le=5)] = 0.3
    diagonal: Annotated[float, Field(gt=0, le=50)] = 3.0
    position: Annotated[float, Field(gt=0, le=50)] = 3.0
    height: Annotated[float, Field(gt=0, le=50)] = 3.0
    offset: Annotated[float, Field(gt=0, le=50)] = 1.0


class Room(Strict):
    """The room as surveyed. ``diagonals`` check a survey; a room of four walls without corners follows from one.

    ``measured`` are more measurements, one a row. ``ceiling`` is how high it was read over walls where it falls:
    lower than ``height``, which is the highest.
    """

    height: Annotated[float, Field(ge=1_800, le=6_000)] = 2_400.0
    walls: Annotated[tuple[Wall, ...], Field(min_length=1, max_length=40)]
    diagonals: Annotated[tuple[Diagonal, ...], Field(max_length=20)] = ()
    measured: Annotated[tuple[Measured, ...], Field(max_length=100)] = ()
    openings: Annotated[tuple[Opening, ...], Field(max_length=40)] = ()
    obstacles: Annotated[tuple[Obstacle, ...], Field(max_length=40)] = ()
    services: Annotated[tuple[Service, ...], Field(max_length=100)] = ()
    slopes: Annotated[tuple[Slope, ...], Field(max_length=10)] = ()
    ceiling: Annotated[tuple[CeilingHeight, ...], Field(max_length=100)] = ()
    tolerance: Tolerance = Tolerance()
