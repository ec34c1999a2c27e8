"""Once: what several measures of one kitchen look at is worked out once and kept until the next kitchen.

Only the last kitchen's is kept, by identity and weakly: a kitchen never changes, and none is kept alive by this.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar
from weakref import ref

from countersunk.model.kitchen import Kitchen

Made = TypeVar("Made")


def once(make: Callable[[Kitchen], Made]) -> Callable[[Kitchen], Made]:
    """``make``, asked again only for another kitchen than the last."""
    kept: list[tuple[ref[Kitchen], Made]] = []

    @wraps(make)
    def of(kitchen: Kitchen) -> Made:
        last = kept[:1]  # taken whole: another thread may ask about its own kitchen meanwhile
        if last and last[0][0]() is kitchen:
            return last[0][1]
        made = make(kitchen)
        kept[:] = [(ref(kitchen), made)]
        return made

    return of
