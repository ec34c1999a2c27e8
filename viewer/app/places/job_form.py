"""Job form: what the kitchen is called, who cooks in it, by which rules it is checked, and the way in."""

from __future__ import annotations

from typing import Any

import streamlit as st

from countersunk.model.edit.edits import edited
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.grid import listed
from countersunk.viewer.app.places.own_catalogue import own_catalogue
from countersunk.viewer.app.session import Desk, Wish

REGIONS = {"uk": "United Kingdom", "us": "United States", "au-nz": "Australia and New Zealand"}


SUPPLIES = {"made": "made of boards", "bought": "bought"}

CATALOGUES = {"metric": "metric, invented", "inch": "in inches, invented"}
"""What the catalogues of the program are called."""


def form(desk: Desk) -> list[Wish]:
    """What was typed about the job."""
    base = desk.base
    name = st.text_input("Name of the kitchen", base.kitchen, max_chars=120, key=desk.key("kitchen"))
    slots = [st.container()]
    note = st.text_area("Note", base.note, max_chars=400, key=desk.key("note"))
    slots.append(st.container())
    cooks = st.number_input("People who cook", value=base.cooks, step=1, key=desk.key("cooks"))
    slots.append(st.container())
    regions = st.multiselect(
        "Rules of", list(REGIONS), list(base.regions), format_func=REGIONS.__getitem__, key=desk.key("regions")
    )
    slots.append(st.container())
    chair = st.checkbox("Somebody uses a wheelchair", base.wheelchair, key=desk.key("wheelchair"))
    slots.append(st.container())
    known = list({**CATALOGUES, **dict.fromkeys(desk.catalogues)})
    catalogue = st.selectbox(
        "Units, boards and tops of the catalogue",
        known,
        known.index(base.catalogue),
        format_func=lambda code: CATALOGUES.get(code, code),
        key=desk.key("catalogue"),
    )
    slots.append(st.container())
    own_catalogue(desk)
    supply = st.segmented_control(
        "Carcasses", list(SUPPLIES), default=base.supply, format_func=SUPPLIES.__getitem__, key=desk.key("supply"),
        required=True,
    )  # fmt: skip
    slots.append(st.container())
    typed: dict[str, Any] = {
        "kitchen": name, "note": note, "cooks": cooks, "regions": tuple(regions), "wheelchair": chair,
        "catalogue": catalogue, "supply": supply,
    }  # fmt: skip
    made = [
        Wish(_setting(field, value), slot)
        for (field, value), slot in zip(typed.items(), slots, strict=True)
        if value != getattr(base, field)
    ]
    return [*made, *listed(desk, "access", "The way in, from outside to the kitchen", columns.STAGES, base.access)]


def _setting(field: str, value: Any) -> Any:
    return lambda document: edited(document, {field: value})
