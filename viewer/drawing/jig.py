"""Jig: how a half of a routed join lies in the jig, and what a jig fixed at 45° makes of a corner off square.

A hand-held router is fed from left to right as one faces the guide, which then holds it. So that its cutter enters
through the front edge and never leaves through it, a right-hand end is cut with the decor up and a left-hand end
with the underside up, for female and male alike (common practice, no source).

A fixed jig cuts a shoulder of 45° whatever the corner. The female is cut as the jig is; on the male it is turned
about the end of the joint at the front until its straight side lies as the female's does. Both halves then have one
line, and it differs from the exact joint at the shoulder only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import LineString

from countersunk.model.geometry.profile import plan_points
from countersunk.model.tops.joins import Join
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.lettering import degrees, mm
from countersunk.viewer.drawing.setout import Face, hand_of

ROUGH = 3.0
"""How far in the waste the rough cut lies from the line, mm (common practice, no source)."""

REACH = 3.0
"""How far a jig can be turned off square, degrees (manual of a router jig, quoted)."""

AS_SQUARE = 0.005
"""A corner this near to 90° is cut square, degrees."""


def is_routed(join: Join) -> bool:
    """Whether both halves are routed along a jig or a clamped guide: not a sawn end, not a seam that is glued."""
    return join.has_bolts and not join.bonded


def takes_jig(join: Join) -> bool:
    """Whether a jig for mason's mitres cuts it."""
    return join.making == "mitre"


def face_up(length: Length, join: Join) -> Face:
    """The face of the length that is up while its half of the join is routed."""
    return Face.TOP if hand_of(length, join) == "right" else Face.UNDERSIDE


def way_of(length: Length, join: Join) -> str:
    """Where the cutter enters, and where it leaves the length."""
    return f"front edge to {'end' if join.kind == 'mitre' and join.female == length.id else 'back'}"


@dataclass(frozen=True)
class FixedJig:
    """A jig fixed at 45° on a mitre. ``line`` is the joint that it cuts on both halves, in the room's plan (mm).

    ``turn`` is by how much it is turned on the male, degrees, more than 0 where the corner is wider than 90°;
    ``back`` how far that takes the male's back from a square cut, mm, more than 0 where it becomes shorter;
    ``shift`` by how much the straight side begins further from the joint's front end than in the exact joint, mm,
    less than 0 where it begins nearer; ``noses`` the most that the two noses then differ by, mm.
    """

    line: LineString
    turn: float
    back: float
    shift: float
    noses: float


def fixed_jig(join: Join, nose: float) -> FixedJig:
    """What a jig fixed at 45° does to a mitre whose tops have a nose of that radius (mm)."""
    (px, py), (qx, qy), (wx, wy) = plan_points(join.line)
    long = join.straight_side.length
    ux, uy = (wx - qx) / long, (wy - qy) / long
    along = (qx - px) * ux + (qy - py) * uy
    shift = join.notch - along
    begins = (qx + ux * shift, qy + uy * shift)
    turn, half = join.off_square, math.sin(math.radians(45.0))
    return FixedJig(
        line=LineString([(px, py), begins, (wx, wy)]),
        turn=turn,
        back=long * math.sin(math.radians(turn)),
        shift=shift,
        noses=abs(nose * (math.sin(math.radians(45.0 + turn)) / half - 1.0)),
    )


def fixed_in_words(join: Join, nose: float) -> list[str]:
    """What to do where the jig is fixed at 45°; nothing where no jig for mitres is used."""
    if not takes_jig(join):
        return []
    if abs(join.off_square) < AS_SQUARE:
        return ["It cuts this corner as it is: both halves square on the front edge."]
    fixed = fixed_jig(join, nose)
    wider, back = fixed.turn > 0.0, mm(abs(fixed.back))
    if abs(fixed.turn) > REACH:
        return [
            f"It does not do here: it would have to be turned by {degrees(abs(fixed.turn))}, and about "
            f"{degrees(REACH)} is as far as jigs turn (quoted). Cut a guide to the exact joint: shoulder "
            f"{degrees(join.shoulder_angle)}, straight side as above.",
            f"With 45° the straight side would begin {mm(abs(fixed.shift))} from where it is drawn, and the "
            f"noses would differ by {mm(fixed.noses)}.",
        ]
    depth = join.straight_side.length * math.cos(math.radians(fixed.turn))
    return [
        "Female: the jig as it is, square on the front edge.",
        f"Male: turn the jig about the front end of the joint by {degrees(abs(fixed.turn))}: at the back {back} "
        f"{'shorter' if wider else 'longer'} than a square cut, {mm(depth)} further back. Pack one of its pins by "
        f"{mm(100.0 * math.tan(math.radians(abs(fixed.turn))))} for each 100 between them.",
        f"The halves then fit each other. Off the exact joint: the straight side begins {mm(abs(fixed.shift))} "
        f"{'further in' if fixed.shift > 0.0 else 'nearer to the front end'}; the noses differ by "
        f"{mm(fixed.noses)} at most.",
        f"Not turned, the joint would stand {back} open at the {'front' if wider else 'back'}.",
    ]
