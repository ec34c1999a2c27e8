"""Untrusted YAML, read into a strict schema: bounded in size, without tricks, every error with its line.

Refused before anything is built: files over 1 MB, text that is not UTF-8, anchors and aliases, tags, several
documents, duplicate keys, keys that are not plain words, nesting deeper than a kitchen needs.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    NodeEvent,
)
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.parser import Parser

from countersunk import shared
from countersunk.model.errors import MOST_TOLD, InputError, Problem
from countersunk.model.files import inches
from countersunk.model.files.remembered import remembered
from countersunk.model.files.slips import comma, meant

MAX_BYTES = 1_000_000
MAX_DEPTH = 12
MAX_NODES = 30_000
"""Values, lists and mappings in one file: some ten times those of the largest that ship, and read in seconds."""

NEWER = "newer_format"
"""The type of a schema's refusal of a file that a later version of the program has written."""

UNWRITABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
"""What no text of ours may hold: a terminal obeys it, or no file can be written with it (W3C, XML 1.0, Char)."""

Schema = TypeVar("Schema", bound=BaseModel)
Loc = tuple[int | str, ...]
PlainData = tuple[Any, dict[str, int]]
"""What a file says, its lists as tuples, and the line of each field."""


@dataclass(frozen=True)
class Source:
    """Where each field of a file stands, so that an error found later can still name its line."""

    file: str
    lines: dict[str, int]

    def located(self, error: InputError) -> InputError:
        """The same error with file and line, each problem at its field or the nearest field around it.

        A problem that was found in another file keeps that.
        """
        found = (p if p.file else replace(p, file=self.file, line=self.line(p.field)) for p in error.problems)
        return InputError(list(found), error.more)

    @contextmanager
    def locating(self) -> Iterator[None]:
        """Whatever InputError is raised within leaves with file and line."""
        try:
            yield
        except InputError as error:
            raise self.located(error) from None

    def line(self, field: str) -> int | None:
        """The line of a field such as ``runs[0].units[2].width``; that of what holds it where it is missing."""
        while field not in self.lines and field:
            around = re.sub(r"(^|\.)[^.\[\]]*$|\[\d+\]$", "", field)
            field = around if around != field else ""  # no field of ours, such as a choice within a union
        return self.lines.get(field)


def read_file(path: Path, schema: type[Schema]) -> tuple[Schema, Source]:
    """Read ``path`` against ``schema``. Raises InputError with every problem found."""
    own = path.is_relative_to(shared.FOLDER)
    return _read(read_bytes(path), schema, path.name, _plain_data_remembered if own else _plain_data)


def read_bytes(path: Path) -> bytes:
    """The bytes of a file, no more than one too many. Raises InputError for one that cannot be read."""
    try:
        with path.open("rb") as stream:
            return stream.read(MAX_BYTES + 1)
    except OSError as error:
        what = error.strerror or "unreadable"
        raise InputError(
            [Problem("file", what.lower(), "a file that can be read", "check the path", str(path))]
        ) from None


def read_checked(path: Path, schema: type[Schema], check: Callable[[Schema], None]) -> Schema:
    """`read_file` for a file that must also pass ``check``, whose InputErrors leave with file and line."""
    value, source = read_file(path, schema)
    with source.locating():
        check(value)
    return value


def read_text(raw: bytes, schema: type[Schema], file: str) -> tuple[Schema, Source]:
    """Read the bytes of a file named ``file`` against ``schema``. Raises InputError."""
    return _read(raw, schema, file, _plain_data)


def _read(
    raw: bytes, schema: type[Schema], file: str, plain_data: Callable[[bytes], PlainData]
) -> tuple[Schema, Source]:
    try:
        data, lines = plain_data(raw)
    except InputError as error:
        raise InputError([replace(p, file=file) for p in error.problems], error.more) from None
    source = Source(file, lines)
    try:
        return schema.model_validate(data), source
    except ValidationError as error:
        raise source.located(problems_of(error, schema)) from None


def _plain_data(raw: bytes) -> PlainData:
    return _with_lines(composed(decoded(raw)))


@lru_cache(maxsize=64)
def _plain_data_remembered(raw: bytes) -> PlainData:
    """The same for a file of the program: it is read at every start, and nearly always as it was."""
    data, lines = remembered(_how_read() + raw, lambda: _plain_data(raw))
    return data, lines


@cache
def _how_read() -> bytes:
    """What the outcome of reading depends on beside the file."""
    return b"".join(Path(module.__file__ or "").read_bytes() for module in (sys.modules[__name__], inches))


def problems_of(error: ValidationError, schema: type[BaseModel]) -> InputError:
    """A schema's refusals in our words, each with the field, what was found and what is allowed.

    A list that is refused only because an item of it is, is not told as a problem of its own.
    """
    tree, details = schema.model_json_schema(), error.errors(include_url=False)
    around = {d["loc"][:depth] for d in details for depth in range(len(d["loc"]))}
    own = [d for d in details if d["loc"] not in around]
    return InputError([_problem(d, tree) for d in own[:MOST_TOLD]], len(own[MOST_TOLD:]))


def field_name(loc: Loc) -> str:
    """``("runs", 0, "units")`` as a person would point at it: ``runs[0].units``."""
    return "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in loc).lstrip(".")


def decoded(raw: bytes) -> str:
    """The text of a file. Raises InputError for one that is too large or is not UTF-8."""
    if len(raw) > MAX_BYTES:
        raise InputError.at("file", found="more than 1 MB", allowed="1 MB", advice="keep one kitchen in a file")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        found = f"a byte that is not UTF-8 at offset {error.start}"
        raise InputError.at("file", found=found, allowed="UTF-8 text", advice="save it as UTF-8") from None


def composed(text: str) -> Node:
    """The nodes of a text, with nothing in them that could surprise. Raises InputError."""
    yaml = YAML(typ="safe", pure=True)
    yaml.Parser = _PlainParser
    try:
        root = yaml.compose(text)
    except (ValueError, OverflowError):  # an escape for a character that there is not
        found, allowed = "an escape for no character", "escapes of characters that there are"
        raise InputError([Problem("file", found, allowed, "write the character itself")]) from None
    except YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        found = str(getattr(error, "problem", None) or error).splitlines()[0]
        problem = Problem("file", found, "plain YAML", "check indentation, colons and quotes")
        raise InputError([replace(problem, line=mark.line + 1 if mark else None)]) from None
    if not isinstance(root, MappingNode):
        raise InputError.at("file", found="no fields", allowed="a mapping of fields", advice="see a demo kitchen")
    return root


class _PlainParser(Parser):
    """A parser that lets each event through once it is known to be harmless, before a node is made of it."""

    def __init__(self, loader: Any) -> None:
        super().__init__(loader)
        self.depth = self.documents = self.nodes = 0

    def get_event(self) -> Any:
        event = super().get_event()
        self.nodes += isinstance(event, NodeEvent)
        self.depth += isinstance(event, CollectionStartEvent)
        self.depth -= isinstance(event, CollectionEndEvent)
        self.documents += isinstance(event, DocumentStartEvent)
        trick = _trick(event, self.depth, self.documents)
        if self.nodes > MAX_NODES:
            trick = f"more than {MAX_NODES} values"
        if trick:
            line = event.start_mark.line + 1
            raise InputError([Problem("file", trick, "plain values", "write it out in full", line=line)])
        return event


def _trick(event: Any, depth: int, documents: int) -> str:
    if isinstance(event, AliasEvent) or getattr(event, "anchor", None):
        return "an anchor or alias"
    if getattr(event, "ctag", None):
        return "a tag"
    if depth > MAX_DEPTH:
        return f"nesting deeper than {MAX_DEPTH}"
    return "a second document" if documents > 1 else ""


def _with_lines(root: Node) -> PlainData:
    """The nodes as plain data (sequences as tuples) and the line on which each field stands."""
    lines: dict[str, int] = {}
    constructor = YAML(typ="safe", pure=True).constructor

    def convert(node: Node, loc: Loc) -> Any:
        lines.setdefault(field_name(loc), node.start_mark.line + 1)
        if isinstance(node, SequenceNode):
            return tuple(convert(child, (*loc, i)) for i, child in enumerate(node.value))
        if isinstance(node, MappingNode):
            return {key: convert(child, (*loc, key)) for key, child in _items(node, loc, lines)}
        return _scalar(constructor, node, loc)

    return convert(root, ()), lines


def plain(node: Node) -> Any:
    """The data that a node holds."""
    return _with_lines(node)[0]


def _scalar(constructor: Any, node: Node, loc: Loc) -> Any:
    """A scalar as a safe loader reads it, inches as millimetres; a date or number that is none is refused."""
    try:
        value = constructor.construct_object(node)
    except (YAMLError, ValueError, OverflowError):
        problem = Problem(field_name(loc), repr(node.value)[:60], "a plain number or text", "put text in quotes")
        raise InputError([replace(problem, line=node.start_mark.line + 1)]) from None
    if isinstance(value, str) and UNWRITABLE.search(value):
        found, allowed = json.dumps(value)[:60], "text without control characters"
        raise InputError([Problem(field_name(loc), found, allowed, line=node.start_mark.line + 1)])
    in_quotes = not isinstance(node, ScalarNode) or bool(node.style)
    length = None if in_quotes or not isinstance(value, str) else inches.read(value)
    return value if length is None else length


def _items(node: MappingNode, loc: Loc, lines: dict[str, int]) -> list[tuple[str, Node]]:
    seen: dict[str, Node] = {}
    for key_node, child in node.value:
        line = key_node.start_mark.line + 1
        if not isinstance(key_node, ScalarNode) or not re.fullmatch(r"\w[\w.-]{0,63}", str(key_node.value)):
            found = f"the key {str(key_node.value)[:40]!r}"
            raise InputError([Problem(field_name(loc) or "file", found, "a plain word as key", line=line)])
        key = str(key_node.value)
        if key in seen:
            advice = f"keep one of them; the first is on line {lines[field_name((*loc, key))]}"
            problem = Problem(field_name((*loc, key)), "the key twice", "each key once", advice, line=line)
            raise InputError([problem])
        seen[key] = child
        lines[field_name((*loc, key))] = line
    return list(seen.items())


def _problem(details: Any, tree: dict[str, Any]) -> Problem:
    loc: Loc = details["loc"]
    kind = details["type"]
    if kind == NEWER:
        newer, known = (details["ctx"][name] for name in ("found", "known"))
        words = (f"format {newer}, which is newer than this version", f"up to {known}")
        return Problem("countersunk", *words, "open it with a newer version of Countersunk, which wrote it")
    if kind == "extra_forbidden":
        known = _schema_at(tree, loc[:-1]).get("properties", {})
        advice = comma(str(loc[-1])) or _nearest(str(loc[-1]), known)
        return Problem(field_name(loc), "an unknown key", ", ".join(known), advice)
    node = _schema_at(tree, loc)
    if kind == "missing":
        lacking = f"add '{loc[-1]}'" if isinstance(loc[-1], str) else f"{loc[-1] + 1} values in the list"
        return Problem(field_name(loc), "nothing", _allowed(node), lacking)
    found = details["input"]
    if kind == "value_error" and isinstance(found, dict):
        return Problem(field_name(loc), "values that do not go together", str(details["ctx"]["error"]), "")
    advice = _nearest(found, node["enum"]) if "enum" in node and isinstance(found, str) else meant(found, node)
    return Problem(field_name(loc), _shown(found), _allowed(node) or details["msg"], advice)


def _nearest(word: str, known: Any) -> str:
    close = get_close_matches(word, [str(k) for k in known], n=1)
    return f"'{close[0]}'" if close else ""


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, tuple):
        return f"a list of {len(value)}"
    text = json.dumps(value, default=str, ensure_ascii=False)
    return text if len(text) <= 60 else text[:57] + "…"


def _schema_at(tree: dict[str, Any], loc: Loc) -> dict[str, Any]:
    """The JSON Schema node that describes the field at ``loc``; empty where there is none."""
    node = _resolved(tree, tree)
    for step in loc:
        node = _resolved(_child(node, step), tree)
    return node


def _child(node: dict[str, Any], step: int | str) -> dict[str, Any]:
    """The node of an item, which a list of a fixed length has for each place, or of a key."""
    if isinstance(step, str):
        child: dict[str, Any] = node.get("properties", {}).get(step, {})
        return child
    fixed: list[dict[str, Any]] = node.get("prefixItems", [])
    return fixed[step] if step < len(fixed) else node.get("items") or {}


def _resolved(node: dict[str, Any], tree: dict[str, Any]) -> dict[str, Any]:
    """Follow a reference, and the first real choice where the other is only 'may be left out'."""
    if "anyOf" in node:
        node = next((n for n in node["anyOf"] if n.get("type") != "null"), {})
    if "$ref" in node:
        node = tree["$defs"][node["$ref"].rsplit("/", 1)[-1]]
    return node


def _allowed(node: dict[str, Any]) -> str:
    """What a field may hold, in words, from its schema."""
    if "enum" in node:
        return ", ".join(map(str, node["enum"]))
    if node.get("type") in ("number", "integer"):
        low = node.get("minimum", node.get("exclusiveMinimum"))
        high = node.get("maximum", node.get("exclusiveMaximum"))
        start = "more than " if "exclusiveMinimum" in node else "from " if low is not None else "up to"
        number = "a whole number" if node["type"] == "integer" else "a number"
        return f"{number} {start}{_bound(low)}{' to ' if low is not None else ' '}{_bound(high)}".rstrip()
    if node.get("type") == "array":
        least, most = node.get("minItems", 0), node.get("maxItems", "any number of")
        return f"a list of {least} to {most} items"
    if node.get("type") == "object":
        return "a mapping with the keys " + ", ".join(node.get("properties", {}))
    if "pattern" in node:
        return str(node.get("description") or f"text of the form {node['pattern']}")
    most = node.get("maxLength")
    return f"text of at most {most} characters" if most else str(node.get("type", ""))


def _bound(value: float | None) -> str:
    return "" if value is None else f"{value:g}"
