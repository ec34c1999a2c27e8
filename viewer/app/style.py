"""The app's own look: a workshop's paper and pencil, not the framework's."""

from __future__ import annotations

import streamlit as st
from PIL import Image, ImageDraw

CSS = """
<style>
#MainMenu, footer, [data-testid="stToolbar"], [data-testid="stDecoration"], [data-testid="stStatusWidget"],
[data-testid="stAppDeployButton"] {display: none}
[data-testid="stHeader"] {height: 0; background: transparent}
.block-container {padding: 0 1.4rem 2rem; max-width: 100%}
[data-testid="stLayoutWrapper"]:has(> .st-key-bar) {position: sticky; top: 0; z-index: 90}
.st-key-bar {background: var(--st-background-color, Canvas); gap: .2rem;
  padding: .5rem 0 .35rem; border-bottom: 2px solid var(--st-primary-color, #9a5b1e)}
.brand {font-size: 1.05rem; letter-spacing: .12em; font-weight: 600}
.headline {display: flex; flex-wrap: wrap; gap: .15rem 1.2rem; align-items: baseline}
.headline h1.title {font-size: 1.05rem; font-weight: 600; padding: 0; margin: 0; letter-spacing: 0}
.headline .fact {font-size: .92rem; white-space: nowrap; font-variant-numeric: tabular-nums}
.headline .last {font-size: .86rem; font-style: italic; opacity: .85}
.caution {font-size: .85rem; border-left: 4px solid #b3581b; padding: .2rem .7rem; margin: .3rem 0 .6rem}
[data-testid="stCaptionContainer"], [data-testid="stCaptionContainer"] p {color: inherit !important; opacity: 1}
.part-page {width: 100%; border-collapse: collapse; font-size: .92rem}
.part-page caption {text-align: left; font-weight: 600; font-size: 1rem; padding: .2rem 0}
.part-page th, .part-page td {text-align: left; vertical-align: top; padding: .25rem .8rem .25rem 0;
  border-top: 1px solid color-mix(in srgb, currentColor 22%, transparent)}
.part-page th {font-weight: 600; white-space: nowrap; width: 1%}
.drawn {overflow-x: auto}
img.sheet, img.plan {width: 100%; height: auto; background: #fff; border: 1px solid #8a8a8a}
img.sheet {min-width: 1100px}
img.plan {max-height: 70vh; object-fit: contain}
.stMain h2, .stMain h3 {font-size: 1.2rem; padding: .1rem 0 .4rem}
.stMain h4, .stMain h5 {font-size: .98rem; padding: .3rem 0 .35rem}
.st-key-design [data-testid="stColumn"]:last-child, .st-key-fit-findings [data-testid="stColumn"]:last-child,
.st-key-count-takeoff [data-testid="stColumn"]:last-child
  {position: sticky; top: 6.2rem; align-self: flex-start}
@media (max-width: 1000px) {
  .st-key-design [data-testid="stHorizontalBlock"]:has(> [data-testid="stColumn"]),
  .st-key-fit-findings [data-testid="stHorizontalBlock"]:has(> [data-testid="stColumn"]),
  .st-key-count-takeoff [data-testid="stHorizontalBlock"]:has(> [data-testid="stColumn"])
    {flex-direction: column}
  .st-key-design [data-testid="stColumn"], .st-key-fit-findings [data-testid="stColumn"],
  .st-key-count-takeoff [data-testid="stColumn"] {width: 100%; flex: 1 1 auto; min-width: 100%}
  .st-key-design [data-testid="stColumn"]:last-child, .st-key-fit-findings [data-testid="stColumn"]:last-child,
  .st-key-count-takeoff [data-testid="stColumn"]:last-child
    {position: static; order: -1}
}
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
