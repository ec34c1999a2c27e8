"""Wall units by lot, clear of what stands high and of windows, with corner units where two walls meet square."""

from __future__ import annotations

from collections.abc import Sequence

from tests.random_kitchens.corners import SQUARE, Ends, Tops, clear, lean
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data, Side
from tests.random_kitchens.rows import Interval, Row, ended, filled, length, minus, unit

CLEAR = 5.0
"""Between wall units and what they keep clear of, mm."""


def upper_rows(lots: Lots, tops: Tops, rows: list[Row], sides: list[Side], openings: Sequence[Data]) -> list[Row]:
    """Rows of wall units on walls with rows below, and now and then on another."""
    below = {row.wall for row in rows}
    used = [side for side in sides if lots.some(0.4 if side.name in below else 0.1)]
    ends = upper_ends(lots, tops, rows, sides, used)
    found = []
    for side in used:
        left, right = ends[side.name]
        taken = [*high_units(tops, rows, side), *wide_openings(openings, side)]
        inside = (left.inset, side.length - right.inset)
        for a, b in minus([inside], taken):
            at_left, at_right = (
                e if x == y else Ends(0.0) for e, x, y in zip((left, right), (a, b), inside, strict=True)
            )
            found += upper_stretch(lots, tops, side, (a, b), at_left, at_right)
    return found


def upper_ends(
    lots: Lots, tops: Tops, rows: list[Row], sides: list[Side], used: list[Side]
) -> dict[str, tuple[Ends, Ends]]:
    """What both ends of each wall leave to wall units."""
    depth = tops.kit.depth("upper")
    found: dict[tuple[str, str], Ends] = {}
    for i, side in enumerate(sides):
        after, angle = sides[(i + 1) % len(sides)], side.after
        if angle is None or angle > 175.0:
            continue
        both = side in used and after in used
        tall = any(high_units(tops, rows, s) for s in (side, after))
        keep = clear(angle, 700.0 if tall else depth) + CLEAR if both or tall else lean(angle, depth)
        found[side.name, "right"] = found[after.name, "left"] = Ends(keep + lots.pick([0.0, 0.0, 30.0]))
        if both and SQUARE[0] <= angle <= SQUARE[1] and not tall and lots.some(0.6):
            hand = lots.pick(["left", "right"])
            corner = corner_unit(lots, tops, angle, hand)
            found[side.name, "right"], found[after.name, "left"] = corner if hand == "right" else corner[::-1]
    return {
        side.name: (found.get((side.name, "left"), Ends(10.0)), found.get((side.name, "right"), Ends(10.0)))
        for side in used
    }


def corner_unit(lots: Lots, tops: Tops, angle: float, hand: str) -> tuple[Ends, Ends]:
    """One row ends with a corner unit, the other begins beyond its wing."""
    family = lots.pick(tops.kit.families("upper", "l-corner", "diagonal-corner"))
    stands, slack = unit(lots, family, 9e9, hand), abs(90.0 - angle) * 30.0
    told = lots.some(0.5)
    return Ends(slack / 2, (stands,), told=False), Ends(
        family.wings[0] + slack + (20.0 if told else 0.0), told=told
    )


def high_units(tops: Tops, rows: list[Row], side: Side) -> list[Interval]:
    """From where to where units on the floor stand as high as wall units hang."""
    own = [place for row in rows if row.wall == side.name for place in row.places()]
    return [at for one, at in own if tops.kit.catalogue.families[one["unit"]].top > 1200.0]


def wide_openings(openings: Sequence[Data], side: Side) -> list[Interval]:
    """From where to where doors and windows are."""
    return [(o["at"], o["at"] + o["width"]) for o in openings if o["wall"] == side.name]


def upper_stretch(lots: Lots, tops: Tops, side: Side, at: Interval, left: Ends, right: Ends) -> list[Row]:
    """A row that begins or ends with a corner unit, or one anywhere."""
    room = at[1] - at[0] - length(left.units) - length(right.units)
    if room < 0.0:
        return []
    if left.units and right.units:
        return [Row(side.name, at[0], left.units, "upper", told=False),
                Row(side.name, at[1] - length(right.units), right.units, "upper", told=False)]  # fmt: skip
    units = (*left.units, *filled(lots, tops.kit, "upper", room, 3), *right.units)
    if not units:
        return []
    if right.units:
        return [Row(side.name, at[1] - length(units), units, "upper", told=False)]
    if left.units or not left.told:
        return [Row(side.name, at[0], units, "upper", told=left.told and not left.units)]
    units = ended(lots, tops.kit, "upper", units, room - length(units), lots.pick(["left", "right"]))
    start = at[0] + lots.whole(0, room - length(units))
    return [Row(side.name, max(at[0], start), units, "upper")]
