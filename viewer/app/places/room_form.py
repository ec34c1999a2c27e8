"""Room form: walls, corners, openings, obstacles and services in tables, with the plan drawn above them."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from countersunk.model.certainty.certainty import run_fits
from countersunk.model.differences import consequences, differences
from countersunk.model.document.schema import Room, Tolerance
from countersunk.model.edit.edits import edited
from countersunk.model.errors import CountersunkError
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey import Survey, survey_room, survey_unjudged
from countersunk.model.survey.weighing import weigh
from countersunk.viewer.app.places import columns
from countersunk.viewer.app.places.choosing import framed
from countersunk.viewer.app.places.drawn import show_sheet
from countersunk.viewer.app.places.fitted_form import fitted_form
from countersunk.viewer.app.places.grid import listed, table
from countersunk.viewer.app.places.lengths import length_input
from countersunk.viewer.app.session import Desk, Wish, plain
from countersunk.viewer.app.surveying import (
    CHECKED,
    CUT_TO,
    FITTED,
    LEFT,
    MISTAKE,
    MISTAKEN,
    RUN,
    WEIGHED,
    differences_rows,
    doubts_in_words,
    misclosure_in_words,
    mistakes_rows,
    runs_rows,
    weighed_rows,
)
from countersunk.viewer.drawing.plan import WINDOW, plan_sheet, room_sheet
from countersunk.viewer.drawing.shapes import Sheet
from countersunk.viewer.drawing.survey_sheet import WINDOW as READINGS
from countersunk.viewer.drawing.survey_sheet import readings_sheet


def form(desk: Desk) -> list[Wish]:
    """What was typed in the tables of the room."""
    room = desk.base.room
    walls = [wall.name for wall in room.walls]
    return [
        *_height(desk),
        *listed(desk, "room.walls", "Walls, as one meets them turning to the right", columns.WALLS, room.walls),
        *listed(desk, "room.openings", "Openings", columns.opening_cells(walls), room.openings),
        *listed(desk, "room.obstacles", "Obstacles", columns.obstacle_cells(walls), room.obstacles),
        *listed(desk, "room.services", "Services", columns.service_cells(walls), room.services),
        *listed(desk, "room.slopes", "Sloping ceilings", columns.slope_cells(walls), room.slopes),
        *_roof(desk),
        *listed(desk, "room.ceiling", "Ceiling read over walls", columns.ceiling_cells(walls), room.ceiling),
        *listed(desk, "room.diagonals", "Across the room", columns.DIAGONALS, room.diagonals),
        *listed(desk, "room.measured", "Measured again, one a row", columns.MEASURED, room.measured),
        *_tolerance(desk),
        *fitted_form(desk),
    ]


def _roof(desk: Desk) -> list[Wish]:
    """Windows and dormers of each sloping ceiling."""
    wishes = list[Wish]()
    for i, slope in enumerate(desk.base.room.slopes):
        field, over = f"room.slopes[{i}]", f"of slope {i + 1}, over wall {slope.wall}"
        wishes += listed(desk, f"{field}.windows", f"Windows {over}", columns.ROOF_WINDOWS, slope.windows)
        wishes += listed(desk, f"{field}.dormers", f"Dormers {over}", columns.DORMERS, slope.dormers)
    return wishes


def _tolerance(desk: Desk) -> list[Wish]:
    """How far readings may be off, as a table of one line."""
    allowed = Tolerance(**desk.base.room.tolerance.model_dump())  # what the file leaves out is shown as well
    st.markdown("#### How far readings may be off, ±")
    slot = st.container()
    [now] = table(desk, "How far readings may be off", columns.TOLERANCE, [allowed], fixed=True)
    if now == allowed.model_dump():
        return []
    return [Wish(lambda document: edited(document, {"room.tolerance": now or None}), slot)]


def _height(desk: Desk) -> list[Wish]:
    height = length_input(desk, "Height of the room, mm", desk.base.room.height, desk.key("height"), step=10.0)
    slot = st.container()
    if height == desk.base.room.height:
        return []
    return [Wish(lambda document: edited(document, {"room.height": height}), slot)]


def plan_typed(desk: Desk, wishes: Sequence[Wish]) -> None:
    """The room as it is being typed, before a kitchen is built in it, and where none can be."""
    if desk.unbuilt and _unjudged(desk.unbuilt[1], f"{desk.unbuilt[0]} was not opened: it makes no kitchen. "):
        st.button("Back to the kitchen that is open", on_click=desk.forget_unbuilt)
        return
    room = desk.wished(wishes).room
    if room == desk.document.room:
        plan(desk)
        return
    try:
        survey = survey_room(room)
    except CountersunkError:  # is told at its field
        if not _unjudged(room, "What was typed makes no kitchen. "):
            plan(desk)
        return
    _shown(room_sheet(survey), survey)
    st.caption("The room as it is typed. The kitchen is built in it next; where it cannot be, the last one stays.")


def _unjudged(room: Room, words: str) -> bool:
    """What the readings say of a room on which no kitchen can be built; False for one that they do not hold."""
    try:
        survey = survey_unjudged(room)
    except CountersunkError:
        return False
    _readings(room, survey, words)
    return True


def plan(desk: Desk) -> None:
    """The plan as it is now, beside what is typed, and how sure the runs fit in it."""
    kitchen = desk.reading.kitchen
    _shown(plan_sheet(kitchen), kitchen.survey)
    _as_fitted(kitchen)
    _how_sure(kitchen)


def _shown(sheet: Sheet, survey: Survey) -> None:
    walls = ", ".join(f"wall {w.name} {w.length:.0f} mm" for w in survey.walls)
    show_sheet(sheet, f"Plan from above: {walls}", WINDOW)


def _as_fitted(kitchen: Kitchen) -> None:
    """What was measured on the fitted units against the plan, where it was."""
    if kitchen.fitted is None:
        return
    st.markdown(f"#### Measured on the fitted units, {kitchen.fitted.date}")
    frame = framed(differences_rows(differences(kitchen)), FITTED)
    st.dataframe(frame, hide_index=True, width="stretch", alt="As planned, as fitted, and what that means")
    st.caption(CUT_TO)
    for words in consequences(kitchen):
        st.markdown(plain(f"Less well met than planned: {words}."))


def _readings(room: Room, survey: Survey, before: str = "") -> None:
    """Every reading in its place and in a table, with what the others make of it."""
    weighing = weigh(room)
    st.markdown("#### What the readings say of each other")
    st.markdown(plain(before + " ".join([misclosure_in_words(survey.misclosure), *weighing.words])))
    again = ", ".join(row.what for row in weighing.rows if row.suspected)
    described = f"Every reading in its place; to measure again: {again or 'none'}"
    show_sheet(readings_sheet(room, survey), described, READINGS)
    shown = framed(weighed_rows(weighing), WEIGHED)
    st.dataframe(shown, hide_index=True, width="stretch", alt="Every reading, and what the others make of it")
    st.caption(CHECKED)


def _how_sure(kitchen: Kitchen) -> None:
    """What the readings say of each other, what every run has to spare, and what to measure again."""
    fits = run_fits(kitchen)
    _readings(kitchen.document.room, kitchen.planned.survey)
    st.markdown("#### How sure the runs fit")
    frame = framed(runs_rows(fits, [fit.probability for fit in fits]), RUN)
    st.dataframe(frame, hide_index=True, width="stretch", alt="What every run has to spare, mm")
    st.markdown(plain(" ".join(doubts_in_words(fits, kitchen.document.room))))
    st.caption(LEFT)
    mistakes = framed(mistakes_rows(fits), MISTAKE)
    st.dataframe(mistakes, hide_index=True, width="stretch", alt="What is left if one reading is wrong, mm")
    st.caption(MISTAKEN)
