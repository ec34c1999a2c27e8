"""``countersunk propose``: from a surveyed room to the best different layouts, each an ordinary kitchen file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
from rich.console import Console

from countersunk.model import checks
from countersunk.model.catalogue.catalogue import catalogue_named
from countersunk.model.checks.finding import Verdict
from countersunk.model.edit.kitchen_file import said
from countersunk.model.files.strict_yaml import read_bytes, read_file
from countersunk.model.planning.brief import Brief
from countersunk.takeoff.report.origin import origin_of
from countersunk.takeoff.stock.prices import read_prices
from countersunk.viewer.commands.console import (
    Command,
    Number,
    catalogue_option,
    encoded,
    example,
    left_behind,
    own_catalogue,
    steps,
)

if TYPE_CHECKING:
    from countersunk.model.planning.propose import Proposal, Proposals


@click.command("propose", cls=Command, epilog=example("countersunk propose room.yaml --out layouts"))
@click.argument("file", metavar="ROOM", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--seconds", type=Number(min=1), default=10.0, show_default=True, help="Time to look for.")
@click.option("--prices", type=click.Path(path_type=Path), help="A price book (CSV), to weigh cost as money.")
@catalogue_option
@click.option("--json", "as_json", is_flag=True, help="Print the proposals as JSON.")
def propose_layouts(file: Path, out: Path, seconds: float, prices: Path | None, as_json: bool) -> None:
    """Propose up to three different layouts for a surveyed room.

    ROOM is a kitchen file with wishes in the place of its runs and cut-outs. Each proposal is built and checked
    before it is shown, and written as a kitchen file to go on editing.
    """
    from countersunk.model.planning.propose import propose
    from countersunk.model.planning.ranges import check_range
    from countersunk.takeoff.counting.unit_costs import unit_costs

    brief, source = read_file(file, Brief)
    with steps() as step, source.locating():
        catalogue = own_catalogue() or catalogue_named(brief.catalogue, file.parent)
        check_range(catalogue)
        costs = unit_costs(brief, read_prices(prices), catalogue) if prices else None
        found = propose(brief, seconds, step, costs, catalogue)
    paths = [out / f"proposal-{n}.yaml" for n in range(1, len(found.shown) + 1)]
    room, data = read_bytes(file), as_data(found, paths)
    files = {path.name: said(room, p.document) for path, p in zip(paths, found.shown, strict=True)}
    files["proposals.json"] = encoded(data)
    with left_behind() as change:
        change.folder(out, files, origin_of("propose", brief.kitchen, brief, prices))
        if as_json:
            click.echo(encoded(data).decode())
        else:
            _print(found, paths)


def _print(found: Proposals, paths: list[Path]) -> None:
    """The proposals in words."""
    console = Console(highlight=False, markup=False)
    for path, proposal in zip(paths, found.shown, strict=True):
        console.print(*told(proposal, path), sep="\n")
    for line in [*(f"Not shown: {why}" for why in found.dropped), *unreached(found)]:
        console.print(line)
    console.print(checks.CAUTION, style="italic")


def told(proposal: Proposal, path: Path) -> list[str]:
    """A proposal in lines of text."""
    head = f"{path}: {proposal.name}, {proposal.found.points} points, the fewer the better"
    head += "" if proposal.found.proven else "; there may be a better one of its kind"
    differs = [f"  {proposal.differs}"] if proposal.differs else []
    return [head, *(f"  {line}" for line in proposal.why), *differs, "  It trades away:",
            *(f"  - {line}" for line in proposal.trades), ""]  # fmt: skip


def unreached(found: Proposals) -> list[str]:
    """What the time did not reach, if anything."""
    if not found.left:
        return []
    return [f"The time was up: {found.left} of {found.shapes} shapes were not looked at. Try more --seconds."]


def as_data(found: Proposals, paths: list[Path]) -> dict[str, Any]:
    """Everything about the proposals as plain data; terms in mm."""
    shown = [_plain(p, path) for p, path in zip(found.shown, paths, strict=True)]
    return {
        "caution": checks.CAUTION, "proposals": shown, "not_shown": found.dropped,
        "shapes": found.shapes, "shapes_not_reached": found.left,
    }  # fmt: skip


def _plain(proposal: Proposal, path: Path) -> dict[str, Any]:
    verdicts = [f.verdict.value for f in proposal.findings]
    return {
        "file": path.name,
        "layout": proposal.name,
        "points": proposal.found.points,
        "proven": proposal.found.proven,
        "why": list(proposal.why),
        "differs": proposal.differs,
        "difference": proposal.difference,
        "trades": list(proposal.trades),
        "terms": proposal.terms,
        "findings": {verdict.value: verdicts.count(verdict.value) for verdict in Verdict},
    }
