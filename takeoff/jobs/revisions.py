"""Revisions: kitchen files kept with a job byte for byte, and written out again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from countersunk.model.edit.kitchen_file import kitchen_file
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_bytes
from countersunk.model.kitchen import kitchen_path
from countersunk.takeoff.jobs.diary import RevisionSaved, said
from countersunk.takeoff.jobs.store import StaleJobError, Store
from countersunk.takeoff.jobs.story import story_of

CATALOGUE_FILES = ("*.yaml", "*.csv")


@dataclass(frozen=True)
class KitchenText:
    """A kitchen file with what stands beside it: ``name``, bytes, and those of its own catalogue by path."""

    name: str
    raw: bytes
    beside: Mapping[str, bytes] = field(default_factory=dict)


def kitchen_text(file: str) -> KitchenText:
    """The file at a path, or of the demo of that name. Raises InputError where it is none of a kitchen."""
    kept, path = kitchen_file(file), kitchen_path(file)
    name = kept.document.catalogue
    return KitchenText(path.name, kept.raw, catalogue_texts(path.parent / name, name))


def catalogue_texts(folder: Path, name: str) -> dict[str, bytes]:
    """The files of a catalogue by their paths beside the kitchen that calls it ``name``; none without a folder."""
    found = sorted(p for kind in CATALOGUE_FILES for p in folder.glob(kind)) if folder.is_dir() else []
    return {f"{name}/{path.name}": read_bytes(path) for path in found}


def save_revision(
    store: Store, job: str, text: KitchenText, hand: str, *, known: int | None = None, note: str = ""
) -> int:
    """Keep a kitchen file as the next revision; returns its number. It need not be one that can be built yet.

    ``known`` is the revision that it was made from. Raises StaleJobError where there is a later one.
    """
    diary = store.diary(job)
    story = story_of(diary)
    if known is not None and known > len(story.revisions):
        raise InputError.at("--on", found=str(known), allowed=f"0 to {len(story.revisions)}")
    if known is not None and known < len(story.revisions):
        raise StaleJobError(job, tuple(r.entry for r in story.revisions[known:]))
    event = said(
        RevisionSaved, name=text.name, text=store.keep(text.raw), note=note,
        beside={path: store.keep(data) for path, data in text.beside.items()},
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
