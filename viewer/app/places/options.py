"""Options: what a customer may have instead, priced beside the kitchen as it is, each when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache, partial

from countersunk.model.catalogue.catalogue import catalogue_of
from countersunk.model.document.keys import names_by_key
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.takeoff import Takeoff, estimate, take_off
from countersunk.takeoff.report.options import Change, Option
from countersunk.takeoff.stock.prices import PriceBook
from countersunk.viewer.app.reading import laid_out, prices_of, read
from countersunk.viewer.quoting.options import PricedOption, priced


def offered(document: Document) -> dict[str, Option]:
    """Every other decor and worktop, sink and hob, by the name that a customer reads. Not all of them need fit."""
    found = (*_decors(document, "worktop"), *_decors(document, "front"), *_tops(document), *_let_in(document))
    return {option.name: option for option in found}


def _decors(document: Document, use: str) -> Iterator[Option]:
    field, what, now = {
        "worktop": ("worktop.decor", "Worktop", document.worktop.decor),
        "front": ("fronts.decor", "Fronts", document.fronts.decor),
    }[use]
    for decor in catalogue_of(document).decors.values():
        if decor.use == use and decor.code != now:
            yield _option(f"{what} in {decor.name}", field, decor.code)


def _tops(document: Document) -> Iterator[Option]:
    for stock in catalogue_of(document).stocks.values():
        if stock.code != document.worktop.stock:
            yield _option(f"Worktop of {stock.name}", "worktop.stock", stock.code)


def _let_in(document: Document) -> Iterator[Option]:
    """Of each sink and hob with a ready size the others of its kind; where there are several, with their number."""
    templates, units = catalogue_of(document).templates, names_by_key(document)
    for i, cutout in enumerate(document.cutouts):
        own = templates.get(cutout.template or "")
        for other in templates.values() if own else ():
            if own and other.kind == own.kind and other != own:
                over = f" over {units[cutout.over]}" if _count(document, own.kind) > 1 else ""
                yield _option(f"{other.name.capitalize()}{over}", f"cutouts[{i}].template", other.code)


def _count(document: Document, kind: str) -> int:
    templates = catalogue_of(document).templates
    return sum(templates[c.template].kind == kind for c in document.cutouts if c.template)


def _option(name: str, field: str, value: str) -> Option:
    return Option(name=name[:60], changes=(Change(field=field, value=value),))


@lru_cache(maxsize=64)
def priced_option(document: Document, book: bytes, name: str, *, on_sheets: bool = False) -> PricedOption:
    """One option built and priced beside the kitchen as it is.

    ``on_sheets`` counts the boards of both by the sheets that they are cut from, as a quote does; some seconds.
    Raises InputError where it cannot be, KeyError for a name not on offer.
    """
    reading = laid_out(document, book) if on_sheets else read(document, book)
    count = partial(_counted, book=prices_of(book), on_sheets=on_sheets)
    [found] = priced(reading.kitchen, reading.takeoff, [offered(document)[name]], count)
    return found


def _counted(kitchen: Kitchen, book: PriceBook, on_sheets: bool) -> Takeoff:
    return (take_off if on_sheets else estimate)(kitchen, book)
