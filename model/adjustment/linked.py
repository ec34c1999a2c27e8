"""Linked: things that links join into groups."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import Generic, TypeVar

Name = TypeVar("Name", bound=Hashable)


class Linked(Generic[Name]):
    """Things, each a group of its own until it is linked.

    >>> rooms = Linked("abc")
    >>> rooms.link("a", "c"), rooms.link("c", "a")
    (True, False)
    >>> sorted(rooms.group("c"))
    ['a', 'c']
    """

    def __init__(self, things: Iterable[Name]) -> None:
        self._groups = {thing: {thing} for thing in things}

    def link(self, a: Name, b: Name) -> bool:
        """Join the groups of two things; False where they were one already."""
        small, large = sorted((self._groups[a], self._groups[b]), key=len)
        if small is large:
            return False
        large |= small
        self._groups.update(dict.fromkeys(small, large))
        return True

    def group(self, thing: Name) -> frozenset[Name]:
        """All that ``thing`` is linked to, itself too."""
        return frozenset(self._groups[thing])
