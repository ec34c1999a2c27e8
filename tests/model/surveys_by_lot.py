"""Surveys by lot: rooms of four, six and eight walls, read with the errors allowed for, and one blunder."""

import math
from dataclasses import dataclass

import numpy as np

from countersunk.model.adjustment.snooping import judge
from countersunk.model.document.schema import Room
from countersunk.model.survey.shape import shape_of

LETTERS = "ABCDEFGH"
WALL, CORNER, DIAGONAL = 1.5, 0.15, 1.5
"""Standard deviations as a file has them that says nothing: half of ± 3 mm, 0.3° and 3 mm."""


@dataclass(frozen=True)
class Plan:
    """A room: walls with the inside angle at their right-hand ends, and diagonals from corner to corner."""

    walls: tuple[tuple[float, float], ...]
    across: tuple[tuple[int, int], ...] = ()

    @property
    def ends(self):
        """(walls, 2) the right-hand end of every wall, mm."""
        lengths, angles = zip(*self.walls, strict=True)
        ways = np.radians(np.cumsum([0.0, *(c - 180.0 for c in angles[:-1])]))
        steps = np.array([[d * math.cos(t), d * math.sin(t)] for d, t in zip(lengths, ways, strict=True)])
        return np.cumsum(steps, axis=0)

    @property
    def bare(self):
        """The same room without diagonals."""
        return Plan(self.walls)


SQUARE = Plan(((4000.0, 90.0), (3000.0, 90.0)) * 2, ((0, 2), (1, 3)))
L_SHAPE = Plan(
    ((4200.0, 90.0), (3600.0, 90.0), (1700.0, 90.0), (1400.0, 270.0), (2500.0, 90.0), (2200.0, 90.0)),
    ((5, 3), (0, 3), (0, 2)),
)
T_SHAPE = Plan(
    (
        (5000.0, 90.0), (2500.0, 90.0), (1500.0, 270.0), (1500.0, 90.0),
        (2000.0, 90.0), (1500.0, 270.0), (1500.0, 90.0), (2500.0, 90.0),
    ),
    ((0, 2), (0, 5), (7, 2), (7, 5), (3, 5), (2, 4)),
)  # fmt: skip
PLANS = {"four": SQUARE, "six": L_SHAPE, "eight": T_SHAPE}


def read(lots, plan, wall=0.0, corner=0.0):
    """A survey of a room with a wall or a corner by lot off by a blunder, and the name of what is."""
    which, count = int(lots.integers(len(plan.walls))), len(plan.walls)
    letters = LETTERS[:count]
    corners = [f"{a}-{b}" for a, b in zip(letters, letters[1:] + "A", strict=True)]
    walls = tuple(
        {
            "name": letters[i],
            "length": length + lots.normal(0.0, WALL) + wall * (i == which),
            "corner": angle + lots.normal(0.0, CORNER) + corner * (i == which),
        }
        for i, (length, angle) in enumerate(plan.walls)
    )
    lines = tuple(
        {
            "from": corners[i],
            "to": corners[j],
            "length": float(math.dist(plan.ends[i], plan.ends[j]) + lots.normal(0.0, DIAGONAL)),
        }
        for i, j in plan.across
    )
    name = f"corner {corners[which]}" if corner else f"wall {letters[which]}"
    return name, Room.model_validate({"walls": walls, "diagonals": lines})


@dataclass(frozen=True)
class Outcome:
    """Of so many surveys, how many contradict themselves, leave doubt, have the blunder among what they doubt, and
    doubt nothing else; with how many suspects each.
    """

    count: int
    contradicted: int
    doubtful: int
    named: int
    named_alone: int

    @property
    def found(self):
        """Those that do not pass."""
        return self.contradicted + self.doubtful


def outcome(plan, count, wall=0.0, corner=0.0, seed=1):
    """What becomes of so many surveys with a blunder in one wall or corner, by the adjustment alone."""
    lots, tally = np.random.default_rng(seed), np.zeros(4, int)
    for _ in range(count):
        name, room = read(lots, plan, wall, corner)
        shape = shape_of(room)
        verdict, network = judge(shape.adjustment), shape.observed[0]
        doubted = [network.observations[s.index].name for s in verdict.suspects]
        tally += (verdict.contradicted, verdict.doubtful, name in doubted, doubted == [name])
    return Outcome(count, *map(int, tally))
