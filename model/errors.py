"""What can go wrong, as one small family.

CountersunkError
├── InputError      the files or numbers given are at fault; carries every Problem found
├── SolidError      a solid that the kernel could not make whole; ours to mend, never the user's
└── TextError       a file that could not be brought to say what was decided; ours to mend too

A foreign exception is translated into one of these at the boundary where it arises.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

MOST_TOLD = 20
"""Problems that an error keeps and tells: nobody reads more at once, and a hostile file has thousands."""


def printable(text: str) -> str:
    r"""A text with whatever a terminal would obey or hide, such as an escape or a no-break space, written out.

    >>> printable("12\x1b[2J\xa0mm")
    '12\\x1b[2J\\xa0mm'
    """
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)


class CountersunkError(Exception):
    """Root of the family."""


@dataclass(frozen=True)
class Problem:
    """One thing wrong in the input, said so that it can be put right.

    ``line`` counts from 1 and is None where the input has no lines (a form in the app).
    """

    field: str
    found: str
    allowed: str
    advice: str = ""
    file: str = ""
    line: int | None = None

    def __str__(self) -> str:
        place = ":".join(str(p) for p in (self.file, self.line) if p)
        head = f"{place}: {self.field}" if place else self.field
        advice = f" Try: {self.advice}." if self.advice else ""
        return printable(f"{head}: found {self.found}; allowed: {self.allowed}.{advice}")


class InputError(CountersunkError):
    """The input is at fault. ``problems`` holds the first found, in file order; ``more`` counts the others."""

    def __init__(self, problems: list[Problem], more: int = 0) -> None:
        self.problems = problems[:MOST_TOLD]
        self.more = more + len(problems) - len(self.problems)
        told = [str(p) for p in self.problems] + [f"and {self.more} more problems"] * (self.more > 0)
        super().__init__("\n".join(told))

    def __reduce__(self) -> tuple[type[InputError], tuple[list[Problem], int]]:
        return InputError, (self.problems, self.more)

    @classmethod
    def unknown(cls, field: str, word: str, known: Iterable[str], what: str = "") -> InputError:
        """A word that is none of those known; the advice is the one that is spelt most like it."""
        names = list(known)
        close = get_close_matches(word, names, n=1)
        allowed = f"{what and what + ': '}{', '.join(names)}"
        return cls.at(field, found=f"'{word}'", allowed=allowed, advice=f"'{close[0]}'" if close else "")

    @classmethod
    def at(cls, field: str, *, found: str, allowed: str, advice: str = "") -> InputError:
        """An error with a single problem; the reader of the file adds file and line by the field."""
        return cls([Problem(field, found, allowed, advice)])


class SolidError(CountersunkError):
    """A part's solid is not closed, empty, or has not the volume that its dimensions say."""


class TextError(CountersunkError):
    """A file, once changed, would not say what was decided. Nothing is written."""
