"""Measures of what lies under a sink or a hob: drawers, shelves, ovens, and the sides that a bowl hangs between.

Heights are from the lowest of the sink or hob to the highest of what lies under its body, straight down. What
reaches up beside the body is not beneath it. Pipes, traps and cables are not modelled and need room of their own.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from shapely import Polygon, union_all
from shapely.geometry.base import BaseGeometry

from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import of_cutout, of_part
from countersunk.model.facts.plans import appliances, around, between, heights, of_kind, overlap, parts_beneath
from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Part
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.ties import least, ranked
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.worktops import Length

DRAWERS = (Role.DRAWER, Role.DRAWER_FRONT)

LiesBelow = Callable[[Part], bool]


def hob_to_drawer(kitchen: Kitchen) -> Iterator[Place]:
    """From the underside of a hob down to the uppermost drawer beneath it, mm; only where there is a drawer."""
    return _all_below(kitchen, "hob", lambda part: part.role in DRAWERS)


def hob_to_boards(kitchen: Kitchen) -> Iterator[Place]:
    """From the underside of a hob down to the next board beneath it, mm: room for its air and cables.

    Not to an oven, see `hob_to_oven`.
    """
    return _all_below(kitchen, "hob", lambda part: not _is_appliance(part))


def hob_to_oven(kitchen: Kitchen) -> Iterator[Place]:
    """From the underside of a hob down to an oven beneath it, mm; only where there is one."""
    ovens = {unit.key for unit in appliances(kitchen, "oven")}
    return _all_below(kitchen, "hob", lambda part: _is_appliance(part) and part.owner in ovens)


def hob_to_appliance(kitchen: Kitchen) -> Iterator[Place]:
    """From the underside of a hob down to an appliance beneath it that is no oven, mm; only where there is one."""
    ovens = {unit.key for unit in appliances(kitchen, "oven")}
    return _all_below(kitchen, "hob", lambda part: _is_appliance(part) and part.owner not in ovens)


def sink_to_anything(kitchen: Kitchen) -> Iterator[Place]:
    """From the lowest of a sink's bowl down to whatever is next beneath it, mm: room for its waste and trap."""
    return _all_below(kitchen, "sink", lambda _: True)


def sink_over_appliance(kitchen: Kitchen) -> Iterator[Place]:
    """From the lowest of a sink's bowl down to an appliance beneath it, mm; only where there is one."""
    return _all_below(kitchen, "sink", _is_appliance)


def bowl_to_sides(kitchen: Kitchen) -> Iterator[Place]:
    """Sideways from a sink's bowl to the nearest side of the units beneath, mm: its clips and a hand go between."""
    for sink, length in of_kind(kitchen, "sink"):
        bowl = _body(kitchen, sink)
        sides = [part for part in parts_beneath(kitchen, length) if part.role in (Role.SIDE, Role.PANEL)]
        if bowl is not None and sides:
            side = least(sides, key=lambda part: bowl[0].distance(part.standing_plan))
            segment = between(bowl[0], side.standing_plan, bowl[2])
            volume, where = around(segment, bowl[1], bowl[2]), _to(Phrase.BOWL, sink, side)
            yield Place(where, math.dist(*segment), where.things, volume, segment)


def _all_below(kitchen: Kitchen, kind: str, which: LiesBelow) -> Iterator[Place]:
    for cutout, length in of_kind(kitchen, kind):
        yield from _below(kitchen, cutout, length, which)


def _below(kitchen: Kitchen, cutout: PlacedCutout, length: Length, which: LiesBelow) -> Iterator[Place]:
    """The highest of the parts that lie under the body of a sink or hob."""
    body = _body(kitchen, cutout)
    if body is not None:
        plan, low, _ = body
        tops = [(heights(part)[1], part) for part in parts_beneath(kitchen, length) if which(part)]
        under = ranked(((z, part) for z, part in tops if z <= low + CONTACT), key=lambda top: -top[0])
        hit = next((part for _, part in under if overlap(part.standing_plan, plan)), None)
        if hit is not None:
            yield _down(cutout, hit, plan, low)


def _down(cutout: PlacedCutout, part: Part, plan: BaseGeometry, low: float) -> Place:
    shared, high = plan.intersection(part.standing_plan), heights(part)[1]
    volume = Volume(shared, high, low) if isinstance(shared, Polygon) else None
    x, y = shared.centroid.x, shared.centroid.y
    segment, where = ((x, y, low), (x, y, high)), _to(Phrase.DOWN, cutout, part)
    return Place(where, low - high, where.things, volume, segment, cutout.template.fuel)


def _to(phrase: Phrase, cutout: PlacedCutout, part: Part) -> Where:
    return Where(phrase, of_cutout(cutout), against=of_part(part))


def _is_appliance(part: Part) -> bool:
    return part.role is Role.APPLIANCE


def _body(kitchen: Kitchen, cutout: PlacedCutout) -> tuple[BaseGeometry, float, float] | None:
    """The plan of what hangs below the top's face, and its lowest and highest; None where nothing does."""
    top = cutout.frame.origin[2]
    hung = [part for part in kitchen.parts_of[cutout.key] if part.pose.origin[2] < top - CONTACT]
    if not hung:
        return None
    plan = union_all([part.standing_plan for part in hung])
    return plan, min(part.pose.origin[2] for part in hung), max(heights(part)[1] for part in hung)
