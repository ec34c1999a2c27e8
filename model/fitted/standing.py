"""Standing: runs where they were fitted, and the parts of their units with them, every part as it was made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from countersunk.model.fitted.along import sides
from countersunk.model.geometry.frames import Pose
from countersunk.model.geometry.identity import ISLAND_BACK, Role
from countersunk.model.geometry.part import Part
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.tolerance import NOISE

ALONG = (Role.PLINTH, Role.CORNICE, Role.PELMET, Role.CEILING_FILLER, Role.LIGHT, Role.DRIVER, Role.ARM)
"""What runs along several units and belongs to the first of them."""


def stand(run: PlacedRun, at: Sequence[float], frame: Pose) -> PlacedRun:
    """The run with the sides of its units ``at`` places along its ``frame``, mm; units are as wide as made.

    A unit stands in the middle of what it takes with its joint, the first and the last at the ends of the run. A
    run of one unit is as wide as it was read.
    """
    along = frame.moved(y=run.stand_off)
    if frame == run.frame and all(abs(a - b) < 10.0**-NOISE for a, b in zip(at, sides(run), strict=True)):
        return run
    units = tuple(_stood(run, i, at, along) for i in range(len(run.units)))
    return replace(run, frame=frame, units=units)


def _stood(run: PlacedRun, i: int, at: Sequence[float], along: Pose) -> PlacedUnit:
    unit, low, high = run.units[i], at[i], at[i + 1]
    if len(run.units) == 1:
        return replace(unit, width=high - low, x=low, frame=along.moved(low, unit.forward))
    last = i == len(run.units) - 1
    x = low if i == 0 else high - unit.width if last else (low + high - unit.width) / 2
    return replace(unit, x=x, frame=along.moved(x, unit.forward))


def carried(parts: Iterable[Part], before: Sequence[PlacedRun], after: Sequence[PlacedRun]) -> Iterator[Part]:
    """Parts that units own, each where its unit stands now; what runs along a row goes with what it stands before.

    ``before`` and ``after`` are the same runs as planned and as fitted.
    """
    pairs = [(old, new, i) for old, new in zip(before, after, strict=True) for i in range(len(old.units))]
    stands = {old.units[i].key: (old, new, i) for old, new, i in pairs}
    for part in parts:
        old, new, i = stands[part.owner]
        yield part if old is new else replace(part, pose=_moved(part, old, new, i))


def _moved(part: Part, old: PlacedRun, new: PlacedRun, i: int) -> Pose:
    if part.role not in ALONG and part.which != ISLAND_BACK:
        return part.pose.carried(old.units[i].frame, new.units[i].frame)
    middle = part.outline.centroid
    x, _, _ = old.frame.from_room(part.pose.to_room((middle.x, middle.y, 0.0)))
    return part.pose.carried(old.frame.moved(x), new.frame.moved(float(np.interp(x, _marks(old), _marks(new)))))


def _marks(run: PlacedRun) -> list[float]:
    """The ends of a run and the middles of its units, mm along it."""
    return [run.units[0].x, *((unit.x + unit.right) / 2 for unit in run.units), run.units[-1].right]
