"""Keys: what lasts of a kitchen while it is changed.

Every opening, row, unit, join and cut-out of a document has a *key*. Who types a file may leave it out: the
thing then gets one when the file is read, always the same for the same file, and it is written with the first
change. A key that the program gives is a letter for the kind and the next number: ``u-7``. ``last_key`` in the
document only grows, so that no number is given twice, whatever has been taken out since. Every key has a hyphen
and no name has one, so that no key is mistaken for a place such as ``A4``. What is ``over`` a unit may be typed
with the unit's place or name, which becomes its key at once: nothing has to follow when units move.

Tops and joins follow from rows and have keys made of theirs, with signs that no typed key has: ``r-1:top`` is a top
of row ``r-1``, ``r-1+r-9`` the join of two rows. The key of an entry of a list of joins is that of the entry.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from itertools import count
from typing import Any

from pydantic import BaseModel

from countersunk.model.errors import InputError

FORMAT = 2
"""The format of kitchen files that are written. 1 had no keys, and did not say what it was."""

PATTERN = r"^[a-z][a-z0-9]{0,15}(-[a-z0-9]{1,16}){1,4}$"
GIVEN = re.compile(r"[a-z]-(\d{1,9})")
"""A key as the program gives it."""

ROWS = ("runs", "islands", "peninsulas")
LISTS: dict[tuple[str, ...], str] = {
    ("room", "openings"): "o",
    **{(kind,): "r" for kind in ROWS},
    ("worktop", "joins"): "j",
    ("worktop", "in_line"): "j",
    ("cutouts",): "c",
}
"""Where the lists are whose items have keys, and the letter of each; units stand in rows."""

MARKS = ("T", "J", "S")
"""What the marks of tops, joins and upstands begin with."""

OVER: dict[tuple[str, ...], tuple[str, ...]] = {
    ("cutouts",): ("over",),
    ("worktop", "corners"): ("over",),
    ("fitted", "lengths"): ("from", "to"),
    ("fitted", "gaps"): ("unit",),
    ("fitted", "walls"): ("unit",),
    ("fitted", "heights"): ("unit",),
    ("accepted",): ("at",),
}
"""Lists whose items name units, as what lies over one does, and the fields that name them."""

Data = Mapping[str, Any]
Change = Callable[[Data], Data]


def with_keys(data: Any) -> Any:
    """Plain data of a document with a key at all that has one, and the key of a unit wherever something is over it.

    What is not as the schema has it is left as it is, to be refused there.
    """
    if not isinstance(data, Mapping):
        return data
    typed = [key for _, item in keyed_items(data) if isinstance(key := _get(item, "key"), str)]
    last = max([_whole(_get(data, "last_key")), *(number for key in typed if (number := _number(key)))])
    numbers = count(last + 1)
    for path, letter in LISTS.items():
        data = _mapped(data, path, partial(_keyed, letter=letter, numbers=numbers))
    given = next(numbers) - 1
    version = {"countersunk": max(FORMAT, _whole(_get(data, "countersunk", 1)))}
    return {**_over_keys(data), **({"last_key": given} if given else {}), **version}


def keyed_items(data: Any) -> Iterator[tuple[str, Any]]:
    """Every item that has a key, with its field; of a document or of plain data."""
    for path in LISTS:
        field = ".".join(path)
        for i, item in enumerate(_list(data, path)):
            yield f"{field}[{i}]", item
            yield from ((f"{field}[{i}].units[{j}]", unit) for j, unit in enumerate(_list(item, ("units",))))


def fresh_keys(document: Any, letter: str) -> Iterator[str]:
    """Keys that nothing in the document has had, one after the other."""
    yield from (f"{letter}-{number}" for number in count(document.last_key + 1))


def check_keys(document: BaseModel) -> None:
    """Raises InputError for a key that two things have, as after a line was copied."""
    seen: dict[str, str] = {}
    for field, item in keyed_items(document):
        if item.key and item.key in seen:
            found = f"'{item.key}', which {seen[item.key]} has"
            advice = "take it out: the program gives another"
            raise InputError.at(f"{field}.key", found=found, allowed="a key of its own", advice=advice)
        seen[item.key] = field


def prefix(wall: str, level: str) -> str:
    """What the places of units on a wall begin with: A1, AU1 where they hang; TB1 on a wall T, since T1 is a top.

    >>> prefix("A", "floor"), prefix("A", "upper"), prefix("S", "floor")
    ('A', 'AU', 'SB')
    """
    if level != "floor":
        return f"{wall}U"
    return f"{wall}B" if wall in MARKS else wall


def unit_names(data: Any) -> dict[str, list[str]]:
    """What the layout calls each unit, by the field of its row: its own name, or its place on its wall."""
    counts: Counter[str] = Counter()
    found = {}
    for kind in ROWS:
        for i, row in enumerate(_list(data, (kind,))):
            begins, units = _prefix(row, kind), _list(row, ("units",))
            numbered = enumerate(units, start=counts[begins] + 1)
            counts[begins] += len(units) if kind == "runs" else 0
            found[f"{kind}[{i}]"] = [str(_get(unit, "name") or f"{begins}{n}") for n, unit in numbered]
    return found


def names_by_key(data: Any) -> dict[str, str]:
    """What the layout calls each unit, by its key."""
    found = {}
    for field, names in unit_names(data).items():
        kind, i = field.rstrip("]").split("[")
        units = _list(_list(data, (kind,))[int(i)], ("units",))
        found.update({_get(unit, "key"): name for unit, name in zip(units, names, strict=True)})
    return found


def top_keys(tops: Iterable[tuple[str, Iterable[str]]]) -> list[str]:
    """The key of each top, given the key of its row and those of the units under it.

    The tops of a row are numbered by the oldest unit under each, so that they keep their numbers when units are put
    in, moved or mirrored.

    >>> top_keys([("r-1", ["u-9", "u-5"]), ("r-1", ["u-3"]), ("r-2", ["u-7"])])
    ['r-1:top-2', 'r-1:top', 'r-2:top']
    """
    oldest = [(row, min(map(_age, units))) for row, units in tops]
    ranks = [sum(other < age for its, other in oldest if its == row) + 1 for row, age in oldest]
    return [f"{row}:top" + (f"-{n}" if n > 1 else "") for (row, _), n in zip(oldest, ranks, strict=True)]


def join_key(one: tuple[str, str], other: tuple[str, str]) -> str:
    """The key of a join, given the row and the top of either half: the two rows, or the two tops of one row.

    It is the same whether or not the document lists the join, so that a join that is pinned stays what it was.

    >>> join_key(("r-9", "r-9:top"), ("r-1", "r-1:top-2")), join_key(("r-1", "r-1:top"), ("r-1", "r-1:top-2"))
    ('r-1+r-9', 'r-1:top+r-1:top-2')
    """
    return "+".join(sorted((one[0], other[0]) if one[0] != other[0] else (one[1], other[1])))


def _age(key: str) -> tuple[bool, int, str]:
    """Keys in the order in which they were given, then those that were typed."""
    number = _number(key)
    return number == 0, number, key


def _number(key: str) -> int:
    """The number of a key that the program gave, 0 of another."""
    found = GIVEN.fullmatch(key)
    return int(found[1]) if found else 0


def _keyed(item: Data, letter: str, numbers: Iterator[int]) -> Data:
    """An item with a key, and its units with theirs."""
    made = item if "key" in item else {**item, "key": f"{letter}-{next(numbers)}"}
    keyed: Data = _mapped(made, ("units",), partial(_keyed, letter="u", numbers=numbers))
    return keyed


def _over_keys(data: Data) -> Data:
    """The data with keys wherever something names a unit that was given by its name or its place."""
    keys = {name: key for key, name in names_by_key(data).items()}
    for path, fields in OVER.items():
        data = _mapped(data, path, partial(_with_units, fields=fields, keys=keys))
    return data


def _with_units(item: Data, fields: Iterable[str], keys: Mapping[str, str]) -> Data:
    named = {field: item.get(field) for field in fields}
    return {
        **item,
        **{field: keys[unit] for field, unit in named.items() if isinstance(unit, str) and unit in keys},
    }


def _prefix(row: Any, kind: str) -> str:
    if kind != "runs":
        return prefix(str(_get(row, "name")), "floor")
    return prefix(str(_get(row, "wall")), str(_get(row, "level", "floor")))


def _mapped(data: Any, path: tuple[str, ...], change: Change) -> Any:
    """The data with each item changed of the list at ``path``, if there is one."""
    if isinstance(data, BaseModel):
        data = data.model_dump(exclude_unset=True)
    if not path and isinstance(data, tuple | list):
        return type(data)(change(_plain(item)) if isinstance(item, Mapping | BaseModel) else item for item in data)
    if not path or not isinstance(data, Mapping) or path[0] not in data:
        return data
    return {**data, path[0]: _mapped(data[path[0]], path[1:], change)}


def _plain(item: Any) -> Data:
    made: Data = item.model_dump(exclude_unset=True) if isinstance(item, BaseModel) else item
    return made


def _list(data: Any, path: tuple[str, ...]) -> tuple[Any, ...]:
    """The items of the list at ``path``; none where there is no list."""
    for step in path:
        data = _get(data, step)
    return tuple(data) if isinstance(data, tuple | list) else ()


def _get(data: Any, name: str, default: Any = None) -> Any:
    """A field of a model or of plain data."""
    if isinstance(data, BaseModel):
        return getattr(data, name, default)
    return data.get(name, default) if isinstance(data, Mapping) else default


def _whole(value: Any) -> int:
    return value if isinstance(value, int) else 0
