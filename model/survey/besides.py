"""Besides: which length to measure as well, and what that would settle.

A length across the room lets mistakes show that would not, checks what nothing checks, or tells apart readings of
which any one may be the mistake. What it would read does not matter to that, only where it lies.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from scipy.sparse.csgraph import connected_components

from countersunk.model.adjustment.least_squares import Adjustment, Array
from countersunk.model.adjustment.limits import noncentrality
from countersunk.model.adjustment.observations import Angle, Distance, Observation
from countersunk.model.adjustment.snooping import AS_LIKELY
from countersunk.model.survey.angles import corner_names
from countersunk.model.survey.shape import RoomShape
from countersunk.model.ties import least
from countersunk.model.tolerance import COVERAGE

ALONE = 1e-3
"""With a redundancy number below this nothing that is worth the name checks a reading."""

WORTH = 0.9
"""What lowers the least error that shows to no less than this share of it is not worth measuring."""

GLARING = 100.0
"""An error larger than this is seen without any other length, mm (common practice, no source)."""

GLARING_ANGLE = 5.0
"""The same of a corner, degrees (common practice, no source)."""

MOST = 15
"""More lengths across a room are not tried: two of them are chosen from all pairs."""

APART = float(np.sqrt(1.0 - AS_LIKELY / noncentrality() ** 2))
"""Tests of two readings that agree by no more than this tell them apart: an error that is just found in one leaves
so much more in the other that this is not as likely. About 0.88.
"""


@dataclass(frozen=True)
class Brace:
    """A length across a room: its ends as a file names them, and as points of the network."""

    start: str
    to: str
    points: tuple[str, str]

    def __str__(self) -> str:
        return f"{self.start} to {self.to}"


def across(shape: RoomShape) -> list[Brace]:
    """Lengths across a room that were not measured yet, between corners with no wall between them."""
    count = len(shape.room.walls)
    names = corner_names(shape.room) if shape.closed else [*corner_names(shape.room)[:-1], "end"]
    ends = [(name, f"P{(i + 1) % count if shape.closed else i + 1}") for i, name in enumerate(names)]
    ends = ends if shape.closed else [("start", "P0"), *ends]
    read = {frozenset((o.a, o.b)) for o in shape.observed[0].observations if isinstance(o, Distance)}
    lines = (Brace(a, b, (p, q)) for (a, p), (b, q) in combinations(ends, 2))
    return [line for line in lines if frozenset(line.points) not in read]


def with_lines(shape: RoomShape, lines: Sequence[Brace]) -> Adjustment:
    """The room with more lengths, each as sure as a diagonal of the room; what they would read is left open."""
    sigma = shape.room.tolerance.diagonal / COVERAGE
    return _with(shape.adjustment, [Distance(str(line), 0.0, sigma, *line.points) for line in lines])


def _with(adjusted: Adjustment, more: Sequence[Observation]) -> Adjustment:
    network = replace(adjusted.network, observations=(*adjusted.network.observations, *more))
    return Adjustment(network, adjusted.at)


def would_show(shape: RoomShape) -> Iterator[tuple[Sequence[Brace], float]]:
    """The one length across the room, and the two, with which the least error in any wall shows; and that, mm."""
    now = least_shown(shape.adjustment)
    for count in (1, 2):
        tried = combinations(across(shape)[:MOST], count)
        found = [(least_shown(with_lines(shape, some)), some) for some in tried]
        if not found:
            continue
        shown, some = least(found, key=lambda each: each[0])
        if shown < min(WORTH * now, GLARING):
            yield some, shown
            now = shown


def least_shown(adjusted: Adjustment) -> float:
    """The largest of the least errors in walls that show, mm; infinite where one never does."""
    walls = [i for i, o in enumerate(adjusted.network.observations) if isinstance(o, Distance)]
    return float(np.max(adjusted.least_detectable[walls]))


def would_check(shape: RoomShape, i: int) -> tuple[Brace, float] | None:
    """The length across the room that checks a reading best, and the least error of it that then shows; None where
    none checks it.
    """
    found = [(float(with_lines(shape, [line]).least_detectable[i]), line) for line in across(shape)]
    if not found:
        return None
    shown, line = least(found, key=lambda each: each[0])
    glaring = GLARING_ANGLE if isinstance(shape.observed[0].observations[i], Angle) else GLARING
    return (line, shown) if shown < glaring else None


@dataclass(frozen=True)
class Telling:
    """What to measure to tell readings apart, in words, and the ``groups`` that it tells from each other."""

    what: str
    groups: tuple[tuple[str, ...], ...]

    @property
    def words(self) -> str:
        """What it would settle: which readings it tells from which."""
        if sum(map(len, self.groups)) > SPELT:
            return "which tells most of them apart"
        return f"which tells {' from '.join(' or '.join(group) for group in self.groups)}"


SPELT = 5
"""More readings than these are not named one by one."""


def would_tell(shape: RoomShape, doubted: Sequence[int]) -> Telling | None:
    """The one more reading that tells the doubted ones apart best: a length across the room, or where none does and
    they are few, one of them a second time. None where nothing would.
    """
    adjusted, lines = shape.adjustment, across(shape)
    twice = [shape.observed[0].observations[i] for i in doubted] if len(doubted) <= SPELT else []
    tried = [(str(line), with_lines(shape, [line])) for line in lines]
    again = [(f"{o.name} a second time", _with(adjusted, [o])) for o in twice]
    for some in (tried, again):
        found = [(Telling(what, _groups(then, doubted)), _mixed(then, doubted)) for what, then in some]
        useful = [each for each in found if len(each[0].groups) > 1]
        if useful:
            return least(useful, key=lambda each: each[1])[0]
    return None


def _mixed(adjusted: Adjustment, some: Sequence[int]) -> float:
    """How many pairs of these readings nothing tells apart; of as many, how alike all pairs are in a fraction."""
    alike = alikeness(adjusted, some)
    return float(np.sum(alike > APART) + np.mean(alike) / 10.0)


def _groups(adjusted: Adjustment, some: Sequence[int]) -> tuple[tuple[str, ...], ...]:
    """These readings by their names, those together that nothing tells apart."""
    count, labels = connected_components(alikeness(adjusted, some) > APART, directed=False)
    names = [adjusted.network.observations[i].name for i in some]
    return tuple(tuple(n for n, label in zip(names, labels, strict=True) if label == k) for k in range(count))


def alikeness(adjusted: Adjustment, some: Sequence[int]) -> Array:
    """(some, some) the correlation, either way, of the tests of these readings: at 1 nothing tells two apart."""
    return np.asarray(np.abs(adjusted.correlation[np.ix_(some, some)]))
