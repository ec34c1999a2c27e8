"""Bar: the slim line that stays at the top: steps back and forth, findings by gravity, and the total."""

from __future__ import annotations

import html
from collections import Counter
from collections.abc import Sequence
from datetime import date

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from countersunk.model.checks.finding import Finding, Verdict
from countersunk.model.edit.kitchen_file import kitchen_file, new_file, uploaded
from countersunk.model.errors import CountersunkError
from countersunk.model.kitchen import read_kitchen
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.viewer.app.address import DEMOS, demos
from countersunk.viewer.app.checking import MARKS
from countersunk.viewer.app.new_room import new_room
from countersunk.viewer.app.places.planned import counted
from countersunk.viewer.app.session import Desk, plain, plainly

COUNTED = {
    Verdict.NOT_MET: ("must not met", "musts not met"),
    Verdict.SHORT: ("advice falls short", "pieces of advice fall short"),
    Verdict.WATCH: ("worth a look", "worth a look"),
    Verdict.NOT_MEASURED: ("not measured", "not measured"),
}
"""What a finding of each verdict is called in the count, one and several, the gravest first."""


def steps(desk: Desk) -> None:
    """Undo and redo, and the edit that was made last."""
    history = desk.history
    back = f"Undo: {history.now.words}" if len(history.steps) > 1 else "Nothing to undo"
    forward = f"Redo: {history.undone[0].words}" if history.undone else "Nothing to redo"
    for label, told, act, idle in (
        ("Undo", back, desk.undo, len(history.steps) == 1),
        ("Redo", forward, desk.redo, not history.undone),
    ):
        icon = f":material/{label.lower()}:"
        st.button(label, key=label.lower(), icon=icon, help=plain(told), on_click=act, disabled=idle)


def facts(slot: DeltaGenerator, desk: Desk, customer: bool) -> None:
    """Whose kitchen it is, findings by gravity, the total, and what was done last."""
    reading = counted(desk)
    told = [total(reading.takeoff)] if customer else [*gravities(reading.findings), total(reading.takeoff)]
    title = html.escape(desk.document.kitchen)
    spans = "".join(f'<span class="fact">{html.escape(fact)}</span>' for fact in told)
    last = "" if customer else f'<span class="last">{html.escape(desk.history.now.words)}</span>'
    slot.html(f'<div class="headline" role="status"><h1 class="title">{title}</h1>{spans}{last}</div>')


def gravities(findings: Sequence[Finding]) -> list[str]:
    """How many findings of each gravity there are, with a sign for each."""
    counts = Counter(finding.verdict for finding in findings)
    found = [f"{MARKS[v]} {counts[v]} {names[counts[v] != 1]}" for v, names in COUNTED.items() if counts[v]]
    return found or [f"{MARKS[Verdict.MET]} nothing missed"]


def total(taken: Takeoff) -> str:
    """The price with tax, and whether it is all; about, until boards are counted by the sheets that are bought."""
    totals, about = taken.totals, "about " if taken.is_estimate else ""
    return f"{about}{totals.gross:,.2f} {totals.currency}{'' if totals.complete else ', incomplete'}"


def files(desk: Desk) -> None:
    """Open a demo or a file, save the kitchen in the same format as the commands."""
    with st.popover("Open, save", icon=":material/folder_open:"):
        st.download_button(
            "Save the kitchen file (YAML)",
            lambda: desk.file.saved(desk.document),
            f"kitchen-{date.today():%Y-%m-%d}.yaml",
            on_click="ignore",
            icon=":material/download:",
            key="save",
        )
        upload = st.file_uploader("Open a kitchen file (YAML, up to 1 MB)", type=["yaml", "yml"], key="upload")
        if upload and st.session_state.get("opened") != upload.file_id:
            st.session_state["opened"] = upload.file_id
            _open(desk, upload.getvalue(), upload.name)
        if words := desk.refused.get("file"):
            st.error(f"The file was not opened. {plain(words)}", icon=":material/block:")
        _new(desk)
        st.markdown("**Demonstrations**, all invented")
        for stem, document in demos().items():
            st.button(
                plain(document.kitchen), key=f"demo-{stem}", width="stretch", on_click=_demo, args=[desk, stem]
            )


def _new(desk: Desk) -> None:
    """An empty room to begin with; its windows, doors and services are typed under Design, Room."""
    st.markdown("**A new room**, measured wall to wall")
    with st.container(horizontal=True):
        sizes = [
            st.number_input(label, 1_200.0, 20_000.0, size, step=10.0, format="%.0f", key=f"new-{label}")
            for label, size in (("Length, mm", 3_600.0), ("Depth, mm", 3_000.0))
        ]
        sizes.append(st.number_input("Height, mm", 2_000.0, 4_000.0, 2_450.0, step=10.0, format="%.0f"))
    st.button("Begin with this room", key="new-room", width="stretch", on_click=_begin, args=[desk, *sizes])


def _begin(desk: Desk, length: float, depth: float, height: float) -> None:
    desk.open(new_file(new_room(length, depth, height)), f"new room, {length:g} × {depth:g}")


def _demo(desk: Desk, stem: str) -> None:
    desk.open(kitchen_file(DEMOS[stem]), f"demonstration {stem} opened")


def _open(desk: Desk, raw: bytes, name: str) -> None:
    file = desk.unbuilt = None
    try:
        file = uploaded(raw, name)
        read_kitchen(raw, name, desk.catalogue_of(file.document))
        desk.open(file, f"{name} opened")
    except CountersunkError as error:
        desk.refused["file"] = plainly(error)
        if file:
            desk.unbuilt = (name, file.document.room)
            desk.refused["file"] += " What its readings say is shown under Design, Room."
        return
    st.rerun()
