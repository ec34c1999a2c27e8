"""The app: one kitchen through all its places. What a place shows is made elsewhere.

Run by ``countersunk app``. Each browser session has a desk of its own in the session state (`viewer.app.session`);
the address of the page opens the same kitchen again (`viewer.app.address`).
"""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path

import streamlit as st

from countersunk.model.catalogue.catalogue import Catalogue, load_catalogue
from countersunk.model.edit.kitchen_file import KitchenFile, kitchen_file
from countersunk.model.errors import CountersunkError
from countersunk.model.files import surprise
from countersunk.model.kitchen import open_kitchen
from countersunk.model.showing import show_lengths
from countersunk.viewer.app import address, bar, way
from countersunk.viewer.app.places.choosing import one_of
from countersunk.viewer.app.places.names import PLACES
from countersunk.viewer.app.session import desk, plain, plainly
from countersunk.viewer.app.style import apply_style, page_icon


def main() -> None:
    """The bar, then the place that is chosen; the bar's facts are filled in once the place has made its edits."""
    st.set_page_config(page_title="Countersunk", page_icon=page_icon(), layout="wide")
    apply_style()
    mine = desk(_first)
    show_lengths(mine.base.lengths)
    with st.container(key="bar"):
        with st.container(horizontal=True, vertical_alignment="center", gap="small", key="bar-tools"):
            st.html('<span class="brand">countersunk</span>', width="content")
            place = one_of("Place", list(PLACES), "place")
            back = st.container(horizontal=True, width="content", gap="small")
            bar.files(mine)
        facts = st.container(key="facts")
    if words := st.session_state.get(way.REFUSED):
        st.error(
            f"The address opens no kitchen; this is the demonstration. {plain(words)}", icon=":material/block:"
        )
    import_module(f"countersunk.viewer.app.places.{place.lower()}").show(
        mine
    )  # once it is shown: the first page comes sooner
    with back:
        bar.steps(mine)
    bar.facts(facts, mine, customer=place == "Show")
    way.show(mine)


def _first() -> tuple[KitchenFile, str, dict[str, Catalogue]]:
    """The kitchen of the address, else the one that the command named, else the L-shaped demonstration.

    With it come the catalogues that are not of the program: the one that the command was given takes the place of
    the one that the kitchen names.
    """
    query = {key: st.query_params[key] for key in st.query_params}
    way.begin(query)
    try:
        if file := address.opened(query):
            return file, "opened from the address", {}
    except CountersunkError as error:
        st.session_state[way.REFUSED] = plainly(error)
    named = Path(sys.argv[1]) if len(sys.argv) > 1 else address.DEMOS["corner"]
    own = load_catalogue(Path(sys.argv[2])) if len(sys.argv) > 2 else None
    kitchen = open_kitchen(named, own)
    return kitchen_file(named), f"{named.stem} opened", {kitchen.document.catalogue: kitchen.catalogue}


try:
    main()
except Exception as error:  # nobody foresaw it; what the framework itself raises to end a run is none of these
    st.error(plain(surprise.told(error)), icon=":material/error:")
