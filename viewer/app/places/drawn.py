"""Drawn: a sheet of the papers as a picture on the screen, on its white paper in the light and in the dark."""

from __future__ import annotations

import base64
import html
from dataclasses import replace

import streamlit as st

from countersunk.viewer.drawing.shapes import Box, Sheet
from countersunk.viewer.drawing.svg import svg


def show_sheet(sheet: Sheet, described: str, window: Box | None = None) -> None:
    """The sheet with its small print to be read, or only what is drawn in a window of it (mm from lower left)."""
    if window:
        show_picture(_cropped(sheet, window), described, "plan")
    else:
        show_picture(svg(sheet), described, "sheet")


def show_picture(drawn: bytes, described: str, look: str) -> None:
    """An SVG as a picture; ``look`` is its class in `viewer.app.style`."""
    shown, words = base64.b64encode(drawn).decode(), html.escape(described, quote=True)
    image = f'<img class="{look}" alt="{words}" src="data:image/svg+xml;base64,{shown}">'
    st.html(f'<div class="drawn" tabindex="0" role="group" aria-label="Drawing">{image}</div>')


def _cropped(sheet: Sheet, window: Box) -> bytes:
    w, h = sheet.size
    x0, y0, x1, y1 = window
    whole = f'width="{w:g}mm" height="{h:g}mm" viewBox="0 0 {w:g} {h:g}"'
    part = f'width="{x1 - x0:g}mm" height="{y1 - y0:g}mm" viewBox="{x0:g} {h - y1:g} {x1 - x0:g} {y1 - y0:g}"'
    bare = replace(sheet, views=tuple(view for view in sheet.views if not view.is_paper))
    return svg(bare).replace(whole.encode(), part.encode(), 1)
