"""The photograph of a kitchen: ``countersunk photo``."""

from __future__ import annotations

from pathlib import Path

import click

from countersunk.viewer.commands.console import Command, catalogue_option, example, left_behind, opened, steps

WIDTH, LEAST, MOST = 1_200, 160, 4_000
"""Width of a photograph, pixels, if nothing is said, and what may be asked for."""


@click.command(cls=Command, epilog=example("countersunk photo corner --out corner-photo"))
@click.argument("file")
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made if missing.")
@click.option("--evening", is_flag=True, help="Show it at dusk with the lamps on.")
@click.option("--bare", is_flag=True, help="Leave out pots, boards and plants, which are in no price.")
@click.option(
    "--width", type=click.IntRange(LEAST, MOST), default=WIDTH, show_default=True, help="Pixels from side to side."
)
@catalogue_option
def photo(file: str, out: Path, evening: bool, bare: bool, width: int) -> None:
    """Write a photograph of the kitchen in its room, photo.png, from where most of it is seen.

    Light is followed where the extra is installed (pip install 'countersunk[photo]'), which takes minutes; else the
    same view is drawn as other pictures are, and the command says so. What stands on the worktops is dressing.
    """
    from countersunk.takeoff.report.origin import kitchen_origin
    from countersunk.viewer.photo.photo import photograph, proportioned

    kitchen = opened(file)
    with left_behind() as change:
        with steps() as step:
            step("choosing the view")
            made = photograph(kitchen, step, proportioned(width), evening, not bare)
            paths = change.folder(out, {"photo.png": made.png}, kitchen_origin("photo", kitchen))
        for path in sorted(paths):
            click.echo(path)
        if made.why_drawn:
            click.echo(f"photo.png is drawn, no light was followed: {made.why_drawn}", err=True)
