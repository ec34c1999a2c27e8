"""Waterfalls: ends of tops whose material goes on down to the floor, butted under the top or mitred to it.

A piece stands against the last unit, as deep as the top and as thick. Butted, the top runs over it; mitred, both
are cut at 45° so that their faces meet in one arris.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from shapely import box as rectangle

from countersunk.model.document.schema import FreeCorner
from countersunk.model.geometry.identity import PartKey, Position, Role, Which
from countersunk.model.geometry.part import Layer, Part, Pocket
from countersunk.model.tops.free_ends import Side, waterfall_of
from countersunk.model.tops.worktops import Length

FALLS: tuple[Side, ...] = ("left", "right")


def mitred(length: Length, corners: Iterable[FreeCorner]) -> Length:
    """The length with its ends cut at 45° where its material goes down mitred."""
    corners, part = tuple(corners), length.part
    cuts = tuple(_wedge(part, side) for side in FALLS if waterfall_of(length.stretch, side, corners) == "mitre")
    return replace(length, part=replace(part, pockets=(*part.pockets, *cuts))) if cuts else length


def waterfalls(lengths: Iterable[Length], corners: Iterable[FreeCorner]) -> Iterator[Part]:
    """The pieces that go down to the floor, by the ends that they stand under."""
    corners = tuple(corners)
    for length in lengths:
        for side, end in length.ends:
            joint = waterfall_of(length.stretch, side, corners)
            if end.kind == "free" and joint:
                yield _piece(length, side, joint)


def _piece(length: Length, side: Side, joint: str) -> Part:
    """Frame: x up from the floor, y from back to front, z outwards, so that its face shows as the top's does."""
    top, thick = length.part, length.part.thickness
    x0, y0, x1, y1 = top.outline.bounds
    under = length.stretch.units[0].family.top
    high = under + thick if joint == "mitre" else under
    out, at = (-1.0, x0 + thick) if side == "left" else (1.0, x1 - thick)
    floor = top.pose.moved(at, 0.0, -under)
    part = Part(
        key=PartKey(length.key, Role.WATERFALL, Which(at=(Position(side),))), called=length.id,
        layer=Layer.WORKTOPS, material=length.run.stock.code, outline=rectangle(0.0, y0, high, y1),
        thickness=thick, pose=floor.reaxed((0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (out, 0.0, 0.0)), grain=True,
    )  # fmt: skip
    return replace(part, pockets=(_wedge(part, "right"),)) if joint == "mitre" else part


def _wedge(part: Part, side: Side) -> Pocket:
    """What a cut of 45° takes off an end: nothing at the face, as much as the thickness below it."""
    x0, y0, x1, y1 = part.outline.bounds
    t = part.thickness
    low, high = (x1 - t - 1.0, x1 + 2 * t + 2.0) if side == "right" else (x0 - 2 * t - 2.0, x0 + t + 1.0)
    return Pocket(rectangle(low, y0 - 1.0, high, y1 + 1.0), -1.0, t + 1.0, 1.0 if side == "right" else -1.0)
