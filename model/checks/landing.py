"""Measures of landing: unbroken worktop beside a sink, a hob or a refrigerator, to put things down on.

Landing is measured along the front edge, from the rim to the first thing that breaks it: another cut-out's rim, a
tall unit, a wall, the corner of the room where two fronts meet, or the end of the top. What lies round a corner
is not counted, although the planning guidelines let some of it count.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, takewhile
from typing import NamedTuple

from shapely import LineString

from model.checks.finding import Place, Volume
from model.checks.plans import SAME, appliances, block, face, front_of, of_kind, openings, top_plan, unit_plan
from model.cutouts import PlacedCutout
from model.kitchen import Kitchen
from model.layout import PlacedRun, PlacedUnit
from model.profile import plan_points
from model.tolerance import CONTACT, ON_LINE
from model.worktops import Length

ACROSS = 1219.0
"""A landing across from a refrigerator counts up to 48 in (NKBA Kitchen Planning Guidelines, seen), mm."""

CLEAR = 380.0
"""How high above the face a landing is drawn, mm (15 in clear above: NKBA, seen); it is not checked."""

ENDS = {"free": "the end", "tall": "a tall unit", "wall": "the wall", "join": "the corner"}


class Run(NamedTuple):
    """A stretch of front edge in its length's frame, mm along it, and what stops it."""

    start: float
    stop: float
    by: str

    @property
    def width(self) -> float:
        """Its length along the front, mm."""
        return abs(self.stop - self.start)


def beside_hob_longer(kitchen: Kitchen) -> Iterator[Place]:
    """The longer of the landings to the left and the right of a hob, mm."""
    return (_better(kitchen, hob, length) for hob, length in of_kind(kitchen, "hob"))


def beside_hob_shorter(kitchen: Kitchen) -> Iterator[Place]:
    """The shorter of the landings to the left and the right of a hob, mm."""
    return (_worse(kitchen, hob, length) for hob, length in of_kind(kitchen, "hob"))


def beside_sink_longer(kitchen: Kitchen) -> Iterator[Place]:
    """The longer of the landings to the left and the right of a sink, mm; a drainer belongs to the sink."""
    return (_better(kitchen, sink, length) for sink, length in of_kind(kitchen, "sink"))


def beside_sink_shorter(kitchen: Kitchen) -> Iterator[Place]:
    """The shorter of the landings to the left and the right of a sink, mm."""
    return (_worse(kitchen, sink, length) for sink, length in of_kind(kitchen, "sink"))


def sink_to_hob(kitchen: Kitchen) -> Iterator[Place]:
    """Worktop between the rims of a sink and a hob in one length, along the front, mm."""
    for a, b in combinations(openings(kitchen), 2):
        if a.length == b.length and {a.template.kind, b.template.kind} == {"sink", "hob"}:
            left, right = sorted((a, b), key=lambda c: c.rim.bounds[0])
            run = Run(left.rim.bounds[2], right.rim.bounds[0], right.name)
            text = f"between {left.name} and {right.name}"
            yield _place(kitchen.length(a.length), run, text, (left.name, right.name))


def beside_fridge(kitchen: Kitchen) -> Iterator[Place]:
    """The best landing of a refrigerator, mm: beside it where its grip is, or across from it within `ACROSS`.

    One under a worktop has its landing above it and is no place.
    """
    for fridge in (f for f in appliances(kitchen, "fridge") if not f.family.carries_top):
        found = [*_beside(kitchen, fridge), *_across(kitchen, fridge)]
        if found:
            yield max(found, key=_width)
        else:
            text = f"{fridge.name}: no worktop beside its grip or across from it"
            volume = Volume(unit_plan(fridge), fridge.family.base, fridge.family.top)
            yield Place(text, 0.0, (fridge.name,), volume)


def front_span(kitchen: Kitchen, length: Length) -> tuple[float, float]:
    """Where the front edge of a length begins and ends in its frame (mm), up to where another front meets it.

    A peninsula that stands out from the front leaves it as it is: worktop lies on both sides of it. It begins and
    ends at 0 for a length in a tight corner that keeps no front at all.
    """
    depth, outline = length.run.stock.depth, plan_points(length.part.outline.exterior)
    xs = [x for x, y in outline if y > depth - ON_LINE]
    x0, x1 = min(xs, default=0.0), max(xs, default=0.0)
    for join in kitchen.joins:
        if join.male == length.id or (join.female == length.id and join.kind != "tee"):
            x = length.part.pose.plan_from_room(LineString(join.line.coords)).coords[0][0]
            x0, x1 = (max(x0, x), x1) if x < length.part.length / 2 else (x0, min(x1, x))
    return x0, x1


def landings(kitchen: Kitchen, cutout: PlacedCutout, length: Length) -> dict[str, Run]:
    """The landing to the left and to the right of a rim."""
    x0, x1 = front_span(kitchen, length)
    rim0, _, rim1, _ = cutout.rim.bounds
    others = [c for c in openings(kitchen) if c.length == length.id and c is not cutout]
    lefts = [(c.rim.bounds[2], c.name) for c in others if c.rim.bounds[2] <= rim0 + CONTACT]
    rights = [(c.rim.bounds[0], c.name) for c in others if c.rim.bounds[0] >= rim1 - CONTACT]
    left = max([(x0, ENDS[length.left.kind]), *lefts])
    right = min([(x1, ENDS[length.right.kind]), *rights])
    return {"left": Run(rim0, min(rim0, left[0]), left[1]), "right": Run(rim1, max(rim1, right[0]), right[1])}


def _width(place: Place) -> float:
    return round(place.value or 0.0, SAME)


def _better(kitchen: Kitchen, cutout: PlacedCutout, length: Length) -> Place:
    return max(_sides(kitchen, cutout, length), key=_width)


def _worse(kitchen: Kitchen, cutout: PlacedCutout, length: Length) -> Place:
    return min(_sides(kitchen, cutout, length), key=_width)


def _sides(kitchen: Kitchen, cutout: PlacedCutout, length: Length) -> list[Place]:
    return [
        _place(length, run, f"{side} of {cutout.name}, up to {run.by}", (cutout.name,), cutout.template.fuel)
        for side, run in landings(kitchen, cutout, length).items()
    ]


def _place(length: Length, run: Run, text: str, names: tuple[str, ...], fuel: str | None = None) -> Place:
    pose, depth, z = length.part.pose, length.run.stock.depth, length.part.thickness
    x0, x1 = sorted((run.start, run.stop))
    if x1 - x0 < CONTACT:
        return Place(text, 0.0, (*names, length.id), fuel=fuel)
    volume = Volume(block(pose, x0, 0.0, x1, depth), face(length), face(length) + CLEAR)
    segment = (pose.to_room((run.start, depth, z)), pose.to_room((run.stop, depth, z)))
    return Place(text, run.width, (*names, length.id), volume, segment, fuel)


def _beside(kitchen: Kitchen, fridge: PlacedUnit) -> Iterator[Place]:
    """The landing of the length that begins or ends at the refrigerator, on the side of its grip."""
    run = next(run for run in kitchen.runs if fridge in run.units)
    for side in _grip_sides(kitchen, fridge):
        for length in kitchen.lengths:
            end = length.left if side == "right" else length.right
            if length.run is run and abs(end.x - _edge(run, fridge, side)) < CONTACT:
                landing = _first_run(kitchen, length, side)
                yield _place(length, landing, f"{side} of {fridge.name}, up to {landing.by}", (fridge.name,))


def _edge(run: PlacedRun, fridge: PlacedUnit, side: str) -> float:
    """The refrigerator's side along its run, mm, or the far side of the tall panels that stand against it."""
    i = run.units.index(fridge)
    neighbours = run.units[i + 1 :] if side == "right" else run.units[:i][::-1]
    panels = takewhile(lambda u: u.family.construction == "panel" and not u.family.carries_top, neighbours)
    width = sum(panel.width for panel in panels)
    return fridge.right + width if side == "right" else fridge.x - width


def _grip_sides(kitchen: Kitchen, fridge: PlacedUnit) -> list[str]:
    """The side of the front on which the grip is; both where no grip is modelled."""
    grips = [p for p in kitchen.parts_of[fridge.name] if p.id.endswith("grip")]
    xs = [fridge.frame.from_room(grip.pose.origin)[0] for grip in grips]
    return [("right" if xs[0] > fridge.width / 2 else "left")] if xs else ["left", "right"]


def _first_run(kitchen: Kitchen, length: Length, side: str) -> Run:
    """From the refrigerator along the front of ``length``, which begins (``right``) or ends there."""
    x0, x1 = front_span(kitchen, length)
    rims = [(*c.rim.bounds, c.name) for c in openings(kitchen) if c.length == length.id]
    if side == "right":
        stop, by = min([(x1, ENDS[length.right.kind]), *((rim[0], rim[4]) for rim in rims)])
        return Run(x0, stop, by)
    stop, by = max([(x0, ENDS[length.left.kind]), *((rim[2], rim[4]) for rim in rims)])
    return Run(x1, stop, by)


def _across(kitchen: Kitchen, fridge: PlacedUnit) -> Iterator[Place]:
    """Worktop of another run straight before the refrigerator's front, no farther off than `ACROSS`."""
    front = front_of(fridge)
    before = block(fridge.frame, 0.0, front, fridge.width, front + ACROSS)
    for length in kitchen.lengths:
        shared = top_plan(length).intersection(before)
        if not shared.is_empty and fridge not in length.run.units:
            x0, _, x1, _ = length.part.pose.plan_from_room(shared).bounds
            yield _place(length, Run(x0, x1, length.id), f"across from {fridge.name}", (fridge.name,))
