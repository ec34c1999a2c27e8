"""Told: what an edit changed, in a few words, from the two documents."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from model.document import Document

MOST = 2
"""So many changes are told one by one; of more only the number."""

NAMED = {
    "runs": "run", "islands": "island", "peninsulas": "peninsula", "units": "unit", "cutouts": "cut-out",
    "walls": "wall", "openings": "opening", "obstacles": "obstacle", "services": "service", "slopes": "slope",
    "joins": "join", "corners": "shaped corner", "access": "stage of the way in",
}  # fmt: skip
"""What an item of a list is called."""


def told(before: Document, after: Document) -> str:
    """``worktop decor: rain-slate instead of pale-oak``; each change, or how many there are."""
    found = list(_changes((), before.model_dump(exclude_unset=True), after.model_dump(exclude_unset=True)))
    shown = [f"{place}: {words}" for place, words in found[:MOST]]
    more = len(found) - MOST
    return "; ".join([*shown, *([f"and {more} more"] if more > 0 else [])]) or "nothing changed"


def _changes(path: tuple[Any, ...], before: Any, after: Any) -> Iterator[tuple[str, str]]:
    """Place and words of every difference, fields in order, lists by their items where they are as long."""
    if before == after:
        return
    if isinstance(before, dict | None) and isinstance(after, dict | None):
        one, other = before or {}, after or {}
        for key in dict.fromkeys([*one, *other]):
            yield from _changes((*path, key), one.get(key), other.get(key))
    elif _alike(before, after):
        for i, (item, now) in enumerate(zip(before, after, strict=True)):
            yield from _changes((*path, i), item, now)
    elif isinstance(before, tuple | None) and isinstance(after, tuple | None) and before != after:
        yield _place(path), _counted(path, len(before or ()), len(after or ()))
    else:
        yield _place(path), _words(before, after)


def _alike(before: Any, after: Any) -> bool:
    """Lists of as many mappings, whose items may be told one by one."""
    both = isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after)
    return both and all(isinstance(item, dict) for item in (*before, *after))


def _place(path: tuple[Any, ...]) -> str:
    """``runs, 0, units, 2, width`` as ``run 1, unit 3, width``."""
    words = []
    for step, after in zip(path, (*path[1:], None), strict=True):
        if isinstance(step, int):
            continue
        words.append(f"{NAMED.get(step, step)} {after + 1}" if isinstance(after, int) else step.replace("_", " "))
    return ", ".join(words)


def _counted(path: tuple[Any, ...], before: int, after: int) -> str:
    if after == before:
        return "in another order"
    count, many = abs(after - before), str(path[-1]).replace("_", " ").replace("cutouts", "cut-outs")
    name = f"one {NAMED.get(path[-1], many)}" if count == 1 else f"{count} {many}"
    return f"{name} {'more' if after > before else 'fewer'}"


def _words(before: Any, after: Any) -> str:
    if after is None:
        return f"as usual instead of {_said(before)}"
    return f"{_said(after)}" + ("" if before is None else f" instead of {_said(before)}")


def _said(value: Any) -> str:
    return f"{value:g}" if isinstance(value, float) else "something else" if isinstance(value, dict) else str(value)
