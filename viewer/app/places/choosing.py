"""Choosing: one line of a table, one of the places and views."""

from __future__ import annotations

from collections.abc import Sequence

import pandas as pd
import streamlit as st

from countersunk.viewer.app.terminal import Rows

MONEY = {"Cost": st.column_config.NumberColumn(format="%.2f")}
SHOWN = {**MONEY, "Question": st.column_config.TextColumn(width=290)}
"""How columns are shown; a question leaves room for where it is asked, and is told in full once it is chosen."""


def framed(rows: Rows, columns: list[str] | None = None) -> pd.DataFrame:
    """Rows as a data frame, with all their columns or some."""
    return pd.DataFrame(list(rows), columns=columns)


def row_chosen(frame: pd.DataFrame, key: str, described: str) -> int | None:
    """Show a table; the position of the line that is chosen in it, if one is."""
    event = st.dataframe(
        frame,
        hide_index=True,
        width="stretch",
        on_select="rerun",
        selection_mode="single-row",
        column_config=SHOWN,
        key=key,
        alt=described,
    )
    rows = event["selection"]["rows"]
    return int(rows[0]) if rows and rows[0] < len(frame) else None


def one_of(label: str, names: Sequence[str], key: str) -> str:
    """The place or view that is chosen by a row of buttons, the first to begin with."""
    st.session_state.setdefault(key, names[0])
    return str(st.segmented_control(label, names, key=key, required=True, label_visibility="collapsed"))
