"""Quote: from a kitchen and what was asked to a folder of papers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from model.kitchen import Kitchen
from takeoff.accepted import check_priced
from takeoff.boards import board_plans
from takeoff.options import load_options
from takeoff.prices import PriceBook, demo_prices, read_prices
from takeoff.takeoff import Takeoff, take_off
from takeoff.terms import Terms, default_terms, load_terms
from viewer.quoting.customer import Job, quote_data
from viewer.quoting.folder import write_quote
from viewer.quoting.options import PricedOption, priced
from viewer.quoting.typeset import typeset

Step = Callable[[str], object]


@dataclass(frozen=True)
class Asked:
    """What a quote is asked with: the files of prices, terms and options (None for the invented ones, or none at
    all), codes accepted without a price, the customer's lines, the day, and whether pictures are wanted."""

    prices: Path | None
    terms: Path | None
    options: Path | None
    accept: Sequence[str]
    customer: tuple[str, ...]
    day: date
    stills: bool


def quote_kitchen(kitchen: Kitchen, asked: Asked, folder: Path, step: Step) -> list[Path]:
    """Count, price, check and write; the paths of what was written.

    Raises InputError where a line has no price and was not accepted, before anything is written; StillsError where
    pictures were asked for and cannot be made.
    """
    step("counting and pricing")
    book = read_prices(asked.prices) if asked.prices else demo_prices()
    terms = load_terms(asked.terms) if asked.terms else default_terms()
    count = partial(on_sheets, book=book, terms=terms)
    base = count(kitchen)
    options = list(priced(kitchen, base, load_options(asked.options) if asked.options else (), count))
    for taken in (base, *(option.comparison.after for option in options)):
        check_priced(taken, asked.accept)
    pictures = _pictures(kitchen, options, step) if asked.stills else {}
    return write_quote(kitchen, base, options, Job(asked.customer, asked.day), pictures, folder, step)


def on_sheets(kitchen: Kitchen, book: PriceBook, terms: Terms) -> Takeoff:
    """The takeoff with its boards counted by the sheets that they are cut from."""
    return take_off(kitchen, book, terms=terms, boards=board_plans(kitchen))


def quote_pdf(
    kitchen: Kitchen,
    takeoff: Takeoff,
    job: Job,
    options: Sequence[PricedOption] = (),
    step: Step = lambda _: None,
) -> bytes:
    """The quote alone, with its pictures where this machine can draw them.

    Raises InputError where a line has no price and the terms do not accept that.
    """
    from viewer.stills import StillsError

    check_priced(takeoff)
    try:
        pictures = _pictures(kitchen, options, step)
    except StillsError:
        pictures = {}
    data = quote_data(kitchen, takeoff, options, job)
    return typeset("quote", {**data, "pictures": sorted(pictures)}, pictures)


def _pictures(kitchen: Kitchen, options: Sequence[PricedOption], step: Step) -> dict[str, bytes]:
    """The kitchen and each option, seen from the same place as far as they are alike."""
    from viewer.stills import view_png

    seen = {"view": kitchen, **{f"option-{i}": o.kitchen for i, o in enumerate(options, start=1)}}
    pictures = {}
    for name, shown in seen.items():
        step(f"rendering {name}")
        pictures[name] = view_png(shown)
    return pictures
