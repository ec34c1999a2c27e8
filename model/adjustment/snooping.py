"""Snooping: whether an adjustment is sound, and if not, which reading most likely is wrong (after Baarda).

Two levels: what right readings do once in twenty times is a doubt, what they do once in a thousand a contradiction.

Every reading in turn is left out and the network adjusted again: what then is left says how well an error in that
one explains the whole. One is named where it alone explains it; a few where the readings cannot tell them apart;
none where there is one reading more than needed, since then each would explain it as well.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from countersunk.model.adjustment.least_squares import Adjustment, Network, UndeterminedError, adjust
from countersunk.model.adjustment.limits import SINGLE, WHOLE, chi_square_limit, normal_limit
from countersunk.model.adjustment.observations import Key
from countersunk.model.ties import least, ranked
from countersunk.model.tolerance import EQUAL

AS_LIKELY = chi_square_limit(1, WHOLE)
"""A suspect that leaves no more than this beyond the best one cannot be distinguished from it."""


@dataclass(frozen=True)
class Suspect:
    """An observation by its place in the network, and its ``likely`` value by all others; they leave ``left``."""

    index: int
    likely: float
    left: float


@dataclass(frozen=True)
class Diagnosis:
    """What the readings say about themselves.

    ``checked`` is False without redundancy: no statistics can tell. ``sound`` is whether chance explains what they
    miss, ``contradicted`` whether it would explain it less than once in a thousand times; what is neither is in
    doubt. ``suspects`` are the readings of which an error in one alone explains it, the likeliest first; empty
    where it takes more than one, or where ``single`` is True: with a redundancy of 1 no culprit can be named.
    """

    checked: bool
    sound: bool
    suspects: tuple[Suspect, ...] = ()
    single: bool = False
    contradicted: bool = False

    @property
    def doubtful(self) -> bool:
        """Whether chance explains it, but seldom."""
        return not self.sound and not self.contradicted


def judge(adjustment: Adjustment, starts: Iterable[Mapping[Key, float]] = ()) -> Diagnosis:
    """Whether an adjustment is sound, and the suspects where it is not, which are sought from more ``starts``."""
    if adjustment.freedom <= 0:
        return Diagnosis(checked=False, sound=True)
    if is_sound(adjustment):
        return Diagnosis(checked=True, sound=True)
    strong = is_contradictory(adjustment)
    if adjustment.freedom == 1:
        return Diagnosis(checked=True, sound=False, single=True, contradicted=strong)
    named = suspects(alone(adjustment.network, [adjustment.at, *starts]), adjustment.freedom, adjustment.chi_square)
    return Diagnosis(checked=True, sound=False, suspects=named, contradicted=strong)


def is_sound(adjustment: Adjustment) -> bool:
    """Whether chance explains the whole (χ², 5 %) and every single residual (normal, 0.1 %)."""
    whole = adjustment.chi_square <= chi_square_limit(adjustment.freedom)
    return whole and worst_residual(adjustment) <= normal_limit()


def is_contradictory(adjustment: Adjustment) -> bool:
    """Whether right readings would miss each other by so much less than once in a thousand times: the whole by χ²,
    or any single residual.
    """
    if adjustment.freedom <= 0:
        return False
    whole = adjustment.chi_square > chi_square_limit(adjustment.freedom, SINGLE)
    return whole or worst_residual(adjustment) > normal_limit()


def worst_residual(adjustment: Adjustment) -> float:
    """The largest standardised residual, either way; 0 where nothing is checked."""
    return float(np.nanmax(np.abs(adjustment.standardised), initial=0.0))


def suspects(ordered: Sequence[Suspect], freedom: int, chi_square: float = math.inf) -> tuple[Suspect, ...]:
    """Those of which one alone explains the ``chi_square`` of the whole, and as well as the first does.

    What they leave must be usual for right readings; where the first stands out by itself, not beyond all chance.
    """
    if not ordered:
        return ()
    stands_out = chi_square - ordered[0].left > normal_limit() ** 2
    limit = chi_square_limit(freedom - 1, SINGLE if stands_out else WHOLE)
    most = min(limit, ordered[0].left + AS_LIKELY)
    return tuple(suspect for suspect in ordered if suspect.left <= most + EQUAL)


def alone(network: Network, starts: Sequence[Mapping[Key, float]]) -> list[Suspect]:
    """Every reading that others check, with what they leave of it; that which explains most comes first.

    Without each the network is adjusted from the start that then fits best: a gross error leads others astray.
    """
    found = [_left_out(network, i, starts) for i in range(len(network.observations))]
    return ranked((suspect for suspect in found if suspect), key=lambda suspect: suspect.left)


def _left_out(network: Network, i: int, starts: Sequence[Mapping[Key, float]]) -> Suspect | None:
    """None for a reading that nothing checks."""
    rest, observation = network.without(i), network.observations[i]
    start = least(starts, key=lambda at: float(np.sum(rest.misfits(at) ** 2)))
    try:
        adjusted = adjust(replace(rest, start=start))
    except UndeterminedError:
        return None
    return Suspect(i, observation.value - observation.misfit(adjusted.at), adjusted.chi_square)
