"""A reading: everything that the app shows of one kitchen, made once for each document and price book.

What is remembered here belongs to nobody: equal documents at equal prices share it, whoever has them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from threading import Lock

from countersunk.model.catalogue.catalogue import Catalogue
from countersunk.model.checks import check
from countersunk.model.checks.finding import Finding
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen, build
from countersunk.takeoff.counting.takeoff import Takeoff, estimate, take_off
from countersunk.takeoff.stock.prices import PriceBook, price_book, prices_of
from countersunk.viewer.scene.gltf import Gltf
from countersunk.viewer.scene.scene import scene

Ids = tuple[str, ...]
MAKING = Lock()


@dataclass(frozen=True)
class KitchenReading:
    """One kitchen with its findings, its takeoff and its scene."""

    kitchen: Kitchen
    findings: tuple[Finding, ...]
    takeoff: Takeoff
    scene: Gltf


@lru_cache(maxsize=24)
def laid_out(document: Document, book: bytes = b"", catalogue: Catalogue | None = None) -> KitchenReading:
    """The same with its boards laid out on sheets: some seconds the first time, so only when somebody asks."""
    reading = read(document, book, catalogue)
    return replace(reading, takeoff=take_off(reading.kitchen, book_of(book, reading.kitchen.catalogue)))


@lru_cache(maxsize=24)
def read(document: Document, book: bytes = b"", catalogue: Catalogue | None = None) -> KitchenReading:
    """Build, check, count and draw. Equal documents share one reading: it holds nothing of a session.

    ``book`` is a price book as CSV, nothing for that of the ``catalogue``, which is the one of the program that the
    document names if left out. Raises InputError for a document that cannot be
    built and for a price book that cannot be read.
    """
    kitchen, findings, drawn = _seen(document, catalogue)
    return KitchenReading(kitchen, findings, estimate(kitchen, book_of(book, kitchen.catalogue)), drawn)


@lru_cache(maxsize=8)
def book_of(book: bytes, catalogue: Catalogue) -> PriceBook:
    """The price book of a CSV, that of the catalogue for nothing. Raises InputError."""
    return price_book(book, "price book") if book else prices_of(catalogue)


def _seen(document: Document, catalogue: Catalogue | None) -> tuple[Kitchen, tuple[Finding, ...], Gltf]:
    """What does not hang on prices; who asks while another makes it waits for that and does not make it as well."""
    with MAKING:
        return _made(document, catalogue)


@lru_cache(maxsize=24)
def _made(document: Document, catalogue: Catalogue | None) -> tuple[Kitchen, tuple[Finding, ...], Gltf]:
    kitchen = build(document, catalogue)
    return kitchen, check(kitchen), scene(kitchen)


def keys_of(finding: Finding) -> Ids:
    """The keys of what a finding is about."""
    return tuple(thing.key for thing in finding.about)


def parts_behind(reading: KitchenReading, ids: Ids) -> Ids:
    """The ids of the parts behind units, edges, joins and cut-outs: the view lights up parts and nothing else."""
    parts = (part for id_ in ids for part in reading.kitchen.parts_behind.get(id_, ()))
    return tuple(dict.fromkeys(part.id for part in parts))
