"""Way: the browser's own way back and forth, an entry of its history for each kitchen and place that was shown.

The address of the page names the kitchen (`viewer.app.address`) and, as ``at=fit.drawings``, the place. The
browser's half (``viewer/scene3d/src/address``) writes it and tells where the person went by Back or Forward. The
page's own query is read once, when a session begins: a click may be under way with an older one, and is no way
back. A kitchen too large for an address has no entry of its own: Back then goes between places alone.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING
from urllib.parse import parse_qsl, urlencode

import streamlit as st

from countersunk.model.errors import CountersunkError
from countersunk.viewer.app import address
from countersunk.viewer.app.places.names import PLACES
from countersunk.viewer.app.session import Desk, plainly
from countersunk.viewer.scene3d import script

if TYPE_CHECKING:
    from streamlit.components.v2.types import ComponentRenderer

KEY, ANSWERED = "way", "way-answered"
REFUSED = "address-refused"
"""Where a session keeps why an address opened no kitchen."""


def show(desk: Desk) -> None:
    """Put the kitchen and the place into the address, and follow the person who goes back or forth."""
    query = urlencode({**address.written(desk.document), **_at()})
    data = {"query": query, "answered": st.session_state.get(ANSWERED, 0)}
    _component()(key=KEY, data=data, on_went_change=lambda: _went(desk))


def begin(query: Mapping[str, str]) -> None:
    """Choose the place and the view that an address names; the first of them where it names none that there is."""
    place, _, view = query.get("at", "").partition(".")
    chosen = next((name for name in PLACES if _slug(name) == place), next(iter(PLACES)))
    st.session_state["place"] = chosen
    key, views = PLACES[chosen]
    if key:
        st.session_state[key] = next((name for name in views if _slug(name) == view), views[0])


def _at() -> dict[str, str]:
    """Where the person is; nothing for what an address without it opens as well."""
    first, place = next(iter(PLACES)), st.session_state["place"]
    key, views = PLACES[place]
    view = st.session_state[key] if key else ""
    steps = [_slug(place), *([_slug(view)] if key and view != views[0] else [])]
    return {} if steps == [_slug(first)] else {"at": ".".join(steps)}


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower())


def _went(desk: Desk) -> None:
    told = st.session_state[KEY]["went"]
    st.session_state[ANSWERED] = told["way"]
    query = dict(parse_qsl(str(told["query"])))
    begin(query)
    try:
        _kitchen(desk, query)
    except CountersunkError as error:
        st.session_state[REFUSED] = plainly(error)


def _kitchen(desk: Desk, query: Mapping[str, str]) -> None:
    """Go to the step with the kitchen of an address, or open it where this history has none."""
    named = {key: query[key] for key in ("demo", "kitchen") if key in query}
    if not named or desk.go(lambda document: address.written(document) == named):
        return
    if file := address.opened(named):
        desk.open(file, "opened from the address")


@cache
def _component() -> ComponentRenderer:
    """The component, registered once."""
    return st.components.v2.component("countersunk-way", js=script("address"))
