"""Rewriting: a YAML text that says other data than before, with no more of it changed than that takes.

Comments, blank lines, the order of fields, quotes, how numbers are written, and what stands on one line stay. The
text is taken apart at the places of its nodes and put together again, so that what does not change is copied.

piece   an item of a list, or a field with its value. In a block it has lines of its own: comments above it go with
        it when it moves, and so does a comment at its end.
gap     what stands between two pieces of a list or mapping on one line: a comma, and perhaps a comment.

Comments of a piece that goes stay where it was. Items of lists are known again by ``key``, by ``name``, or by being
the same; the others in turn.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from countersunk.model.files import writing
from countersunk.model.files.comments import Comments
from countersunk.model.files.pairing import paired, same
from countersunk.model.files.strict_yaml import composed, plain


def rewritten(text: str, data: Mapping[str, Any]) -> str:
    """``text`` changed so that it says ``data``. Raises InputError for a text that is no YAML of ours."""
    root = composed(text)
    old = _Old(text, Comments.of(text, root))
    start, end = root.start_mark.index, old.end(root)
    return text[:start] + old.render(root, data) + text[end:]


@dataclass(frozen=True)
class _Piece:
    """A piece of a block: comment lines above it, its own lines as one text, and comment lines after it."""

    lead: tuple[str, ...]
    body: str
    trail: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Old:
    """The text as it was; every node is rendered from it."""

    text: str
    comments: Comments

    def end(self, node: Node) -> int:
        """Where a node ends: in a block with the line of its last value, comment and all."""
        if isinstance(node, SequenceNode | MappingNode) and not node.flow_style and node.value:
            last = node.value[-1][1] if isinstance(node, MappingNode) else node.value[-1]
            return self.line_end(self.end(last))
        start = node.start_mark.index
        return int(start + len(self.text[start : node.end_mark.index].rstrip()))

    def line_end(self, at: int) -> int:
        """The end of the line on which a place is."""
        found = self.text.find("\n", at)
        return len(self.text) if found < 0 else found

    def render(self, node: Node, data: Any) -> str:
        """The text of a node once it says ``data``, which is of its kind."""
        if same(plain(node), data):
            return self.text[node.start_mark.index : self.end(node)]
        if isinstance(node, ScalarNode):
            return self._scalar(node, data)
        assert isinstance(node, MappingNode | SequenceNode)
        pieces = _in_mapping(node, data) if isinstance(node, MappingNode) else _in_list(node, data)
        return self._on_one_line(node, pieces) if node.flow_style else self._in_block(node, pieces)

    def _scalar(self, node: ScalarNode, data: Any) -> str:
        """One value; of a text in several lines a comment beside its first sign stays."""
        start, end = node.start_mark.index, self.end(node)
        told = "".join(f"  {comment}" for comment in self.comments.within(start, end))
        return writing.scalar(data, like=self.text[start:end]) + told

    def _in_block(self, node: Node, pieces: Sequence[_Change]) -> str:
        """Pieces with lines of their own, their first column that of the node."""
        column, olds = node.start_mark.column, list(self._old_pieces(node))
        made = [self._changed(olds, change, column) for change in pieces]
        made = self._with_lost(made, olds, pieces, column)
        indent = " " * column
        lines = [line for piece in made for line in (*piece.lead, indent + piece.body, *piece.trail)]
        return "\n".join(lines).lstrip()

    def _old_pieces(self, node: Node) -> Iterator[tuple[_Piece, Node]]:
        """The pieces of a block as they were, each with the node of its value."""
        values = [v[1] if isinstance(node, MappingNode) else v for v in node.value]
        starts = list(self._starts(node, values))
        ends = [self.line_end(self.end(value)) for value in values]
        lead: tuple[str, ...] = ()
        for i, value in enumerate(values):
            lines = self.text[ends[i] : starts[i + 1]].split("\n")[1:-1] if i + 1 < len(values) else []
            trail = _trailing(lines, node.start_mark.column)
            yield _Piece(lead, self.text[starts[i] : ends[i]], tuple(lines[:trail])), value
            lead = tuple(lines[trail:])

    def _starts(self, node: Node, values: Sequence[Node]) -> Iterator[int]:
        """Where each piece of a block starts: its key, or its dash."""
        if isinstance(node, MappingNode):
            yield from (key.start_mark.index for key, _ in node.value)
            return
        at = node.start_mark.index
        for value in values:
            yield self.comments.past(at)
            at = self.end(value)

    def _changed(self, olds: Sequence[tuple[_Piece, Node]], change: _Change, column: int) -> _Piece:
        if change.was is None:
            return _Piece((), "\n".join(change.lines(column)))
        piece, value = olds[change.was]
        return _Piece(piece.lead, self._body(piece.body, value, change, column), piece.trail)

    def _body(self, body: str, value: Node, change: _Change, column: int) -> str:
        """The lines of a piece with its value changed; one of another kind is written anew under its comments."""
        start, end = value.start_mark.index, self.end(value)
        if same(plain(value), change.data):
            return body
        if not _alike(value, change.data) or start == end:
            last = self.line_end(end)
            told = self.comments.within(last - len(body), last)
            return f"\n{' ' * column}".join([*told, "\n".join(change.lines(column))])
        after = self.text[end : self.line_end(end)]
        before = body[: len(body) - len(after) - (end - start)]
        return before + self.render(value, change.data) + after

    def _with_lost(
        self, made: list[_Piece], olds: Sequence[tuple[_Piece, Node]], pieces: Sequence[_Change], column: int
    ) -> list[_Piece]:
        """The pieces, and the comments of those that are gone, where they were."""
        kept = {change.was: i for i, change in enumerate(pieces) if change.was is not None}
        made, at, first = list(made), 0, list[str]()
        for was, (piece, value) in enumerate(olds):
            if was in kept:
                at = kept[was] + 1
                continue
            end = self.line_end(self.end(value))
            inside = [" " * column + told for told in self.comments.within(end - len(piece.body), end)]
            lost = tuple(line for line in (*piece.lead, *inside, *piece.trail) if line.strip())
            if at:
                made[at - 1] = replace(made[at - 1], trail=(*made[at - 1].trail, *lost))
            else:
                first += lost
        return [replace(made[0], lead=(*first, *made[0].lead)), *made[1:]]

    def _on_one_line(self, node: Node, pieces: Sequence[_Change]) -> str:
        """Pieces between brackets, the gaps where they were; a comment goes with the piece before it."""
        spans = list(self._spans(node))
        end = self.end(node) - 1
        opening = self.text[node.start_mark.index : spans[0][0] if spans else end]
        afters = [self.text[e : spans[i + 1][0] if i + 1 < len(spans) else end] for i, (_, e) in enumerate(spans)]
        notes, gaps = [], []
        for (_, at), gap in zip(spans, afters, strict=True):
            note = next(iter(self.comments.within(at, min(self.line_end(at), at + len(gap)))), "")
            notes.append(note)
            gaps.append(re.sub(rf"[ \t]*{re.escape(note)}", "", gap, count=1) if note else gap)
        closing, between = gaps[-1] if gaps else "", gaps[:-1]
        made = opening
        for i, change in enumerate(pieces):
            is_last = i + 1 == len(pieces)
            gap = closing if is_last else between[i] if i < len(between) else ", "
            note = "" if change.was is None else notes[change.was]
            stays = change.was == i and is_last == (i + 1 == len(spans))
            after = afters[i] if stays else _noted(gap, note, node.start_mark.column)
            made += self._piece(node, spans, change) + after
        lost = self.comments.missing_from(made, node.start_mark.index, end)
        return made + "".join(f" {told}\n{' ' * node.start_mark.column}" for told in lost) + self.text[end]

    def _spans(self, node: Node) -> Iterator[tuple[int, int]]:
        for value in node.value:
            first, last = value if isinstance(node, MappingNode) else (value, value)
            yield first.start_mark.index, max(self.end(first), self.end(last))

    def _piece(self, node: Node, spans: Sequence[tuple[int, int]], change: _Change) -> str:
        """One piece between brackets."""
        if change.was is None:
            return change.short
        value = node.value[change.was]
        value, start = value[1] if isinstance(node, MappingNode) else value, spans[change.was][0]
        if value.start_mark.index == self.end(value) or not _alike(value, change.data):
            unchanged = same(plain(value), change.data)
            return self.text[start : spans[change.was][1]] if unchanged else change.short
        return self.text[start : value.start_mark.index] + self.render(value, change.data)


@dataclass(frozen=True)
class _Change:
    """What a piece is to say. ``was`` is its place before, None for a new one; ``key`` is empty for an item."""

    data: Any
    was: int | None
    key: str = ""

    def lines(self, column: int) -> list[str]:
        """The piece written anew, in a block."""
        return writing.entry(self.key, self.data, column) if self.key else writing.item(self.data, column)

    @property
    def short(self) -> str:
        """The piece written anew, between brackets."""
        return f"{self.key}: {writing.flow(self.data)}" if self.key else writing.flow(self.data)


def _alike(node: Node, data: Any) -> bool:
    """Whether a node can be changed to say ``data``: it is of its kind, and something is left in it."""
    if isinstance(node, MappingNode):
        return isinstance(data, Mapping) and (bool(data) or bool(node.flow_style))
    if isinstance(node, SequenceNode):
        return isinstance(data, list | tuple) and (bool(data) or bool(node.flow_style))
    return not isinstance(data, Mapping | list | tuple)


def _in_mapping(node: MappingNode, data: Mapping[str, Any]) -> list[_Change]:
    """The fields in the order of the text; a new one stands after that which the data has before it."""
    olds = [str(key.value) for key, _ in node.value]
    made = [_Change(data[key], i, key) for i, key in enumerate(olds) if key in data]
    at = 0
    for key, value in data.items():
        if key in olds:
            at = next(i for i, change in enumerate(made) if change.key == key) + 1
        else:
            made.insert(at, _Change(value, None, key))
            at += 1
    return made


def _in_list(node: SequenceNode, data: Sequence[Any]) -> list[_Change]:
    olds = [plain(value) for value in node.value]
    return [_Change(new, was) for new, was in zip(data, paired(olds, data), strict=True)]


def _trailing(lines: Sequence[str], column: int) -> int:
    """How many lines after a piece are its own: comments further in than the piece itself."""
    own = 0
    for i, line in enumerate(lines):
        if line.strip() and len(line) - len(line.lstrip()) <= column:
            break
        own = i + 1 if line.strip() else own
    return own


def _noted(gap: str, note: str, column: int) -> str:
    """A gap with a comment behind its comma, after which a new line begins."""
    if not note:
        return gap
    found = re.match(r"[ \t]*,?", gap)
    comma = found[0] if found else ""
    rest = gap[len(comma) :]
    line = rest if rest.lstrip(" \t").startswith("\n") else f"\n{' ' * (column + 2)}{rest.lstrip()}"
    return f"{comma}  {note}{line}"
