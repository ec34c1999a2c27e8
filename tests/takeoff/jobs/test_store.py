"""The store: what is acknowledged is kept, nobody overwrites anybody, and a list finds what it should."""

from __future__ import annotations

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest

from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.diary import JobClosed, JobOpened, Noted, RevisionSaved
from countersunk.takeoff.jobs.engine import StoreError, connect, refuse_shared
from countersunk.takeoff.jobs.migrations import STEPS, bring_up_to_date, step_of
from countersunk.takeoff.jobs.store import StaleJobError, opened_store
from countersunk.takeoff.jobs.story import State

CALL = JobOpened(customer=("A. Reader", "1 Example Row"), street="Österweg 1", day=date(2026, 3, 2))


def test_jobs_are_numbered_by_the_year_of_the_call(store):
    later = JobOpened(customer=("B",), day=date(2027, 1, 4))
    assert [store.open_job(event, "fitter") for event in (CALL, CALL, later)] == [
        "2026-0001",
        "2026-0002",
        "2027-0001",
    ]


def test_a_diary_comes_back_as_it_was_said(store):
    job = store.open_job(CALL, "designer")
    text = store.keep(b"kitchen: One\r\n")
    saved = RevisionSaved(name="one.yaml", text=text, note="first")
    store.add(job, 1, [saved, Noted(note="wants gas")], "fitter")
    diary = store.diary(job)
    assert [(e.number, e.hand, e.event) for e in diary] == [
        (1, "designer", CALL), (2, "fitter", saved), (3, "fitter", Noted(note="wants gas")),
    ]  # fmt: skip
    assert store.content(text) == b"kitchen: One\r\n"


def test_an_entry_on_top_of_a_stale_diary_is_a_conflict_that_shows_both(store):
    job = store.open_job(CALL, "designer")
    store.add(job, 1, [Noted(note="first")], "estimator")
    with pytest.raises(StaleJobError, match="1 entry was added by estimator") as caught:
        store.add(job, 1, [Noted(note="second")], "fitter")
    assert [e.event for e in caught.value.since] == [Noted(note="first")]
    assert len(store.diary(job)) == 2


def test_a_content_that_is_not_kept_cannot_be_named(store):
    job = store.open_job(CALL, "designer")
    with pytest.raises(StoreError, match="not kept"):
        store.add(job, 1, [Noted(note="x"), RevisionSaved(name="one.yaml", text="0" * 64)], "designer")
    assert len(store.diary(job)) == 1


def test_a_content_is_kept_once(store):
    assert store.keep(b"same") == store.keep(b"same")
    assert store.engine.run("SELECT count(*) FROM content") == [(1,)]


def test_a_damaged_content_is_said_and_never_given_out(store):
    name = store.keep(b"whole")
    other = store.keep(b"other")
    packed = store.engine.run("SELECT packed FROM content WHERE hash = ?", [other])[0][0]
    store.engine.run("UPDATE content SET packed = ? WHERE hash = ?", [packed, name])
    with pytest.raises(StoreError, match="damaged"):
        store.content(name)


@pytest.mark.parametrize("words", ["ÖSTER reader", "reader", "2026-0001", "ÖsTeRwEg 1"])
def test_a_search_folds_case_in_every_alphabet(store, words):
    store.open_job(CALL, "designer")
    store.open_job(JobOpened(customer=("B",), street="Elsewhere", day=date(2026, 3, 3)), "designer")
    assert [head.number for head in store.jobs(words)] == ["2026-0001"]


@pytest.mark.parametrize("words", ["%", "_", "!", "reader elsewhere"])
def test_a_search_has_no_wildcards_and_wants_every_word(store, words):
    store.open_job(CALL, "designer")
    assert store.jobs(words) == ()


def test_a_list_is_by_state_and_the_last_changed_come_first(store):
    times = iter(f"2026-03-02T08:00:0{i}+00:00" for i in range(9))
    store = type(store)(store.engine, lambda: next(times))
    one, two = store.open_job(CALL, "d"), store.open_job(CALL, "d")
    store.add(one, 1, [JobClosed(lost=True)], "d")
    assert [head.number for head in store.jobs()] == [one, two]
    assert [head.number for head in store.jobs(state="lost")] == [one]
    assert store.story(one).state is State.LOST


def test_a_clock_that_goes_back_changes_no_order_of_entries(store):
    times = iter(["2026-03-02T08:00:05+00:00", "2026-03-02T07:00:00+00:00"])
    store = type(store)(store.engine, lambda: next(times))
    job = store.open_job(CALL, "d")
    store.add(job, 1, [Noted(note="later, by an earlier clock")], "d")
    assert [e.number for e in store.diary(job)] == [1, 2]


def test_six_writers_lose_nothing_and_hear_of_every_conflict(place):
    with opened_store(place) as store:
        job = store.open_job(CALL, "d")

    def write(hand: int) -> tuple[int, int]:
        done = conflicts = 0
        with opened_store(place) as own:
            while done < 5:
                known = len(own.diary(job))
                try:
                    own.add(job, known, [Noted(note=f"{hand}.{done}")], str(hand))
                    done += 1
                except StaleJobError:
                    conflicts += 1
        return done, conflicts

    with ThreadPoolExecutor(6) as pool:
        assert sum(done for done, _ in pool.map(write, range(6))) == 30
    with opened_store(place) as store:
        notes = [e.event.note for e in store.diary(job)[1:]]
    assert sorted(notes) == sorted(f"{hand}.{i}" for hand in range(6) for i in range(5))


def test_a_number_of_a_series_counts_only_with_what_it_numbers(store):
    def fail() -> None:
        with store.engine.changing():
            raise RuntimeError(store.next_in("invoice"))  # the paper could not be written

    with pytest.raises(RuntimeError, match="1"):
        fail()
    with store.engine.changing():
        assert store.next_in("invoice") == 1


@pytest.mark.parametrize("step", range(len(STEPS)))
def test_a_store_of_every_earlier_step_is_brought_up_to_date(place, step):
    engine = connect(place)
    bring_up_to_date(engine, step)
    assert step_of(engine) == step
    engine.close()
    with opened_store(place) as store:
        assert step_of(store.engine) == len(STEPS)
        assert store.open_job(CALL, "d") == "2026-0001"


def test_a_store_of_a_later_program_is_left_alone(place):
    with opened_store(place) as store:
        store.engine.run("UPDATE store SET step = 99")
    with pytest.raises(InputError, match="a later program wrote it"), opened_store(place):
        pass


def test_a_file_that_is_no_store_is_refused_in_one_sentence(tmp_path):
    path = tmp_path / "notes.txt"
    path.write_text("not a store at all, but a text that is long enough to be looked at")
    with pytest.raises(StoreError, match="not a database"), opened_store(str(path)):
        pass
    assert path.read_text().startswith("not a store")


MOUNTS = "disk / ext4 rw 0 0\nserver:/homes /home nfs4 rw 0 0\nserver2 /home/me/local ext4 rw 0 0\n"


@pytest.mark.parametrize(("path", "refused"), [
    ("/home/me/jobs.sqlite", True), ("/home/me/local/jobs.sqlite", False), ("/var/jobs.sqlite", False),
    (r"\\server\share\jobs.sqlite", True),
])  # fmt: skip
def test_a_network_share_is_refused(path, refused):
    from pathlib import Path

    if refused:
        with pytest.raises(InputError, match="local disk"):
            refuse_shared(Path(path), MOUNTS)
    else:
        refuse_shared(Path(path), MOUNTS)


def test_a_backup_is_whole_and_nothing_is_written_over(tmp_path):
    with opened_store(str(tmp_path / "jobs.sqlite")) as store:
        job = store.open_job(CALL, "d")
        store.backup(tmp_path / "copy.sqlite")
        store.add(job, 1, [Noted(note="after it")], "d")
        with pytest.raises(InputError, match="a new name"):
            store.backup(tmp_path / "copy.sqlite")
    with opened_store(str(tmp_path / "copy.sqlite")) as copy:
        assert len(copy.diary(job)) == 1
    check = sqlite3.connect(tmp_path / "copy.sqlite").execute("PRAGMA integrity_check").fetchall()
    assert check == [("ok",)]
