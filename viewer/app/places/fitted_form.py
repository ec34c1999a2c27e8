"""Fitted form: what was measured on the units once they stood, in tables; tops are cut from it."""

from __future__ import annotations

import streamlit as st

from countersunk.model.document.fitted import FittedTolerance
from countersunk.model.document.keys import names_by_key
from countersunk.model.edit.edits import edited
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.grid import listed, table
from countersunk.viewer.app.session import Desk, Wish

DAY = "Day on which the fitted units were measured, as 2026-11-20"


def fitted_form(desk: Desk) -> list[Wish]:
    """What was typed of the fitted units: the day first, and with it the tables."""
    fitted = desk.base.fitted
    st.markdown("#### Measured on the fitted units")
    now = st.text_input(DAY, value=fitted.date if fitted else "", max_chars=20, key=desk.key("fitted-day")).strip()
    slot = st.container()
    if fitted is None:
        st.caption("Once the units stand: type the day, then what you read. Tops are cut from it, and say so.")
        return [Wish(lambda document: edited(document, {"fitted": {"date": now}}), slot)] if now else []
    wishes = []
    if now != fitted.date:
        changes = {"fitted.date": now} if now else {"fitted": None}
        wishes.append(Wish(lambda document: edited(document, changes), slot))
    units = names_by_key(desk.base)
    for field, title, cells, rows in (
        ("lengths", "Lengths along the fitted units", columns.fitted_length_cells(units), fitted.lengths),
        ("corners", "Corners between fronts", columns.FITTED_CORNERS, fitted.corners),
        ("gaps", "Gaps at the ends of rows", columns.fitted_gap_cells(units), fitted.gaps),
        ("walls", "From the wall behind to the units", columns.fitted_wall_cells(units), fitted.walls),
        ("heights", "Heights without the top", columns.fitted_height_cells(units), fitted.heights),
    ):
        wishes += listed(desk, f"fitted.{field}", title, cells, rows)
    return [*wishes, *_tolerance(desk, FittedTolerance(**fitted.tolerance.model_dump()))]


def _tolerance(desk: Desk, allowed: FittedTolerance) -> list[Wish]:
    """How far readings on units may be off, as a table of one line."""
    st.markdown("#### How far readings on the units may be off, ±")
    slot = st.container()
    name = "How far readings on the units may be off"
    [now] = table(desk, name, columns.FITTED_TOLERANCE, [allowed], fixed=True)
    if now == allowed.model_dump():
        return []
    return [Wish(lambda document: edited(document, {"fitted.tolerance": now or None}), slot)]
