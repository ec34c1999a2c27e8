"""What is kept on disk of the program's own files is what was made of them, and nothing depends on it."""

import os
import time

import pytest

from countersunk import shared
from countersunk.model.files import remembered as module
from countersunk.model.files import strict_yaml
from countersunk.model.files.remembered import remembered

pytestmark = pytest.mark.quick

MADE = {"a": (1, 2.5, "ü", None, True, ({"b": ()},))}


@pytest.fixture(autouse=True)
def cache(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    monkeypatch.setattr(module.sys, "platform", "linux")
    return tmp_path / "countersunk"


def never():
    raise AssertionError("made again")


def test_what_was_made_is_remembered_as_it_was(cache):
    assert remembered(b"one", lambda: MADE) == MADE
    assert remembered(b"one", never) == MADE
    assert remembered(b"two", lambda: 2) == 2
    assert len(list(cache.iterdir())) == 2


def test_what_is_broken_cannot_be_kept_or_has_no_place_is_made_again(cache, monkeypatch):
    remembered(b"one", lambda: MADE)
    (kept,) = cache.iterdir()
    kept.write_bytes(kept.read_bytes()[:-4])
    assert remembered(b"one", lambda: 3) == 3
    assert remembered(b"set", lambda: {1}) == {1}
    assert remembered(b"set", lambda: {2}) == {2}
    monkeypatch.setenv("XDG_CACHE_HOME", str(kept))  # a file, in which no folder can be
    assert remembered(b"one", lambda: 4) == 4


def test_what_is_old_goes(cache):
    remembered(b"one", lambda: 1)
    (kept,) = cache.iterdir()
    long_ago = time.time() - 40 * 86_400
    os.utime(kept, (long_ago, long_ago))
    remembered(b"two", lambda: 2)
    assert not kept.exists()


def test_a_file_of_the_program_is_read_the_same_from_memory_and_disk():
    raw = (shared.CATALOGUE / "worktops.yaml").read_bytes()
    first = strict_yaml._plain_data_remembered.__wrapped__(raw)
    again = strict_yaml._plain_data_remembered.__wrapped__(raw)
    assert first == again == strict_yaml._plain_data(raw)
    assert isinstance(again[0]["stocks"], tuple)
