"""Kept: what is made of values that an edit leaves alone is made once, and found again by these values.

So an edit builds again only what it touches. Whatever is kept is made of its arguments alone and never changes, so
a kitchen is the same as one that is built from nothing: `forget` is how a test sees that.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any, TypeVar, cast

Function = TypeVar("Function", bound=Callable[..., Any])

_KEPT: list[Any] = []


def kept(most: int) -> Callable[[Function], Function]:
    """Keep the last ``most`` results of a function, whose arguments must be values that can be hashed."""

    def of(make: Function) -> Function:
        remembering = lru_cache(maxsize=most)(make)
        _KEPT.append(remembering)
        return cast(Function, remembering)

    return of


def forget() -> None:
    """Forget every result."""
    for remembering in _KEPT:
        remembering.cache_clear()
