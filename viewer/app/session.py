"""Session: what the app remembers of one person. Everything of a person is here, and here alone.

A *base* is the kitchen that the widgets on the page began with; what they say now is the base with their changes.
A new *turn* gives widgets new keys, so that they begin anew: after an edit by a button, after undo and redo, and
when another place of the app is shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from countersunk.model.catalogue.catalogue import Catalogue, catalogue_of
from countersunk.model.document.schema import Document, Room
from countersunk.model.edit.kitchen_file import KitchenFile
from countersunk.model.errors import CountersunkError, InputError
from countersunk.viewer.app.changes import changes_in_words
from countersunk.viewer.app.history import History, begun
from countersunk.viewer.app.reading import KitchenReading, read

Make = Callable[[Document], Document]

MARKDOWN = re.compile(r"([\\`*_{}\[\]()#+\-.!|$:<>~])")


@dataclass(frozen=True)
class Wish:
    """A change that widgets ask for, and the slot beside them in which is said why it cannot be."""

    make: Make
    slot: DeltaGenerator


@dataclass
class Desk:
    """One person's work: kitchens up to now, what the widgets began with, what was refused and where.

    ``file`` is what was opened, in which the kitchen is saved with everything else left as it was written.
    ``picked`` is the part last clicked in the view, ``opened`` counts kitchens, so that each has a view of its own.
    ``unbuilt`` is the room of a file that could not be opened because no kitchen can be built in it, by its name.
    ``catalogues`` are those that kitchens of this person name and that are not of the program, by name.
    """

    file: KitchenFile
    history: History
    base: Document
    turn: int = 0
    shown: str = ""
    refused: dict[str, str] = field(default_factory=dict)
    picked: str = ""
    opened: int = 0
    unbuilt: tuple[str, Room] | None = None
    catalogues: dict[str, Catalogue] = field(default_factory=dict)

    @property
    def document(self) -> Document:
        """The kitchen as it is: always one that can be built."""
        return self.history.now.document

    @property
    def book(self) -> bytes:
        """The price book as CSV; nothing for the invented one."""
        return self.history.now.book

    @property
    def reading(self) -> KitchenReading:
        """Everything about the kitchen as it is."""
        return read(*self.asked)

    @property
    def catalogue(self) -> Catalogue:
        """What the kitchen's codes are of."""
        return self.catalogue_of(self.document)

    @property
    def asked(self) -> tuple[Document, bytes, Catalogue]:
        """What everything that is shown hangs on: kitchen, price book, catalogue."""
        return self.document, self.book, self.catalogue

    def catalogue_of(self, document: Document) -> Catalogue:
        """What the codes of a kitchen of this person are of. Raises InputError for one that is not here."""
        return self.catalogues.get(document.catalogue) or catalogue_of(document)

    @property
    def view(self) -> str:
        """The key of the 3D view: one for all places, so that the camera goes along from place to place."""
        return f"view-{self.opened}"

    def key(self, name: str) -> str:
        """The key of a widget, for as long as this turn lasts."""
        return f"{name}-{self.turn}"

    def open(self, file: KitchenFile, words: str) -> None:
        """Begin with another kitchen; the price book stays."""
        self.file = file
        self._turned(begun(file.document, words, self.book))
        self.picked, self.opened = "", self.opened + 1
        self.unbuilt = None

    def forget_unbuilt(self) -> None:
        """Go on with the kitchen that is open."""
        self.unbuilt = None

    def at(self, shown: str) -> None:
        """Say what is on the page: widgets that were not shown begin anew."""
        if shown != self.shown:
            self.shown = shown
            self._turned(self.history)

    def do(self, where: str, make: Make, words: str = "") -> None:
        """An edit by a button; what cannot be is told at ``where`` and leaves everything as it was."""
        self.refused.clear()
        try:
            made = make(self.history.onward)
            read(made, self.book, self.catalogue_of(made))
        except CountersunkError as error:
            self.refused[where] = plainly(error)
            return
        self._turned(
            self.history.after(made, words or changes_in_words(self.document, made, self.catalogue_of(made)))
        )

    def price(self, book: bytes, words: str) -> None:
        """Go on with another price book, one that can be read."""
        self._turned(self.history.after(self.document, words, book))

    def typed(self, wishes: Sequence[Wish]) -> bool:
        """What the widgets ask for, all of it or, where that cannot be, one wish after the other.

        Whether that makes another kitchen than there was.
        """
        former = self.history
        made = self._all(wishes)
        if made is None:
            made = self._one_by_one(wishes)
        self.history = former.after(made, changes_in_words(former.now.document, made, self.catalogue_of(made)))
        return self.history is not former

    def wished(self, wishes: Sequence[Wish]) -> Document:
        """What is typed, whether or not it can be built; without what cannot even be read."""
        made = self.base
        for wish in wishes:
            with suppress(CountersunkError):
                made = wish.make(made)
        return made

    def undo(self) -> None:
        """One step back."""
        self._turned(self.history.undo())

    def redo(self) -> None:
        """One step forward again."""
        self._turned(self.history.redo())

    def go(self, is_there: Callable[[Document], bool]) -> bool:
        """Back or forth to a kitchen that there was; whether there was one."""
        gone = self.history.gone(is_there)
        if gone and gone != self.history:
            self._turned(gone)
        return gone is not None

    def _turned(self, history: History) -> None:
        self.refused.clear()
        self.history, self.base, self.turn = history, history.onward, self.turn + 1

    def _all(self, wishes: Sequence[Wish]) -> Document | None:
        made = self.base
        try:
            for wish in wishes:
                made = wish.make(made)
            read(made, self.book, self.catalogue_of(made))
        except CountersunkError:
            return None
        return made

    def _one_by_one(self, wishes: Sequence[Wish]) -> Document:
        """The base with every wish that can be; the others are told where they were made."""
        kept = self.base
        for wish in wishes:
            try:
                made = wish.make(kept)
                read(made, self.book, self.catalogue_of(made))
                kept = made
            except CountersunkError as error:
                refuse(wish.slot, plainly(error))
        return kept


def desk(first: Callable[[], tuple[KitchenFile, str, dict[str, Catalogue]]]) -> Desk:
    """This person's desk; ``first`` gives the kitchen to begin with, what to say of it, and its catalogues."""
    if "desk" not in st.session_state:
        file, words, catalogues = first()
        begin = begun(file.document, words)
        st.session_state["desk"] = Desk(file, begin, file.document, catalogues=catalogues)
    found: Desk = st.session_state["desk"]
    return found


def plainly(error: CountersunkError) -> str:
    """The first thing that is wrong, in one sentence."""
    problem = error.problems[0] if isinstance(error, InputError) else error
    more = len(error.problems) - 1 + error.more if isinstance(error, InputError) else 0
    return f"{problem}" + (f" ({more} more like it)" if more else "")


def refuse(slot: DeltaGenerator, words: str) -> None:
    """Say at a field what cannot be built, while the last good kitchen stays in view."""
    slot.error(f"Not built; the last kitchen that was stays. {plain(words)}", icon=":material/block:")


def told_at(where: str, owner: Desk) -> None:
    """What was refused at a place of the page, if anything."""
    if words := owner.refused.get(where):
        refuse(st.container(), words)


def plain(words: str) -> str:
    """Text of whatever origin, shown as it is and never taken for markup."""
    return MARKDOWN.sub(r"\\\1", words).replace("\n", " ")
