"""Design: where the kitchen is laid out: units, room, what is let in, tops and fronts, and the job itself."""

from __future__ import annotations

from importlib import import_module

import streamlit as st

from countersunk.viewer.app.places import beside
from countersunk.viewer.app.places.choosing import one_of
from countersunk.viewer.app.places.names import DESIGN
from countersunk.viewer.app.session import Desk


def show(desk: Desk) -> None:
    """One form on the left, the picture on the right; the picture first where they stand one below the other."""
    chosen = one_of("What to lay out", list(DESIGN), "form")
    desk.at(f"Design {chosen}")
    module = import_module(f"countersunk.viewer.app.places.{DESIGN[chosen]}")
    form, picture = st.container(key="design").columns([5, 6], gap="medium")
    with form:
        st.subheader(chosen)
        wishes = module.form(desk)
    if chosen == "Room":
        with picture:
            module.plan_typed(desk, wishes)  # before it is built, which takes longer
    if desk.typed(wishes):
        st.rerun()  # what was drawn above is of the kitchen before
    if chosen == "Room":
        beside.view(desk)
    else:
        with picture:
            beside.view(desk, height=560)
