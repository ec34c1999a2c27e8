"""Beside: the 3D view as it stands beside a place, and the page of what was clicked in it."""

from __future__ import annotations

import html

import streamlit as st

from countersunk.model.checks.finding import Finding
from countersunk.viewer.app import clearances
from countersunk.viewer.app.offers import offers
from countersunk.viewer.app.part_page import facts
from countersunk.viewer.app.places.planned import counted
from countersunk.viewer.app.reading import Ids, keys_of, parts_behind
from countersunk.viewer.app.session import Desk
from countersunk.viewer.scene3d import scene3d


def view(desk: Desk, lit: Ids = (), finding: Finding | None = None, height: int = 620) -> None:
    """The kitchen as it is, parts lit, a finding's space in it. What is clicked is remembered as picked."""
    reading = desk.reading
    scene = clearances.scene_with(desk.document, desk.catalogue, finding) if finding else reading.scene
    if finding:
        lit = (*parts_behind(reading, keys_of(finding)), clearances.ID)
    picked = scene3d(scene, key=desk.view, highlight=lit, offers=offers(reading.kitchen), height=height)
    if picked and picked != desk.picked:
        desk.picked = picked
        st.rerun()
    _part_page(desk)


def _part_page(desk: Desk) -> None:
    """Everything about the part that was last clicked in the view."""
    reading = counted(desk)
    part = reading.kitchen.parts_by_id.get(desk.picked)
    if part is None:
        st.caption("Click a part in the view: its page opens here.")
        return
    rows = "".join(
        f'<tr><th scope="row">{html.escape(name)}</th><td>{"<br>".join(map(html.escape, lines))}</td></tr>'
        for name, lines in facts(part, reading)
    )
    st.html(f'<table class="part-page"><caption>{html.escape(part.mark)}</caption>{rows}</table>')
