"""Choosing: a table in which one line can be chosen."""

from __future__ import annotations

import pandas as pd
import streamlit as st

MONEY = {"Cost": st.column_config.NumberColumn(format="%.2f")}
SHOWN = {**MONEY, "Question": st.column_config.TextColumn(width=290)}
"""How columns are shown; a question leaves room for where it is asked, and is told in full once it is chosen."""


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
