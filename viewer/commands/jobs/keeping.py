"""Keeping: what the commands on jobs share."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from countersunk.takeoff.counting.terms import Terms
    from countersunk.takeoff.jobs.diary import Event
    from countersunk.takeoff.jobs.store import Store


def hand_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The option that says who does something."""
    return click.option("--by", "hand", metavar="NAME", help="Who does this; you, if left out.")(command)


def price_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """The options that name the firm's price book and terms."""
    path = click.Path(path_type=Path)
    prices = click.option("--prices", type=path, help="A price book (CSV) instead of the invented one.")
    terms = click.option("--terms", type=path, help="Terms of the job (YAML), not the invented ones.")
    return prices(terms(command))


def hand_of(name: str | None) -> str:
    """The name that was given, or the user's."""
    from countersunk.takeoff.jobs.store import this_hand

    return name or this_hand()


@contextmanager
def opened_store() -> Iterator[Store]:
    """This user's store, loaded once it is asked for."""
    from countersunk.takeoff.jobs import store

    with store.opened_store() as found:
        yield found


def add_entry(number: str, event: Event, hand: str | None) -> None:
    """Add to the diary of a job, and say what. Raises InputError, StaleJobError."""
    with opened_store() as store:
        store.add(number, len(store.diary(number)), [event], hand_of(hand))
        click.echo(f"{number}: {in_words(event)}")


def in_words(event: Event) -> str:
    """An entry in a line."""
    from countersunk.takeoff.jobs.wording import in_words

    return in_words(event)


def print_rows(title: str, rows: Sequence[Mapping[str, object]]) -> None:
    """Print rows that have the same fields as a table as wide as the terminal; numbers stand on the right."""
    from rich.console import Console
    from rich.markup import escape
    from rich.table import Table

    table = Table(title=title, title_justify="left")
    for name, value in (rows[0] if rows else {"nothing": ""}).items():
        table.add_column(name, justify="right" if isinstance(value, int | Decimal) else "left")
    for row in rows:
        table.add_row(*(f"{v:,.2f}" if isinstance(v, Decimal) else escape(str(v)) for v in row.values()))
    Console().print(table)


def date_of(day: datetime | None) -> date:
    """The day that was given, or today."""
    return (day or datetime.now()).date()


def terms_of(path: Path | None) -> Terms:
    """The terms of a file, or the invented ones. Raises InputError."""
    from countersunk.takeoff.counting.terms import default_terms, load_terms

    return load_terms(path) if path else default_terms()
