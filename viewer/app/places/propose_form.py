"""Propose form: wishes for the room as it is, and the layouts found for them, to be taken with a click."""

from __future__ import annotations

from functools import partial
from typing import Any

import streamlit as st
from pydantic import BaseModel

from countersunk.model.document.schema import Document, Worktop
from countersunk.model.errors import CountersunkError
from countersunk.model.planning.brief import Brief, HobWish, Wishes
from countersunk.model.planning.propose import Proposal, Proposals, propose
from countersunk.model.planning.ranges import check_range
from countersunk.viewer.app.bar import total
from countersunk.viewer.app.reading import read
from countersunk.viewer.app.session import Desk, Wish, plain, plainly, told_at

WHERE = "propose"
SECONDS = 10.0
"""Time to look for layouts; most rooms take less."""

FOUND = "proposals"

WORDS = {
    "one-bowl": "one bowl", "bowl-drainer": "bowl and drainer", "none": "none",
    "450": "450 wide", "600": "600 wide", "electric": "electric", "gas": "gas",
    "under-hob": "under the hob", "tall": "in a tall unit",
    "either": "at either end", "left": "at the left end", "right": "at the right end",
}  # fmt: skip


def form(desk: Desk) -> list[Wish]:
    """Wishes, and what was found for them. Nothing is typed into the kitchen here."""
    st.caption("Looks for rows that fit the room as it was measured. The units there are now do not count.")
    try:
        check_range(desk.catalogue)
    except CountersunkError as error:
        st.info(f"No layouts are proposed from this catalogue. {plain(plainly(error))}")
        return []
    wishes = _wishes()
    ask = partial(_ask, desk, wishes)
    st.button("Look for layouts", icon=":material/search:", key="look-layouts", on_click=ask, type="primary")
    told_at(WHERE, desk)
    brief = st.session_state.get("brief-asked")
    if brief is not None and brief.room == desk.document.room:
        _proposals(desk, brief)
    return []


def _wishes() -> Wishes:
    """What is wanted, each as the choices of its field."""
    with st.container(horizontal=True):
        fuel = _choice("Hob", HobWish, "fuel")
        width = st.radio("Width of the hob", (600, 800), horizontal=True, key="wish-width")
    with st.container(horizontal=True):
        chosen = {
            "sink": _choice("Sink", Wishes, "sink"),
            "dishwasher": _choice("Dishwasher", Wishes, "dishwasher"),
            "oven": _choice("Oven", Wishes, "oven"),
            "tall_at": _choice("Tall units", Wishes, "tall_at"),
        }
    with st.container(horizontal=True):
        chosen["larders"] = st.number_input("Tall units for food", 0, 3, 0, key="wish-larders")
        for field, label in (("fridge", "Fridge"), ("hood", "Hood"), ("wall_units", "Wall units"),
                             ("sink_at_window", "Sink at the window"), ("island", "Island")):  # fmt: skip
            usual = bool(Wishes.model_fields[field].default)
            chosen[field] = st.checkbox(label, value=usual, key=f"wish-{field}")
    return Wishes(**chosen, hob=HobWish.model_validate({"fuel": fuel, "width": width}))


def _choice(label: str, model: type[BaseModel], field: str) -> Any:
    known = model.model_fields[field]
    options = list(getattr(known.annotation, "__args__", ()))
    return st.selectbox(
        label, options, options.index(known.default), format_func=lambda o: WORDS.get(o, o), key=f"wish-{field}"
    )


KEPT = ("kitchen", "note", "cooks", "regions", "wheelchair", "work", "catalogue", "lengths", "last_key")
"""What a brief has of the kitchen besides room, top and fronts; keys of a layout go on where those of it end."""


def brief_of(document: Document, wishes: Wishes) -> Brief:
    """The room of a kitchen with wishes in the place of its rows; top and fronts as they are chosen."""
    top = document.worktop
    kept = {field: getattr(document, field) for field in KEPT}
    worktop = Worktop(stock=top.stock, decor=top.decor, overhang=top.overhang)
    return Brief(**kept, room=document.room, wishes=wishes, worktop=worktop, fronts=document.fronts)


def _ask(desk: Desk, wishes: Wishes) -> None:
    st.session_state["brief-asked"] = brief_of(desk.document, wishes)


def _proposals(desk: Desk, brief: Brief) -> None:
    """What was found, looked for once for the same wishes in the same room."""
    held = st.session_state.get(FOUND)
    if held is None or held[0] != brief:
        with st.status("Looking for layouts", expanded=False) as status:
            try:
                found = propose(brief, SECONDS, lambda text: status.update(label=text), catalogue=desk.catalogue)
            except CountersunkError as error:
                status.update(label="No layout was found", state="error")
                st.error(plain(plainly(error)), icon=":material/block:")
                return
            status.update(label=f"{len(found.shown)} layouts found", state="complete")
        st.session_state[FOUND] = (brief, found)
    found = st.session_state[FOUND][1]
    for number, proposal in enumerate(found.shown, start=1):
        _offer(desk, number, proposal)
    for why in found.dropped:
        st.caption(plain(f"Not shown: {why}"))
    _left(found)


def _offer(desk: Desk, number: int, proposal: Proposal) -> None:
    with st.container(border=True):
        price = total(read(proposal.document, desk.book, desk.catalogue_of(proposal.document)).takeoff)
        st.markdown(f"**{number}. {plain(proposal.name)}**  {plain(price)}")
        lines = [*proposal.why, *filter(None, [proposal.differs])]
        st.markdown("\n".join(f"- {plain(line)}" for line in lines))
        if proposal.trades:
            st.markdown("It trades away:\n" + "\n".join(f"- {plain(line)}" for line in proposal.trades))
        words = f"layout {number} taken: {proposal.name}"
        take = partial(desk.do, WHERE, lambda _: proposal.document, words)
        st.button(f"Take layout {number}", key=f"take-layout-{number}", on_click=take, icon=":material/check:")


def _left(found: Proposals) -> None:
    if found.left:
        st.caption(f"The time was up: {found.left} of {found.shapes} shapes were not looked at.")
