"""Strip: a row of units in elevation, as a picture on the screen: what is picked is hatched and outlined."""

from __future__ import annotations

import html
from collections.abc import Iterator
from typing import NamedTuple

from countersunk.model.geometry.part import Layer
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.tolerance import FIT
from countersunk.viewer.drawing.elevation import seen_box
from countersunk.viewer.drawing.shapes import Box

SIDE = 30.0
"""Room beside the row, mm of the kitchen."""

LETTERS = (0.06, 0.022)
"""Names are so high, as the larger share of a row's height and width: as large on the screen whatever the row."""

SKIN = (Layer.FRONTS, Layer.APPLIANCES)
"""What is seen of units from the front."""


STYLE = (
    "rect{fill:#fff;fill-opacity:0;stroke:#23262b;stroke-width:1px;vector-effect:non-scaling-stroke}.front{fill:#f3eee6;fill-opacity:1}.top{fill:#c9b79a;fill-opacity:1;pointer-events:none}"
    ".picked{stroke:#9a5b1e;stroke-width:3px;stroke-dasharray:9px 4px}text{fill:#23262b;font-family:sans-serif}"
)
"""On white, as on paper: the picture looks the same in the light and in the dark."""


class _Names(NamedTuple):
    """Names stand so far under the top of the picture, and are so high, mm of the kitchen."""

    under: float
    high: float


def row_in_words(run: PlacedRun) -> str:
    """The row for somebody who does not see it."""
    names = ", ".join(f"{u.name} {u.family.name} {u.width:g}" for u in run.units)
    return f"Row in elevation, from left to right: {names}"


def strip_svg(kitchen: Kitchen, run: PlacedRun, picked: str = "") -> bytes:
    """The row as one faces it, left to right, names under the units."""
    top = max(u.family.top for u in run.units) + run.stock.thickness
    low = min(u.family.base if u.family.level == "upper" else 0.0 for u in run.units)
    left, right = run.units[0].x - SIDE, run.units[-1].right + SIDE
    letters = max(LETTERS[0] * (top - low), LETTERS[1] * (right - left))
    wide, high = right - left, top - low + 1.3 * letters + 2 * SIDE
    body = "".join(_marks(kitchen, run, picked, top, _Names(top - low, letters)))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}" height="{high:g}" '
        f'viewBox="{left:g} {-SIDE:g} {wide:g} {high:g}"><style>{STYLE}</style>{body}</svg>'
    ).encode()


def _marks(kitchen: Kitchen, run: PlacedRun, picked: str, top: float, names: _Names) -> Iterator[str]:
    """What runs along the row, each unit in a group of its own, for the browser to move, and the top over them."""
    seen = {unit.name: _seen(kitchen, run, unit) for unit in run.units}
    for unit in run.units:
        yield from (_box(box, top, "front") for box in seen[unit.name] if not _is_within(box, unit))
    for at, unit in enumerate(run.units):
        fronts = [_box(box, top, "front") for box in seen[unit.name] if _is_within(box, unit)]
        yield f'<g data-unit="{at}">{"".join(_unit(unit, fronts, unit.name == picked, top, names))}</g>'
    for length in kitchen.lengths:
        if length.run == run:
            yield _box(seen_box(length.part, run.frame), top, "top")


def _seen(kitchen: Kitchen, run: PlacedRun, unit: PlacedUnit) -> list[Box]:
    return [seen_box(p, run.frame) for p in kitchen.parts if p.owner == unit.key and p.layer in SKIN]


def _is_within(box: Box, unit: PlacedUnit) -> bool:
    """Whether it goes along with the unit; plinth, cornice and pelmet are the row's and merely begin at one."""
    return unit.x - FIT <= box[0] and box[2] <= unit.right + FIT


def _unit(unit: PlacedUnit, fronts: list[str], picked: bool, top: float, names: _Names) -> Iterator[str]:
    own = (unit.x, unit.family.base, unit.right, unit.family.top)
    yield _box(own, top, "unit")
    yield from fronts
    if picked:
        yield _box(own, top, "picked")
    yield _name(unit, names, picked)


def _box(box: Box, top: float, look: str) -> str:
    x0, y0, x1, y1 = box
    return f'<rect class="{look}" x="{x0:.1f}" y="{top - y1:.1f}" width="{x1 - x0:.1f}" height="{y1 - y0:.1f}"/>'


def _name(unit: PlacedUnit, names: _Names, picked: bool) -> str:
    """Small under a narrow unit, or only a dot, so that names do not run into each other."""
    x, y = (unit.x + unit.right) / 2, names.under + names.high
    words = html.escape(f"▸{unit.name}" if picked else unit.name)
    size = min(names.high, 1.4 * unit.width / max(2, len(words)))
    if size < names.high / 2:
        size, words = names.high, "·"
    return f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:.0f}" text-anchor="middle">{words}</text>'
