"""Surveys by lot: rooms of four, six and eight walls, read with the errors allowed for, and one blunder."""

import cmath
import math
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from countersunk.model.adjustment.snooping import judge
from countersunk.model.certainty.certainty import top_fits
from countersunk.model.document.schema import Room
from countersunk.model.errors import InputError
from countersunk.model.kitchen import build
from countersunk.model.layout.placing import place_runs
from countersunk.model.survey import survey_room
from countersunk.model.survey.shape import shape_of
from countersunk.model.tops.worktops import lay_worktops
from tests.specimens import document

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


def read(lots, plan, wall=0.0, corner=0.0, noise=1.0):
    """A survey of a room with a wall or a corner by lot off by a blunder, and the name of what is.

    ``noise`` is by how much errors are as large as is allowed for.
    """
    which, count = int(lots.integers(len(plan.walls))), len(plan.walls)
    letters = LETTERS[:count]
    corners = [f"{a}-{b}" for a, b in zip(letters, letters[1:] + "A", strict=True)]
    walls = tuple(
        {
            "name": letters[i],
            "length": length + lots.normal(0.0, noise * WALL) + wall * (i == which),
            "corner": angle + lots.normal(0.0, noise * CORNER) + corner * (i == which),
        }
        for i, (length, angle) in enumerate(plan.walls)
    )
    lines = tuple(
        {
            "from": corners[i],
            "to": corners[j],
            "length": float(math.dist(plan.ends[i], plan.ends[j]) + lots.normal(0.0, noise * DIAGONAL)),
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


def plan_of(points, across):
    """The room of these corners, clockwise from 0, 0 along x."""
    z = [complex(*p) for p in points]
    following, later = [*z[1:], z[0]], [*z[2:], *z[:2]]
    angles = [
        math.degrees(cmath.phase((c - b) / (a - b))) % 360.0 for a, b, c in zip(z, following, later, strict=True)
    ]
    return Plan(tuple((abs(b - a), angle) for a, b, angle in zip(z, following, angles, strict=True)), across)


SKEWED = {
    "four": plan_of(((0, 0), (4000, 0), (4030, -3000), (-25, -3020)), SQUARE.across),
    "six": plan_of(((0, 0), (4200, 0), (4240, -3600), (2515, -3610), (2500, -2205), (-20, -2190)), L_SHAPE.across),
}
"""Rooms of which no corner is square: the longest edge of a top is the same one in every survey."""

ROWS = {"four": ((600.0,) * 4 + (400.0,), (600.0,) * 3 + (400.0,)), "six": ((600.0,) * 5, (600.0,) * 4 + (400.0,))}
"""The widths of base units along walls A and B of rooms of four and six walls that leave place for fillers."""


def kitchen_in(name):
    """A kitchen with tops from wall to wall along A and B, joined at their corner, in a room as it truly is."""
    plan, (on_a, on_b) = SKEWED[name], ROWS[name]
    (a, _), (b, _) = plan.walls[:2]
    corner, fill = {"unit": "base-corner", "width": 1100.0, "hand": "right"}, {"unit": "filler", "width": 50.0}
    left = {"unit": "filler", "width": a - 22.0 - 1100.0 - sum(on_a)}
    right = {"unit": "filler", "width": b - 10.0 - 700.0 - sum(on_b)}
    doors = [tuple({"unit": "base-doors", "width": w} for w in widths) for widths in (on_a, on_b)]
    return document(
        room=true_room(plan).model_dump(),
        runs=(
            {"wall": "A", "start": 10.0, "units": (left, *doors[0], corner)},
            {"wall": "B", "start": 650.0, "units": (fill, *doors[1], right)},
        ),
        worktop={
            "stock": "pf38.600", "decor": "pale-oak", "overhang": {"ends": 20.0},
            "joins": ({"corner": "A-B", "female": "A", "notch": 15.0},),
        },
    )  # fmt: skip


def true_room(plan):
    """A room as it is."""
    return read(np.random.default_rng(0), plan, noise=0.0)[1]


def tops_off(name, count, seed=1):
    """(surveys, tops) by how much tops cut to so many surveys are off, in the deviations that were promised.

    A survey that is refused is cut from by nobody, and left out.
    """
    plan, kitchen = SKEWED[name], build(kitchen_in(name))
    promised, lots = np.array([fit.sigma for fit in top_fits(kitchen)]), np.random.default_rng(seed)
    true = np.array([top.part.length for top in kitchen.lengths])
    cut = []
    for _ in range(count):
        with suppress(InputError):
            cut.append(_cut(kitchen, read(lots, plan)[1]))
    return (np.array(cut) - true) / promised


def _cut(kitchen, room):
    """(tops,) how long tops are by a survey, mm."""
    survey = survey_room(room)
    runs = place_runs(kitchen.document, survey, kitchen.catalogue)
    laid, _ = lay_worktops(runs, survey, kitchen.document, kitchen.catalogue)
    return np.array([top.part.length for top in laid])
