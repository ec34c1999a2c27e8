"""The 3D view of a kitchen: a glTF scene in the browser, and the part that a person clicks there.

``bundle.py`` builds the browser's half (TypeScript in ``src/``) into ``static/scene3d.js``; this is Python's half.
Both agree on one message, ``_message``, and on one answer, the trigger ``picked``.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import streamlit as st

from model.errors import CountersunkError

if TYPE_CHECKING:
    from streamlit.components.v2.types import ComponentRenderer

__all__ = ["BundleMissingError", "scene3d"]

BUNDLE = Path(__file__).with_name("static") / "scene3d.js"
# The browser reads the length as one little-endian word, and glTF starts on a multiple of 4.
WORD = 4


class BundleMissingError(CountersunkError):
    """The browser's half of the 3D view has not been built."""


def scene3d(
    glb: bytes,
    *,
    key: str,
    highlight: Sequence[str] = (),
    theme: Literal["light", "dark"] | None = None,
    height: int = 560,
) -> str | None:
    """Show a kitchen in 3D and return the id of the part that was picked in this run, else None.

    The camera stays where it is when ``glb`` changes, and also when the view goes and comes back under the same
    ``key``. Calls with equal arguments send nothing to the browser.

    Args:
        glb: a binary glTF scene, y up, in metres, whose nodes carry ``part``, ``kind``, ``layer`` and ``label`` in
            their extras, and walls also ``inward``.
        key: names the view; each on a page needs its own.
        highlight: ids of parts to tint and outline. Ids that the scene has not are passed over.
        theme: ``light`` or ``dark``; None follows the page.
        height: of the view, in CSS pixels.

    Raises:
        BundleMissingError: the browser's half has not been built.
    """
    header = {"key": key, "highlight": list(highlight), "theme": theme, "height": height}
    result = _component()(key=key, data=_message(header, glb), on_picked_change=_nothing)
    picked = result.get("picked")
    return str(picked["id"]) if picked else None


def _message(header: Mapping[str, object], glb: bytes) -> bytes:
    """What travels to the browser: the header's length, the header as JSON padded to whole words, the glTF.

    One piece of bytes, because bytes within a dict would become a string on the way. The header's ``model`` names
    the glTF, so that the browser need not read it again when only the header has changed.
    """
    named = {**header, "model": blake2b(glb, digest_size=8).hexdigest()}
    text = json.dumps(named, separators=(",", ":")).encode()
    text += b" " * (-len(text) % WORD)
    return len(text).to_bytes(WORD, "little") + text + glb


@cache
def _component() -> ComponentRenderer:
    """The component, registered once. Its script goes as text: that serves wheels and editable installs alike."""
    try:
        script = BUNDLE.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise BundleMissingError(
            f"the 3D view has not been built: {BUNDLE} is missing. "
            "Build it with `python -m viewer.scene3d.bundle`, or install the project again with `pip install`."
        ) from None
    return st.components.v2.component("countersunk-scene3d", js=script)


def _nothing() -> None:
    """Streamlit hands over a trigger only if something listens to it."""
