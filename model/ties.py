"""Ties: which of several things is the nearest, longest or best where their figures do not tell them apart.

What is worked out from a survey carries noise in its last bits; another processor, or a room that lies turned, has
other noise. No choice may hang on it. So whatever comes within a tolerance of the best is as good, and of these the
first is taken: by name, or by its place in the document. Never by one more measured figure, which has noise of its
own, and never by a rounded one, since rounding only moves the edge at which noise decides.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, TypeVar

from countersunk.model.tolerance import CONTACT, EQUAL, NOISE

Item = TypeVar("Item")
Figures = float | tuple[float, ...]
"""One measure, or several that count in turn."""


def least(
    items: Iterable[Item],
    key: Callable[[Item], Figures],
    tie: Callable[[Item], Any] | None = None,
    within: float = EQUAL,
) -> Item:
    """The item with the least ``key``; of those that are as good to ``within``, the first by ``tie``.

    Of several figures the later ones count where the earlier are equal. ``tie`` is a name or a place in the
    document; without it the first counts as they are given. Raises ValueError where there is none.

    >>> least([("wall B", 5.0000001), ("hung run B", 5.0)], key=lambda one: one[1])
    ('wall B', 5.0000001)
    >>> least([("wall B", 5.0000001), ("hung run B", 5.0)], key=lambda one: one[1], tie=lambda one: one[0])
    ('hung run B', 5.0)
    """
    left = [(item, _figures(key(item))) for item in items]
    if not left:
        raise ValueError("nothing to choose from")
    for i in range(len(left[0][1])):
        limit = min(figures[i] for _, figures in left) + within
        left = [(item, figures) for item, figures in left if figures[i] <= limit]
    equal = [item for item, _ in left]
    return min(equal, key=tie) if tie else equal[0]


def most(
    items: Iterable[Item],
    key: Callable[[Item], float],
    tie: Callable[[Item], Any] | None = None,
    within: float = EQUAL,
) -> Item:
    """The item with the greatest ``key``; ties are decided as by `least`.

    >>> most([("left", 300.0), ("right", 300.0000001)], key=lambda side: side[1])
    ('left', 300.0)
    """
    return least(items, lambda item: -key(item), tie, within)


def ranked(
    items: Iterable[Item],
    key: Callable[[Item], Figures],
    tie: Callable[[Item], Any] | None = None,
    within: float = EQUAL,
) -> list[Item]:
    """The items from the least ``key`` to the greatest; those that are equal to ``within`` in the order of ``tie``.

    >>> ranked([("b", 1.0), ("c", 0.5), ("a", 1.0000001)], key=lambda one: one[1], tie=lambda one: one[0])
    [('c', 0.5), ('a', 1.0000001), ('b', 1.0)]
    """
    ordered = _ordered([(_figures(key(item)), item) for item in items], 0, within)
    return [item for group in ordered for _, item in (sorted(group, key=lambda one: tie(one[1])) if tie else group)]


def rounded_up(value: float, within: float = CONTACT) -> int:
    """The next whole number up; what is whole but for noise stays.

    >>> rounded_up(3.0000000001), rounded_up(3.1)
    (3, 4)
    """
    return math.ceil(value - within)


def rounded_down(value: float, within: float = CONTACT) -> int:
    """The next whole number down; what is whole but for noise stays.

    >>> rounded_down(2.9999999999), rounded_down(2.9)
    (3, 2)
    """
    return math.floor(value + within)


def settled(value: float) -> float:
    """A value without its noise: what is rounded to be shown, at .5 too, then comes out the same everywhere.

    >>> f"{settled(412.49999999999994):.0f}", f"{settled(412.50000000000006):.0f}"
    ('412', '412')
    """
    return round(value, NOISE) + 0.0


def rounded(value: float, places: int = 1) -> float:
    """A value as every list, finding and paper shows it: settled, then rounded, a half away from 0.

    >>> rounded(1144.65), rounded(1144.6499999999999), rounded(-0.05), rounded(35.14, 0)
    (1144.7, 1144.7, -0.1, 35.0)
    """
    step = Decimal(1).scaleb(-places)
    return float(Decimal(str(settled(value))).quantize(step, ROUND_HALF_UP)) + 0.0


def _figures(key: Figures) -> tuple[float, ...]:
    return key if isinstance(key, tuple) else (key,)


Measured = tuple[tuple[float, ...], Item]


def _ordered(measured: list[Measured[Item]], at: int, within: float) -> Iterator[list[Measured[Item]]]:
    """Groups of equals in order, told apart by the figure numbered ``at``, then by those after it."""
    if not measured or at == len(measured[0][0]):
        yield measured
        return
    for group in _groups(measured, at, within):
        yield from _ordered(group, at + 1, within)


def _groups(measured: list[Measured[Item]], at: int, within: float) -> Iterator[list[Measured[Item]]]:
    """In order of one figure, what is no further than ``within`` from the first of its group, each as given."""
    order, start = sorted(range(len(measured)), key=lambda i: measured[i][0][at]), 0
    for k in range(1, len(order) + 1):
        first = measured[order[start]][0][at]
        if k == len(order) or measured[order[k]][0][at] > first + within:
            yield [measured[i] for i in sorted(order[start:k])]
            start = k
