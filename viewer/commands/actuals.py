"""``countersunk actuals``: what a finished job really cost beside its takeoff, and what to plan with next time."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click
from rich.console import Console
from rich.table import Table

from countersunk.viewer.commands.console import Command, catalogue_option, encoded, example, left_behind, opened

if TYPE_CHECKING:
    from countersunk.takeoff.report.actuals import Actuals


@click.command(cls=Command, epilog=example("countersunk actuals corner --csv actuals.csv --write labour.yaml"))
@click.argument("file")
@click.option("--csv", "spent", type=click.Path(path_type=Path), required=True, help="What was spent (see above).")
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV) instead of the invented one.")
@click.option("--terms", type=click.Path(path_type=Path), help="Terms of the job (YAML), not the invented ones.")
@click.option("--labour", type=click.Path(path_type=Path), help="Your own minutes (YAML), not the invented ones.")
@click.option("--write", type=click.Path(path_type=Path), help="Write a labour table with the new minutes (YAML).")
@click.option("--write-terms", type=click.Path(path_type=Path), help="Write the terms with new allowances (YAML).")
@click.option("--json", "as_json", is_flag=True, help="Print everything as JSON.")
@catalogue_option
def actuals(
    file: str,
    spent: Path,
    prices: Path | None,
    terms: Path | None,
    labour: Path | None,
    write: Path | None,
    write_terms: Path | None,
    as_json: bool,
) -> None:
    """Compare what a job really took with its takeoff, and propose minutes and allowances for the next one.

    \b
    The CSV has the columns kind,code,amount:
      hours  code of an operation   hours of all people together
      packs  code of an article     packs used, 0.5 for half of one
      trips  no code                trips beyond those of the takeoff

    New figures move only part of the way: by how much says how many jobs of your own they rest on. A job that is
    off by more than a factor of two is named as odd and counts less.
    """
    from countersunk.takeoff.counting.labour import default_labour, load_labour
    from countersunk.takeoff.counting.takeoff import take_off
    from countersunk.takeoff.counting.terms import load_terms
    from countersunk.takeoff.report import actuals as report
    from countersunk.takeoff.stock.prices import read_prices

    kitchen = opened(file)
    book, agreed = read_prices(prices) if prices else None, load_terms(terms) if terms else None
    rules = load_labour(labour) if labour else default_labour()
    taken = take_off(kitchen, book, terms=agreed, labour=rules)
    found = report.compare_actuals(taken, report.read_actuals(spent, taken), rules)
    with left_behind() as change:
        if write:
            change.file(write, report.labour_yaml(report.learned(rules, found)))
        if write_terms:
            change.file(write_terms, report.terms_yaml(report.learned_terms(taken.terms, found)))
        if as_json:
            click.echo(encoded(report.as_json(found)).decode())
            return
        console = Console()
        console.print(_lines(found))
        console.print(_lessons(found))
        console.print(report.METHOD)


def _lines(found: Actuals) -> Table:
    table = Table(title="What it took", title_justify="left")
    for name in (
        "kind",
        "what",
        "planned",
        "took",
        f"planned, {found.currency}",
        "took, at the same prices",
        "more",
    ):
        table.add_column(name, justify="left" if name in ("kind", "what") else "right")
    for line in found.lines:
        money = (line.planned_cost, line.spent_cost, line.more)
        cells = ("no price" if value is None else f"{value:,.2f}" for value in money)
        amounts = (f"{value.normalize():f}" for value in (line.planned, line.spent))
        table.add_row(line.kind, line.description, *amounts, *cells)
    table.add_row("", "together", "", "", "", "", f"{found.more:,.2f}", style="bold")
    return table


def _lessons(found: Actuals) -> Table:
    table = Table(title="What to plan with next", title_justify="left")
    for name in ("figure", "of", "now", "from", "this job", "new", "own jobs", "how sure"):
        table.add_column(name, justify="left" if name in ("figure", "of", "from", "how sure") else "right")
    for lesson in found.lessons:
        unit = "min" if lesson.kind == "minutes" else "%"
        old, measured, new = (f"{value:.4g} {unit}" for value in (lesson.old, lesson.measured, lesson.new))
        sure = f"{lesson.certainty:.0f} %: {lesson.words}"
        table.add_row(lesson.kind, lesson.code, old, lesson.basis, measured, new, str(lesson.jobs), sure)
    return table
