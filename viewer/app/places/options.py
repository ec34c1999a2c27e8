"""Options: what a customer may have instead, priced beside the kitchen as it is, each when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache, partial

from countersunk.model.catalogue.catalogue import Catalogue, Template
from countersunk.model.document.keys import names_by_key
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.fronts import DECOR, chosen
from countersunk.takeoff.counting.takeoff import Takeoff, estimate, take_off
from countersunk.takeoff.report.options import Change, Option
from countersunk.takeoff.stock.prices import PriceBook
from countersunk.viewer.app.reading import book_of, laid_out, read
from countersunk.viewer.quoting.options import PricedOption, priced


def offered(document: Document, catalogue: Catalogue) -> dict[str, Option]:
    """Every other decor and worktop, sink and hob, by the name that a customer reads. Not all of them need fit."""
    found = (
        *_decors(document, catalogue, "worktop"),
        *_decors(document, catalogue, "front"),
        *_tops(document, catalogue),
        *_let_in(document, catalogue),
    )
    return {option.name: option for option in found}


def _decors(document: Document, catalogue: Catalogue, use: str) -> Iterator[Option]:
    others = [field for field, _ in chosen(document, DECOR) if field != "fronts.decor"]
    field, what, now = {
        "worktop": ("worktop.decor", "Worktop", document.worktop.decor),
        "front": ("fronts.decor", "Main fronts" if others else "Fronts", document.fronts.decor),
    }[use]
    for decor in catalogue.decors.values():
        if decor.use == use and decor.code != now:
            yield _option(f"{what} in {decor.name}", field, decor.code)


def _tops(document: Document, catalogue: Catalogue) -> Iterator[Option]:
    for stock in catalogue.stocks.values():
        if stock.code != document.worktop.stock:
            yield _option(f"Worktop of {stock.name}", "worktop.stock", stock.code)


def _let_in(document: Document, catalogue: Catalogue) -> Iterator[Option]:
    """Of each sink and hob with a ready size the others of its kind; where there are several, with their number."""
    templates, units = catalogue.templates, names_by_key(document)
    for i, cutout in enumerate(document.cutouts):
        own = templates.get(cutout.template or "")
        for other in templates.values() if own else ():
            if own and other.kind == own.kind and other != own:
                over = f" over {units[cutout.over]}" if _count(document, templates, own.kind) > 1 else ""
                yield _option(f"{other.name.capitalize()}{over}", f"cutouts[{i}].template", other.code)


def _count(document: Document, templates: Mapping[str, Template], kind: str) -> int:
    return sum(templates[c.template].kind == kind for c in document.cutouts if c.template)


def _option(name: str, field: str, value: str) -> Option:
    return Option(name=name[:60], changes=(Change(field=field, value=value),))


@lru_cache(maxsize=64)
def priced_option(
    document: Document, book: bytes, catalogue: Catalogue, name: str, *, on_sheets: bool = False
) -> PricedOption:
    """One option built and priced beside the kitchen as it is.

    ``on_sheets`` counts the boards of both by the sheets that they are cut from, as a quote does; some seconds.
    Raises InputError where it cannot be, KeyError for a name not on offer.
    """
    reading = (laid_out if on_sheets else read)(document, book, catalogue)
    count = partial(_counted, book=book_of(book, catalogue), on_sheets=on_sheets)
    [found] = priced(reading.kitchen, reading.takeoff, [offered(document, catalogue)[name]], count)
    return found


def _counted(kitchen: Kitchen, book: PriceBook, on_sheets: bool) -> Takeoff:
    return (take_off if on_sheets else estimate)(kitchen, book)
