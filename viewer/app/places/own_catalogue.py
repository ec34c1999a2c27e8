"""Own catalogue: a firm's units, boards, tops, articles and prices, given to the app as the files of a folder."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from shutil import rmtree
from tempfile import mkdtemp
from weakref import finalize

import streamlit as st

from countersunk.model.catalogue.catalogue import FILES, Catalogue, load_catalogue
from countersunk.model.errors import CountersunkError, InputError
from countersunk.takeoff.stock.articles import consumables_of
from countersunk.takeoff.stock.prices import PRICES, prices_of
from countersunk.viewer.app.session import Desk, plain, plainly

NAMES = (*FILES, PRICES)
"""What of a catalogue can be given to the app."""


def own_catalogue(desk: Desk) -> None:
    """The files of a catalogue, read and held for this person under the name that kitchen files give it."""
    with st.expander("A catalogue of your own", icon=":material/inventory_2:"):
        st.caption(f"Choose its files: {', '.join(NAMES)}. What is left out is that of the metric catalogue.")
        name = st.text_input("Its name in kitchen files", "own", max_chars=48, key="own-name")
        chosen = st.file_uploader(
            "Files", type=["yaml", "csv"], accept_multiple_files=True, key="own-files", label_visibility="collapsed"
        )
        given = {file.name: file.getvalue() for file in chosen}
        st.button(
            "Read this catalogue", on_click=_read, args=[desk, name, given], disabled=not given, key="own-read"
        )
        if words := desk.refused.get("catalogue"):
            st.error(f"The catalogue was not read. {plain(words)}", icon=":material/block:")


def _read(desk: Desk, name: str, given: Mapping[str, bytes]) -> None:
    desk.refused.pop("catalogue", None)
    try:
        desk.catalogues[name] = held(name, given)
    except CountersunkError as error:
        desk.refused["catalogue"] = plainly(error)


def held(name: str, given: Mapping[str, bytes]) -> Catalogue:
    """The catalogue of some files by their names, in a folder that is removed when nobody uses it any more.

    Raises InputError for a name that no kitchen file can give, for a file that no catalogue has, and for whatever
    is wrong in one.
    """
    _check(name, given)
    folder = Path(mkdtemp(prefix="catalogue-"))
    try:
        for file, raw in given.items():
            (folder / file).write_bytes(raw)
        catalogue = load_catalogue(folder)
        consumables_of(catalogue)
        prices_of(catalogue)
    except CountersunkError:
        rmtree(folder)
        raise
    finalize(catalogue, rmtree, folder, ignore_errors=True)
    return catalogue


def _check(name: str, given: Iterable[str]) -> None:
    if not re.fullmatch(r"[a-z0-9][a-z0-9.-]{0,47}", name) or name in ("metric", "inch"):
        allowed = "small letters, digits, dots and hyphens, and neither metric nor inch"
        raise InputError.at("name", found=f"'{name[:50]}'", allowed=allowed)
    for file in given:
        if file not in NAMES:
            raise InputError.unknown("file", file, NAMES)
