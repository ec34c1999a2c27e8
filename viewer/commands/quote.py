"""The commands about money: ``countersunk quote | compare | prices import``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from rich.console import Console

from countersunk.viewer.commands.console import (
    Command,
    Day,
    Number,
    catalogue_option,
    encoded,
    example,
    left_behind,
    opened,
    steps,
)  # fmt: skip
from countersunk.viewer.commands.cut import offcut_options

if TYPE_CHECKING:
    from countersunk.takeoff.stock.price_changes import PriceChange
    from countersunk.takeoff.stock.prices import Price
    from countersunk.takeoff.stock.suppliers import Imported

IMPORT = "countersunk prices import LIST.csv --mapping MAP.yaml --out book.csv"


@click.command(cls=Command, epilog=example("countersunk quote corner --out corner-quote --customer 'A. Reader'"))
@click.argument("file")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV) instead of the invented one.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--labour", type=click.Path(path_type=Path), help="Your own minutes (YAML), not the invented ones.")
@click.option("--options", type=click.Path(path_type=Path), help="What the customer may choose instead (YAML).")
@click.option("--customer", multiple=True, metavar="TEXT", help="A line of name and address; repeat it.")
@click.option("--deliver", multiple=True, metavar="TEXT", help="A line of where orders come, not to the business.")
@click.option("--wanted", type=Day(), help="Day on which orders are wanted.")
@click.option("--accept", multiple=True, metavar="CODE", help="A line that may stand without a price; repeat it.")
@click.option("--date", "day", type=Day(), help="Day of the quote; today if left out.")
@click.option("--stills/--no-stills", default=True, help="Show the kitchen and its options (some seconds each).")
@offcut_options
@catalogue_option
def quote(
    file: str,
    out: Path,
    prices: Path | None,
    terms: Path | None,
    labour: Path | None,
    options: Path | None,
    customer: tuple[str, ...],
    deliver: tuple[str, ...],
    wanted: datetime | None,
    accept: tuple[str, ...],
    day: datetime | None,
    stills: bool,
    offcuts: Path | None,
    keep: Path | None,
) -> None:
    """Write the customer's quote, orders by supplier, van list, handover and the workbook behind them.

    Exits 2 where a line has no price, coverage or rule, unless it is accepted by name, and where a must is not met,
    unless the kitchen file names under accepted: the rule, where, by whom and why.
    """
    from countersunk.viewer.quoting.quote import Asked, prepare_quote

    day_of_quote = (day or datetime.now()).date()
    wanted_on = wanted.date() if wanted else None
    asked = Asked(
        prices, terms, options, accept, customer, day_of_quote, stills, offcuts, keep, deliver, wanted_on, labour
    )  # fmt: skip
    kitchen = opened(file)
    with left_behind() as change:
        with steps() as step:
            written = prepare_quote(change, kitchen, out, asked, step)
        for path in written:
            click.echo(path)


@click.group()
def prices() -> None:
    """Keep the price book."""


@prices.command("import", cls=Command, epilog=example(IMPORT))
@click.argument("supplier", type=click.Path(path_type=Path))
@click.option(
    "--mapping", type=click.Path(path_type=Path), required=True, help="What stands where in the list (YAML)."
)
@click.option("--into", type=click.Path(path_type=Path), help="A price book whose other prices are kept.")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="The price book to write.")
@click.option(
    "--limit",
    type=Number(min=0),
    default=25.0,
    show_default=True,
    help="Refuse a price that changes by more percent.",
)
@click.option("--accept", is_flag=True, help="Take such prices too.")
@click.option("--json", "as_json", is_flag=True, help="Print the changes as JSON.")
def import_prices(
    supplier: Path, mapping: Path, into: Path | None, out: Path, limit: float, accept: bool, as_json: bool
) -> None:
    """Turn a SUPPLIER's price list (CSV) into a price book, by a mapping of its columns and numbers.

    Lists what is new, changed and gone. A price that changes by more than --limit, or by unit, is refused without
    --accept, and nothing is written.
    """
    from countersunk.takeoff.stock.price_changes import price_changes, refuse_jumps
    from countersunk.takeoff.stock.prices import read_prices
    from countersunk.takeoff.stock.suppliers import import_list, into_book
    from countersunk.viewer.quoting.customer import said

    imported = import_list(supplier, mapping)
    book = read_prices(into) if into else None
    changes = price_changes(imported.prices, book)
    if not accept:
        refuse_jumps(changes, limit)
    note = f"Prices of {said(imported.prices[0].date)}."  # customers read it
    with left_behind() as change:
        change.file(out, into_book(imported, book, note))
        if as_json:
            click.echo(encoded(_imported_json(imported, changes)).decode())
            return
        if book:
            for line in _change_lines(changes):
                click.echo(line)
        click.echo(f"prices: {len(imported.prices)}; lines that the mapping does not name: {imported.left_out}")
        click.echo(out)


def _change_lines(changes: Sequence[PriceChange]) -> Iterator[str]:
    from countersunk.takeoff.stock.price_changes import in_words

    for change in changes:
        what = "new" if change.before is None else "changed" if change.after else "kept, not in this list"
        yield f"{what}: {change.code}: {in_words(change)}"


def _imported_json(imported: Imported, changes: Sequence[PriceChange]) -> dict[str, Any]:
    def plain(price: Price | None) -> dict[str, str] | None:
        return {"price": f"{price.price:f}", "pack": f"{price.pack:f}", "unit": price.unit} if price else None

    return {
        "prices": len(imported.prices),
        "left_out": imported.left_out,
        "changes": [
            {
                "code": c.code, "before": plain(c.before), "after": plain(c.after),
                "percent": None if c.percent is None else f"{c.percent:f}",
            }
            for c in changes
        ],
    }  # fmt: skip


@click.command("compare", cls=Command, epilog=example("countersunk compare corner corner-changed.yaml"))
@click.argument("old")
@click.argument("new")
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV) instead of the invented one.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--json", "as_json", is_flag=True, help="Print every line that differs as JSON.")
@click.option("--xlsx", type=click.Path(path_type=Path), help="Write every line that differs to a workbook too.")
@catalogue_option
def compare_kitchens(
    old: str, new: str, prices: Path | None, terms: Path | None, as_json: bool, xlsx: Path | None
) -> None:
    """Tell line by line what a NEW version of a kitchen costs more or less than an OLD one."""
    from countersunk.takeoff.counting.takeoff import take_off
    from countersunk.takeoff.counting.terms import default_terms, load_terms
    from countersunk.takeoff.report.compare import as_json as plain
    from countersunk.takeoff.report.compare import compare
    from countersunk.takeoff.report.workbook import comparison_bytes
    from countersunk.takeoff.stock.prices import demo_prices, read_prices
    from countersunk.viewer.app.tables import comparison_tables

    book = read_prices(prices) if prices else demo_prices()
    agreed = load_terms(terms) if terms else default_terms()
    before, after = (take_off(opened(file), book, terms=agreed) for file in (old, new))
    found = compare(before, after)
    with left_behind() as change:
        if xlsx:
            change.file(xlsx, comparison_bytes(found.after.kitchen, found))
        if as_json:
            click.echo(encoded(plain(found)).decode())
            return
        console = Console()
        for table in comparison_tables(found):
            console.print(table)
