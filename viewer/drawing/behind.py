"""Behind: what stands behind a length or in its way: obstacles that it is notched round, and bowed walls."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon
from shapely import box as rectangle

from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import PlacedObstacle, spoken
from countersunk.model.tops.scribe import SCRIBE_GAP, Scribe, scribes
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.drawing.setout import Face, Setout
from countersunk.viewer.drawing.shapes import Point

NEAR = 0.5
"""A boundary this near to the notch round an obstacle is that notch, mm."""

Notch = tuple[PlacedObstacle, Polygon]
"""An obstacle, and what a blank loses to it, its corners sharp, in the part frame (mm)."""


def notches(kitchen: Kitchen, length: Length) -> list[Notch]:
    """Every obstacle that the length is notched round."""
    part = length.part
    outline = Polygon(part.outline.exterior)
    low, gap = part.pose.origin[2], kitchen.allowances.notch
    found = []
    for obstacle in kitchen.survey.obstacles:
        plan = part.pose.plan_from_room(obstacle.plan)
        lost = plan.buffer(gap, join_style="mitre").intersection(rectangle(*outline.bounds))
        round_it = plan.buffer(gap + NEAR).difference(plan.buffer(gap - NEAR))
        beside = outline.exterior.intersection(round_it)
        level = low < obstacle.top and low + part.thickness > obstacle.bottom
        if level and isinstance(lost, Polygon) and not lost.is_empty and beside.length > gap:
            found.append((obstacle, lost))
    return found


def notch_in_words(kitchen: Kitchen, length: Length, notch: Notch) -> list[str]:
    """From where to where a notch goes, from the datum, and how it is cut."""
    (obstacle, lost), gap = notch, mm(kitchen.allowances.notch)
    x0, y0, x1, y1 = Setout(length, Face.TOP).see_shape(lost).bounds
    along = " to ".join(mm(x) for x in sorted((abs(x0), abs(x1))))
    across = f"{mm(y1 - y0)} deep from the back, {mm(y0)} from the front edge"
    if length.run.stock.depth - y1 > NEAR:
        across = f"from {mm(y0)} to {mm(y1)} from the front edge"
    return [
        f"{spoken(obstacle.kind)}: {along} along, {across}; gap {gap} all round (allowance), inside corners "
        f"R{gap}, never sawn sharp. Measure it again at the height of the top before you cut.",
    ]


def scribe_of(kitchen: Kitchen, length: Length) -> Scribe | None:
    """The bowed wall behind a length, where it is off the straight by anything that shows."""
    found = (s for s in scribes(kitchen.survey, kitchen.lengths) if s.length == length.id)
    return next((s for s in found if s.gap > 0.05 or s.bulge > 0.05), None)


def scribe_in_words(length: Length, scribe: Scribe) -> Iterator[str]:
    """What is cut out of the back, and what comes off it at each station, from the datum."""
    if scribe.bulge > 0.05:
        yield f"The wall bulges: cut out of the straight back at {_table(length, scribe.face)}, straight between"
    if scribe.gap > SCRIBE_GAP:
        gap = mm(scribe.gap)
        yield (
            f"Hollow: up to {gap} open behind the back. To close it push back by {gap}, then take off the straight "
            f"back, in all, at {_table(length, scribe.take_off)}: offer up, {after_scribing(length)}. The front "
            f"then stands {gap} further back; or leave it and cover the gap with an upstand."
        )
    elif scribe.gap > 0.05:
        yield f"Hollow: up to {mm(scribe.gap)} open behind the back, which silicone closes."


def after_scribing(length: Length) -> str:
    """What is done at a back that is offered up: only a core that drinks is sealed."""
    return "scribe, cut, seal" if length.run.stock.material.edges == "sealed" else "scribe, cut"


def _table(length: Length, stations: tuple[Point, ...]) -> str:
    """``0: 4, 500: 2.5``: from the datum, and how much."""
    setout = Setout(length, Face.TOP)
    rows = sorted((abs(setout.see((x, 0.0))[0]), off) for x, off in stations)
    return ", ".join(f"{mm(x)}: {mm(max(0.0, off))}" for x, off in rows)
