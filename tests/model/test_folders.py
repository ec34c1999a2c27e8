"""Folders are all old or all new, whenever a run is ended and whatever it runs out of; a person's files stay."""

import errno
import json
import os
import random
import signal
import tempfile
from hashlib import sha256

import pytest

from countersunk.model.errors import InputError
from countersunk.model.files import folders, whole
from countersunk.model.files.changeover import changeover
from countersunk.model.files.folders import UNFINISHED
from countersunk.model.files.manifest import MANIFEST, PAPERS, Manifest, Origin, digest, read_manifest
from tests.ending import interrupted, kill_after, kill_at_event, with_files_of, without_rights
from tests.lanes import examples, some

OLD = {"plan.svg": b"old plan", "elevation-B.dxf": b"old elevation", "same.csv": b"same"}
NEW = {"plan.svg": b"new plan", "J1.dxf": b"new join", "same.csv": b"same"}
MINE = {"mine.dxf": b"a drawing of my own", "photos/wall.jpg": b"a photo"}


def origin(kitchen, command="draw"):
    return Origin(command, kitchen, digest(kitchen.encode()), "book.csv", digest(b"book"), "1")


def write(folder, files, made):
    with changeover() as change:
        return change.folder(folder, files, made)


def bytes_in(folder):
    """Every file in and below a folder, except manifests."""
    paths = (p for p in folder.rglob("*") if p.is_file() and p.name != MANIFEST)
    return {str(p.relative_to(folder)): p.read_bytes() for p in paths}


def ours(folder):
    return {name: data for name, data in bytes_in(folder).items() if name not in MINE}


def settle(folder):
    """What the next run does before anything else."""
    folders.recover(folder.resolve())


def left_beside(folder):
    return [p.name for p in folder.parent.iterdir() if p != folder]


@pytest.fixture
def folder(tmp_path):
    """A folder of an earlier kitchen, with files of a person's own."""
    made = tmp_path / "papers"
    write(made, OLD, origin("old"))
    for name, data in MINE.items():
        (made / name).parent.mkdir(exist_ok=True)
        (made / name).write_bytes(data)
    return made


@pytest.fixture(params=some(["exchange", "move in"], 2))
def way(request, monkeypatch):
    """Both ways to change a folder over."""
    if request.param == "move in":

        def refused(*_):
            raise OSError(errno.EINVAL, "no such call")

        monkeypatch.setattr(folders, "exchange", refused)
    return request.param


def test_a_folder_that_is_not_there_is_made(tmp_path):
    paths = write(tmp_path / "a" / "papers", NEW, origin("new"))
    assert [p.name for p in paths] == [*NEW, MANIFEST]
    assert bytes_in(tmp_path / "a" / "papers") == NEW
    assert left_beside(tmp_path / "a" / "papers") == []


@pytest.mark.usefixtures("way")
def test_what_is_not_made_again_goes_and_a_persons_files_stay(folder):
    folder.chmod(0o750)
    write(folder, NEW, origin("new"))
    assert bytes_in(folder) == {**NEW, **MINE}
    assert folder.stat().st_mode & 0o777 == 0o750
    assert left_beside(folder) == []


@pytest.mark.usefixtures("way")
def test_a_sheet_that_somebody_changed_is_kept_under_another_name(folder):
    (folder / "plan.svg").write_bytes(b"old plan, with a note of mine")
    (folder / "J1.dxf").write_bytes(b"not made here")
    (folder / "elevation-B.dxf").write_bytes(b"changed, and not made again")
    with changeover() as change:
        change.folder(folder, NEW, origin("new"))
    assert bytes_in(folder) == {
        **NEW, **MINE, "plan-yours.svg": b"old plan, with a note of mine", "J1-yours.dxf": b"not made here",
        "elevation-B.dxf": b"changed, and not made again",
    }  # fmt: skip
    assert sorted(p.name for p in change.kept) == ["J1-yours.dxf", "plan-yours.svg"]


@pytest.mark.usefixtures("way")
def test_each_command_answers_for_its_own_files(folder):
    write(folder, {"quote.pdf": b"quote", "takeoff.csv": b"of the quote"}, origin("old", "quote"))
    write(folder, {"kitchen.glb": b"glb", "takeoff.csv": b"of the build"}, origin("new", "build"))
    write(folder, NEW, origin("new"))
    assert ours(folder) == {**NEW, "quote.pdf": b"quote", "kitchen.glb": b"glb", "takeoff.csv": b"of the build"}
    batches = {b.origin.command: b for b in read_manifest(folder).batches}
    assert {c: set(b.files) for c, b in batches.items()} == {
        "quote": {"quote.pdf"}, "build": {"kitchen.glb", "takeoff.csv"}, "draw": set(NEW),
    }  # fmt: skip
    assert batches["quote"].origin == origin("old", "quote")


def test_the_manifest_says_what_each_file_was_made_from(folder):
    data = json.loads((folder / MANIFEST).read_text())
    assert data == {
        "countersunk": 1,
        "made": [
            {
                "command": "draw", "kitchen": "old", "kitchen_sha256": sha256(b"old").hexdigest(),
                "prices": "book.csv", "prices_sha256": sha256(b"book").hexdigest(), "program": "1",
                "files": {name: sha256(data).hexdigest() for name, data in OLD.items()},
            }
        ],
    }  # fmt: skip


@pytest.mark.usefixtures("way")
def test_the_list_of_an_earlier_version_is_understood(tmp_path):
    papers = tmp_path / "papers"
    papers.mkdir()
    for name, data in OLD.items():
        (papers / name).write_bytes(data)
    (papers / PAPERS).write_text("".join(f"{sha256(d).hexdigest()}  {n}\n" for n, d in OLD.items()))
    write(papers, NEW, origin("new"))
    assert bytes_in(papers) == NEW


@pytest.mark.parametrize(
    "said",
    [b"", b"[]", b"{}", b'{"countersunk": 1, "made": [{"command": "draw"}]}', b"\xff", b'{"countersunk": 2}',
     b'{"countersunk": 1, "made": 7}', b"[" * 100_000, b'{"countersunk": 1, "made": [[1]]}'],
)  # fmt: skip
def test_a_manifest_that_cannot_be_understood_lists_nothing_and_stays(tmp_path, said):
    (tmp_path / MANIFEST).write_bytes(said)
    assert read_manifest(tmp_path) == Manifest()
    write(tmp_path, NEW, origin("new"))
    assert (tmp_path / "countersunk-manifest-yours.json").read_bytes() == said


def test_a_manifest_cannot_point_out_of_its_folder(folder):
    outside = folder.parent / "outside.svg"
    outside.write_bytes(b"x")
    listed = read_manifest(folder).having(origin("old"), {"../outside.svg": digest(b"x")})
    (folder / MANIFEST).write_bytes(listed.encoded())
    assert read_manifest(folder).files == {}
    write(folder, NEW, origin("new"))
    assert outside.exists()


def test_links_stay_links_and_are_followed_to_the_folder(folder, tmp_path):
    (folder / "link").symlink_to("mine.dxf")
    (folder / "broken").symlink_to("nowhere")
    (tmp_path / "to-papers").symlink_to(folder)
    write(tmp_path / "to-papers", NEW, origin("new"))
    assert (tmp_path / "to-papers").is_symlink()
    assert (folder / "link").readlink().name == "mine.dxf"
    assert (folder / "broken").is_symlink()
    assert (folder / "J1.dxf").exists()


@pytest.mark.parametrize("where", [".", ".."])
def test_the_folder_that_somebody_works_in_stays_the_same_folder(folder, monkeypatch, where):
    inner = folder / "photos"
    monkeypatch.chdir(folder if where == "." else inner)
    before = folder.stat().st_ino
    write(folders.Path(where), NEW, origin("new"))
    assert folder.stat().st_ino == before
    assert bytes_in(folder) == {**NEW, **MINE}


def test_a_file_in_the_place_of_a_folder_is_one_clear_error(tmp_path):
    (tmp_path / "papers").write_text("mine")
    with pytest.raises(InputError, match=r"papers: found a file; allowed: a folder, or a name that is free\."):
        write(tmp_path / "papers", NEW, origin("new"))
    assert (tmp_path / "papers").read_text() == "mine"
    assert left_beside(tmp_path / "papers") == []


@pytest.mark.usefixtures("way")
@pytest.mark.slow
def test_killed_at_any_event_the_folder_is_all_old_or_all_new(folder):
    """Every event in turn; the next run puts right whatever there was to be put right."""
    states = set()
    for number in range(1, 400):
        if not kill_at_event(lambda: write(folder, NEW, origin("new")), number):
            break
        if not (folder / UNFINISHED).exists():  # else it says itself that it is neither
            assert ours(folder) in (OLD, NEW), number
            states.add("J1.dxf" in ours(folder))
            assert (folder / "mine.dxf").exists(), number
        settle(folder)
        assert bytes_in(folder) in ({**OLD, **MINE}, {**NEW, **MINE}), number
        assert left_beside(folder) == []
        write(folder, OLD, origin("old"))
    else:
        pytest.fail("the work never came to its end")
    assert number > 20
    assert False in states
    assert bytes_in(folder) == {**NEW, **MINE}


def test_killed_at_random_moments(folder):
    dice = random.Random(15)
    killed = sum(
        kill_after(lambda: write(folder, NEW, origin("new")), dice.uniform(0, 0.03))
        for _ in range(examples(200, 10))
        if ours(folder) in (OLD, NEW) or pytest.fail("two kitchens in one folder")
    )
    assert killed
    settle(folder)
    assert bytes_in(folder) in ({**OLD, **MINE}, {**NEW, **MINE})


@pytest.mark.usefixtures("way")
def test_interrupted_at_any_event_nothing_is_left_lying_about(folder):
    for number in range(1, 400, examples(1, 4)):
        if not interrupted(lambda: write(folder, NEW, origin("new")), number):
            break
        settle(folder)
        assert bytes_in(folder) in ({**OLD, **MINE}, {**NEW, **MINE}), number
        assert left_beside(folder) == []
        write(folder, OLD, origin("old"))


@pytest.mark.usefixtures("way")
def test_a_full_disk_leaves_the_folder_as_it_was(folder, monkeypatch):
    """Full at each write to disk in turn."""

    def full_at(number):
        calls = iter(range(1, 100))

        def fsync(_):
            if next(calls) == number:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        return fsync

    for number in range(1, len(NEW) + 2):  # the new files, and then the manifest
        with monkeypatch.context() as patch:
            patch.setattr(whole.os, "fsync", full_at(number))
            with pytest.raises(OSError, match="No space left") as raised:
                write(folder, NEW, origin("new"))
        assert raised.value.filename
        assert bytes_in(folder) == {**OLD, **MINE}
        assert left_beside(folder) == []


def test_everything_is_on_disk_before_the_folder_is_changed_over(folder, monkeypatch):
    """As far as a power cut is concerned: nothing else is promised than what fsync brings to disk."""
    done, fsync, exchange = [], os.fsync, folders.exchange

    def synced(handle):
        done.append(os.path.basename(os.readlink(f"/proc/self/fd/{handle}")))  # noqa: PTH119, PTH115
        fsync(handle)

    def exchanged(one, other):
        done.append("exchange")
        exchange(one, other)

    monkeypatch.setattr(whole.os, "fsync", synced)
    monkeypatch.setattr(folders, "exchange", exchanged)
    write(folder, NEW, origin("new"))
    at = done.index("exchange")
    assert {*NEW, MANIFEST} <= set(done[:at])
    assert done[at - 1].startswith(".countersunk-")  # the names of the new files
    assert done[at + 1] == folder.parent.name  # the two folders' names


def test_files_that_may_not_grow_leave_the_folder_as_it_was(folder):
    assert not with_files_of(50_000, lambda: write(folder, {**NEW, "big": bytes(60_000)}, origin("new")))
    assert bytes_in(folder) == {**OLD, **MINE}
    assert left_beside(folder) == []
    assert with_files_of(50_000, lambda: write(folder, NEW, origin("new")))


def test_a_folder_that_may_not_be_written_stays(folder):
    for path in (folder, folder.parent):
        path.chmod(0o555)
    try:
        assert not without_rights(lambda: write(folder, NEW, origin("new")))
        assert not without_rights(lambda: write(folder.parent / "other", NEW, origin("new")))
    finally:
        for path in (folder, folder.parent):
            path.chmod(0o755)
    assert bytes_in(folder) == {**OLD, **MINE}
    assert left_beside(folder) == []


def test_a_folder_in_one_that_may_not_be_written_is_changed_over_within(folder, monkeypatch):
    def refused(*_, **__):
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(folders, "_beside", refused)
    write(folder, NEW, origin("new"))
    assert bytes_in(folder) == {**NEW, **MINE}


def test_what_another_run_does_meanwhile_is_not_cleared_away(folder):
    with changeover() as change:
        change.folder(folder, {"quote.pdf": b"quote"}, origin("old", "quote"))
        write(folder, NEW, origin("new"))  # a whole run of another command, begun and ended in between
        settle(folder)
    assert bytes_in(folder) == {**NEW, **MINE, "quote.pdf": b"quote"}


def test_nothing_is_put_in_its_place_where_the_rest_fails(folder, tmp_path):
    kept = tmp_path / "offcuts.csv"
    kept.write_bytes(b"before")

    def failing():
        with changeover() as change:
            change.folder(folder, NEW, origin("new"))
            change.file(kept, b"after")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        failing()
    assert bytes_in(folder) == {**OLD, **MINE}
    assert kept.read_bytes() == b"before"
    assert left_beside(folder) == ["offcuts.csv"]


@pytest.mark.parametrize("name", ["x" * 250, "ä" * 120])
def test_a_name_as_long_as_the_system_allows(tmp_path, name):
    write(tmp_path / name, OLD, origin("old"))
    write(tmp_path / name, NEW, origin("new"))
    assert bytes_in(tmp_path / name) == NEW


def test_ctrl_c_just_after_a_name_is_taken_leaves_nothing(tmp_path, monkeypatch):
    # Before it waited, the name was on disk and nobody knew it: 4 rests after some 800 interruptions.
    taken, real = [], tempfile.mkstemp

    def interrupted_then(**kwargs):
        made = real(**kwargs)
        taken.append(made)
        signal.raise_signal(signal.SIGINT)
        return made

    monkeypatch.setattr(tempfile, "mkstemp", interrupted_then)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        with pytest.raises(KeyboardInterrupt), changeover() as change:
            change.file(tmp_path / "list.csv", b"id")
    finally:
        signal.signal(signal.SIGINT, before)
    assert len(taken) == 1
    assert list(tmp_path.iterdir()) == []
