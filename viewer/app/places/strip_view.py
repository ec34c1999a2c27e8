"""Strip view: the strip on the page, whose units can be picked by a tap and dragged to other places of their row.

Whoever has no pointer has the buttons and fields beside it. The browser's half: ``viewer/scene3d/src/strip``.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING, Any

import streamlit as st

from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placing import PlacedRun
from countersunk.viewer.app.places.strip import row_in_words, strip_svg
from countersunk.viewer.scene3d import script

if TYPE_CHECKING:
    from streamlit.components.v2.types import ComponentRenderer

KEY = "strip"
ANSWERED = "strip-answered"
"""Where a session keeps the number of the last drop: the browser waits for it, since a drop may change nothing."""

Picked = Callable[[int], None]
Moved = Callable[[int, int], None]


def strip_view(kitchen: Kitchen, run: PlacedRun, at: int, *, on_pick: Picked, on_move: Moved) -> None:
    """Show a row with the unit at a place of it picked. Both calls come before the page is made anew.

    Args:
        kitchen: the kitchen of the row.
        run: the row.
        at: the place of the unit that is picked.
        on_pick: told the place of a unit that was tapped.
        on_move: told the place from which a unit was dragged, and the one to which.
    """
    units = [{"left": unit.x, "right": unit.right} for unit in run.units]
    data = {
        "svg": strip_svg(kitchen, run, run.units[at].name).decode(),
        "words": row_in_words(run),
        "units": units,
        "answered": st.session_state.get(ANSWERED, 0),
    }
    _component()(
        key=KEY, data=data, on_picked_change=lambda: _picked(on_pick), on_moved_change=lambda: _moved(on_move)
    )


def _picked(act: Picked) -> None:
    act(int(_told("picked")["at"]))


def _moved(act: Moved) -> None:
    told = _told("moved")
    st.session_state[ANSWERED] = told["drop"]
    act(int(told["from"]), int(told["to"]))


def _told(trigger: str) -> Any:
    return st.session_state[KEY][trigger]


@cache
def _component() -> ComponentRenderer:
    """The component, registered once."""
    return st.components.v2.component("countersunk-strip", js=script("strip"))
