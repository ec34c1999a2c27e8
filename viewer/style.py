"""The app's own look: a workshop's paper and pencil, not the framework's."""

from __future__ import annotations

import streamlit as st
from PIL import Image, ImageDraw

CSS = """
<style>
#MainMenu, footer, [data-testid="stToolbar"], [data-testid="stDecoration"], [data-testid="stStatusWidget"],
[data-testid="stAppDeployButton"] {display: none}
[data-testid="stHeader"] {height: 0; background: transparent}
.block-container {padding: 1.1rem 1.6rem 2rem; max-width: 100%}
.st-key-page > div > [data-testid="stHorizontalBlock"] > [data-testid="stColumn"]:first-child,
.st-key-page > [data-testid="stHorizontalBlock"] > [data-testid="stColumn"]:first-child
{position: sticky; top: .6rem; align-self: flex-start; max-height: calc(100vh - 1.2rem); overflow-y: auto}
h1.brand {font-size: 1.25rem; letter-spacing: .14em; padding: 0 0 .2rem; font-weight: 600}
.headline {display: flex; flex-wrap: wrap; gap: .4rem 1.6rem; align-items: baseline; margin-bottom: .3rem}
.headline .title {font-size: 1.15rem; font-weight: 600}
.headline .fact {font-size: .95rem; white-space: nowrap}
.caution {font-size: .85rem; border-left: 4px solid #b3581b; padding: .2rem .7rem; margin: .3rem 0 .6rem}
</style>
"""


def apply_style() -> None:
    """Hide what belongs to the framework and set our own type and spacing."""
    st.html(CSS)


def page_icon() -> Image.Image:
    """The head of a countersunk screw, 64 x 64. Drawn here: a named icon would be fetched from the network."""
    image = Image.new("RGBA", (64, 64))
    pen = ImageDraw.Draw(image)
    pen.ellipse((3, 3, 61, 61), fill="#9a5b1e")
    pen.ellipse((11, 11, 53, 53), outline="#f3e7d8", width=3)
    pen.line((22, 22, 42, 42), fill="#f3e7d8", width=6)
    pen.line((22, 42, 42, 22), fill="#f3e7d8", width=6)
    return image
