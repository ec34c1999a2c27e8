"""Units without doors: the open end of a row, and the room for knees under a breakfast bar."""

from __future__ import annotations

from dataclasses import replace

from shapely import Point, Polygon
from shapely import box as rectangle

from countersunk.model.geometry.identity import Position, Role, Which
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.geometry.profile import one_polygon
from countersunk.model.layout.placing import PlacedUnit
from countersunk.model.units.board import Block, board, flat, leg, turned_block
from countersunk.model.units.carcass import openings
from countersunk.model.units.makers import makes

POST = 60.0


@makes("open-end")
def open_end(unit: PlacedUnit) -> list[Part]:
    """Fixed shelves between a back and one side, open to the front and to the unit's hand, flush with fronts."""
    family, stuff, t = unit.family, unit.boards.carcass, unit.boards.carcass.thickness
    closed = Position.LEFT if unit.hand == "right" else Position.RIGHT
    side = turned_block(unit, Block(0.0, t, 0.0, unit.face, family.base, family.top))
    rear = turned_block(unit, Block(t, unit.width, 0.0, t, family.base, family.top))
    plan, bands = unit.turned(_shelf(unit)), ("front", unit.hand, *(("inner",) if family.chamfer else ()))
    levels = {Role.BOTTOM: family.base, Role.TOP: family.top - t}
    return [
        board(unit, Role.SIDE, side, "zyx", stuff.code, which=Which(at=(closed,)), banded=("front",)),
        board(unit, Role.BACK, rear, "zxy", stuff.code, banded=(("back" if unit.hand == "left" else "front"),)),
        *(flat(unit, role, plan, z, stuff, banded=bands) for role, z in levels.items()),
        *(flat(unit, Role.DIVIDER, plan, z, stuff, which=Which(numbers=(i,)), banded=bands)
          for i, z in enumerate(_levels(unit), start=1)),
        *_legs(unit, plan),
    ]  # fmt: skip


def _shelf(unit: PlacedUnit) -> Polygon:
    """The plan of a shelf of a unit that is open to the right, its front corner cut off by the chamfer."""
    t, w, face, cut = unit.boards.carcass.thickness, unit.width, unit.face, unit.family.chamfer
    corner = [(w, face - cut), (w - cut, face)] if cut else [(w, face)]
    return Polygon([(t, t), (w, t), *corner, (t, face)])


def _levels(unit: PlacedUnit) -> list[float]:
    (whole,) = openings(unit)
    count, t = whole.bay.shelves, unit.boards.carcass.thickness
    step = (whole.high - whole.low - count * t) / (count + 1)
    return [whole.low + step + i * (step + t) for i in range(count)]


def _legs(unit: PlacedUnit, plan: Polygon) -> list[Part]:
    """A leg near each corner that the shelf covers; none under what hangs on the wall."""
    xs, ys = (50.0, unit.width - 50.0), (60.0, unit.family.depth - 100.0)
    places = [(x, y) for y in ys for x in xs if plan.buffer(-15.0).contains(Point(x, y))]
    if unit.family.level == "upper":
        return []
    return [leg(unit, Which(numbers=(i,)), x, y) for i, (x, y) in enumerate(places, start=1)]


ROD = 14.0
"""Across a bracket's rod, mm; it is drilled for in the shelf (common practice, no source)."""


@makes("floating-shelf")
def floating_shelf(unit: PlacedUnit) -> list[Part]:
    """A shelf as deep as its unit with its front, on rods out of the wall that go into it by half of its depth."""
    hung, base, top = unit.family.floats, unit.family.base, unit.family.top
    z, deep = (base + top - ROD) / 2, unit.face / 2
    rods = [Block(x - ROD / 2, x + ROD / 2, 0.0, deep, z, z + ROD) for x in hung.places(unit.width)]
    drilled = tuple(Pocket(rectangle(r.x0, -1.0, r.x1, deep), r.z0 - base, r.z1 - base) for r in rods)
    shelf = board(unit, Role.FLOATING, Block(0.0, unit.width, 0.0, unit.face, base, top), "xyz", hung.article,
                  layer=Layer.FRONTS, grain=True)  # fmt: skip
    return [
        replace(shelf, pockets=drilled),
        *(board(unit, Role.BRACKET, rod, "yxz", hung.bracket, which=Which(numbers=(i,)), layer=Layer.HARDWARE)
          for i, rod in enumerate(rods, start=1)),
    ]  # fmt: skip


@makes("knee-space")
def knee_space(unit: PlacedUnit) -> list[Part]:
    """Two rails on edge under the top, and at the unit's hand a panel or two posts that carry it."""
    family, stuff, how = unit.family, unit.boards.front, unit.boards.method
    w, t, top = unit.width, stuff.thickness, family.top
    end = w - (POST if family.posts else t)
    rail = Block(0.0, end, 0.0, t, top - how.rail, top)
    ahead = rail._replace(y0=unit.face - 2 * POST, y1=unit.face - 2 * POST + t)
    rails = {Position.BACK: rail, Position.FRONT: ahead}
    return [
        *(board(unit, Role.RAIL, turned_block(unit, block), "xzy", stuff.code, which=Which(at=(at,)),
                banded=("front",)) for at, block in rails.items()),
        *(_posts(unit) if family.posts else [_gable(unit)]),
    ]  # fmt: skip


COLUMN = 80.0
"""Across the columns and the beam of a frame that moves a top, mm (common practice, no source)."""


@makes("lifting-frame")
def lifting_frame(unit: PlacedUnit) -> list[Part]:
    """Two columns with a beam under the top between them, in the middle of its depth; bought as one."""
    wide, high, y = unit.width, unit.family.top, (unit.face - COLUMN) / 2
    block = Block(0.0, wide, y, y + COLUMN, 0.0, high)
    frame = board(unit, Role.LIFT, block, "xzy", unit.family.lifts.article, layer=Layer.HARDWARE)
    gap = rectangle(COLUMN, -1.0, wide - COLUMN, high - COLUMN)
    return [replace(frame, outline=one_polygon(frame.outline.difference(gap)))]


def _posts(unit: PlacedUnit) -> list[Part]:
    w, top, code = unit.width, unit.family.top, f"post.{unit.family.top:g}"
    places = {Position.BACK: 40.0, Position.FRONT: unit.face - 40.0 - POST}
    blocks = {at: turned_block(unit, Block(w - POST, w, y, y + POST, 0.0, top)) for at, y in places.items()}
    return [
        board(unit, Role.POST, block, "zxy", code, which=Which(at=(at,)), layer=Layer.HARDWARE)
        for at, block in blocks.items()
    ]


def _gable(unit: PlacedUnit) -> Part:
    stuff = unit.boards.front
    block = turned_block(
        unit, Block(unit.width - stuff.thickness, unit.width, -unit.reach, unit.face, 0.0, unit.family.top)
    )
    sides = ("front", "left", "right")
    return board(unit, Role.PANEL, block, "zyx", stuff.code, layer=Layer.FRONTS, banded=sides, grain=True)
