"""Besides: which length to measure as well, and what that would settle.

A length across the room lets mistakes show that would not, checks what nothing checks, or tells apart readings of
which any one may be the mistake. What it would read does not matter to that, only where it lies.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from countersunk.model.adjustment.least_squares import Adjustment, Array
from countersunk.model.adjustment.limits import noncentrality
from countersunk.model.adjustment.linked import Linked
from countersunk.model.adjustment.observations import Angle, Distance, Observation
from countersunk.model.adjustment.snooping import AS_LIKELY
from countersunk.model.survey.angles import corner_names
from countersunk.model.survey.shape import RoomShape
from countersunk.model.ties import least, most
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
    network = shape.adjustment.network
    more = replace(network, observations=(*network.observations, *_lengths(shape, lines)))
    return Adjustment(more, shape.adjustment.at)


def _lengths(shape: RoomShape, lines: Sequence[Brace]) -> list[Distance]:
    sigma = shape.room.tolerance.diagonal / COVERAGE
    return [Distance(str(line), 0.0, sigma, *line.points) for line in lines]


def would_show(shape: RoomShape) -> Iterator[tuple[Sequence[Brace], float]]:
    """The one length across the room, and the two, with which the least error in any wall shows; and that, mm."""
    lines, adjusted = across(shape)[:MOST], shape.adjustment
    walls = [i for i, o in enumerate(adjusted.network.observations) if isinstance(o, Distance)]
    sigmas = np.array([adjusted.network.observations[i].sigma for i in walls])
    reach, weight = _gained(adjusted, _lengths(shape, lines))
    now = float(np.max(_shown(adjusted.redundancy[walls], sigmas)))
    for count in (1, 2):
        found = []
        for some in combinations(range(len(lines)), count):
            part = reach[np.ix_(walls, some)]
            more = np.sum(part @ np.linalg.inv(weight[np.ix_(some, some)]) * part, axis=1)
            found.append((float(np.max(_shown(adjusted.redundancy[walls] + more, sigmas))), some))
        if not found:
            continue
        shown, some = least(found, key=lambda each: each[0])
        if shown < min(WORTH * now, GLARING):
            yield [lines[k] for k in some], shown
            now = shown


def _shown(redundancy: Array, sigmas: Array) -> Array:
    """The least errors that show; infinite where nothing checks a reading."""
    checked = redundancy >= ALONE
    root = np.sqrt(np.where(checked, redundancy, 1.0))
    return np.where(checked, noncentrality() * sigmas / root, np.inf)


Checked = Mapping[int, float]
"""The least error that shows of readings by their places, mm or degrees."""


def would_check(shape: RoomShape, alone: Sequence[int]) -> list[tuple[Brace, Checked]]:
    """A few lengths across the room that check those readings, which nothing checks, as far as any length does.

    First comes the one that checks the most; each has what it checks besides those before it.
    """
    lines, left, found = across(shape), [*alone], list[tuple[Brace, Checked]]()
    if not lines or not left:
        return found
    observations = shape.observed[0].observations
    sigmas = np.array([observations[i].sigma for i in alone])[:, None]
    seen = [GLARING_ANGLE if isinstance(observations[i], Angle) else GLARING for i in alone]
    reach, weight = _gained(shape.adjustment, _lengths(shape, lines))
    shown = _shown(reach[[*alone]] ** 2 / np.diag(weight), sigmas)
    useful = shown < np.array(seen)[:, None]
    while left:
        rows = [alone.index(i) for i in left]
        counts = np.sum(useful[rows], axis=0)
        best = most(range(len(lines)), key=lambda k: float(counts[k]))
        checked = {i: float(shown[row, best]) for i, row in zip(left, rows, strict=True) if useful[row, best]}
        if not checked:
            return found
        found.append((lines[best], checked))
        left = [i for i in left if i not in checked]
    return found


def _gained(adjusted: Adjustment, more: Sequence[Observation]) -> tuple[Array, Array]:
    """(observations, more) how far each one more reaches each observation, and (more, more) their weights.

    With some of them the cofactors of residuals grow by reach · weight⁻¹ · reachᵀ: the inverse of a matrix that
    rows are added to (Sherman, Morrison and Woodbury, from memory).
    """
    rows = replace(adjusted.network, observations=tuple(more)).design(adjusted.at)
    spread = adjusted.covariance @ rows.T
    return adjusted.network.design(adjusted.at) @ spread, np.eye(len(rows)) + rows @ spread


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
    lines, observations = across(shape), shape.observed[0].observations
    twice = [observations[i] for i in doubted] if len(doubted) <= SPELT else []
    tried = [(str(line), o) for line, o in zip(lines, _lengths(shape, lines), strict=True)]
    names = [observations[i].name for i in doubted]
    for some in (tried, [(f"{o.name} a second time", o) for o in twice]):
        alike = _alike_with(shape.adjustment, doubted, [o for _, o in some])
        found = [(Telling(what, _groups(a, names)), _mixed(a)) for (what, _), a in zip(some, alike, strict=True)]
        useful = [each for each in found if len(each[0].groups) > 1]
        if useful:
            return least(useful, key=lambda each: each[1])[0]
    return None


def _alike_with(adjusted: Adjustment, some: Sequence[int], more: Sequence[Observation]) -> list[Array]:
    """(some, some) for each one more, the correlation, either way, of the tests of these readings with that: of two
    at 1 nothing tells which is wrong.
    """
    if not more:
        return []
    reach, weight = _gained(adjusted, more)
    cofactor, found = adjusted.cofactor[np.ix_(some, some)], []
    for gained, by in zip(reach[[*some]].T, np.diag(weight), strict=True):
        then = cofactor + np.outer(gained, gained) / by
        root = np.sqrt(np.maximum(np.diag(then), ALONE))
        found.append(np.abs(then) / np.outer(root, root))
    return found


def _mixed(alike: Array) -> float:
    """How many pairs of readings nothing tells apart; of as many, how alike all pairs are in a fraction."""
    return float(np.sum(alike > APART) + np.mean(alike) / 10.0)


def _groups(alike: Array, names: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Readings by their names, those together that nothing tells apart."""
    linked = Linked(range(len(names)))
    for i, j in np.argwhere(alike > APART):
        linked.link(int(i), int(j))
    groups = dict.fromkeys(tuple(sorted(linked.group(i))) for i in range(len(names)))
    return tuple(tuple(names[i] for i in group) for group in groups)
