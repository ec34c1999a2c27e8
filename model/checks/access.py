"""Measure of the way in: whether each length of worktop, as cut, can be carried to the kitchen."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.carry import longest, passes, surely_not, way_in
from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_length
from countersunk.model.facts.plans import face, top_plan, upright
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.worktops import Length

NOT_PROVEN = "not proven: {} wind; try them with a batten as long, held the same way"
OTHERWISE = "another way in, such as a window; try it with a batten as long"


def carry_in(kitchen: Kitchen) -> Iterator[Place]:
    """What is left at the tightest place on the way in, with hands on every side of the length as cut, mm.

    Held the same way from outside to the kitchen: on edge, flat, tilted or on end, whichever passes first. Not
    looked at where the document tells no way in. What is on the safe side and what is taken for granted: see
    `model.carry`.
    """
    access = kitchen.document.access
    winding = way_in(access).winding if access else ()
    for length in kitchen.lengths if access else ():
        part = length.part
        found = passes(part.outline, part.thickness, access, kitchen.allowances)
        volume, segment = upright(top_plan(length), part.pose.origin[2], face(length))
        top = of_length(length)
        where = Where(Phrase.CARRIED, top, note=f"{found.way}, at {found.stage}{_left_free(kitchen)}")
        if found.ok and winding:
            yield Place(where, None, (top,), volume, segment, reason=NOT_PROVEN.format(winding[0].name))
            continue
        advice = "" if found.ok else f"{_cure(length, kitchen)}; {_how_sure(length, kitchen)}"
        yield Place(where, found.margin, (top,), volume, segment, advice=advice)


def _left_free(kitchen: Kitchen) -> str:
    """The allowances that it was held against, in words."""
    allowances = kitchen.allowances
    packed = f", {allowances.packing:g} of packing" if allowances.packing else ""
    level = "" if allowances.tilt else ", kept level"
    return f", {allowances.hand_room:g} hand room{packed}{level}"


def _cure(length: Length, kitchen: Kitchen) -> str:
    """What could be carried in instead."""
    depth, thickness = length.run.stock.depth, length.part.thickness
    most = longest(depth, thickness, kitchen.document.access, kitchen.allowances)
    if most < depth:
        return f"nothing {depth:g} deep comes in this way; {OTHERWISE}"
    return f"up to {most:.0f} long comes in: one more join, cut before it is carried; or {OTHERWISE}"


def _how_sure(length: Length, kitchen: Kitchen) -> str:
    """Whether that it does not come in is certain, and what to measure where it is not."""
    access = kitchen.document.access
    if shut := surely_not(length.part.outline, length.part.thickness, access, kitchen.allowances):
        return f"this is certain: it does not pass {shut}, however it is held"
    doors = [i for i, stage in enumerate(access, start=1) if stage.door and stage.door.beyond is None]
    beside = [i for i in doors if any(access[j].turn for j in (i - 2, i) if 0 <= j < len(access))]
    if beside:
        return f"not certain: measure how far the floor is free beyond the door (stage {beside[0]})"
    return "not certain: it might come in if you change how it is held half-way round"
