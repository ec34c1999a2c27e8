"""The command that keeps kitchens under a version and writes their results; see `tests.opens`."""

from __future__ import annotations

import csv
import io
import json
import shutil
import sys
from collections.abc import Iterator
from itertools import count, islice

from hypothesis import HealthCheck, Phase, given, settings

from countersunk import shared
from countersunk.model.document.schema import Document
from countersunk.model.files.whole import write_whole
from tests.opens import DRAWN, FOLDER, RESULTS, kept
from tests.opens.results import results, table
from tests.random_kitchens import rooms
from tests.random_kitchens.properties import built, drawn
from tests.strategies import kitchens

SORTS = {
    "rectangles": (rooms.rectangles, "metric"),
    "inches": (rooms.rectangles, "inch"),
    "l-shapes": (rooms.l_shapes, "metric"),
    "long-rooms": (rooms.long_rooms, "metric"),
    "open-walls": (rooms.open_walls, "metric"),
    "tapers": (rooms.tapers, "metric"),
    "cut-corners": (rooms.cut_corners, "metric"),
}
EACH = 25
"""So many of each sort, and of the wild ones."""
LONGEST = 2100
"""Bytes of a line: longer kitchens are left out, to keep the file small."""


def keep(version: str) -> None:
    """Keep today's demos and some random kitchens under a version that is not there yet."""
    folder = FOLDER / version
    folder.mkdir()
    for path in sorted(shared.KITCHENS.glob("*.yaml")):
        shutil.copyfile(path, folder / path.name)
    write_whole(folder / DRAWN, b"".join(line + b"\n" for line in _lines()))
    write_results(version)


def write_results(version: str) -> None:
    """Write what the kitchens of a version come to today."""
    found = {}
    for name, raw in kept(version).items():
        print(name, flush=True)
        found[name] = results(raw, name)
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(table(found))
    write_whole(FOLDER / version / RESULTS, text.getvalue().encode())


def _lines() -> Iterator[bytes]:
    for sort, (shape, catalogue) in SORTS.items():
        documents = (drawn(shape, seed, catalogue).document for seed in count())
        yield from _short(sort, documents)
    yield from _short("wild", iter(_wild()))


def _short(sort: str, documents: Iterator[Document]) -> list[bytes]:
    lines = (_line(f"{sort} {i}", document) for i, document in enumerate(documents))
    return list(islice((line for line in lines if len(line) <= LONGEST), EACH))


def _line(name: str, document: Document) -> bytes:
    data = {"kitchen": name, **document.model_dump(mode="json", exclude_defaults=True, exclude={"kitchen"})}
    return json.dumps(_plain(data), separators=(",", ":")).encode()


def _plain(data: object) -> object:
    """The same without ``.0`` after whole numbers."""
    if isinstance(data, dict):
        return {key: _plain(value) for key, value in data.items()}
    if isinstance(data, list):
        return [_plain(value) for value in data]
    return int(data) if isinstance(data, float) and data.is_integer() else data


def _wild() -> list[Document]:
    found: list[Document] = []

    @settings(
        max_examples=40 * EACH, derandomize=True, database=None, deadline=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(kitchens())
    def draw(data: dict[str, object]) -> None:
        kitchen = built(data)
        if kitchen is not None:
            found.append(kitchen.document)

    draw()
    return found


if __name__ == "__main__":
    if len(sys.argv) != 3 or sys.argv[1] not in ("keep", "results"):
        sys.exit("python -m tests.opens keep VERSION, or results VERSION")
    {"keep": keep, "results": write_results}[sys.argv[1]](sys.argv[2])
