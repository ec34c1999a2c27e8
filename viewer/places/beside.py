"""Beside: the 3D view as it stands beside a place, and what was clicked in it."""

from __future__ import annotations

import streamlit as st

from model.checks.finding import Finding
from model.part import Part
from viewer import clearances
from viewer.labels import part_label
from viewer.offers import offers
from viewer.reading import Ids, Reading, parts_behind
from viewer.scene3d import scene3d
from viewer.session import Desk, plain


def view(desk: Desk, lit: Ids = (), finding: Finding | None = None, height: int = 620) -> None:
    """The kitchen as it is, parts lit, a finding's space in it. What is clicked is remembered as picked."""
    reading = desk.reading
    scene = clearances.scene_with(desk.document, finding) if finding else reading.scene
    if finding:
        lit = (*parts_behind(reading, finding.ids), clearances.ID)
    picked = scene3d(scene, key=desk.view, highlight=lit, offers=offers(reading.kitchen), height=height)
    if picked and picked != desk.picked:
        desk.picked = picked
        st.rerun()
    _part_line(reading, desk.picked)


def _part_line(reading: Reading, picked: str) -> None:
    """What the part is that was last clicked in the view."""
    part = reading.kitchen.parts_by_id.get(picked)
    if part is None:
        st.caption("Click a part in the view to see what it is.")
        return
    st.markdown(f"**{plain(part.id)}**  {plain(f'{part_label(part, reading.kitchen)} ({_size(part)})')}")


def _size(part: Part) -> str:
    return f"{part.length:.0f} × {part.depth:.0f} × {part.thickness:g} mm"
