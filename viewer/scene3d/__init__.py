"""The 3D view of a kitchen: a glTF scene in the browser, and the part that a person clicks there.

``bundle.py`` builds the browser's half (TypeScript in ``src/``) into ``static/scene3d.js``; this is Python's half.
The strip of a row of units (`viewer.app.places.strip_view`) and the browser's way (`viewer.app.way`) are built
beside it.

bundle      builds the browser's half                message      what the two halves send each other

Both agree on one message, see ``message.py``, and on two answers: the triggers ``picked`` and ``lacking``.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import streamlit as st

from countersunk.model.errors import CountersunkError
from countersunk.viewer.scene.gltf import Gltf
from countersunk.viewer.scene3d.message import Offer, message, pieces

if TYPE_CHECKING:
    from streamlit.components.v2.types import ComponentRenderer

__all__ = ["BundleMissingError", "scene3d", "script"]

STATIC = Path(__file__).with_name("static")


VIEW = "scene3d"
"""The one view of a page, as the page knows it."""

SENT = "pieces sent"
"""Where a session keeps the names of the pieces that its browser was sent. A message may be overtaken by the next
one on the way; a browser that lacks a piece says so, and then everything is sent again."""


class BundleMissingError(CountersunkError):
    """The browser's half of the 3D view has not been built."""


def scene3d(
    scene: Gltf,
    *,
    key: str,
    beside: Gltf | None = None,
    names: Sequence[str] = (),
    offers: Sequence[Offer] = (),
    highlight: Sequence[str] = (),
    theme: Literal["light", "dark"] | None = None,
    height: int = 620,
) -> str | None:
    """Show a kitchen in 3D and return the id of the part that was picked in this run, else None.

    The camera stays where the person left it, whatever else changes. Only a new ``key`` starts a new view.
    Every worktop and front wears what the offers say is worn; that takes no new scene.

    Args:
        scene: the kitchen as `viewer.scene.scene` makes it, its nodes with what `viewer.scene.extras` lists.
        key: under which the browser remembers camera, layers and open doors; a page has one view.
        beside: a second version, shown to the right of the first by the same camera.
        names: what the versions are called, in the order in which they stand.
        offers: decors that the person may try; see `viewer.app.offers`. None: the scene's own decors are shown.
        highlight: ids of parts to tint and outline. Ids that the scene has not are passed over.
        theme: ``light`` or ``dark``; None follows the page.
        height: of the view with its controls, in CSS pixels.

    Raises:
        BundleMissingError: the browser's half has not been built.
    """
    scenes = [scene] if beside is None else [scene, beside]
    header = {"key": key, "names": list(names), "highlight": list(highlight), "theme": theme, "height": height}
    sent: set[str] = st.session_state.setdefault(SENT, set())
    data = message(header, scenes, offers, known=sent)
    sent |= pieces(scenes, offers).keys()
    result = _component()(key=VIEW, data=data, on_picked_change=_nothing, on_lacking_change=sent.clear)
    picked = result.get("picked")
    return str(picked["id"]) if picked else None


def script(name: str = "scene3d") -> str:
    """The browser's half of a component as the text of a JavaScript module. Raises BundleMissingError."""
    bundle = STATIC / f"{name}.js"
    try:
        # A line before it: the framework takes a text of one line for the name of a file.
        return f"// {name}\n{bundle.read_text(encoding='utf-8')}"
    except FileNotFoundError:
        raise BundleMissingError(
            f"the 3D view has not been built: {bundle} is missing. "
            "Build it with `python -m countersunk.viewer.scene3d.bundle`, or install the project again with "
            "`pip install`."
        ) from None


@cache
def _component() -> ComponentRenderer:
    """The component, registered once. Its script goes as text: that serves wheels and editable installs alike."""
    return st.components.v2.component("countersunk-scene3d", js=script())


def _nothing() -> None:
    """Streamlit hands over a trigger only if something listens to it."""
