"""Revisions: kitchen files kept with a job byte for byte, and written out again."""

from __future__ import annotations

from pathlib import Path

from countersunk.model.edit.kitchen_file import kitchen_file
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_bytes
from countersunk.model.kitchen import kitchen_path
from countersunk.takeoff.jobs.diary import RevisionSaved, said
from countersunk.takeoff.jobs.store import StaleJobError, Store
from countersunk.takeoff.jobs.story import story_of

CATALOGUE_FILES = ("*.yaml", "*.csv")


def save_revision(store: Store, job: str, file: str, hand: str, *, known: int | None = None, note: str = "") -> int:
    """Keep a kitchen file as the next revision; returns its number. It need not be one that can be built yet.

    ``known`` is the revision that it was made from. Raises StaleJobError where there is a later one, InputError
    where the file is none of a kitchen.
    """
    kept = kitchen_file(file)
    path = kitchen_path(file)
    beside = path.parent / kept.document.catalogue
    found = sorted(p for kind in CATALOGUE_FILES for p in beside.glob(kind)) if beside.is_dir() else []
    diary = store.diary(job)
    story = story_of(diary)
    if known is not None and known > len(story.revisions):
        raise InputError.at("--on", found=str(known), allowed=f"0 to {len(story.revisions)}")
    if known is not None and known < len(story.revisions):
        raise StaleJobError(job, tuple(r.entry for r in story.revisions[known:]))
    event = said(
        RevisionSaved, name=path.name, text=store.keep(kept.raw), note=note,
        beside={f"{beside.name}/{p.name}": store.keep(read_bytes(p)) for p in found},
    )  # fmt: skip
    store.add(job, len(diary), [event], hand)
    return len(story.revisions) + 1


def revision_files(store: Store, job: str, number: int | None, out: Path) -> dict[Path, bytes]:
    """What to write for the kitchen of a revision (the last if None) to be ``out``: that file, and its catalogue.

    Raises InputError where something else is in the place of the catalogue.
    """
    saved = store.story(job).revision(number).saved
    files = {out: store.content(saved.text)}
    for name, content in saved.beside.items():
        path, data = out.parent / name, store.content(content)
        if path.exists() and path.read_bytes() != data:
            raise InputError.at(
                str(path), found="another file", allowed="the one that was saved", advice="an empty folder"
            )
        files[path] = data
    return files
