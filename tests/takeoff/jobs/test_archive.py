"""Jobs as folders: what is exported comes back as it was, and kitchen files come out byte for byte."""

from __future__ import annotations

from datetime import date

import pytest

from countersunk import shared
from countersunk.model.errors import InputError
from countersunk.takeoff.jobs.archive import archive, bring_in
from countersunk.takeoff.jobs.diary import JobOpened, Noted
from countersunk.takeoff.jobs.revisions import kitchen_text, revision_files, save_revision
from countersunk.takeoff.jobs.store import StaleJobError, opened_store

CALL = JobOpened(customer=("A. Reader",), street="1 Example Row", day=date(2026, 3, 2))


@pytest.fixture
def job(store):
    number = store.open_job(CALL, "designer")
    save_revision(store, number, kitchen_text("straight"), "designer")
    save_revision(store, number, kitchen_text("corner"), "designer", note="an L instead")
    return number


def test_a_revision_comes_out_byte_for_byte(store, job, tmp_path):
    found = revision_files(store, job, 1, tmp_path / "k.yaml")
    assert found == {tmp_path / "k.yaml": (shared.KITCHENS / "straight.yaml").read_bytes()}
    assert store.story(job).revision().saved.note == "an L instead"


def test_a_catalogue_beside_a_file_is_kept_with_it(store, job, tmp_path):
    own = tmp_path / "own"
    own.mkdir()
    (own / "units.yaml").write_text("adds_to: metric\nfamilies: []\n")
    text = (shared.KITCHENS / "straight.yaml").read_text()
    (tmp_path / "k.yaml").write_text(text.replace("\nkitchen:", "\ncatalogue: own\nkitchen:", 1))
    save_revision(store, job, kitchen_text(str(tmp_path / "k.yaml")), "designer")
    out = tmp_path / "elsewhere" / "k.yaml"
    found = revision_files(store, job, None, out)
    assert found[out.parent / "own/units.yaml"] == (own / "units.yaml").read_bytes()


def test_two_designers_on_one_revision_hear_of_each_other(store, job):
    save_revision(store, job, kitchen_text("island"), "one", known=2)
    with pytest.raises(StaleJobError, match="added by one"):
        save_revision(store, job, kitchen_text("studio"), "other", known=2)


def test_what_is_no_kitchen_is_not_saved(store, job, tmp_path):
    (tmp_path / "k.yaml").write_text("kitchen: 7\n")
    with pytest.raises(InputError, match=r"k\.yaml:1: kitchen"):
        save_revision(store, job, kitchen_text(str(tmp_path / "k.yaml")), "designer")
    assert len(store.story(job).revisions) == 2


def test_a_job_that_was_exported_comes_back_byte_for_byte(store, job, tmp_path):
    store.add(job, 3, [Noted(note='says: "gas", not 5 % — ≥ 600')], "fitter")
    files = archive(store, job)
    for name, data in files.items():
        (tmp_path / name).write_bytes(data)
    with opened_store(str(tmp_path / "other" / "jobs.sqlite")) as other:
        assert bring_in(other, tmp_path) == job
        assert archive(other, job) == files
        assert bring_in(other, tmp_path) == job  # once more changes nothing
        assert other.jobs() == store.jobs()
        assert other.open_job(CALL, "d") == "2026-0002"


def test_a_job_with_a_file_missing_is_refused_whole(store, job, tmp_path):
    for name, data in archive(store, job).items():
        (tmp_path / name).write_bytes(data)
    (tmp_path / "003-corner.yaml").write_text("changed")
    with opened_store(str(tmp_path / "other.sqlite")) as other:
        with pytest.raises(InputError, match=r"diary.yaml:\d+: entries\[2\].event: found no file with the bytes"):
            bring_in(other, tmp_path)
        assert other.jobs() == ()


def test_another_job_of_the_number_is_not_touched(store, job, tmp_path):
    for name, data in archive(store, job).items():
        (tmp_path / name).write_bytes(data)
    with opened_store(str(tmp_path / "other.sqlite")) as other:
        other.open_job(CALL, "somebody else")
        with pytest.raises(InputError, match="another job 2026-0001"):
            bring_in(other, tmp_path)
        assert len(other.diary(job)) == 1


@pytest.mark.usefixtures("job")
def test_a_number_that_came_with_another_store_is_passed_over(store, tmp_path):
    second = store.open_job(CALL, "d")
    for name, data in archive(store, second).items():
        (tmp_path / name).write_bytes(data)
    with opened_store(str(tmp_path / "other.sqlite")) as other:
        assert bring_in(other, tmp_path) == "2026-0002"
        assert [other.open_job(CALL, "d") for _ in range(2)] == ["2026-0001", "2026-0003"]
