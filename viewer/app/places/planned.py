"""Planned: the kitchen with its boards laid out on sheets, once somebody asked for that."""

from __future__ import annotations

import streamlit as st

from countersunk.takeoff.plans.cut_plans import CutPlans
from countersunk.viewer.app.reading import KitchenReading, laid_out
from countersunk.viewer.app.session import Desk

ASKED = "laid-out"


def counted(desk: Desk) -> KitchenReading:
    """With boards laid out where that was asked for this kitchen; another edit puts the estimate back."""
    return laid_out(*desk.asked) if is_planned(desk) else desk.reading


def is_planned(desk: Desk) -> bool:
    """Whether boards of this very kitchen were laid out, at these prices."""
    return bool(st.session_state.get(ASKED) == desk.asked)


def lay_out(desk: Desk) -> None:
    """From here on the boards of this kitchen are counted by the sheets that they are cut from."""
    laid_out(*desk.asked)
    st.session_state[ASKED] = desk.asked


def cuts(desk: Desk) -> CutPlans:
    """What is cut from what, at the prices of the job; some seconds the first time."""
    taken = laid_out(*desk.asked).takeoff
    return CutPlans(taken.plans, taken.boards)
