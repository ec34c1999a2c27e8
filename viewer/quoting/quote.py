"""Quote: from a kitchen and what was asked to a folder of papers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from pathlib import Path

from countersunk.model.checks import check
from countersunk.model.checks.accepted import accepted_words, refuse_unmet
from countersunk.model.files.changeover import Changeover, changeover
from countersunk.model.files.manifest import Origin
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.accepted import check_priced
from countersunk.takeoff.counting.labour import load_labour
from countersunk.takeoff.counting.takeoff import Takeoff, take_off
from countersunk.takeoff.counting.terms import default_terms, load_terms
from countersunk.takeoff.report.options import Options, load_options
from countersunk.takeoff.report.origin import kitchen_origin
from countersunk.takeoff.stock.offcuts import after, offcuts_csv, read_offcuts
from countersunk.takeoff.stock.prices import prices_of, read_prices
from countersunk.viewer.quoting.customer import Job, quote_data, quote_reference
from countersunk.viewer.quoting.folder import quote_files
from countersunk.viewer.quoting.options import OfferedVersions, PricedOption, priced, versions
from countersunk.viewer.quoting.typeset import typeset

Step = Callable[[str], object]


@dataclass(frozen=True)
class Asked:
    """What a quote is asked with: the files of prices, terms and options (None for the invented ones, or none at
    all), codes accepted without a price, the customer's lines, the day, whether pictures are wanted, the file of
    offcuts taken from first, the one to write for the next job, where and when ordered goods come, and the file of
    own minutes."""

    prices: Path | None = None
    terms: Path | None = None
    options: Path | None = None
    accept: Sequence[str] = ()
    customer: tuple[str, ...] = ()
    day: date = field(default_factory=date.today)
    stills: bool = True
    offcuts: Path | None = None
    keep: Path | None = None
    deliver: tuple[str, ...] = ()
    wanted: date | None = None
    labour: Path | None = None


def quote_kitchen(
    kitchen: Kitchen, folder: Path, asked: Asked | None = None, step: Step = lambda _: None
) -> list[Path]:
    """Count, price, check and write the quote, orders, van list, handover and workbook; returns their paths.

    The folder is changed over as one, and the file of offcuts after it: a quote that fails changes neither.
    ``asked`` is today's quote by the invented prices if left out; ``step`` is called with what is done now.

    >>> from tempfile import TemporaryDirectory
    >>> from countersunk import Asked, open_kitchen, quote
    >>> with TemporaryDirectory() as folder:
    ...     papers = quote(open_kitchen("straight"), Path(folder), Asked(stills=False))
    >>> "quote.pdf" in [paper.name for paper in papers]
    True

    Raises InputError where a line has no price, or a must is not met, and was not accepted, before anything is
    written; StillsError where pictures were asked for and cannot be made.
    """
    with changeover() as change:
        return prepare_quote(change, kitchen, folder, asked or Asked(), step)


def prepare_quote(change: Changeover, kitchen: Kitchen, folder: Path, asked: Asked, step: Step) -> list[Path]:
    """What `quote_kitchen` writes, made and left with ``change`` to be put in its place; raises as it does."""
    made = make_quote(kitchen, asked, step)
    paths = change.folder(folder, made.files, made.origin)
    if asked.keep:
        paths.append(change.file(asked.keep, made.left))
    return paths


@dataclass(frozen=True)
class QuoteMade:
    """A quote and everything that goes with it: ``files`` by name, ``left`` the stock of offcuts after it."""

    takeoff: Takeoff
    offer: OfferedVersions
    job: Job
    files: dict[str, bytes]
    left: bytes
    origin: Origin
    reference: str


def make_quote(kitchen: Kitchen, asked: Asked, step: Step) -> QuoteMade:
    """Every paper of a quote, and nothing written; raises as `quote_kitchen` does."""
    step("counting and pricing")
    book = read_prices(asked.prices) if asked.prices else prices_of(kitchen.catalogue)
    terms = load_terms(asked.terms) if asked.terms else default_terms()
    offcuts = read_offcuts(asked.offcuts) if asked.offcuts else ()
    labour = load_labour(asked.labour) if asked.labour else None
    count = partial(take_off, prices=book, terms=terms, offcuts=offcuts, labour=labour)
    base = count(kitchen)
    offered = load_options(asked.options) if asked.options else Options()
    options = list(priced(kitchen, base, offered.every, count))
    step("checking clearances")
    findings = check(kitchen)
    refuse_unmet(kitchen, findings)
    for option in options:
        refuse_unmet(option.kitchen, check(option.kitchen), f"option '{option.option.name}', ")
    for taken in (base, *(option.comparison.after for option in options)):
        check_priced(taken, asked.accept)
    step("pricing what may be chosen together")
    sold = versions(kitchen, base, options, offered.together(), count)
    pictures = _pictures(kitchen, options, step) if asked.stills else {}
    accepted = tuple(accepted_words(kitchen, findings))
    job = Job(asked.customer, asked.day, accepted, asked.deliver, asked.wanted)
    offer = OfferedVersions(options, sold)
    files = quote_files(kitchen, base, offer, job, pictures, step)
    left = offcuts_csv(after(offcuts, base.cut.used, base.cut.left))
    origin = kitchen_origin("quote", kitchen, asked.prices)
    return QuoteMade(base, offer, job, files, left, origin, quote_reference(kitchen, base, offer))


def quote_pdf(
    kitchen: Kitchen,
    takeoff: Takeoff,
    job: Job,
    options: Sequence[PricedOption] = (),
    step: Step = lambda _: None,
) -> bytes:
    """The quote alone, with its pictures where this machine can draw them.

    Raises InputError where a line has no price and the terms do not accept that, or a must is not met and the
    kitchen's file does not.
    """
    from countersunk.viewer.stills.stills import StillsError

    check_priced(takeoff)
    findings = check(kitchen)
    refuse_unmet(kitchen, findings)
    job = replace(job, accepted=tuple(accepted_words(kitchen, findings)))
    try:
        pictures = _pictures(kitchen, options, step)
    except StillsError:
        pictures = {}
    data = quote_data(kitchen, takeoff, OfferedVersions.each_alone(takeoff, options), job)
    return typeset("quote", {**data, "pictures": sorted(pictures)}, pictures)


def _pictures(kitchen: Kitchen, options: Sequence[PricedOption], step: Step) -> dict[str, bytes]:
    """The kitchen and each option, seen from the same place: photographed where light can be followed."""
    from countersunk.viewer.photo.photo import lacking, photograph
    from countersunk.viewer.photo.view import best_view
    from countersunk.viewer.stills.stills import view_png

    view = None if lacking() else best_view(kitchen)
    seen = {"view": kitchen, **{f"option-{i}": o.kitchen for i, o in enumerate(options, start=1)}}
    pictures = {}
    for name, shown in seen.items():
        step(f"rendering {name}")
        pictures[name] = photograph(shown, step, view=view).png if view else view_png(shown)
    return pictures
