"""Comments: where they stand in a YAML text, so that none is lost when it is rewritten."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from functools import cached_property

from ruamel.yaml.nodes import MappingNode, Node, SequenceNode

MAYBE = re.compile(r"(?:^|(?<=\s))#[^\n]*", re.M)
"""What may be a comment; within a quoted text it is none."""


@dataclass(frozen=True)
class Comments:
    """The comments of a text: where each begins, and what it says."""

    text: str
    found: tuple[tuple[int, str], ...]

    @classmethod
    def of(cls, text: str, root: Node) -> Comments:
        """The comments of a text whose nodes hang on ``root``."""
        quoted = _scalars(text, root)
        starts = [m.start() for m in MAYBE.finditer(text)]
        real = [at for at in starts if not any(a <= at < b for a, b in quoted)]
        return cls(text, tuple((at, text[at : _line_end(text, at)].rstrip()) for at in real))

    def within(self, start: int, end: int) -> list[str]:
        """Those that begin between two places."""
        return [told for at, told in self.found if start <= at < end]

    def past(self, at: int) -> int:
        """The next place at which there is neither a space nor a comment."""
        while at < len(self.text) and (self.text[at].isspace() or at in self._starts):
            at = _line_end(self.text, at) if at in self._starts else at + 1
        return at

    @cached_property
    def _starts(self) -> frozenset[int]:
        return frozenset(at for at, _ in self.found)

    def missing_from(self, made: str, start: int, end: int) -> list[str]:
        """Those between two places that a new text for the stretch has not."""
        lost = Counter(self.within(start, end)) - Counter(found[0].rstrip() for found in MAYBE.finditer(made))
        return list(lost.elements())


def _scalars(text: str, root: Node) -> list[tuple[int, int]]:
    """From where to where keys and single values stand."""
    if isinstance(root, MappingNode):
        return [span for pair in root.value for node in pair for span in _scalars(text, node)]
    if isinstance(root, SequenceNode):
        return [span for node in root.value for span in _scalars(text, node)]
    start = root.start_mark.index
    end = start + len(text[start : root.end_mark.index].rstrip())
    return [(_line_end(text, start) if text[start:end].startswith(("|", ">")) else start, end)]


def _line_end(text: str, at: int) -> int:
    found = text.find("\n", at)
    return len(text) if found < 0 else found
