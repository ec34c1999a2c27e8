"""``countersunk stock …``: the offcuts that the firm keeps, in the store of jobs."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from countersunk.viewer.commands.console import Command, encoded, example
from countersunk.viewer.commands.jobs.keeping import hand_of, hand_option, opened_store, print_rows

if TYPE_CHECKING:
    from countersunk.takeoff.jobs.offcut_stock import KeptOffcut, OffcutStock


@click.group(epilog=example("countersunk stock list"))
def stock() -> None:
    """Keep offcuts, each by a number of its own: write it on the piece.

    A job reserves what its plan takes (countersunk job reserve), and leaves its rests here once it is cut.
    """


@contextmanager
def _stock() -> Iterator[OffcutStock]:
    from countersunk.takeoff.jobs.offcut_stock import offcut_stock

    with opened_store() as store:
        yield offcut_stock(store)


@stock.command("list", cls=Command, epilog=example("countersunk stock list --all"))
@click.option("--all", "every", is_flag=True, help="Those that are taken or scrapped too.")
@click.option("--json", "as_json", is_flag=True, help="Print them as JSON.")
def list_stock(every: bool, as_json: bool) -> None:
    """List what is there: free, or reserved for a job."""
    from countersunk.takeoff.jobs.offcut_stock import Standing

    there = tuple(Standing) if every else (Standing.FREE, Standing.RESERVED)
    with _stock() as found:
        rows = [_row(kept) for kept in found.kept(there)]
    if as_json:
        click.echo(encoded(rows).decode())
        return
    print_rows("Offcuts", rows)


def _row(kept: KeptOffcut) -> dict[str, object]:
    o = kept.offcut
    return {
        "number": kept.number, "material": o.material, "decor": o.decor, "length": f"{o.length:g}",
        "width": f"{o.width:g}" if o.width else "", "standing": kept.standing.value, "job": kept.job,
    }  # fmt: skip


@stock.command("add", cls=Command, epilog=example("countersunk stock add kept.csv"))
@click.argument("csv", type=click.Path(path_type=Path))
@hand_option
def add(csv: Path, hand: str | None) -> None:
    """Put the offcuts of a CSV (id,material,decor,length,width,quantity) into stock; prints their numbers."""
    from countersunk.takeoff.stock.offcuts import read_offcuts

    offcuts = read_offcuts(csv)
    with _stock() as found:
        for number in found.put_in(offcuts, hand_of(hand)):
            click.echo(number)


@stock.command("scrap", cls=Command, epilog=example("countersunk stock scrap 12 --why swollen"))
@click.argument("number", type=click.IntRange(1))
@click.option("--why", required=True, help="What is wrong with it.")
@hand_option
def scrap(number: int, why: str, hand: str | None) -> None:
    """Scrap an offcut that is free."""
    with _stock() as found:
        found.scrap(number, hand_of(hand), why)
        click.echo(f"offcut {number}: scrapped")


@stock.command("count", cls=Command, epilog=example("countersunk stock count 1 2 5 12"))
@click.argument("numbers", type=click.IntRange(1), nargs=-1, required=True)
@hand_option
def count(numbers: tuple[int, ...], hand: str | None) -> None:
    """Put the books right by the numbers of all free offcuts that lie there."""
    with _stock() as found:
        gone, back = found.take_stock(numbers, hand_of(hand))
    for number in gone:
        click.echo(f"offcut {number}: missing, scrapped")
    for number in back:
        click.echo(f"offcut {number}: found, free again")
    if not gone and not back:
        click.echo("the books are right")


@stock.command("ledger", cls=Command, epilog=example("countersunk stock ledger 12"))
@click.argument("number", type=click.IntRange(1), required=False)
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON.")
def ledger(number: int | None, as_json: bool) -> None:
    """Show what became of an offcut, or of all: when, by whom, for which job."""
    with _stock() as found:
        moved = found.movements(number)
    if as_json:
        click.echo(encoded([vars(line) for line in moved]).decode())
        return
    for line in moved:
        job = f", job {line.job}" if line.job else ""
        why = f", {line.why}" if line.why else ""
        click.echo(f"{line.offcut}: {line.at[:16].replace('T', ' ')} {line.hand}: {line.standing.value}{job}{why}")
