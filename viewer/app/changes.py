"""Changes: what an edit changed, in a few words, from the two documents."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.document.keys import ROWS, names_by_key, unit_names
from countersunk.model.document.schema import Document

Path = tuple[Any, ...]
"""The way to a field: names of fields and places in lists."""

MOST = 2
"""So many changes are named one by one; of more only the number."""

NAMED = {
    "runs": "run", "islands": "island", "peninsulas": "peninsula", "units": "unit", "cutouts": "cut-out",
    "walls": "wall", "openings": "opening", "obstacles": "obstacle", "services": "service", "slopes": "slope",
    "ceiling": "reading of the ceiling",
    "joins": "join", "corners": "shaped corner", "splashbacks": "splashback", "access": "stage of the way in",
}  # fmt: skip
"""What an item of a list is called."""


UNTOLD = ("key", "last_key", "countersunk")
"""Fields that say nothing to a person."""


def changes_in_words(before: Document, after: Document, catalogue: Catalogue) -> str:
    """``worktop, decor: Rain slate instead of Pale oak``; each change, or how many there are."""
    units, names = unit_names(before), {**_names(catalogue), **names_by_key(after)}
    found = list(_changes((), before.model_dump(exclude_unset=True), after.model_dump(exclude_unset=True)))
    shown = [f"{_place(path, units)}: {_words(path, one, other, names)}" for path, one, other in found[:MOST]]
    more = len(found) - MOST
    return "; ".join([*shown, *([f"and {more} more"] if more > 0 else [])]) or "nothing changed"


def _names(catalogue: Catalogue) -> Mapping[str, str]:
    """What everything that can be chosen is called, by its code."""
    tables = (
        catalogue.decors,
        catalogue.stocks,
        catalogue.upstands,
        catalogue.splashbacks,
        catalogue.templates,
        catalogue.families,
    )
    return {code: item.name for table in tables for code, item in table.items()}


def _changes(path: Path, before: Any, after: Any) -> Iterator[tuple[Path, Any, Any]]:
    """Where every difference is and what is there, fields in order, lists by their items where they are as long."""
    if before == after:
        return
    if isinstance(before, dict | None) and isinstance(after, dict | None):
        one, other = before or {}, after or {}
        for key in dict.fromkeys(name for name in (*one, *other) if name not in UNTOLD):
            yield from _changes((*path, key), one.get(key), other.get(key))
    elif _alike(before, after):
        for i, (item, now) in enumerate(zip(before, after, strict=True)):
            yield from _changes((*path, i), item, now)
    else:
        yield path, before, after


def _alike(before: Any, after: Any) -> bool:
    """Lists of as many mappings, whose items may be told one by one."""
    both = isinstance(before, tuple) and isinstance(after, tuple) and len(before) == len(after)
    return both and all(isinstance(item, dict) for item in (*before, *after))


def _place(path: Path, units: Mapping[str, Sequence[str]]) -> str:
    """``runs, 0, units, 2, width`` as ``A3, width``, ``runs, 0, start`` as ``run 1, start``."""
    words = []
    if path[0] in ROWS and path[2:3] == ("units",) and len(path) > 3:
        words.append(units[f"{path[0]}[{path[1]}]"][path[3]])
        path = path[4:]
    for step, after in zip(path, (*path[1:], None), strict=True):
        if isinstance(step, int):
            continue
        words.append(f"{NAMED.get(step, step)} {after + 1}" if isinstance(after, int) else step.replace("_", " "))
    return ", ".join(words)


def _words(path: Path, before: Any, after: Any, names: Mapping[str, str]) -> str:
    if isinstance(before, tuple | None) and isinstance(after, tuple | None):
        return _counted(path, len(before or ()), len(after or ()))
    if after is None:
        return f"as usual instead of {_said(before, names)}"
    return _said(after, names) + ("" if before is None else f" instead of {_said(before, names)}")


def _counted(path: Path, before: int, after: int) -> str:
    if after == before:
        return "in another order"
    count, many = abs(after - before), str(path[-1]).replace("_", " ").replace("cutouts", "cut-outs")
    name = f"one {NAMED.get(path[-1], many)}" if count == 1 else f"{count} {many}"
    return f"{name} {'more' if after > before else 'fewer'}"


def _said(value: Any, names: Mapping[str, str]) -> str:
    if isinstance(value, float):
        return f"{value:g}"
    return "something else" if isinstance(value, dict) else names.get(str(value), str(value))
