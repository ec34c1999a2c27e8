"""History: the kitchens that a person has had, one behind the other, to go back and forth in. Pure and bounded."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from countersunk.model.document.schema import Document
from countersunk.model.edit.edits import edited

MOST = 60
"""So many steps can be taken back; the oldest is forgotten first."""


@dataclass(frozen=True)
class HistoryStep:
    """A kitchen, in words the edit that made it, and the price book as CSV if it is not the invented one."""

    document: Document
    words: str
    book: bytes = b""


@dataclass(frozen=True)
class History:
    """Steps up to now, the last of them the kitchen of now, and those that were taken back, the nearest first."""

    steps: tuple[HistoryStep, ...]
    undone: tuple[HistoryStep, ...] = ()

    @property
    def now(self) -> HistoryStep:
        """The kitchen as it is."""
        return self.steps[-1]

    @property
    def onward(self) -> Document:
        """The kitchen to go on from: as it is, and no key given before, taken back or not, is given again."""
        last = max(step.document.last_key for step in (*self.steps, *self.undone))
        now = self.now.document
        return now if now.last_key == last else edited(now, {"last_key": last})

    def after(self, document: Document, words: str, book: bytes | None = None) -> History:
        """One step further; what was taken back is forgotten. The same kitchen at the same prices is no step.

        ``book`` None leaves the price book as it is.
        """
        step = HistoryStep(document, words, self.now.book if book is None else book)
        if (_plain(step.document), step.book) == (_plain(self.now.document), self.now.book):
            return self
        return History((*self.steps, step)[-MOST:])

    def undo(self) -> History:
        """One step back, if there is one."""
        if len(self.steps) == 1:
            return self
        return History(self.steps[:-1], (self.steps[-1], *self.undone))

    def redo(self) -> History:
        """One step forward again, if one was taken back."""
        if not self.undone:
            return self
        return History((*self.steps, self.undone[0]), self.undone[1:])

    def gone(self, is_there: Callable[[Document], bool]) -> History | None:
        """Back, else forth, to the nearest kitchen that is the one looked for; None where none is."""
        back: History = self
        for _ in self.steps:
            if is_there(back.now.document):
                return back
            back = back.undo()
        forth = self
        for _ in self.undone:
            forth = forth.redo()
            if is_there(forth.now.document):
                return forth
        return None


def _plain(document: Document) -> Document:
    """A kitchen without the count of its keys, which may go on where nothing else does."""
    return document.model_copy(update={"last_key": 0})


def begun(document: Document, words: str, book: bytes = b"") -> History:
    """The history of a kitchen that was just opened."""
    return History((HistoryStep(document, words, book),))
