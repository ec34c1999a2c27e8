"""Way: the stages of the way in, put together as straights and the bends between them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, groupby

from countersunk.model.document.stages import Corridor, Door, Hoist, Lift, Stage, Stairs, Turn, Window
from countersunk.model.errors import InputError

Passed = Door | Corridor | Lift | Window | Hoist | Stairs
Step = Passed | Turn


@dataclass(frozen=True)
class Narrow:
    """What a piece passes, mm: clear width and height, length along the way (of a door, through its wall).

    ``beyond`` is the free floor along a door's wall behind its far jamb, where that was measured. A piece must lie
    wholly within a ``box``: a lift car with its doors closed, a hoist's platform, and the room at the end of the
    way. ``winding`` are stairs of which nothing but width and height is worked out.
    """

    name: str
    width: float
    height: float
    length: float
    door: bool
    beyond: float | None = None
    box: bool = False
    winding: bool = False


@dataclass(frozen=True)
class Straight:
    """Doors and corridors in line. ``axis`` is the direction of travel, radians.

    ``length`` is from wall to wall, mm, infinite where it begins outside, ends in the kitchen or was not measured.
    """

    axis: float
    narrows: tuple[Narrow, ...]
    length: float

    @property
    def only_door(self) -> Narrow | None:
        """The door that is all of it."""
        return self.narrows[0] if len(self.narrows) == 1 and self.narrows[0].door else None

    def spaces(self, at: int) -> list[tuple[float, float]]:
        """Widths and lengths in which a piece may lie while it goes round the bend at the end ``at`` (0 or −1).

        Either all of it is in the corridor next to the bend, or all of the straight counts as its narrowest.
        """
        next_ = self.narrows[at]
        least = (min(n.width for n in self.narrows), self.length)
        narrow = next_.door or next_.box or next_.width == least[0]
        roomy = [] if narrow else [(next_.width, next_.length)]
        return [*roomy, least]


@dataclass(frozen=True)
class Bend:
    """A turn from one straight into the next; ``angle`` is in radians, positive to the left."""

    name: str
    angle: float


@dataclass(frozen=True)
class WayIn:
    """``straights`` and, between each and the next, one of ``bends``."""

    straights: tuple[Straight, ...]
    bends: tuple[Bend, ...]

    @property
    def winding(self) -> tuple[Narrow, ...]:
        """The winding stairs: whether a piece comes round them is not worked out."""
        return tuple(narrow for straight in self.straights for narrow in straight.narrows if narrow.winding)

    @property
    def height(self) -> float:
        """The least clear height on the way, mm."""
        return min(narrow.height for straight in self.straights for narrow in straight.narrows)


def way_in(access: Sequence[Stage]) -> WayIn:
    """The way in from its stages in order. Raises InputError for stages that cannot follow each other."""
    steps = [_step(i, stage) for i, stage in enumerate(access)]
    _check_order(steps)
    groups = [(turns, list(group)) for turns, group in groupby(enumerate(steps, start=1), _is_turn)]
    bends = [_bend(*item) for turns, group in groups if turns for item in group]
    rows = [[_narrow(*item, last=item[0] == len(steps)) for item in group] for turns, group in groups if not turns]
    axes = list(accumulate((bend.angle for bend in bends), initial=0.0))
    straights = [_straight(axes[i], row, i in (0, len(rows) - 1)) for i, row in enumerate(rows)]
    return WayIn(tuple(straights), tuple(bends))


def _step(at: int, stage: Stage) -> Step:
    """What a stage is. Raises InputError where it is nothing or more than one thing."""
    given: list[Step] = [step for _, step in stage if step is not None]
    if len(given) == 1:
        return given[0]
    found = " and ".join(sorted(stage.model_fields_set)) or "nothing"
    advice = "begin a new item of the list for each of them"
    allowed = f"one of {', '.join(Stage.model_fields)}"
    raise InputError.at(f"access[{at}]", found=found, allowed=allowed, advice=advice)


def _check_order(steps: Sequence[Step]) -> None:
    """A turn joins two straights, and one of its neighbours is a corridor. Raises InputError."""
    for at, step in enumerate(steps):
        beside = [steps[i] if 0 <= i < len(steps) else None for i in (at - 1, at + 1)]
        if isinstance(step, Turn) and not _joins(*beside):
            found = "a turn between " + " and ".join(_called(neighbour) for neighbour in beside)
            allowed = "a turn between two corridors, or a corridor and a door"
            advice = "add the hall or corridor in which one turns, and the door or opening that ends it"
            raise InputError.at(f"access[{at}]", found=found, allowed=allowed, advice=advice)


def _joins(before: Step | None, after: Step | None) -> bool:
    straight = all(isinstance(step, Passed) for step in (before, after))
    return straight and any(isinstance(step, Corridor) for step in (before, after))


def _called(step: Step | None) -> str:
    return "nothing" if step is None else f"a {type(step).__name__.lower()}"


def _is_turn(item: tuple[int, Step]) -> bool:
    return isinstance(item[1], Turn)


def _straight(axis: float, row: list[Narrow], open_: bool) -> Straight:
    return Straight(axis, tuple(row), math.inf if open_ else sum(narrow.length for narrow in row))


def _narrow(number: int, step: Step, last: bool) -> Narrow:
    if isinstance(step, Door):
        return Narrow(f"the door (stage {number})", step.width, step.height, step.wall, True, step.beyond)
    if isinstance(step, Corridor):
        length = math.inf if step.length is None else step.length
        box = last and step.length is not None
        return Narrow(f"the corridor (stage {number})", step.width, step.height, length, False, box=box)
    if isinstance(step, Lift):
        return Narrow(f"the lift (stage {number})", step.width, step.height, step.depth, False, box=True)
    if isinstance(step, Window):
        return Narrow(f"the window (stage {number})", step.width, step.height, step.wall, True)
    if isinstance(step, Hoist):
        return Narrow(f"the hoist (stage {number})", step.width, step.height, step.length, False, box=True)
    if isinstance(step, Stairs):
        name = f"the stairs (stage {number})"
        return Narrow(name, step.width, step.height, math.inf, False, winding=step.winding)
    raise TypeError(step)


def _bend(number: int, step: Step) -> Bend:
    if isinstance(step, Turn):
        way = 1.0 if step.to == "left" else -1.0
        return Bend(f"the turn to the {step.to} (stage {number})", way * math.radians(step.angle))
    raise TypeError(step)
