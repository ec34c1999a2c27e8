"""Corner units that stand along both walls: the L with a door that folds, and the diagonal with a door across.

Everything is worked out for a unit of the right hand, whose corner is at its right back, and mirrored for the left.
The two backs lie on the carcass whatever the method says, since neither could slide into a groove.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.geometry.frames import Point, Pose
from countersunk.model.geometry.identity import PartKey, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import ALL_ROUND, AXES, Block, board, flat, leg, turned_block, upright_pose
from countersunk.model.units.carcass import openings
from countersunk.model.units.handles import grip_height, handle, handle_at
from countersunk.model.units.makers import makes

IN_WING = Which(at=(Position.WING,))
"""Of sides and doors, that which stands at the other wall of the corner."""


class _Lines(NamedTuple):
    """Where things lie in a corner unit of the right hand, mm: its size, and its boards' thicknesses."""

    width: float
    wing: float
    depth: float
    t: float
    back: float
    front: float

    @property
    def slant(self) -> float:
        """Length of the diagonal between the front edges of the two sides."""
        return math.hypot(self.width - self.depth, self.wing - self.depth)

    @property
    def along(self) -> Point:
        """Unit vector along the diagonal, from the first side to that of the wing."""
        return (self.width - self.depth) / self.slant, (self.wing - self.depth) / self.slant


@makes("l-corner")
def l_corner(unit: PlacedUnit) -> list[Part]:
    """A carcass in the shape of an L; its door folds: one leaf hangs on the wing, the other on the first."""
    return [*_shell(unit), *_l_rails(unit), *_boards(unit), *_folding(unit)]


@makes("diagonal-corner")
def diagonal_corner(unit: PlacedUnit) -> list[Part]:
    """A carcass of five sides with one door across the corner."""
    return [*_shell(unit), *_diagonal_rails(unit), *_boards(unit), *_across(unit)]


def _lines(unit: PlacedUnit) -> _Lines:
    boards = unit.boards
    return _Lines(
        unit.width, unit.wing, unit.family.depth,
        boards.carcass.thickness, boards.back.thickness, boards.front.thickness,
    )  # fmt: skip


def _shell(unit: PlacedUnit) -> list[Part]:
    """Two backs, the side at the open end, and the side at the wing's end."""
    w, wing, depth, t, b, _ = _lines(unit)
    base, top, code = unit.family.base, unit.family.top, unit.boards.carcass.code
    far = Position.LEFT if unit.hand == "right" else Position.RIGHT
    blocks = {
        "side": (turned_block(unit, Block(0.0, t, b, depth, base, top)), "zyx"),
        "wing": (turned_block(unit, Block(w - depth, w - b, wing - t, wing, base, top)), "zxy"),
    }
    bands = unit.boards.method.bands.side
    rear = unit.boards.back.code
    return [
        board(unit, Role.BACK, Block(0.0, w, 0.0, b, base, top), "zxy", rear, which=Which(numbers=(1,))),
        board(unit, Role.BACK, turned_block(unit, Block(w - b, w, b, wing, base, top)), "zyx", rear,
              which=Which(numbers=(2,))),
        board(unit, Role.SIDE, *blocks["side"], code, which=Which(at=(far,)), banded=bands),
        board(unit, Role.SIDE, *blocks["wing"], code, which=IN_WING, banded=_across_band(unit, bands)),
    ]  # fmt: skip


def _across_band(unit: PlacedUnit, bands: tuple[str, ...]) -> tuple[str, ...]:
    """Bands of a board in the wing, whose front looks to the side: to that where x begins in a right-hand unit."""
    swap = {"front": "back", "back": "front"} if unit.hand == "right" else {}
    return tuple(swap.get(band, band) for band in bands)


def _boards(unit: PlacedUnit) -> list[Part]:
    """Bottom, whole top where there are no rails, shelves, legs."""
    family, how, stuff = unit.family, unit.boards.method, unit.boards.carcass
    (whole,) = openings(unit)
    count, t, play = whole.bay.shelves, stuff.thickness, how.shelf_play
    step = (whole.high - whole.low - count * t) / (count + 1)
    inside, shelf = unit.turned(_inside(unit)), unit.turned(_inside(unit, play, how.shelf_setback))
    found = [flat(unit, Role.BOTTOM, inside, family.base, stuff, banded=_inner(how.bands.bottom))]
    if family.rails == "none":
        found.append(flat(unit, Role.TOP, inside, family.top - t, stuff, banded=_inner(how.bands.top)))
    for i in range(count):
        z = whole.low + step + i * (step + t)
        which = Which(numbers=(i + 1,))
        found.append(flat(unit, Role.SHELF, shelf, z, stuff, which=which, banded=_inner(how.bands.shelf)))
    return found if family.level == "upper" else [*found, *_legs(unit)]


def _inner(bands: tuple[str, ...]) -> tuple[str, ...]:
    """The front edge of a board in a corner lies within its bounds."""
    return tuple("inner" if band == "front" else band for band in bands)


def _inside(unit: PlacedUnit, play: float = 0.0, setback: float = 0.0) -> Polygon:
    """The plan between sides and backs, ``play`` less all round and ``setback`` less at the front."""
    line = _lines(unit)
    w, wing, depth, t, b, _ = line
    x0, x1, y0, y1 = t + play, w - b - play, b + play, wing - t - play
    back = [(x0, y0), (x1, y0), (x1, y1)]
    if unit.family.kind.front == "folded":
        inner = (w - depth + setback, depth - setback)
        return Polygon([*back, (inner[0], y1), inner, (x0, inner[1])])
    rise = (wing - depth) / (w - depth)
    start = depth - setback * line.slant / (w - depth)  # where the front's line meets x = 0
    return Polygon([*back, ((y1 - start) / rise, y1), (x0, start + rise * x0)])


def _legs(unit: PlacedUnit) -> list[Part]:
    w, wing, depth, *_ = _lines(unit)
    places = [(50.0, 60.0), (50.0, depth - 100.0), (w - 60.0, 60.0), (w - 60.0, wing - 50.0),
              (w - depth + 100.0, wing - 50.0)]  # fmt: skip
    if unit.family.kind.front == "folded":
        places.append((w - depth + 100.0, depth - 100.0))
    xs = [x if unit.hand == "right" else w - x for x, _ in places]
    return [
        leg(unit, Which(numbers=(i,)), x, y) for i, (x, (_, y)) in enumerate(zip(xs, places, strict=True), start=1)
    ]


def _l_rails(unit: PlacedUnit) -> list[Part]:
    """Flat rails along both backs and both fronts, those of the wing ending on the others."""
    if unit.family.rails == "none":
        return []
    w, wing, depth, t, *_ = _lines(unit)
    rail, inner, bands = unit.boards.method.rail, w - depth, unit.boards.method.bands.rail
    return [
        *_back_rails(unit),
        _rail(unit, (Position.FRONT,), (t, inner + rail, depth - rail, depth), "xyz", bands),
        _rail(unit, (Position.WING, Position.FRONT), (inner, inner + rail, depth, wing - t), "yxz",
              _across_band(unit, bands)),
    ]  # fmt: skip


def _back_rails(unit: PlacedUnit) -> list[Part]:
    """Along both backs, flat, or on edge where a sink or hob hangs before them."""
    w, wing, _, t, b, _ = _lines(unit)
    rail = unit.boards.method.rail
    if unit.rails == "edge":
        low, top, code = unit.family.top - rail, unit.family.top, unit.boards.carcass.code
        back = turned_block(unit, Block(t, w - b, b, b + t, low, top))
        side = turned_block(unit, Block(w - b - t, w - b, b + t, wing - t, low, top))
        at = (Position.WING, Position.BACK)
        return [
            board(unit, Role.RAIL, back, "xzy", code, which=Which(at=at[1:])),
            board(unit, Role.RAIL, side, "yzx", code, which=Which(at=at)),
        ]
    return [
        _rail(unit, (Position.BACK,), (t, w - b, b, b + rail), "xyz"),
        _rail(unit, (Position.WING, Position.BACK), (w - b - rail, w - b, b + rail, wing - t), "yxz"),
    ]


def _rail(
    unit: PlacedUnit, at: tuple[Position, ...], plan: tuple[float, float, float, float], axes: str,
    banded: tuple[str, ...] = (),
) -> Part:  # fmt: skip
    t, top = unit.boards.carcass.thickness, unit.family.top
    block = turned_block(unit, Block(*plan, top - t, top))
    return board(unit, Role.RAIL, block, axes, unit.boards.carcass.code, which=Which(at=at), banded=banded)


def _diagonal_rails(unit: PlacedUnit) -> list[Part]:
    """Flat rails along both backs, and one along the diagonal whose ends lie against the sides."""
    if unit.family.rails == "none":
        return []
    how, t = unit.boards.method, unit.boards.carcass.thickness
    strip = unit.turned(one_polygon(_inside(unit).difference(_inside(unit, 0.0, how.rail))))
    start, _ = _ends(unit, 0.0)
    own = _in_plan(unit, start, unit.family.top - t)
    outline = own.plan_from_room(strip)
    pose = unit.frame.moved(*own.origin).reaxed(own.x, own.y, own.z)
    rail = Part(
        key=PartKey(unit.key, Role.RAIL, Which(at=(Position.FRONT,))), called=unit.name,
        layer=Layer.CARCASS, material=unit.boards.carcass.code, outline=outline, thickness=t, pose=pose,
        banded=how.bands.rail,
    )  # fmt: skip
    return [*_back_rails(unit), rail]


def _in_plan(unit: PlacedUnit, start: Point, z: float) -> Pose:
    """A frame in the unit's own, at ``start``: x along the diagonal front, y out of it, z up."""
    ux, uy = _lines(unit).along
    uy = uy if unit.hand == "right" else -uy
    return Pose((*start, z), (ux, uy, 0.0), (-uy, ux, 0.0))


def _ends(unit: PlacedUnit, short: float) -> tuple[Point, Point]:
    """Left and right end of the diagonal as one faces it, each ``short`` of the sides' front edges, mm."""
    line = _lines(unit)
    (ux, uy), w, wing, depth = line.along, line.width, line.wing, line.depth
    a = (ux * short, depth + uy * short)
    b = (w - depth - ux * short, wing - uy * short)
    return (a, b) if unit.hand == "right" else ((w - b[0], b[1]), (w - a[0], a[1]))


def _folding(unit: PlacedUnit) -> list[Part]:
    """The leaf on the wing carries the hinges, the other one the handle; they meet in the inner corner."""
    w, wing, depth, _, _, f = _lines(unit)
    gap, stuff = unit.boards.method.reveal, unit.boards.front.code
    z = (unit.family.base + gap, unit.family.top - gap)
    hung = turned_block(unit, Block(w - depth - f, w - depth, depth + gap, wing - gap, *z))
    loose = turned_block(unit, Block(gap, w - depth - f - gap, depth, depth + f, *z))
    (whole,) = openings(unit)
    off, upright = unit.handle.from_edge, unit.handle.kind == "bar"
    x = off if unit.hand == "right" else w - off
    look = {"layer": Layer.FRONTS, "banded": ALL_ROUND, "grain": True}
    return [
        board(unit, Role.DOOR, hung, "zyx", stuff, which=IN_WING, **look),  # type: ignore[arg-type]
        board(unit, Role.LEAF, loose, "zxy", stuff, **look),  # type: ignore[arg-type]
        *handle(unit, Which(Role.LEAF), x, grip_height(unit, whole), upright=upright),
    ]


def _across(unit: PlacedUnit) -> list[Part]:
    """The door across the corner with its handle, clear of the neighbours' doors."""
    (ux, uy), f, gap = _lines(unit).along, unit.boards.front.thickness, unit.boards.method.reveal
    short = max((gap + uy * f) / ux, (gap + ux * f) / uy)
    start, end = _ends(unit, short)
    (whole,) = openings(unit)
    pose = upright_pose(unit, start, end, unit.family.base + gap)
    width, height = math.dist(start, end), unit.family.height - 2 * gap
    door = Part(
        key=PartKey(unit.key, Role.DOOR), called=unit.name, layer=Layer.FRONTS,
        material=unit.boards.front.code, outline=rectangle(0.0, 0.0, height, width), thickness=f, pose=pose,
        banded=ALL_ROUND, grain=True, hinge=unit.hand,
    )  # fmt: skip
    up, off = grip_height(unit, whole) - unit.family.base - gap, unit.handle.from_edge
    middle = pose.moved(up, off if unit.hand == "right" else width - off, f)
    grip = middle.reaxed(AXES["y"], AXES["x"], AXES["z"])
    return [door, *handle_at(unit, Which(Role.DOOR), grip, upright=unit.handle.kind == "bar")]
