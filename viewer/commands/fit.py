"""``countersunk fit``: the widths that a kitchen file leaves open, solved, as an ordinary kitchen file."""

from __future__ import annotations

from pathlib import Path

import click

from countersunk.model.catalogue.catalogue import catalogue_of
from countersunk.model.document.schema import Document
from countersunk.model.edit.kitchen_file import kitchen_file
from countersunk.model.files.strict_yaml import read_file
from countersunk.model.kitchen import build, kitchen_path
from countersunk.model.planning.run import FittedRun, fit_run
from countersunk.viewer.commands.console import (
    Command,
    Number,
    catalogue_option,
    example,
    left_behind,
    own_catalogue,
)


@click.command(cls=Command, epilog=example("countersunk fit rough.yaml --run A --out fitted.yaml"))
@click.argument("file")
@click.option("--run", "runs", multiple=True, required=True, help="A wall, or runs[1]; may be repeated, in order.")
@click.option("--spare", type=Number(0, 50), default=0.0, show_default=True,
              help="Millimetres left free at each wall, for a wall that is not as it was read.")  # fmt: skip
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Kitchen file to write.")
@catalogue_option
def fit(file: str, runs: tuple[str, ...], spare: float, out: Path) -> None:
    """Solve the widths that a run leaves out, so that it ends exactly where it must.

    Leave out the width of a unit or a filler wherever it is free; widths that are given stay. Fillers and end
    panels that the run's ends need are put there. What is left over is told. A run whose widths are open yields to
    those fitted before it.
    """
    path = kitchen_path(file)
    document, source = read_file(path, Document)
    with left_behind() as change:
        with source.locating():
            catalogue = own_catalogue() or catalogue_of(document, path.parent)
            for name in runs:
                fitted = fit_run(document, name, spare, catalogue)
                document = fitted.document
                click.echo(told(fitted))
            build(document, catalogue)
        click.echo(change.file(out, kitchen_file(file).saying(document).raw))


def told(fitted: FittedRun) -> str:
    """What became of a run, in a sentence or three."""
    stretch = fitted.stretch
    row = ", ".join(f"{u.unit} {u.width:g}" if u.width else u.unit for u in fitted.run.units)
    added = f" Put there: {', '.join(fitted.added)}." if fitted.added else ""
    left = fitted.left_over
    rest = f"{left:g} mm are left over on the right" if left else "nothing is left over"
    where = f"Wall {stretch.wall}, from {stretch.left} to {stretch.right}, {stretch.length:.1f} mm"
    return f"{where}: {row}; {rest}.{added}"
