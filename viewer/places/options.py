"""Options: what a customer may have instead, priced beside the kitchen as it is, each when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache, partial

from model.catalogue import catalogue_of
from model.document import Document
from model.kitchen import Kitchen
from takeoff.options import Change, Option
from takeoff.prices import PriceBook
from takeoff.takeoff import Takeoff, take_off
from viewer.quoting.options import PricedOption, priced
from viewer.reading import prices_of, read


def offered(document: Document) -> dict[str, Option]:
    """Every other decor of the worktop and of the fronts, by the name that a customer reads."""
    return {option.name: option for option in (*_decors(document, "worktop"), *_decors(document, "front"))}


def _decors(document: Document, use: str) -> Iterator[Option]:
    field, what, now = {
        "worktop": ("worktop.decor", "Worktop", document.worktop.decor),
        "front": ("fronts.decor", "Fronts", document.fronts.decor),
    }[use]
    for decor in catalogue_of(document).decors.values():
        if decor.use == use and decor.code != now:
            yield Option(name=f"{what} in {decor.name}", changes=(Change(field=field, value=decor.code),))


@lru_cache(maxsize=64)
def priced_option(document: Document, book: bytes, name: str) -> PricedOption:
    """One option built and priced. Raises KeyError for a name that is not offered."""
    reading, count = read(document, book), partial(_counted, book=prices_of(book))
    [found] = priced(reading.kitchen, reading.takeoff, [offered(document)[name]], count)
    return found


def _counted(kitchen: Kitchen, book: PriceBook) -> Takeoff:
    return take_off(kitchen, book)
