"""Job form: what the kitchen is called, who cooks in it, by which rules it is checked, and the way in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import streamlit as st

from countersunk.model.edit.edits import edited
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.grid import listed
from countersunk.viewer.app.places.own_catalogue import own_catalogue
from countersunk.viewer.app.session import Desk, Wish

REGIONS = {
    "uk": "United Kingdom", "us": "United States", "au-nz": "Australia and New Zealand", "eu": "European Union",
}  # fmt: skip

SUPPLIES = {"made": "made of boards", "bought": "bought"}

WORKS = {"new": "new", "replacement": "a replacement like for like"}

LENGTHS = {"mm": "millimetres", "inch": "millimetres and inches"}

CATALOGUES = {"metric": "metric, invented", "inch": "in inches, invented"}
"""What the catalogues of the program are called."""


def form(desk: Desk) -> list[Wish]:
    """What was typed about the job."""
    # A container follows each field, so that a refusal stands right under it.
    typed = [(field, ask(desk), st.container()) for field, ask in FIELDS.items()]
    made = [
        Wish(_setting(field, value), slot) for field, value, slot in typed if value != getattr(desk.base, field)
    ]
    own_catalogue(desk)
    way = listed(desk, "access", "The way in, from outside to the kitchen", columns.STAGES, desk.base.access)
    return [*made, *way]


def _name(desk: Desk) -> str:
    return st.text_input("Name of the kitchen", desk.base.kitchen, max_chars=120, key=desk.key("kitchen"))


def _note(desk: Desk) -> str:
    return st.text_area("Note", desk.base.note, max_chars=400, key=desk.key("note"))


def _cooks(desk: Desk) -> int:
    return int(st.number_input("People who cook", value=desk.base.cooks, step=1, key=desk.key("cooks")))


def _regions(desk: Desk) -> tuple[str, ...]:
    given = list(desk.base.regions)
    return tuple(
        st.multiselect("Rules of", list(REGIONS), given, format_func=REGIONS.__getitem__, key=desk.key("regions"))
    )


def _wheelchair(desk: Desk) -> bool:
    return st.checkbox("Somebody uses a wheelchair", desk.base.wheelchair, key=desk.key("wheelchair"))


def _work(desk: Desk) -> str:
    return st.segmented_control(
        "Work", list(WORKS), default=desk.base.work, format_func=WORKS.__getitem__, key=desk.key("work"),
        required=True, help="Some codes ask less where an appliance is replaced like for like.",
    )  # fmt: skip


def _catalogue(desk: Desk) -> str:
    known = list({**CATALOGUES, **dict.fromkeys(desk.catalogues)})
    label, now = "Units, boards and tops of the catalogue", known.index(desk.base.catalogue)
    return st.selectbox(
        label, known, now, format_func=lambda code: CATALOGUES.get(code, code), key=desk.key("catalogue")
    )


def _supply(desk: Desk) -> str:
    return st.segmented_control(
        "Carcasses", list(SUPPLIES), default=desk.base.supply, format_func=SUPPLIES.__getitem__,
        key=desk.key("supply"), required=True,
    )  # fmt: skip


def _lengths(desk: Desk) -> str:
    return st.segmented_control(
        "Lengths are shown in", list(LENGTHS), default=desk.base.lengths, format_func=LENGTHS.__getitem__,
        key=desk.key("lengths"), required=True,
    )  # fmt: skip


FIELDS: dict[str, Callable[[Desk], Any]] = {
    "kitchen": _name, "note": _note, "cooks": _cooks, "regions": _regions, "wheelchair": _wheelchair,
    "work": _work, "catalogue": _catalogue, "supply": _supply, "lengths": _lengths,
}  # fmt: skip
"""Each field of the document that stands here, and what asks for it, in the order of the page."""


def _setting(field: str, value: Any) -> Any:
    return lambda document: edited(document, {field: value})
