"""Design: where the kitchen is laid out: units, room, what is let in, tops and fronts, and the job itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import streamlit as st

from viewer.places import beside, job_form, propose_form, room_form, rows_form, set_in_form, top_form
from viewer.places.choosing import one_of
from viewer.session import Desk, Wish

FORMS: Mapping[str, Callable[[Desk], list[Wish]]] = {
    "Units": rows_form.form,
    "Room": room_form.form,
    "Propose": propose_form.form,
    "Sink, hob, appliances": set_in_form.form,
    "Top and fronts": top_form.form,
    "Job": job_form.form,
}


def show(desk: Desk) -> None:
    """One form on the left, the picture on the right; the picture first where they stand one below the other."""
    chosen = one_of("What to lay out", list(FORMS), "form")
    desk.at(f"Design {chosen}")
    form, picture = st.container(key="design").columns([5, 6], gap="medium")
    with form:
        st.subheader(chosen)
        if desk.typed(FORMS[chosen](desk)):
            st.rerun()  # what the form has drawn above its fields is of the kitchen before
    with picture:
        if chosen == "Room":
            room_form.plan(desk)
        else:
            beside.view(desk, height=560)
    if chosen == "Room":
        beside.view(desk)
