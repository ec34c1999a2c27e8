"""Archive: a job as a folder of files that anybody can read, and that comes back as it was, byte for byte.

``diary.yaml`` holds every entry; beside it lie the contents that entries name, with the number of the entry before
their names. A content is known by its bytes alone, so a file may be renamed before the folder is read again.
"""

from __future__ import annotations

from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.errors import InputError
from countersunk.model.files.strict import Strict
from countersunk.model.files.strict_yaml import read_file
from countersunk.model.files.writing import whole
from countersunk.takeoff.jobs.diary import Entry, Event, Line, contents_of
from countersunk.takeoff.jobs.store import MAX_BYTES, Store

DIARY = "diary.yaml"


class EntryWritten(Strict):
    """An entry as it stands in a file."""

    number: Annotated[int, Field(ge=1)]
    at: Annotated[str, Field(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\+00:00$")]
    hand: Line
    event: Event


class DiaryWritten(Strict):
    """The file diary.yaml."""

    countersunk_job: Literal[1]
    job: Annotated[str, Field(pattern=r"^\d{4}-\d{4,9}$")]
    entries: Annotated[tuple[EntryWritten, ...], Field(min_length=1, max_length=10_000)]

    @property
    def diary(self) -> tuple[Entry, ...]:
        """The entries as a store has them."""
        return tuple(Entry(e.number, e.at, e.hand, e.event) for e in self.entries)


def archive(store: Store, job: str) -> dict[str, bytes]:
    """The files of a job, by their names in its folder. Raises InputError for a job that there is not."""
    diary = store.diary(job)
    written = [
        {"number": e.number, "at": e.at, "hand": e.hand, "event": e.event.model_dump(mode="json")} for e in diary
    ]
    files = {DIARY: whole({"countersunk_job": 1, "job": job, "entries": written}).encode()}
    for entry in diary:
        for name, content in contents_of(entry.event).items():
            files[f"{entry.number:03d}-{name.replace('/', '-')}"] = store.content(content)
    return files


def bring_in(store: Store, folder: Path) -> str:
    """Put the job of a folder that `archive` made into the store; returns its number.

    Raises InputError for an entry of which a content is missing, and where another job has the number.
    """
    said, source = read_file(folder / DIARY, DiaryWritten)
    found = {sha256(data).hexdigest(): data for data in map(_bytes, sorted(folder.iterdir())) if data is not None}
    with source.locating():
        _check(said, found)
    for entry in said.entries:
        for content in contents_of(entry.event).values():
            store.keep(found[content])
    store.take_in(said.job, said.diary)
    return said.job


def _bytes(path: Path) -> bytes | None:
    if path.is_symlink() or not path.is_file() or path.stat().st_size > MAX_BYTES:
        return None
    return path.read_bytes()


def _check(said: DiaryWritten, found: Mapping[str, bytes]) -> None:
    """Raises InputError for entries that are not counted on, and for one of which a content is not found."""
    if said.entries[0].event.kind != "opened":
        raise InputError.at("entries[0].event.kind", found=said.entries[0].event.kind, allowed="opened")
    for i, entry in enumerate(said.entries):
        if entry.number != i + 1:
            raise InputError.at(f"entries[{i}].number", found=str(entry.number), allowed=str(i + 1))
        for name, content in contents_of(entry.event).items():
            if content not in found:
                raise InputError.at(
                    f"entries[{i}].event", found=f"no file with the bytes of {name}",
                    allowed="every file that was exported", advice="export the job again",
                )  # fmt: skip
