"""Ordinates: every number of a length measured from its one datum, so that errors do not add up.

Numbers along the front stand below it, numbers across the depth beside the end or cut-out that they belong to.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.facts.setting_out import marks, takes_hole_saw
from countersunk.model.geometry.profile import set_out_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import ranked, settled
from countersunk.model.tolerance import CONTACT, ON_LINE
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.edges import CUT_OUTS
from countersunk.model.tops.joins import Join
from countersunk.model.tops.slots import MarkKind, joint_side, screws_along
from countersunk.viewer.drawing.lettering import WIDE, mm
from countersunk.viewer.drawing.setout import Face, Hand, Setout
from countersunk.viewer.drawing.shapes import Ordinate, Point
from countersunk.viewer.drawing.spacing import spread

HEIGHT = 2.2
PITCH = 3.0
"""Height of numbers and the least distance between their lines, mm on paper."""

BELOW = 14.0
BESIDE = 5.5
"""From the front edge to the numbers below it, and from an end to those beside it, mm on paper."""

HOLE, BOLT, BISCUIT, PILOT, BACK = "ø", "B", "b", "p", "back"
"""What follows a number: a starter hole's middle, the middle of a bolt's or a biscuit's slot or of a pilot hole at
the joint, a corner at the back where the front has none."""

RANK = {"": 0, BACK: 1}
"""Which of several features with one number is written."""

SAME = 1
"""Numbers that agree to this many decimals are written once."""


@dataclass(frozen=True)
class Feature:
    """A point that is set out, as it is seen: along which axes, and what follows its number."""

    at: Point
    mark: str = ""
    axes: str = "xy"


def outline_features(setout: Setout) -> list[Feature]:
    """The datum, every corner of the outline, the ends of its arcs, and where the condition of an edge changes."""
    outer = [e for e in setout.length.part.edges if e.condition not in CUT_OUTS]
    corners = [setout.see(p) for e in outer for p in set_out_points(e.path)]
    behind = [p for p in corners if p[1] > setout.length.run.stock.depth - ON_LINE]
    plain = [Feature(p, axes="y" if p in behind else "xy") for p in corners]
    return [Feature((0.0, 0.0)), *plain, *(Feature(p, BACK, "x") for p in behind)]


def line_features(setout: Setout, cutout: PlacedCutout) -> list[Feature]:
    """Where the line to cut is furthest left, right, front and back, clear of its round corners; the middle of a
    hole for a hole saw, with its diameter.
    """
    if takes_hole_saw(cutout.template):
        middle = setout.see((cutout.line.centroid.x, cutout.line.centroid.y))
        return [Feature(middle, f"{HOLE}{mm(cutout.template.line[0])}")]
    x0, y0, x1, y1 = setout.see_shape(cutout.line).bounds
    r = cutout.template.radius
    sides = [Feature((x, y0 + r), axes="x") for x in (x0, x1)]
    return [*sides, *(Feature((x, y), axes="y") for x in (x0 + r, x1 - r) for y in (y0, y1))]


def hole_features(kitchen: Kitchen, setout: Setout, cutout: PlacedCutout) -> list[Feature]:
    """The middles of the starter holes of a cut-out."""
    holes = [m for m in marks(kitchen, setout.length) if m.kind is MarkKind.STARTER]
    return [Feature(setout.see(m.centre), HOLE) for m in holes if m.of == cutout.id]


def slot_features(setout: Setout, join: Join) -> list[Feature]:
    """Where the middle of each slot meets the joint: biscuits and bolts in turn, or pilot holes in a male end."""
    side = joint_side(join, setout.length)
    marked = [(x, BISCUIT if i % 2 == 0 else BOLT) for i, x in enumerate(join.stations)]
    if join.has_strip and join.male == setout.length.id:
        marked = [(x, PILOT) for x in screws_along(join.male_line.length)]
    axis = "x" if runs_along(setout, join) else "y"
    points = [(side.interpolate(x), mark) for x, mark in marked]
    return [Feature(setout.see((p.x, p.y)), mark, axis) for p, mark in points]


def runs_along(setout: Setout, join: Join) -> bool:
    """Whether the joint's straight side runs with the front rather than across the depth."""
    (x0, y0), (x1, y1) = joint_side(join, setout.length).coords
    return bool(abs(x1 - x0) > abs(y1 - y0))


def ordinates(kitchen: Kitchen, setout: Setout, scale: float) -> list[Ordinate]:
    """Every ordinate of a face, its number in a place of its own. Slots are set out on the underside only."""
    cutouts = [c for c in kitchen.cutouts if c.length == setout.length.id]
    joins = [j for j in kitchen.joins if setout.length.id in (j.female, j.male)]
    slotted = joins if setout.face is Face.UNDERSIDE else []
    outline = outline_features(setout)
    of_cutouts = [[*line_features(setout, c), *hole_features(kitchen, setout, c)] for c in cutouts]
    slots = [f for j in slotted for f in slot_features(setout, j)]
    found = below([*outline, *(f for some in of_cutouts for f in some), *slots], scale)
    beside_ends = [*outline, *slots]
    for cutout, features in zip(cutouts, of_cutouts, strict=True):
        column = _beside_cutout(setout, cutout, cutouts, features, scale)
        found += column
        beside_ends += [] if column else features
    return found + _beside_ends(setout, beside_ends, scale)


def below(features: Iterable[Feature], scale: float) -> list[Ordinate]:
    """x ordinates in a row below the front edge (y = 0)."""
    kept = _once(features, 0)
    places = spread([f.at[0] for f in kept], PITCH * scale)
    return [Ordinate("x", f.at, (x, -BELOW * scale), mark=f.mark) for f, x in zip(kept, places, strict=True)]


def beside(features: Iterable[Feature], x: float, scale: float, nearest: Hand) -> list[Ordinate]:
    """y ordinates in a column at ``x``; ``nearest`` is the side on which the column stands."""
    towards = 1.0 if nearest == "left" else -1.0
    kept = _once(features, 1, towards)
    places = spread([f.at[1] for f in kept], PITCH * scale)
    return [Ordinate("y", f.at, (x, y), mark=f.mark) for f, y in zip(kept, places, strict=True)]


def _once(features: Iterable[Feature], axis: Literal[0, 1], towards: float = 1.0) -> list[Feature]:
    """One feature for each number: what has no mark goes first, then what lies nearest to its label."""
    best: dict[float, Feature] = {}
    named = [f for f in features if "xy"[axis] in f.axes]
    for f in ranked(named, key=lambda f: (RANK.get(f.mark, len(RANK)), towards * f.at[1 - axis])):
        best.setdefault(round(settled(f.at[axis]), SAME) + 0.0, f)
    return [best[value] for value in sorted(best)]


def _beside_ends(setout: Setout, features: list[Feature], scale: float) -> list[Ordinate]:
    x0, _, x1, _ = setout.see_shape(setout.length.part.outline).bounds
    middle = (x0 + x1) / 2
    left = [f for f in features if f.at[0] <= middle + CONTACT]
    right = [f for f in features if f.at[0] > middle + CONTACT]
    return [
        *beside(left, x0 - BESIDE * scale, scale, "left"),
        *beside(right, x1 + BESIDE * scale, scale, "right"),
    ]


def _beside_cutout(
    setout: Setout, cutout: PlacedCutout, cutouts: list[PlacedCutout], features: list[Feature], scale: float
) -> list[Ordinate]:
    """A column on the side of the cut-out where there is room on the length, or nothing."""
    x0, y0, x1, y1 = setout.see_shape(cutout.rim).bounds
    room = (BESIDE + 7 * WIDE * HEIGHT + 1.0) * scale
    others = [setout.see_shape(c.rim) for c in cutouts if c is not cutout]
    whole = setout.see_shape(Polygon(setout.length.part.outline.exterior))
    for side, x in (("left", x0), ("right", x1)) if setout.on_paper == "left" else (("right", x1), ("left", x0)):
        place = rectangle(x - room, y0, x, y1) if side == "left" else rectangle(x, y0, x + room, y1)
        if whole.covers(place) and not any(place.intersects(other) for other in others):
            way = -1.0 if side == "left" else 1.0
            return beside(features, x + way * BESIDE * scale, scale, "left" if side == "left" else "right")
    return []
