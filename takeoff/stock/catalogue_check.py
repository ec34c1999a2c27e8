"""Catalogue check: everything that is wrong or missing in the folder of a catalogue, found in one go."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from countersunk.model.catalogue.catalogue import (
    Boards,
    Catalogue,
    CatalogueFile,
    Decors,
    Families,
    FrontChoices,
    Stocks,
    Templates,
    catalogue_files,
    load_catalogue,
)
from countersunk.model.errors import InputError, Problem
from countersunk.model.kinds import is_of
from countersunk.takeoff.stock.articles import Articles, consumables_of, load_articles
from countersunk.takeoff.stock.prices import PRICES, PriceBook, prices_of, read_prices

FILE_SCHEMAS: Mapping[str, type[CatalogueFile]] = {
    "units.yaml": Families, "boards.yaml": Boards, "worktops.yaml": Stocks, "decors.yaml": Decors,
    "fronts.yaml": FrontChoices, "cutouts.yaml": Templates,
}  # fmt: skip


@dataclass(frozen=True)
class CatalogueCheck:
    """What is wrong, what is there, and what is not but will be asked for."""

    problems: tuple[Problem, ...]
    counts: Mapping[str, int] = field(default_factory=dict)
    gaps: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """Plain data."""
        problems = [str(problem) for problem in self.problems]
        return {"problems": problems, "counts": dict(self.counts), "gaps": list(self.gaps)}


def catalogue_check(folder: Path) -> CatalogueCheck:
    """Return everything that is wrong or missing in a folder: of every file, and then of all of them together.

    Nothing is raised for what is wrong in it.
    """
    problems = tuple(_problems(folder))
    if problems:
        return CatalogueCheck(problems)
    catalogue = load_catalogue(folder)
    counts = {
        "units": len(catalogue.families), "boards": len(catalogue.boards), "worktops": len(catalogue.stocks),
        "upstands": len(catalogue.upstands), "decors": len(catalogue.decors),
        "sinks, hobs and taps": len(catalogue.templates), "articles": len(consumables_of(catalogue)),
    }  # fmt: skip
    return CatalogueCheck((), counts, tuple(_gaps(catalogue, consumables_of(catalogue), prices_of(catalogue))))


def _problems(folder: Path) -> Iterator[Problem]:
    """What is wrong file by file; only where nothing is, what is wrong between them."""
    found = [problem for reading in _readings(folder) for problem in _refused(reading)]
    yield from found or _refused(lambda: load_catalogue(folder))


def _readings(folder: Path) -> Iterator[Callable[[], Any]]:
    for name, schema in FILE_SCHEMAS.items():
        if (folder / name).exists():
            yield lambda name=name, schema=schema: list(catalogue_files(folder, name, schema))  # type: ignore[misc]
    yield lambda: load_articles(folder)
    if (folder / PRICES).exists():
        yield lambda: read_prices(folder / PRICES)


def _refused(reading: Callable[[], Any]) -> tuple[Problem, ...]:
    try:
        reading()
    except InputError as error:
        return tuple(error.problems)
    return ()


def _gaps(catalogue: Catalogue, articles: Articles, book: PriceBook) -> Iterator[str]:
    """What a kitchen of this catalogue would ask for and not find."""
    bought = {appliance.code for family in catalogue.families.values() for appliance in family.appliances}
    yield from (f"no article '{code}', which a unit holds" for code in sorted(bought - set(articles)))
    sawn = (board.code for board in catalogue.boards.values() if board.use in ("carcass", "front"))
    yield from (
        f"no article 'band.{code}', for edges of that board" for code in sawn if f"band.{code}" not in articles
    )
    stocks = catalogue.stocks.values()
    lengths = (f"{stock.code}.{length:g}" for stock in stocks if not stock.slab for length in stock.lengths)
    slabs = (stock.code for stock in stocks if stock.slab)
    for code in (
        *catalogue.boards,
        *lengths,
        *slabs,
        *(code for code, upstand in catalogue.upstands.items() if not upstand.of_top),
        *catalogue.splashbacks,
        *catalogue.templates,
        *articles,
    ):
        if not any(is_of(known, code) for known in book.prices):
            yield f"no price of '{code}' in {book.name}"
