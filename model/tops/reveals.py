"""Reveals: the pieces of worktop that run on into the reveals of windows, each in the place of a sill board.

A piece is made to measure from the top's material. Its front lies against the back of the top, on the line of the
wall; it stands off the reveal's sides and the frame by the gap left at a notch, and rests on the wall's sill.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shapely import LineString
from shapely import box as rectangle

from countersunk.model.document.room import Opening
from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.survey import Survey
from countersunk.model.tolerance import CONTACT, FIT
from countersunk.model.tops.worktops import Length

PACKED = 100.0
"""The sill of a wall may lie so far below a top's underside, and is packed up, mm (common practice, no source)."""

BEHIND = 20.0
"""A top whose back is no further than this from its wall reaches the reveal, mm: more would be a gap."""


def reveal_pieces(survey: Survey, lengths: Sequence[Length], gap: float) -> Iterator[Part]:
    """The piece in each window that the tops run into, called ``R1``, ``R2`` …; ``gap`` stays free round it, mm.

    Raises InputError where no one top passes the window, or the sill stands in its way.
    """
    wished = [(i, o) for i, o in enumerate(survey.openings) if o.top_in]
    for number, (i, window) in enumerate(wished, start=1):
        field = f"room.openings[{i}]"
        top = _passes(window, field, lengths)
        _check(window, field, top)
        wide, deep = window.width - 2 * gap, (window.reveal or 0.0) - gap
        frame = survey.wall(window.wall).frame.moved(window.at + gap, -deep, top.part.pose.origin[2])
        yield Part(
            key=PartKey(f"{window.key}:reveal", Role.REVEAL), called=f"R{number}", layer=Layer.WORKTOPS,
            material=f"infill.{top.run.stock.thickness:g}", outline=rectangle(0.0, 0.0, wide, deep + _back(top)),
            thickness=top.run.stock.thickness, pose=frame, grain=True,
        )  # fmt: skip


def _back(top: Length) -> float:
    """How far the back of a top stands off the line of its wall, mm; wood leaves a gap there."""
    return max(0.0, float(top.part.outline.bounds[1]))


def _passes(window: Opening, field: str, lengths: Sequence[Length]) -> Length:
    """The length that runs past the whole of a window. Raises InputError."""
    line = LineString([(window.at, BEHIND), (window.at + window.width, BEHIND)])
    for top in (t for t in lengths if t.run.wall == window.wall):
        x0, y0, x1, y1 = top.part.outline.bounds
        if rectangle(top.x + x0, y0, top.x + x1, y1).buffer(CONTACT).covers(line):
            return top
    raise InputError.at(
        f"{field}.top_in", found=f"true, and no one top along the whole window in wall {window.wall}",
        allowed="a window that one length of worktop passes", advice="a longer row, or a join beside the window",
    )  # fmt: skip


def _check(window: Opening, field: str, top: Length) -> None:
    low, reveal = top.part.pose.origin[2], window.reveal
    if window.kind != "window" or reveal is None:
        found = f"a {window.kind} without a reveal" if window.kind == "window" else f"a {window.kind}"
        raise InputError.at(f"{field}.top_in", found=found, allowed="a window with its reveal: reveal: 120")
    if not low - PACKED - FIT <= window.sill <= low + FIT:
        raise InputError.at(
            f"{field}.sill", found=f"{window.sill:g} under a top whose underside is at {low:g}",
            allowed=f"{low - PACKED:g} to {low:g}, packed up to it",
            advice="the sill of the wall, without its board",
        )  # fmt: skip
