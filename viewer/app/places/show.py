"""Show: the kitchen as the customer sees it, and what may be chosen instead."""

from __future__ import annotations

from functools import partial
from typing import cast

import streamlit as st

from countersunk.model.edit.edits import edited
from countersunk.model.errors import CountersunkError
from countersunk.takeoff.report.compare import signed
from countersunk.viewer.app.bar import total
from countersunk.viewer.app.customer_html import customer_html
from countersunk.viewer.app.offers import offers
from countersunk.viewer.app.places.options import offered, priced_option
from countersunk.viewer.app.places.planned import is_planned
from countersunk.viewer.app.reading import read
from countersunk.viewer.app.session import Desk, plain
from countersunk.viewer.quoting.options import PricedOption
from countersunk.viewer.quoting.words import scope, two_columns
from countersunk.viewer.scene3d import scene3d

BESIDE = "choice beside"


def show(desk: Desk) -> None:
    """The view as wide as the page; under it what it may be instead, and what belongs to it."""
    desk.at("Show")
    document, reading = desk.document, desk.reading
    view = st.container()
    names = list(offered(document, desk.catalogue))
    chosen = st.multiselect(
        "What it may be instead, with the difference in price",
        names,
        key=f"choices-{desk.opened}",
        max_selections=4,
    )
    found = [option for name in chosen if name in names for option in _priced(desk, name)]
    seen = st.session_state.get(BESIDE)
    beside = next((option for option in found if option.option.name == seen), None)
    for option in found:
        _option(desk, option, shown=option is beside)
    with view:
        scene3d(
            reading.scene,
            key=desk.view,
            beside=read(beside.kitchen.document, desk.book, desk.catalogue).scene if beside else None,
            names=("As planned", beside.option.name) if beside else (),
            offers=() if beside else offers(reading.kitchen),
            height=720,
        )
    _contents(desk)


def _priced(desk: Desk, name: str) -> list[PricedOption]:
    """The choice with its price; where it cannot be in this kitchen that is said, and it is none.

    Why it cannot is the designer's to know, in terms of parts and rows, who tries it under Design.
    """
    try:
        return [priced_option(*desk.asked, name, on_sheets=is_planned(desk))]
    except CountersunkError:
        st.warning(f"{plain(name)}: does not fit this kitchen as it is planned.", icon=":material/block:")
        return []


def _option(desk: Desk, option: PricedOption, shown: bool) -> None:
    """One choice with its price, to be seen beside the kitchen or to be taken."""
    name, after = option.option.name, option.comparison.after
    with st.container(horizontal=True, vertical_alignment="center", border=True):
        words = f"{signed(option.comparison.gross)} {after.totals.currency}, then {total(after)}"
        st.markdown(f"**{plain(name)}**  {plain(words)}")
        label = f"Leave out of the picture: {name}" if shown else f"See it beside: {name}"
        st.button(label, key=f"see-{name}", on_click=_beside, args=["" if shown else name])
        changes = {change.field: change.value for change in option.option.changes}
        take = partial(desk.do, "show", lambda document: edited(document, changes), f"{name} chosen")
        st.button(f"Take it: {name}", key=f"take-{name}", on_click=take, type="primary")


def _beside(name: str) -> None:
    st.session_state[BESIDE] = name


def _contents(desk: Desk) -> None:
    """What is made and fitted, in plain words, and the page to take home."""
    kitchen = desk.reading.kitchen
    st.subheader("What belongs to it")
    for column, blocks in zip(st.columns(2, gap="large"), two_columns(scope(kitchen)), strict=True):
        for block in blocks:
            column.markdown(f"#### {block['head']}")
            column.markdown("\n".join(f"- {plain(line)}" for line in cast("list[str]", block["lines"])))
    st.download_button(
        "This view to take home (one page, opens without a network)",
        lambda: customer_html(kitchen),
        "kitchen.html",
        on_click="ignore",
        icon=":material/download:",
        key="take-home",
    )
