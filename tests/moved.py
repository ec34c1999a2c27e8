"""Kitchens that lie elsewhere: all that is said of one, to be held against what is said of it in another place.

Nothing but noise in the last bits differs there, as it does on another processor. So findings must name the same
things, in the same order, and parts and takeoff must be the same.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from random import Random
from typing import Any

from countersunk.model.checks import check
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen, build
from countersunk.takeoff.counting.takeoff import estimate
from countersunk.takeoff.report.report import as_json
from tests.model.cases.table import moved

Move = tuple[float, float, float]
"""A turn (degrees) and a shift in x and y (mm)."""

SHOWN = 0.11
"""By so much two values may differ that are shown to the tenth, mm."""

COUNTED = 1e-4
"""By so much two amounts of a takeoff may differ, in metres, square metres, kilograms or millimetres."""


@dataclass(frozen=True)
class Told:
    """What is said of a kitchen. ``findings`` are by rule and place, the second and third of the same numbered."""

    findings: dict[tuple[str, str, int], tuple[Any, ...]]
    parts: list[tuple[str, ...]]
    takeoff: dict[str, Any]

    def differs_from(self, other: Told) -> list[str]:
        """Every difference in a line."""
        return [
            *_different(self.findings, other.findings, "findings", SHOWN),
            *_different(list(self.findings), list(other.findings), "order of findings", SHOWN),
            *_different(self.parts, other.parts, "parts", COUNTED),
            *_different(self.takeoff, other.takeoff, "takeoff", COUNTED),
        ]


def told(document: Document, move: Move | None = None) -> Told:
    """All that is said of a kitchen, lying where it is surveyed or moved."""
    with moved(*move) if move else nullcontext():
        kitchen = build(document)
    return Told(_findings(kitchen), list(_parts(kitchen)), as_json(estimate(kitchen)))


def random_moves(count: int, seed: str | int = 1) -> list[Move]:
    """Turns of up to 90° and shifts of up to 9 m, the same for the same seed."""
    lots = Random(seed)
    return [(lots.uniform(0, 90), lots.uniform(-9000, 9000), lots.uniform(-9000, 9000)) for _ in range(count)]


def _findings(kitchen: Kitchen) -> dict[tuple[str, str, int], tuple[Any, ...]]:
    found, seen = {}, Counter[tuple[str, str]]()
    for f in check(kitchen):
        found[f.rule, f.place, seen[f.rule, f.place]] = (f.verdict.value, f.value, f.ids, f.reason, f.advice)
        seen[f.rule, f.place] += 1
    return found


def _parts(kitchen: Kitchen) -> Iterator[tuple[str, ...]]:
    for part in kitchen.parts:
        yield part.id, part.role.value, part.material, part.layer.value
        yield from ((edge.id, edge.condition.value) for edge in part.edges)


def _different(one: Any, other: Any, where: str, within: float) -> Iterator[str]:
    """Where two plain things differ, numbers by more than ``within``."""
    if isinstance(one, dict) and isinstance(other, dict):
        yield from (f"{where}: {key} only on one side" for key in one.keys() ^ other.keys())
        for key in one.keys() & other.keys():
            yield from _different(one[key], other[key], f"{where}: {key}", within)
    elif isinstance(one, list | tuple) and isinstance(other, list | tuple) and len(one) == len(other):
        for i, (a, b) in enumerate(zip(one, other, strict=True)):
            yield from _different(a, b, f"{where}: {i}", within)
    elif isinstance(one, float) and isinstance(other, float):
        if abs(one - other) > within:
            yield f"{where}: {one} and {other}"
    elif one != other:
        yield f"{where}: {one!r} and {other!r}"
