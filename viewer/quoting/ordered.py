"""Ordered: what a job lacks is ordered of each supplier, and what changed between two of its revisions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from countersunk.model.checks import check
from countersunk.model.checks.finding import Verdict
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.takeoff import Takeoff, take_off
from countersunk.takeoff.counting.terms import Terms, default_terms, load_terms
from countersunk.takeoff.jobs.consequences import Consequence, consequence
from countersunk.takeoff.jobs.diary import OrderLine, OrderPlaced, said
from countersunk.takeoff.jobs.ordering import ArticleKey, to_order
from countersunk.takeoff.jobs.store import Store
from countersunk.takeoff.jobs.story import story_of
from countersunk.takeoff.report.compare import Comparison, compare
from countersunk.takeoff.stock.money_form import MoneyForm
from countersunk.takeoff.stock.offcuts import Offcut
from countersunk.takeoff.stock.prices import PriceBook, prices_of, read_prices
from countersunk.viewer.quoting.sent import kitchen_of
from countersunk.viewer.quoting.typeset import typeset


@dataclass(frozen=True)
class Asking:
    """With which prices and terms a job's orders are made (the invented ones if None), and for when."""

    prices: Path | None = None
    terms: Path | None = None
    wanted: date | None = None
    free_until: date | None = None

    def book(self, kitchen: Kitchen) -> PriceBook:
        """The price book. Raises InputError."""
        return read_prices(self.prices) if self.prices else prices_of(kitchen.catalogue)

    @property
    def agreed(self) -> Terms:
        """The terms. Raises InputError."""
        return load_terms(self.terms) if self.terms else default_terms()


def counted(
    store: Store, job: str, revision: int | None, asking: Asking, offcuts: Sequence[Offcut] = ()
) -> Takeoff:
    """The takeoff of a revision, with offcuts taken from first. Raises InputError."""
    kitchen = kitchen_of(store, job, revision)
    return take_off(kitchen, asking.book(kitchen), terms=asking.agreed, offcuts=offcuts)


def place_orders(
    store: Store, job: str, revision: int | None, asking: Asking, day: date, hand: str
) -> tuple[list[OrderPlaced], Mapping[ArticleKey, int]]:
    """Order what a revision needs and no earlier order of the job has, and what is not needed any more.

    Each order gets the next number of the firm's series and its paper, and counts by itself: where one cannot be
    made, those before it stand and are not made again. Raises InputError before the yes to a quote.
    """
    story = story_of(store.diary(job))
    _ = story.agreed
    kitchen, number = kitchen_of(store, job, revision), story.revision(revision).number
    lacking = to_order(story, take_off(kitchen, asking.book(kitchen), terms=asking.agreed))
    placed = []
    for supplier, lines in lacking.lines.items():

        def make(count: int, supplier: str = supplier, lines: tuple[OrderLine, ...] = lines) -> OrderPlaced:
            order = said(
                OrderPlaced, number=f"ORD-{day.year}-{count:04d}", supplier=supplier, revision=number, day=day,
                wanted=asking.wanted, free_until=asking.free_until, lines=lines,
            )  # fmt: skip
            paper = typeset("orders", _order_data(job, order, asking.agreed, asking.book(kitchen).currency))
            return order.model_copy(update={"papers": {f"{order.number}.pdf": store.keep(paper)}})

        event = store.add_numbered(job, len(store.diary(job)), f"order {day.year}", make, hand)
        assert isinstance(event, OrderPlaced)
        placed.append(event)
    return placed, lacking.surplus


def _order_data(job: str, order: OrderPlaced, terms: Terms, currency: str) -> dict[str, Any]:
    """What the sheet of orders prints; not a word on the customer."""
    costs = [line.cost for line in order.lines if line.cost is not None]
    money = MoneyForm(currency, terms.locale)
    return {
        "business": terms.business.model_dump(),
        "customer": [],
        "kitchen": f"Job {job}",
        "day": money.day(order.day),
        "reference": order.number,
        "currency": currency,
        "deliver": list(terms.business.deliver),
        "wanted": money.day(order.wanted) if order.wanted else "",
        "orders": [
            {
                "number": order.number,
                "supplier": order.supplier,
                "lines": [_line(line, money) for line in order.lines],
                "cost": money.amount(sum(costs, Decimal(0))) if costs else "",
                "missing": [f"{line.what}" for line in order.lines if line.cost is None],
            }
        ],
    }


def _line(line: OrderLine, money: MoneyForm) -> dict[str, Any]:
    return {
        "code": line.number or line.code, "description": line.what, "sizes": list(line.sizes),
        "packs": f"{line.packs} × {line.pack}" if line.pack else f"{line.packs}",
        "listed": money.amount(line.listed) if line.listed is not None else "no price",
        "discount": f"{line.discount.normalize():f} %" if line.discount else "",
        "cost": money.amount(line.cost) if line.cost is not None else "",
    }  # fmt: skip


@dataclass(frozen=True)
class JobChange:
    """What differs between two revisions: in money, by what becomes of pieces, and in what is missed."""

    money: Comparison
    pieces: Consequence
    missed: tuple[str, ...]
    met: tuple[str, ...]


def job_change(store: Store, job: str, before: int, after: int, asking: Asking) -> JobChange:
    """Compare two revisions of a job, as if the first had been cut. Raises InputError."""
    old, new = kitchen_of(store, job, before), kitchen_of(store, job, after)
    book, terms = asking.book(new), asking.agreed

    def count(kitchen: Kitchen) -> Takeoff:
        return take_off(kitchen, book, terms=terms)

    was, now = _missed(old), _missed(new)
    return JobChange(
        compare(count(old), count(new)),
        consequence(old, new, book, terms),
        tuple(words for spot, words in now.items() if spot not in was),
        tuple(words for spot, words in was.items() if spot not in now),
    )


def _missed(kitchen: Kitchen) -> dict[object, str]:
    """Musts and shoulds that are missed, in words, by rule and place."""
    found = (f for f in check(kitchen) if f.verdict in (Verdict.NOT_MET, Verdict.SHORT))
    return {(f.rule, f.spot): f"{f.severity}: {f.question} {f.place}" for f in found}
