"""``countersunk check`` and ``countersunk cure``: clearances, what would put them right, and the fit report."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from rich.console import Console
from rich.table import Table

from countersunk.model import checks
from countersunk.model.checks.finding import Finding, Verdict
from countersunk.model.checks.rules import REGIONS, Rules, where_from
from countersunk.model.cures import QUICK, Cure, NoCure
from countersunk.model.cures.search import MOST_TRIALS
from countersunk.model.edit.kitchen_file import kitchen_file
from countersunk.model.errors import InputError
from countersunk.model.files.changeover import Changeover
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.commands.console import (
    EXIT_FINDING,
    Command,
    catalogue_option,
    encoded,
    example,
    left_behind,
    opened,
    steps,
)

if TYPE_CHECKING:
    from countersunk.viewer.app.checking import Cures

REGION = click.option(
    "--region", "regions", multiple=True, type=click.Choice(list(REGIONS)),
    help="Whose rules to hold it against, instead of the regions in the file; may be repeated.",
)  # fmt: skip
RULES = click.option(
    "--rules", "own", multiple=True, type=click.Path(path_type=Path),
    help="A file of your own rules: added, or in the place of those with the same id.",
)  # fmt: skip


@click.command(cls=Command, epilog=example("countersunk check corner --region uk --cures --report corner-fit"))
@click.argument("file")
@catalogue_option
@REGION
@RULES
@click.option(
    "--cures", "with_cures", is_flag=True, help="Look longer for the smallest change that cures what is missed."
)
@click.option(
    "--report",
    type=click.Path(path_type=Path),
    help="Folder for the fit report (PDF and JSON), with the cures that are soon found.",
)
@click.option("--json", "as_json", is_flag=True, help="Print every finding as JSON.")
@click.pass_context
def check(
    ctx: click.Context, file: str, regions: tuple[str, ...], own: tuple[Path, ...], with_cures: bool,
    report: Path | None, as_json: bool,
) -> None:  # fmt: skip
    """Measure clearances round sink, hob, joins and walkways. Exits 1 if a must is not met."""
    from countersunk.viewer.app.checking import asked_of, cures_of, findings_json

    kitchen = opened(file)
    rules = asked_of(kitchen, regions, own)
    findings, chosen = checks.check(kitchen, rules), regions or kitchen.document.regions
    with left_behind() as change:
        with steps() as step:
            looked = MOST_TRIALS if with_cures else QUICK
            cures = cures_of(kitchen, findings, rules, step, looked) if with_cures or report else {}
            written = _reported(change, kitchen, findings, cures, chosen, report, step) if report else []
        if as_json:
            click.echo(encoded({**findings_json(findings, cures), **_measured_json(kitchen)}).decode())
        else:
            _print(findings, cures, chosen, _measured(kitchen))
        for path in written:
            click.echo(path, err=as_json)
    if any(f.serious for f in findings):
        ctx.exit(EXIT_FINDING)


def _measured(kitchen: Kitchen) -> list[Table | str]:
    """What was read on the fitted units and at the saw, where anything was."""
    if kitchen.fitted is None and not kitchen.document.as_cut:
        return []
    from countersunk.viewer.app.surveying import fitted_tables
    from countersunk.viewer.saw.measured import as_cut_words

    return [*fitted_tables(kitchen), *as_cut_words(kitchen)]


def _measured_json(kitchen: Kitchen) -> dict[str, Any]:
    """What was read on the fitted units, where anything was, as plain data."""
    if kitchen.fitted is None:
        return {}
    from countersunk.viewer.app.surveying import fitted_json

    return {"fitted": fitted_json(kitchen)}


def _print(findings: tuple[Finding, ...], cures: Cures, chosen: tuple[str, ...], read: list[Table | str]) -> None:
    """The findings in words, and what was ``read`` on the fitted units and at the saw."""
    from countersunk.viewer.app.checking import findings_table

    console = Console()
    for block in [*findings_table(findings), *_cures_told(cures), *read]:
        console.print(block, highlight=False)
    console.print(where_from(chosen), style="italic")
    console.print(checks.CAUTION, style="italic")


def _cures_told(cures: Cures) -> list[str]:
    """Cures with the numbers that `cure --apply` takes."""
    from countersunk.viewer.app.checking import cure_lines

    return ["Cures", *cure_lines(enumerate(cures.values(), start=1))] if cures else []


def _reported(
    change: Changeover, kitchen: Kitchen, findings: tuple[Finding, ...], cures: Cures, regions: tuple[str, ...],
    folder: Path, step: Any,
) -> list[Path]:  # fmt: skip
    """The fit report, made to be put in a folder."""
    from countersunk.takeoff.report.origin import kitchen_origin
    from countersunk.viewer.app.checking import findings_json
    from countersunk.viewer.drawing.fit_report import fit_report

    step("drawing the fit report")
    words = {finding: found.words for finding, found in cures.items()}
    data = {"kitchen": kitchen.document.kitchen, "held_against": where_from(regions)}
    files = {
        "fit-report.pdf": fit_report(kitchen, findings, words, where_from(regions)),
        "fit-report.json": encoded({**data, **findings_json(findings, cures)}),
    }
    return change.folder(folder, files, kitchen_origin("check", kitchen))


@click.command(cls=Command, epilog=example("countersunk cure corner --apply 1 --out cured.yaml"))
@click.argument("file")
@click.option("--rule", help="Only this rule, by the id that check --json gives.")
@click.option("--place", default="", help="Part of the name of the place, where a rule is missed at several.")
@click.option("--apply", "number", type=click.IntRange(1), help="Look for this one of the list alone, and make it.")
@click.option("--out", type=click.Path(path_type=Path), help="Write the kitchen with the change made to this file.")
@catalogue_option
@REGION
@RULES
@click.option("--json", "as_json", is_flag=True, help="Print what is missed and what cures it as JSON.")
@click.pass_context
def cure(
    ctx: click.Context, file: str, rule: str | None, place: str, number: int | None, out: Path | None,
    regions: tuple[str, ...], own: tuple[Path, ...], as_json: bool,
) -> None:  # fmt: skip
    """List the smallest change that cures each missed must and should and makes none worse, and make one of them.

    Exits 1 if something has no cure.
    """
    from countersunk.viewer.app.checking import asked_of, cure_lines, cures_json, looked_for

    kitchen = opened(file)
    rules = asked_of(kitchen, regions, own)
    asked = _asked(checks.check(kitchen, rules), rules, (rule, place), number, out)
    with steps() as step:
        found = {n: looked_for(kitchen, finding, rules, step) for n, finding in asked.items()}
    with left_behind() as change:
        if as_json:
            click.echo(encoded(cures_json(found)).decode())
        else:
            for line in cure_lines(found.items()) or ["No rule is missed that a change could put right."]:
                click.echo(line)
            click.echo(checks.CAUTION)
        for made in found.values():
            if out and isinstance(made, Cure):
                cured = kitchen_file(file).edited(dict(made.changes)).raw
                click.echo(change.file(out, cured), err=as_json)
    if any(isinstance(c, NoCure) and c.finding.verdict is not Verdict.MET for c in found.values()):
        ctx.exit(EXIT_FINDING)


def _asked(
    findings: tuple[Finding, ...], rules: Rules, only: tuple[str | None, str], number: int | None, out: Path | None
) -> dict[int, Finding]:
    """What a cure is looked for, by its number on the list. Raises InputError."""
    from countersunk.viewer.app.checking import curable, wanted

    rule, place = only
    listed = [wanted(findings, rules, rule, place)] if rule else [f for f in curable(findings) if place in f.place]
    every = dict(enumerate(listed, start=1))
    if number and number not in every:
        allowed = f"1 to {len(every)}" if every else "nothing, since nothing is missed"
        raise InputError.at("--apply", found=f"{number}", allowed=allowed)
    if number and not out:
        raise InputError.at("--apply", found="no file to write", allowed="--out FILE as well")
    if out and not number and len(every) != 1:
        raise InputError.at("--out", found=f"{len(every)} cures to choose from", allowed="--apply N as well")
    return {number: every[number]} if number else every
