"""Room: the walls as fitted runs stand to them, from their lengths and the angles of their corners.

An open room follows from these alone. A closed one must also end where it began: what was read decides, then the
lengths of walls with units and the corners between them as planned, then how their end walls stand to them; the
other walls give way.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from countersunk.model.adjustment.least_squares import Network
from countersunk.model.adjustment.observations import Angle, Distance, Key, Observation
from countersunk.model.errors import InputError
from countersunk.model.fitted.corners import corners_of
from countersunk.model.geometry.frames import Point
from countersunk.model.survey import Survey, SurveyedWall
from countersunk.model.survey.observed import FIXED
from countersunk.model.survey.traverse import Traverse, ends_of

UNCHANGED = 1e-9
"""What differs by less, mm or degrees, is as planned."""

STEPS, SETTLED = 60, 1e-8
"""The room is found once no corner moves by more, mm."""

WEAK = 1e-9
"""What moves an observation by less, in its deviations a mm, is not held by it."""

PER_MM = 0.06
"""Degrees that weigh as much as a millimetre: a mm over a metre."""

MISSES = 10.0
"""What was read may miss itself by no more than this round a room, mm (common practice, no source)."""


def fitted_walls(
    survey: Survey, lengths: Mapping[str, float], angles: Mapping[str, float], read: Collection[str],
    with_units: Collection[str],
) -> tuple[SurveyedWall, ...]:  # fmt: skip
    """The walls of a room with other ``lengths`` (mm) and ``angles`` of its corners (degrees), by their names.

    ``read`` are the names of walls and corners that were read as fitted, ``with_units`` those of walls with runs on
    the floor. Raises InputError for readings that do not close round the room.
    """
    corners = corners_of(survey)
    same = all(abs(lengths[wall.name] - wall.length) < UNCHANGED for wall in survey.walls)
    if same and all(abs(angles[name] - corner.angle) < UNCHANGED for name, corner in corners.items()):
        return survey.walls
    if survey.misclosure is None:
        turns = (*(angles[name] for name in corners), 180.0)
        traverse = Traverse(tuple(lengths[wall.name] for wall in survey.walls), turns)
        return tuple(_walls(survey, traverse.legs, traverse.headings))
    sides = _closed(survey, lengths, angles, read, with_units)
    return tuple(_walls(survey, sides, [math.degrees(math.atan2(y, x)) for x, y in sides]))


def _walls(survey: Survey, sides: Sequence[Point], headings: Sequence[float]) -> Iterator[SurveyedWall]:
    starts = ((0.0, 0.0), *ends_of(tuple(sides)))
    for i, wall in enumerate(survey.walls):
        corner = (180.0 - headings[i] + headings[(i + 1) % len(headings)]) % 360.0
        yield replace(
            wall, length=math.hypot(*sides[i]), heading=round(headings[i], 9), start=starts[i],
            corner=None if wall.corner is None else corner,
        )  # fmt: skip


def _closed(
    survey: Survey, lengths: Mapping[str, float], angles: Mapping[str, float], read: Collection[str],
    with_units: Collection[str],
) -> list[Point]:  # fmt: skip
    """The walls as vectors, once they end where they began."""
    start: dict[Key, float] = {}
    turn = survey.walls[0].heading  # the first wall lies along x while places are sought: its y is fixed
    for i, wall in enumerate(survey.walls):
        x, y = _turned(wall.start, -turn)
        start |= {(f"P{i}", "x"): x, (f"P{i}", "y"): y}
    tiers = _tiers(survey, lengths, angles, read, with_units)
    at = in_turn(start, FIXED, tiers)
    misses = (abs(o.misfit(at)) / (PER_MM if isinstance(o, Angle) else 1.0) for o in tiers[0])
    worst = max(misses, default=0.0)
    if worst > MISSES:
        raise InputError.at(
            "fitted",
            found=f"lengths and corners of the fitted runs that miss each other by {worst:.0f} mm round the room",
            allowed=f"at most {MISSES:g} mm",
            advice="measure the corners between the fitted runs again, then the gaps at their ends",
        )
    ends = [(at[f"P{i}", "x"], at[f"P{i}", "y"]) for i in range(len(survey.walls))]
    steps = zip(ends, [*ends[1:], ends[0]], strict=True)
    return [_turned((bx - ax, by - ay), turn) for (ax, ay), (bx, by) in steps]


def _turned(vector: Point, degrees: float) -> Point:
    """A vector turned anticlockwise."""
    x, y = vector
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (x * c - y * s, x * s + y * c)


def _tiers(
    survey: Survey, lengths: Mapping[str, float], angles: Mapping[str, float], read: Collection[str],
    with_units: Collection[str],
) -> list[list[Observation]]:  # fmt: skip
    """Every wall and every corner, those first that give way last."""
    count, tiers = len(survey.walls), [list[Observation]() for _ in range(4)]
    for i, (wall, corner) in enumerate(zip(survey.walls, corners_of(survey).values(), strict=True)):
        a, b, c = (f"P{(i + k) % count}" for k in range(3))
        tier = 0 if wall.name in read else 1 if wall.name in with_units else 3
        tiers[tier].append(Distance(wall.name, lengths[wall.name], 1.0, a, b))
        beside = (corner.left.name in with_units) + (corner.right.name in with_units)
        tier = 0 if corner.name in read else 3 - beside
        tiers[tier].append(Angle(corner.name, angles[corner.name], PER_MM, b, c, a))
    return tiers


def in_turn(
    start: Mapping[Key, float], fixed: frozenset[Key], tiers: Sequence[Sequence[Observation]]
) -> dict[Key, float]:
    """Where points are that fit the observations of the first tier best, then, as far as these leave them free,
    those of the second, and so on.

    Gauss-Newton, each tier in the null space of those before it (lexicographic least squares; from memory).
    """
    at = dict(start)
    networks = [Network(start, fixed, tuple(tier)) for tier in tiers if tier]
    for _ in range(STEPS):
        step, free = np.zeros(len(networks[0].free)), np.eye(len(networks[0].free))
        for network in networks:
            design = network.design(at)
            left, strengths, right = np.linalg.svd(design @ free)
            held = int(np.sum(strengths > WEAK * max(1.0, float(np.max(np.abs(design))))))
            rest = network.misfits(at) - design @ step
            step = step + free @ (right[:held].T @ ((left[:, :held].T @ rest) / strengths[:held]))
            free = free @ right[held:].T
            if not free.shape[1]:
                break
        at.update((key, at[key] + by) for key, by in zip(networks[0].free, step.tolist(), strict=True))
        if float(np.max(np.abs(step), initial=0.0)) < SETTLED:
            break
    return at
