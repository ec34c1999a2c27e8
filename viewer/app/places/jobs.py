"""Jobs: the jobs of the store: found, opened, and what is on the desk saved as a revision of one."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pandas as pd
import streamlit as st

from countersunk.model.edit.kitchen_file import uploaded
from countersunk.model.errors import CountersunkError
from countersunk.takeoff.jobs.diary import Entry, JobOpened, Noted, contents_of, said
from countersunk.takeoff.jobs.invoices import account
from countersunk.takeoff.jobs.revisions import KitchenText, catalogue_texts, save_revision
from countersunk.takeoff.jobs.store import JobHead, Store, opened_store, this_hand
from countersunk.takeoff.jobs.story import State, Story, story_of
from countersunk.takeoff.jobs.wording import in_words
from countersunk.viewer.app.session import Desk, plain, plainly, told_at
from countersunk.viewer.quoting.sent import kitchen_of

JOB, KNOWN = "job open", "revision open"
"""Where a session keeps the number of its job, and the revision that the kitchen on the desk was made from."""

WHERE = "jobs"


def show(desk: Desk) -> None:
    """The list on the left, the job that is chosen on the right."""
    desk.at("Jobs")
    told_at(WHERE, desk)
    try:
        with opened_store() as store:
            left, right = st.columns([5, 7], gap="large")
            with left:
                number = _chosen(store)
                _new(desk)
            with right:
                if number:
                    _job(desk, store, number)
                else:
                    st.info("Open a job on the left, or choose one.", icon=":material/work:")
    except CountersunkError as error:
        st.error(plain(plainly(error)), icon=":material/block:")


def _chosen(store: Store) -> str | None:
    st.subheader("Jobs")
    search = st.text_input("Search by number, customer or street", key="job-search", max_chars=80)
    state = st.selectbox(
        "How far", ["", *(s.value for s in State)], format_func=lambda s: s or "any", key="job-state"
    )
    heads = store.jobs(search, state)
    if not heads:
        st.caption("No job is like that." if search or state else "There is no job yet.")
        return None
    _table(heads)
    names = {head.number: head for head in heads}
    kept = st.session_state.get(JOB)
    return st.selectbox(
        "Job", list(names), index=list(names).index(kept) if kept in names else None,
        format_func=lambda number: f"{number}, {names[number].customer}", placeholder="choose one",
    )  # fmt: skip


def _table(heads: tuple[JobHead, ...]) -> None:
    rows = [(h.number, h.customer, h.street, h.state, h.opened) for h in heads]
    frame = pd.DataFrame(rows, columns=["number", "customer", "street", "state", "opened"])
    st.dataframe(frame, hide_index=True, height="content")


def _new(desk: Desk) -> None:
    with st.form("job-new", border=True):
        st.markdown("**A new job**")
        st.text_input("Customer", key="job-customer", max_chars=240)
        st.text_input("Where the kitchen is", key="job-street", max_chars=240)
        st.form_submit_button("Open the job", on_click=_do, args=[desk, _open])


def _open(store: Store) -> None:
    customer, street = st.session_state["job-customer"], st.session_state["job-street"]
    event = said(JobOpened, customer=(customer,), street=street, day=date.today())
    st.session_state[JOB] = store.open_job(event, this_hand())
    st.session_state[KNOWN] = 0


def _do(desk: Desk, act: Callable[[Store], None]) -> None:
    """Do something with the store; what cannot be is said at the top of the place."""
    desk.refused.pop(WHERE, None)
    try:
        with opened_store() as store:
            act(store)
    except CountersunkError as error:
        desk.refused[WHERE] = plainly(error)


def _job(desk: Desk, store: Store, number: str) -> None:
    diary = store.diary(number)
    story = story_of(diary)
    st.session_state[JOB] = number
    st.subheader(plain(f"{number}: {', '.join(story.customer)}"))
    st.caption(plain(f"{story.street or 'no street'}; {story.state.value}"))
    _revisions(desk, number, story)
    _money(story)
    _diary(desk, store, number, diary)


def _revisions(desk: Desk, number: str, story: Story) -> None:
    """Open a revision on the desk, or save what is on it as the next."""

    def open_it(store: Store) -> None:
        _take(desk, store, number, revision)

    def save(store: Store) -> None:
        _save(desk, store, number)

    revision = 0
    with st.container(horizontal=True, vertical_alignment="bottom"):
        if story.revisions:
            numbers = [r.number for r in reversed(story.revisions)]
            revision = st.selectbox("Revision", numbers, key=f"job-revision-{number}", width=160)
            st.button("Open it", key="job-open", icon=":material/folder_open:", on_click=_do, args=[desk, open_it])
        label = f"Save this kitchen as revision {len(story.revisions) + 1}"
        st.button(label, key="job-save", icon=":material/save:", type="primary", on_click=_do, args=[desk, save])
    if story.revisions and st.session_state.get(KNOWN) not in (None, len(story.revisions)):
        st.warning("There is a later revision than the one on your desk; open it before you save.")


def _take(desk: Desk, store: Store, number: str, revision: int) -> None:
    kitchen = kitchen_of(store, number, revision)
    saved = store.story(number).revision(revision).saved
    if saved.beside:
        desk.catalogues[kitchen.document.catalogue] = kitchen.catalogue
    desk.open(uploaded(store.content(saved.text), saved.name), f"revision {revision} of job {number} opened")
    st.session_state[JOB], st.session_state[KNOWN] = number, revision


def _save(desk: Desk, store: Store, number: str) -> None:
    name = desk.document.catalogue
    beside = catalogue_texts(desk.catalogues[name].folder, name) if name in desk.catalogues else {}
    text = KitchenText("kitchen.yaml", desk.file.saved(desk.document), beside)
    known = st.session_state.get(KNOWN) if st.session_state.get(JOB) == number else None
    st.session_state[KNOWN] = save_revision(store, number, text, this_hand(), known=known)
    st.session_state[JOB] = number


def _money(story: Story) -> None:
    if not story.quotes:
        return
    st.markdown("**Money, with tax**")
    found = account(story)
    rows = [
        ("accepted", found.accepted), ("variations", found.varied), ("asked for", found.invoiced),
        ("paid", found.paid), ("owed", found.owed), ("not asked for yet", found.to_invoice),
    ]  # fmt: skip
    frame = pd.DataFrame([(what, float(amount)) for what, amount in rows], columns=["what", "amount"])
    money = {"amount": st.column_config.NumberColumn(format="%.2f")}
    st.dataframe(frame, hide_index=True, height="content", column_config=money)


def _diary(desk: Desk, store: Store, number: str, diary: tuple[Entry, ...]) -> None:
    st.markdown("**Diary**")
    rows = [(e.number, e.at[:16].replace("T", " "), e.hand, in_words(e.event)) for e in reversed(diary)]
    frame = pd.DataFrame(rows, columns=["no.", "when", "by", "what"])
    st.dataframe(frame, hide_index=True, height="content")
    with st.form("job-note", border=False):
        st.text_input("Note for the diary", key="job-note-text", max_chars=2000)
        st.form_submit_button("Write it down", on_click=_do, args=[desk, lambda store: _note(store, number)])
    papers = {
        f"{entry.number}: {name}": (name, content)
        for entry in diary
        for name, content in contents_of(entry.event).items()
    }
    with st.container(horizontal=True, vertical_alignment="bottom"):
        paper = st.selectbox("Papers and files kept with the job", list(papers), index=None, key="job-paper")
        if paper:
            name, content = papers[paper]
            data, file = store.content(content), name.replace("/", "-")
            st.download_button("Download", data, file, icon=":material/download:")


def _note(store: Store, number: str) -> None:
    words = st.session_state["job-note-text"]
    store.add(number, len(store.diary(number)), [said(Noted, note=words)], this_hand())
