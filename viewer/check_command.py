"""``countersunk check`` and ``countersunk cure``: clearances, what would put them right, and the fit report."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from rich.console import Console

from model import checks
from model.checks.finding import Finding, Verdict
from model.checks.rules import REGIONS, where_from
from model.files import write_whole
from model.kitchen import Kitchen, open_kitchen
from viewer.console import EXIT_FINDING, Command, encoded, example, kitchen_path, steps

if TYPE_CHECKING:
    from viewer.checking import Cures

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
@REGION
@RULES
@click.option("--cures", "with_cures", is_flag=True, help="Look for the smallest change that cures what is missed.")
@click.option("--report", type=click.Path(path_type=Path), help="Folder for the fit report (PDF and JSON).")
@click.option("--json", "as_json", is_flag=True, help="Print every finding as JSON.")
@click.pass_context
def check(
    ctx: click.Context, file: str, regions: tuple[str, ...], own: tuple[Path, ...], with_cures: bool,
    report: Path | None, as_json: bool,
) -> None:  # fmt: skip
    """Measure clearances round sink, hob, joins and walkways. Exits 1 if a must is not met."""
    from viewer.checking import asked_of, cure_lines, cures_of, findings_json

    kitchen = open_kitchen(kitchen_path(file))
    rules = asked_of(kitchen, regions, own)
    findings, chosen = checks.check(kitchen, rules), regions or kitchen.document.regions
    with steps() as step:
        cures = cures_of(kitchen, findings, rules, step) if with_cures else {}
        written = _reported(kitchen, findings, cures, chosen, report, step) if report else []
    if as_json:
        click.echo(encoded(findings_json(findings, cures)).decode())
    else:
        from viewer.tables import findings_table

        console = Console()
        for block in [*findings_table(findings), *(["Cures", *cure_lines(cures)] if cures else [])]:
            console.print(block, highlight=False)
        console.print(where_from(chosen), style="italic")
        console.print(checks.CAUTION, style="italic")
    for path in written:
        click.echo(path, err=as_json)
    if any(f.serious for f in findings):
        ctx.exit(EXIT_FINDING)


def _reported(
    kitchen: Kitchen, findings: tuple[Finding, ...], cures: Cures, regions: tuple[str, ...], folder: Path, step: Any
) -> list[Path]:
    """The fit report in a folder."""
    from viewer.checking import findings_json
    from viewer.drawing.fit_report import fit_report

    folder.mkdir(parents=True, exist_ok=True)
    step("drawing the fit report")
    words = {finding: found.words for finding, found in cures.items()}
    write_whole(folder / "fit-report.pdf", fit_report(kitchen, findings, words, where_from(regions)))
    data = {"kitchen": kitchen.document.kitchen, "held_against": where_from(regions)}
    write_whole(folder / "fit-report.json", encoded({**data, **findings_json(findings, cures)}))
    return [folder / "fit-report.pdf", folder / "fit-report.json"]


@click.command(cls=Command, epilog=example("countersunk cure corner --rule hob-landing-longer --out cured.yaml"))
@click.argument("file")
@click.option("--rule", required=True, help="The rule to cure, by the id that check --json gives.")
@click.option("--place", default="", help="Part of the name of the place, where a rule is missed at several.")
@click.option("--out", type=click.Path(path_type=Path), help="Write the kitchen with the change made to this file.")
@REGION
@RULES
@click.pass_context
def cure(
    ctx: click.Context, file: str, rule: str, place: str, out: Path | None, regions: tuple[str, ...],
    own: tuple[Path, ...],
) -> None:  # fmt: skip
    """Find the smallest change that puts a missed rule right and breaks no other. Exits 1 if there is none."""
    from model.cures import Cure
    from viewer.checking import asked_of, looked_for, wanted
    from viewer.edits import as_yaml

    kitchen = open_kitchen(kitchen_path(file))
    rules = asked_of(kitchen, regions, own)
    finding = wanted(checks.check(kitchen, rules), rules, rule, place)
    with steps() as step:
        found = looked_for(kitchen, finding, rules, step)
    click.echo(found.words)
    click.echo(checks.CAUTION)
    if not isinstance(found, Cure):
        ctx.exit(EXIT_FINDING if finding.verdict is not Verdict.MET else 0)
    if out:
        write_whole(out, as_yaml(found.applied(kitchen.document)))
        click.echo(out)
