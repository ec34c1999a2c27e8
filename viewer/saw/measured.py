"""Measured: what the page for the saw hands back, into the document as cut, and as people read it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from countersunk.model.document.as_cut import AsCut, Time
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.files.strict import Strict
from countersunk.model.files.strict_yaml import read_bytes, read_text
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.drawing.lettering import mm
from countersunk.viewer.saw.cuts import saw_cuts

MOST = 2_000


class Ticked(Strict):
    """A screen of the page that was done, and when."""

    screen: Annotated[str, Field(max_length=250)]
    time: Time


class SawReadings(Strict):
    """The file that the page saves. It comes from a phone: strict and bounded, as every file that is read.

    JSON is YAML too (YAML 1.2, 1.3), so one reader serves both.
    """

    countersunk_saw: Literal[1]
    kitchen: Annotated[str, Field(max_length=120)]
    hash: Annotated[str, Field(pattern=r"^[0-9a-f]{16}$")]
    readings: Annotated[tuple[AsCut, ...], Field(max_length=MOST)]
    ticks: Annotated[tuple[Ticked, ...], Field(max_length=MOST)] = ()


def measured_file(path: Path, kitchen: Kitchen) -> Document:
    """The document of ``kitchen`` with what a saved file says was read as cut. Raises InputError, as `measured`."""
    return measured(read_bytes(path), path.name, kitchen)


def measured(raw: bytes, name: str, kitchen: Kitchen) -> Document:
    """The document of ``kitchen`` with the readings in ``raw``, each in the place of an earlier one.

    Raises InputError for a file that is not the page's, and for a piece or a cut that the kitchen does not have.
    """
    saved, source = read_text(raw, SawReadings, name)
    with source.locating():
        _check(saved.readings, kitchen)
    read = {(r.piece, r.step): r for r in (*kitchen.document.as_cut, *saved.readings)}
    as_cut = tuple(reading.model_dump() for reading in read.values())
    return Document.model_validate({**kitchen.document.model_dump(exclude_unset=True), "as_cut": as_cut})


def _check(readings: tuple[AsCut, ...], kitchen: Kitchen) -> None:
    """Refuse readings of what is not there, every one with its place in the file."""
    steps: dict[str, list[str]] = {}
    for cut in saw_cuts(kitchen):
        steps.setdefault(cut.piece, []).extend(f"{cut.key}.{distance.key}" for distance in cut.distances)
    problems = []
    for i, reading in enumerate(readings):
        if reading.piece not in steps:
            problems += InputError.unknown(f"readings[{i}].piece", reading.piece, steps, "a length").problems
        elif reading.step not in steps[reading.piece]:
            known, named = steps[reading.piece], f"a cut of {reading.piece}"
            problems += InputError.unknown(f"readings[{i}].step", reading.step, known, named).problems
    if problems:
        raise InputError(problems)


def as_cut_words(kitchen: Kitchen) -> Iterator[str]:
    """A sentence for each reading as cut: what the drawing said, what the tape said, and how far they are apart."""
    if not kitchen.document.as_cut:
        return
    now = {(c.piece, f"{c.key}.{d.key}"): (c, d) for c in saw_cuts(kitchen) for d in c.distances}
    for reading in kitchen.document.as_cut:
        found = now.get((reading.piece, reading.step))
        if found is None:
            yield f"As cut, {reading.piece} {reading.step}: {mm(reading.measured)} read; there is no such cut now."
            continue
        cut, distance = found
        off = reading.measured - distance.value
        words = f"As cut, {cut.title}, {distance.what}: {mm(distance.value)} drawn, {mm(reading.measured)} read"
        if abs(off) <= distance.tolerance + 1e-9:
            yield f"{words}; they agree to {mm(distance.tolerance)}."
        else:
            yield f"{words}: {mm(abs(off))} too {'long' if off > 0 else 'short'} for what is drawn now."


def as_cut_json(kitchen: Kitchen) -> list[dict[str, object]]:
    """The readings as plain data, each with what is drawn now (null where the cut is gone), mm."""
    now = {(c.piece, f"{c.key}.{d.key}"): d.value for c in saw_cuts(kitchen) for d in c.distances}
    return [{**r.model_dump(), "drawn": now.get((r.piece, r.step))} for r in kitchen.document.as_cut]
