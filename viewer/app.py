"""The app: wires forms, scene, findings and takeoff together. What it shows is made elsewhere.

Run by ``countersunk app``. Each browser session has a kitchen of its own in the session state; a value that
cannot be built leaves the last good kitchen standing, with a sentence that says why.
"""

from __future__ import annotations

import sys
from pathlib import Path

import streamlit as st

import shared
from model.document import Document
from model.errors import CountersunkError
from model.kitchen import open_kitchen, read_kitchen
from viewer import clearances, forms, panels
from viewer.offers import offers
from viewer.reading import Reading, laid_out, read
from viewer.scene3d import scene3d
from viewer.style import apply_style, page_icon

DEMOS = {path.stem: path for path in sorted(shared.KITCHENS.glob("*.yaml"))}
NAMES = {"corner": "L with a mitred corner", "island": "U with an island", "straight": "Straight run"}


def main() -> None:
    """The page, from top to bottom."""
    st.set_page_config(page_title="Countersunk", page_icon=page_icon(), layout="wide")
    apply_style()
    if "document" not in st.session_state:
        _take(_first_document())
    choice, view = st.container(key="page").columns([1, 3], gap="medium")
    with choice:
        st.html('<h1 class="brand">countersunk</h1>')
        _chooser()
        document = forms.edit(st.session_state["document"], st.session_state["generation"])
        reading = _reading(document)
    with view:
        _show(reading)


def _first_document() -> Document:
    """The kitchen that the command named, else the L-shaped demo."""
    named = Path(sys.argv[1]) if len(sys.argv) > 1 else DEMOS["corner"]
    return open_kitchen(named).document


def _take(document: Document) -> None:
    """Make ``document`` the session's kitchen; forms begin anew with its values."""
    st.session_state["document"] = document
    st.session_state["good"] = document
    st.session_state["generation"] = st.session_state.get("generation", 0) + 1


def _chooser() -> None:
    with st.expander("Open a kitchen", icon=":material/folder_open:"):
        for stem, path in DEMOS.items():
            if st.button(NAMES.get(stem, stem), key=f"demo-{stem}", width="stretch"):
                _take(open_kitchen(path).document)
                st.rerun()
        upload = st.file_uploader("A kitchen file (YAML, up to 1 MB)", type=["yaml", "yml"])
        if upload and st.session_state.get("upload") != upload.file_id:
            st.session_state["upload"] = upload.file_id
            _open_upload(upload.getvalue(), upload.name)


def _open_upload(raw: bytes, name: str) -> None:
    try:
        _take(read_kitchen(raw, name).document)
    except CountersunkError as error:
        st.session_state["refused"] = str(error)
        return
    st.session_state.pop("refused", None)
    st.rerun()


def _reading(document: Document) -> Reading:
    """Everything about the kitchen as edited, or about the last one that could be built."""
    if refused := st.session_state.get("refused"):
        st.error(f"The file was not opened. {refused}", icon=":material/block:")
    try:
        reading = read(document)
    except CountersunkError as error:
        forms.refuse(error)
        return read(st.session_state["good"])
    st.session_state["good"] = document
    return laid_out(reading) if st.session_state.get("laid_out") == document else reading


def _show(reading: Reading) -> None:
    """The view stands above the tables, but is filled after them, since a line chosen there lights up in it."""
    panels.headline(reading)
    view = st.container()
    findings, takeoff, files = st.tabs(["Findings", "Takeoff", "Files"])
    with findings:
        chosen = panels.findings(reading)
        if changed := panels.cured(reading, chosen):
            _take(changed)
            st.rerun()
        lit = (*panels.parts_behind(reading, chosen.ids), clearances.ID) if chosen else ()
    with takeoff:
        lit = lit or panels.takeoff(reading)
    with files:
        panels.files(reading)
    with view:
        glb = clearances.glb_with(reading.kitchen.document, chosen) if chosen else reading.glb
        picked = scene3d(
            glb,
            key=f"room-{st.session_state['generation']}",
            highlight=lit,
            offers=offers(reading.kitchen),
        )
        if picked:
            st.session_state["picked"] = picked
        panels.part_line(reading, st.session_state.get("picked"))


main()
