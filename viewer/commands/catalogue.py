"""``countersunk catalogue new | prices | check``: a folder of a firm's own units, boards, tops, articles and
prices."""

from __future__ import annotations

from pathlib import Path

import click

from countersunk import shared
from countersunk.model.catalogue.catalogue import FILES
from countersunk.model.errors import InputError, Problem
from countersunk.model.files.whole import write_whole
from countersunk.takeoff.stock.catalogue_check import CatalogueCheck, catalogue_check
from countersunk.takeoff.stock.prices import DEMO, PRICES, demo_prices
from countersunk.viewer.commands.console import Command, encoded, example

PRICED = "{0}: {1} invented prices. Change them, and add a row for each article that has none."
NEXT = "Change the rows, then: countersunk catalogue check {0}; countersunk app --catalogue {0}"


@click.group()
def catalogue() -> None:
    """Keep a catalogue of your own, a folder of plain files.

    Every command that reads a kitchen takes --catalogue DIR; a kitchen file may say catalogue: NAME for a folder
    of that name beside it.
    """


@catalogue.command("new", cls=Command, epilog=example("countersunk catalogue new workshop"))
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def new_catalogue(folder: Path) -> None:
    """Write a commented start of every file into DIR; nothing that is there is overwritten."""
    there = [name for name in FILES if (folder / name).exists()]
    if there:
        found = f"{', '.join(there)} already"
        raise InputError([Problem("folder", found, "a folder without them", "choose another name", str(folder))])
    folder.mkdir(parents=True, exist_ok=True)
    for name in FILES:
        write_whole(folder / name, (shared.CATALOGUE_START / name).read_bytes())
        click.echo(folder / name)
    click.echo(NEXT.format(folder))


@catalogue.command("prices", cls=Command, epilog=example("countersunk catalogue prices workshop"))
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def start_prices(folder: Path) -> None:
    """Write prices.csv into DIR, the invented prices to begin with; what is there is not overwritten.

    Each row has a code, what it is, its unit and pack, the price of a pack without tax, currency, day, tax in
    percent and supplier.
    """
    path = folder / PRICES
    if path.exists() or not folder.is_dir():
        found = f"{PRICES} already" if path.exists() else "no such folder"
        allowed = "a folder of a catalogue without one"
        raise InputError([Problem("folder", found, allowed, "countersunk catalogue new DIR", str(folder))])
    write_whole(path, DEMO.read_bytes())
    click.echo(PRICED.format(path, len(demo_prices().prices)))


@catalogue.command("check", cls=Command, epilog=example("countersunk catalogue check workshop"))
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print what was found as JSON.")
@click.pass_context
def check_catalogue(ctx: click.Context, folder: Path, as_json: bool) -> None:
    """Say what is wrong in DIR, each row with file and line, and what has no price or article.

    Exits 2 where a kitchen cannot be built by it.
    """
    found = catalogue_check(folder)
    if as_json:
        click.echo(encoded(found.as_json()).decode())
    else:
        for line in lines(found):
            click.echo(line)
    if found.problems:
        for problem in found.problems:
            click.echo(problem, err=True)
        ctx.exit(2)


def lines(found: CatalogueCheck) -> list[str]:
    """What was found in sentences, problems apart."""
    counts = ", ".join(f"{count} {name}" for name, count in found.counts.items())
    return [*([f"Can be used: {counts}."] if counts else []), *(f"Note: {gap}." for gap in found.gaps)]
