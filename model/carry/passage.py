"""Passage: a held piece followed along the way in, its tightest place, and the longest piece that would pass."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.carry.headings import FINER, STEPS, Turning, headings_for, spread
from countersunk.model.carry.shadows import Floats, Shadow, Way, shadows
from countersunk.model.carry.way import Bend, Straight, WayIn, way_in
from countersunk.model.document.allowances import Allowances
from countersunk.model.document.stages import Stage
from countersunk.model.ties import most, rounded_down, rounded_up
from countersunk.model.tolerance import CONTACT, EQUAL

SQUARE = 1e-6
"""Radians by which a turn may be off 90° and still lead through a door in a corridor's side."""

USUAL = Allowances()
"""What is left free where nobody says otherwise."""

LONGEST = 20_000.0
"""No piece is asked to be longer than this, mm."""

FINE = 1.0
"""The longest piece is found to this, mm, on the short side."""


@dataclass(frozen=True)
class Passage:
    """Whether and how a piece passes. ``margin`` is what is left at ``stage``, the tightest place of all (mm).

    Whether it passes is right to a millimetre or two, on the safe side; a margin well away from 0 may be told too
    small by some millimetres where a piece goes through at a slant.
    """

    way: Way
    margin: float
    stage: str

    @property
    def ok(self) -> bool:
        """Whether it passes with hands on every side; a margin of 0 passes."""
        return self.margin > -CONTACT

    @property
    def sentence(self) -> str:
        """For a person, in whole millimetres rounded to the side of caution."""
        if math.isinf(self.margin):
            return "nothing is in the way"
        if self.ok:
            return f"comes in {self.way}, {rounded_down(self.margin)} mm to spare at {self.stage}"
        return f"does not come in: held {self.way} it lacks {rounded_up(-self.margin)} mm at {self.stage}"


def passes(outline: Polygon, thickness: float, access: Sequence[Stage], allowances: Allowances = USUAL) -> Passage:
    """Whether a piece can be carried in: held in the first way that passes, or else in that which lacks least.

    ``outline`` is the plan of the piece in its own frame, along x or y, mm; holes do not matter. Of the
    ``allowances`` it keeps the hand room free on every side, and looks to packing and tilting. Nothing is
    in the way where ``access`` is empty. Raises InputError for stages that cannot follow each other.
    """
    if not access:
        return Passage("on edge", math.inf, "")
    lacking = list[Passage]()
    for found in each_way(outline, thickness, access, allowances):
        if found.ok:
            return found
        lacking.append(found)
    return most(lacking, key=lambda passage: passage.margin)


def each_way(
    outline: Polygon, thickness: float, access: Sequence[Stage], allowances: Allowances = USUAL
) -> Iterator[Passage]:
    """The passage of a piece held each way worth trying, in the order in which `passes` asks."""
    way = way_in(access)
    for shadow in _held(outline, thickness, way, allowances):
        yield _passage(shadow, way, allowances.hand_room)


def margins_by_stage(
    outline: Polygon, thickness: float, access: Sequence[Stage], allowances: Allowances = USUAL
) -> dict[str, dict[Way, float]]:
    """The margin at each stage as if it were the only one, for each way of holding, mm; else like `passes`."""
    way = way_in(access)
    held, hands = list(_held(outline, thickness, way, allowances)), allowances.hand_room
    return {
        name: {shadow.way: _passage(shadow, alone, hands).margin for shadow in held} for name, alone in _alone(way)
    }


def surely_not(
    outline: Polygon, thickness: float, access: Sequence[Stage], allowances: Allowances = USUAL
) -> str | None:
    """The stage that keeps a piece out however it is held, or None where there is no such stage.

    A door, corridor or lift that the piece does not pass by itself keeps it out for certain. At a turn, or where
    somebody would have to change how it is held, a *no* of `passes` is cautious and proves nothing.
    """
    turns = {bend.name for bend in way_in(access).bends}
    stages = margins_by_stage(outline, thickness, access, allowances)
    shut = (name for name, margins in stages.items() if name not in turns and max(margins.values()) <= -CONTACT)
    return next(shut, None)


def _held(outline: Polygon, thickness: float, way: WayIn, allowances: Allowances) -> Iterator[Shadow]:
    """The piece in its packing, held in every way worth trying."""
    headroom = way.height - 2 * allowances.hand_room
    return shadows(outline, thickness + allowances.packing, headroom, allowances.tilt)


def longest(depth: float, thickness: float, access: Sequence[Stage], allowances: Allowances = USUAL) -> float:
    """The longest square-ended piece of a depth and thickness that passes, to `FINE` below, mm.

    0 where none does, `LONGEST` where any does. Bisection: a shorter piece lies within a longer one.
    """

    def too_long(length: float) -> bool:
        return not passes(rectangle(0.0, 0.0, length, depth), thickness, access, allowances).ok

    low, high = 0.0, LONGEST
    if not too_long(high):
        return LONGEST
    while high - low > FINE:
        middle = (low + high) / 2
        low, high = (low, middle) if too_long(middle) else (middle, high)
    return low


def _alone(way: WayIn) -> Iterator[tuple[str, WayIn]]:
    """Every stage as a way in of its own, a turn with the straights that it joins."""
    for i, straight in enumerate(way.straights):
        if i:
            yield way.bends[i - 1].name, WayIn(way.straights[i - 1 : i + 1], way.bends[i - 1 : i])
        for narrow in straight.narrows:
            yield narrow.name, WayIn((replace(straight, narrows=(narrow,)),), ())


def _passage(shadow: Shadow, way: WayIn, hands: float) -> Passage:
    """The passage of one shadow, looked at more finely where that could turn a yes into a no."""
    found = _at_steps(shadow, way, hands, STEPS)
    slants = way.bends or any(narrow.box for straight in way.straights for narrow in straight.narrows)
    close = slants and abs(found.margin) <= shadow.span * math.pi / STEPS
    return _at_steps(shadow, way, hands, STEPS * FINER) if close else found


def _at_steps(shadow: Shadow, way: WayIn, hands: float, steps: int) -> Passage:
    axes = [straight.axis for straight in way.straights]
    trail = list(_trail(Turning(shadow, headings_for(shadow, axes, steps), hands), way))
    margin = trail[-1][1]
    stage = next(name for name, so_far in trail if so_far <= margin + EQUAL)
    return Passage(shadow.way, margin, stage)


def _trail(view: Turning, way: WayIn) -> Iterator[tuple[str, float]]:
    """The margin of the way so far, from stage to stage; it never grows.

    A turn comes after the straight that it leads into, so that what is too narrow by itself is blamed first.
    """
    reached, margin = np.full(len(view.headings), np.inf), math.inf
    for i, straight in enumerate(way.straights):
        for narrow in straight.narrows:
            room = float(view.across(straight.axis, narrow.width).max())
            margin = min(margin, room, narrow.height - view.shadow.height - 2 * view.hands)
            yield narrow.name, margin
        if i:
            reached = _round(view, reached, way.straights[i - 1], way.bends[i - 1], straight)
            margin = min(margin, float(reached.max()))
            yield way.bends[i - 1].name, margin
        for box in (narrow for narrow in straight.narrows if narrow.box):
            within = np.minimum(_fits(view, straight), view.along(straight.axis, box.length))
            margin = min(margin, float(np.minimum(reached, within).max()))
            yield box.name, margin


def _round(view: Turning, reached: Floats, before: Straight, bend: Bend, after: Straight) -> Floats:
    """The margin with which each heading is reached behind a bend, from that before it."""
    start, end = np.minimum(reached, _fits(view, before)), _fits(view, after)
    ways = [np.minimum(spread(start, clear), end) for clear in _corners(view, before, bend, after)]
    if abs(abs(bend.angle) - math.pi / 2) < SQUARE:
        for slip, room in _slips(view, after, before, -1):
            ways.append(np.minimum(spread(start, room), slip))
        for slip, room in _slips(view, before, after, 0):
            ways.append(np.minimum(spread(np.minimum(reached, slip), room), end))
    return np.asarray(np.maximum.reduce(ways))


def _corners(view: Turning, before: Straight, bend: Bend, after: Straight) -> list[Floats]:
    """Clearances round the inner corner, for each space that the piece may take before and after it."""
    walls = tuple(straight.axis + math.copysign(math.pi / 2, bend.angle) for straight in (before, after))
    return [
        np.minimum(
            view.cornering((walls[0], walls[1]), (w1, w2)),
            np.minimum(view.along(before.axis, l1), view.along(after.axis, l2)),
        )
        for w1, l1 in before.spaces(-1)
        for w2, l2 in after.spaces(0)
    ]


def _slips(view: Turning, opening: Straight, corridor: Straight, at: int) -> list[tuple[Floats, Floats]]:
    """Slipping at a slant through a door in the side of a corridor, and the room in the corridor to turn before.

    Only where the way begins or ends at the door and the floor beyond it was measured. ``at`` is the end of the
    corridor at which the door is.
    """
    door = opening.only_door
    if door is None or door.beyond is None or math.isfinite(opening.length):
        return []
    gap = view.slanting(opening.axis, corridor.axis, door.width, door.length)
    slip = np.minimum(gap, view.along(corridor.axis, door.beyond))
    return [
        (slip, np.minimum(view.across(corridor.axis, width), view.along(corridor.axis, length)))
        for width, length in corridor.spaces(at)
    ]


def _fits(view: Turning, straight: Straight) -> Floats:
    """What is left across a straight at its narrowest, mm."""
    return view.across(straight.axis, min(narrow.width for narrow in straight.narrows))
