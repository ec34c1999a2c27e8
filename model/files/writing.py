"""Writing: plain data as YAML, the way that people write it.

Short things stand on one line, items that have fields of their own each on its line, whole numbers without a point.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from countersunk.model.files import inches

WIDTH = 116
"""Lines are written no longer than this where that can be."""

PLAIN = re.compile(r"[^\W_](?:[\w .()/+'’°²³½¼-]*[\w.)°²³½¼])?")
"""Texts that need no quotes unless they would be read as something else, in a list on one line too."""

UNSEEN = re.compile(r"[\x7f-\x9f\u2028\u2029\ufeff\ud800-\udfff\ufffe\uffff]")
"""What JSON writes as it is and YAML does not allow."""


def whole(data: Mapping[str, Any]) -> str:
    """A file with these fields."""
    return "".join(f"{line}\n" for key, value in data.items() for line in entry(key, value, 0))


def entry(key: str, value: Any, column: int) -> list[str]:
    """A field with its value as lines: the first begins at ``column`` and is without its indent."""
    short = f"{key}: {flow(value)}"
    fits = _is_short(value) and column + len(short) <= WIDTH
    return [short] if fits or not value or not _is_collection(value) else [f"{key}:", *_lines(value, column + 2)]


def item(value: Any, column: int) -> list[str]:
    """An item of a list as lines: its dash is at ``column``, and the first line is without its indent."""
    short = f"- {flow(value)}"
    if not isinstance(value, Mapping) or (_is_short(value) and column + len(short) <= WIDTH):
        return [short]
    first, *rest = _lines(value, column + 2)
    return [f"- {first.lstrip()}", *rest]


def flow(value: Any) -> str:
    """A value on one line."""
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{key}: {flow(inner)}' for key, inner in value.items())}}}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(map(flow, value))}]"
    return scalar(value)


def scalar(value: Any, like: str = "") -> str:
    """One value; quoted as ``like`` is, with a point where that has one, in inches where that is and a rule can.

    >>> scalar(600.0), scalar(600.0, like="450.0"), scalar(91.25), scalar("pale-oak"), scalar("no: 1", like="'a'")
    ('600', '600.0', '91.25', 'pale-oak', "'no: 1'")
    >>> scalar(609.6, like='23 5/8'), scalar(600.0, like='23 5/8')
    ('24"', '600')
    """
    if isinstance(value, bool) or value is None:
        return {True: "true", False: "false", None: "null"}[value]
    if isinstance(value, float):
        rule = inches.exactly(value) if like and inches.read(like) is not None else None
        return (
            rule
            if rule
            else f"{value:.0f}"
            if value.is_integer() and abs(value) < 1e15 and "." not in like
            else repr(value)
        )
    return _text(value, like[:1]) if isinstance(value, str) else str(value)


def _text(value: str, quote: str) -> str:
    if quote == "'" and value.isprintable():
        return "'" + value.replace("'", "''") + "'"
    if quote == '"' or not _is_plain(value):
        return UNSEEN.sub(lambda found: f"\\u{ord(found[0]):04x}", json.dumps(value, ensure_ascii=False))
    return value


@lru_cache(maxsize=1_000)
def _is_plain(value: str) -> bool:
    """Whether a text is read back as it is without quotes: not one that looks like a number, a date or inches."""
    if not PLAIN.fullmatch(value) or inches.read(value) is not None:
        return False
    try:
        return bool(YAML(typ="safe", pure=True).load(f"[{value}]") == [value])
    except (YAMLError, ValueError):
        return False


def _lines(value: Any, column: int) -> list[str]:
    """A collection as lines, each with its indent."""
    if isinstance(value, Mapping):
        return [line for key, inner in value.items() for line in _at(entry(key, inner, column), column)]
    return [line for inner in value for line in _at(item(inner, column), column)]


def _at(lines: list[str], column: int) -> list[str]:
    """The first line moved to its column; the others are there already."""
    return [" " * column + lines[0], *lines[1:]]


def _is_short(value: Any) -> bool:
    """Whether a value reads well on one line: nothing in it is a list of what has fields of its own."""
    if isinstance(value, Mapping):
        return all(map(_is_short, value.values()))
    if isinstance(value, Sequence) and not isinstance(value, str):
        return not any(map(_is_collection, value))
    return True


def _is_collection(value: Any) -> bool:
    return isinstance(value, Mapping) or (isinstance(value, Sequence) and not isinstance(value, str))
