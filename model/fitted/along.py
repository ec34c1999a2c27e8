"""Along: from lengths read along fitted runs to where each side of each unit is.

What was not read keeps its planned length as far as readings leave it. Where a stretch came out longer or shorter
than its units as made, fillers have taken it; without fillers the joints between the units. A run of which neither
end was read stays at the wall or corner that it stands nearer to, or in the middle.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from countersunk.model.adjustment.linked import Linked
from countersunk.model.errors import InputError
from countersunk.model.fitted.named import NamedUnit
from countersunk.model.fitted.weighed import Adjusted, Apart, Row, weighed
from countersunk.model.layout.placing import PlacedRun, PlacedUnit
from countersunk.model.tolerance import EQUAL, FIT

LEFT, RIGHT = "left corner", "right corner"
"""The ends of a wall, as places on its line."""

NARROWER, WIDER = 2.0, 10.0
"""By how much a unit with its joint may be narrower or wider than it was made, mm (common practice, no source)."""


def side_of(unit: NamedUnit, side: str) -> str:
    """The place on the line of a unit's left or right side; neighbours share one."""
    return _side(unit.run, unit.i + (side == "right"))


def _side(run: PlacedRun, i: int) -> str:
    return f"{run.key}/{i}"


@dataclass(frozen=True)
class FittedLine:
    """The runs along a wall as planned, or one that stands free; ``length`` is the wall's as planned, mm.

    ``stays`` says which end of a run that stands free is where it was planned.
    """

    runs: Sequence[PlacedRun]
    length: float | None = None
    stays: str = "middle"

    @property
    def planned(self) -> dict[str, float]:
        """Every place on the line as planned, mm."""
        corners = {} if self.length is None else {LEFT: 0.0, RIGHT: self.length}
        return corners | {_side(run, i): x for run in self.runs for i, x in enumerate(sides(run))}


def sides(run: PlacedRun) -> list[float]:
    """Where the sides of a run's units are: the left one of each, and the right one of the last, mm."""
    return [*(unit.x for unit in run.units), run.units[-1].right]


def adjusted_line(line: FittedLine, rows: Sequence[Row]) -> Adjusted:
    """Every place on the line by the readings, mm from the wall's left end, or of a free run as it was planned.

    Raises InputError for readings that contradict each other or the units as made.
    """
    planned = line.planned
    origin = LEFT if line.length is not None else _side(line.runs[0], 0)
    read = {place for row in rows for place in (row.a, row.b)}
    ends = {_side(run, i) for run in line.runs for i in (0, len(run.units))}
    known = {name: x for name, x in planned.items() if name in read | ends | {LEFT, RIGHT}}
    groups = Linked(known)
    for row in rows:
        groups.link(row.a, row.b)
    within = [Apart("", planned[b] - planned[a], 1.0, a, b) for a, b in _steps(line, known) if groups.link(a, b)]
    if line.length is not None and groups.link(LEFT, RIGHT):
        within.append(Apart("", line.length, 1.0, LEFT, RIGHT))
    loose = [_side(run, 0) for run in line.runs if groups.link(origin, _side(run, 0))]
    anchors = [Apart("", planned[place] - planned[origin], 1.0, origin, place) for place in loose]
    found = weighed(known, origin, rows, (*within, *anchors))
    at = dict(found.at)
    for place in loose if line.length is not None else [origin]:
        group = _linked(place, [row.observation for row in rows] + within)
        shift = _shift(line, at, planned, group)
        at.update({name: at[name] + shift for name in group if name not in (LEFT, RIGHT)})
    return Adjusted(dict(_all_places(line, at, rows)), found.readings)


def _steps(line: FittedLine, known: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Places of each run that are known, two and two from left to right."""
    names = set(known)
    for run in line.runs:
        yield from pairwise(name for i in range(len(run.units) + 1) if (name := _side(run, i)) in names)


def _linked(place: str, steps: Sequence[Apart]) -> frozenset[str]:
    """Every place that steps join to one, without the step along the wall from corner to corner."""
    joined = Linked({place, *(end for step in steps for end in (step.a, step.b))})
    for step in steps:
        if {step.a, step.b} != {LEFT, RIGHT}:
            joined.link(step.a, step.b)
    return joined.group(place)


def _shift(line: FittedLine, at: Mapping[str, float], planned: Mapping[str, float], group: Iterable[str]) -> float:
    """How far a group of places that nothing ties to a corner goes to the right, mm."""
    names = [name for name in group if name not in (LEFT, RIGHT)]
    low, high = min(names, key=lambda n: planned[n]), max(names, key=lambda n: planned[n])
    if line.length is None:
        grown = (at[high] - at[low]) - (planned[high] - planned[low])
        share = {"left": 0.0, "right": -grown, "middle": -grown / 2}[line.stays]
        return planned[low] - at[low] + share
    before, after = planned[low], line.length - planned[high]
    by_left, by_right = before - at[low], at[RIGHT] - after - at[high]
    if abs(before - after) <= FIT:
        return (by_left + by_right) / 2
    return by_left if before < after else by_right


def _all_places(line: FittedLine, at: Mapping[str, float], rows: Sequence[Row]) -> Iterator[tuple[str, float]]:
    """The known places, and those between them."""
    yield from ((name, x) for name, x in at.items() if name in (LEFT, RIGHT))
    for run in line.runs:
        known = [i for i in range(len(run.units) + 1) if _side(run, i) in at]
        yield _side(run, known[0]), at[_side(run, known[0])]
        for low, high in pairwise(known):
            x0, x1 = at[_side(run, low)], at[_side(run, high)]
            units = run.units[low:high]
            _check_made(units, x1 - x0, rows)
            inner = accumulate(modules(units, x1 - x0), initial=x0)
            yield from ((_side(run, low + i), x) for i, x in enumerate(inner) if 0 < i < len(units))
            yield _side(run, high), x1


def modules(units: Sequence[PlacedUnit], length: float) -> list[float]:
    """How much of a length each unit takes, mm: its own width; fillers, or else the joints, take the difference."""
    over = length - sum(unit.width for unit in units)
    filling = sum(unit.width for unit in units if unit.family.kind.fills_gap)
    if filling:
        return [u.width + (over * u.width / filling if u.family.kind.fills_gap else 0.0) for u in units]
    return [unit.width + over / len(units) for unit in units]


def _check_made(units: Sequence[PlacedUnit], length: float, rows: Sequence[Row]) -> None:
    """Raises InputError for a length that these units, as they were made, cannot have."""
    made = sum(unit.width for unit in units)
    fillers = [unit for unit in units if unit.family.kind.fills_gap]
    give = sum(unit.width for unit in fillers) + NARROWER * (len(units) - len(fillers))
    take = WIDER * len(units) + (made if fillers else 0.0)
    if made - give - EQUAL <= length <= made + take + EQUAL or not rows:
        return
    name = units[0].name if len(units) == 1 else f"{units[0].name} to {units[-1].name}"
    about = [row.reading for row in rows if row.reading.kind == "lengths"] or [row.reading for row in rows]
    again = ", or ".join(reading.what for reading in about)
    raise InputError.at(
        about[0].field,
        found=f"{name} {length:.0f} long as fitted",
        allowed=f"{made - give:.0f} to {made + take:.0f}, since these units were made {made:g} wide together",
        advice=f"measure again {again}; or put right the units in the file",
    )
