"""Pairing: which item of a list was which before, by what it is called, else by being the same, else in turn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import islice
from typing import Any

IDENTITY = ("key", "name")
"""Fields by which an item of a list is known again, the first that both have."""


def paired(olds: Sequence[Any], news: Sequence[Any]) -> list[int | None]:
    """For each new item which of the old ones it was, if any: by what it is called, else the same, else in turn.

    >>> paired([{"key": "a"}, {"key": "b"}, {"x": 1}], [{"key": "b"}, {"x": 2, "key": "c"}, {"key": "a"}])
    [1, 2, 0]
    """
    found: dict[int, int] = {}
    for alike in (*(_called(name) for name in IDENTITY), same):
        for i in (i for i in range(len(news)) if i not in found):
            taken = set(found.values())
            was = (j for j, old in enumerate(olds) if j not in taken and alike(old, news[i]))
            found.update((i, j) for j in islice(was, 1))
    rest = iter([j for j, old in enumerate(olds) if j not in set(found.values()) and not _is_called(old)])
    return [found[i] if i in found else next(rest, None) for i in range(len(news))]


def _called(name: str) -> Any:
    def alike(old: Any, new: Any) -> bool:
        both = isinstance(old, Mapping) and isinstance(new, Mapping)
        return both and old.get(name) is not None and old.get(name) == new.get(name)

    return alike


def _is_called(old: Any) -> bool:
    """Whether an item has a key, so that nothing else can have been it."""
    return isinstance(old, Mapping) and IDENTITY[0] in old


def same(one: Any, other: Any) -> bool:
    """Whether two pieces of plain data are the same; true is not 1, and a list is a tuple.

    >>> same([1, {"a": 2.0}], (1.0, {"a": 2})), same(True, 1)
    (True, False)
    """
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(same, one, other))
    return isinstance(one, bool) == isinstance(other, bool) and bool(one == other)
