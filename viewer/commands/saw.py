"""``countersunk saw``: the page for a phone at the saw, and what was measured there back into the kitchen file."""

from __future__ import annotations

from pathlib import Path

import click

from countersunk.model.edit.kitchen_file import kitchen_file
from countersunk.viewer.commands.console import Command, catalogue_option, example, left_behind, opened


@click.command(cls=Command, epilog=example("countersunk saw corner --out saw.html"))
@click.argument("file")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Page, or kitchen file, to write.")
@click.option(
    "--measured", type=click.Path(path_type=Path), help="What the page saved (JSON): write it into a kitchen file."
)
@catalogue_option
def saw(file: str, out: Path, measured: Path | None) -> None:
    """Write the order of work as one page for a phone: it opens from disk, without a network.

    Before each cut it compares what the tape says with the drawing, and says the likely reason where they differ.
    With --measured, --out is the kitchen file with what was read, as cut, instead.
    """
    from countersunk.viewer.saw.measured import measured_file
    from countersunk.viewer.saw.page import saw_html

    kitchen = opened(file)
    with left_behind() as change:
        if measured:
            said = measured_file(measured, kitchen)
            click.echo(change.file(out, kitchen_file(file).saying(said).raw))
        else:
            click.echo(change.file(out, saw_html(kitchen)))
