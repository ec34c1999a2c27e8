"""``countersunk cut``: plan any list of pieces; and the options on offcuts that other commands have too."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
from rich.console import Console

from countersunk.model.errors import InputError
from countersunk.viewer.commands.console import Command, Number, encoded, example, left_behind

CODE = re.compile(r"[a-z0-9][a-z0-9.-]{0,47}")


def offcut_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--offcuts`` and ``--keep``."""
    keep = click.option(
        "--keep", type=click.Path(path_type=Path), help="Write what is left for the next job, of useful size (CSV)."
    )
    path = click.Path(path_type=Path)
    return click.option("--offcuts", type=path, help="What the firm has, taken from first (CSV).")(keep(command))


@click.command(
    cls=Command, epilog=example("countersunk cut --pieces panels.csv --stock sheets.csv --kerf 4 --trim 10")
)
@click.option("--pieces", type=click.Path(path_type=Path), required=True, help="What to cut (CSV, see above).")
@click.option("--stock", type=click.Path(path_type=Path), required=True, help="What there is to cut it from (CSV).")
@click.option("--kerf", default="0", show_default=True, help="Millimetres that a saw cut takes between two pieces.")
@click.option(
    "--trim", default="0", show_default=True, help="Millimetres taken off each end, of a sheet each side."
)
@click.option("--seconds", type=Number(min=0), help="Give the best plan found by then.")
@offcut_options
@click.option("--material", default="", help="Which of the offcuts are meant, and the code of what is left.")
@click.option("--json", "as_json", is_flag=True, help="Print the plan as JSON.")
def cut(
    pieces: Path,
    stock: Path,
    kerf: str,
    trim: str,
    seconds: float | None,
    offcuts: Path | None,
    keep: Path | None,
    material: str,
    as_json: bool,
) -> None:
    """Plan how to cut pieces from lengths or panels from sheets, at the least cost, and say how good that is.

    \b
    Lengths: pieces  id,length,quantity
             stock   id,length,price,quantity
    Sheets:  pieces  id,length,width,quantity,rotate
             stock   id,length,width,price,quantity

    Sizes in mm. rotate is yes or no; grain along the length is no, and so is an empty one. An empty quantity of
    stock means as many as you like. With a column value in the pieces and one stock of quantity 1, the most
    valuable pieces are cut from it.
    All cuts of a sheet run from edge to edge of the board in hand. Offcuts that the firm has are stock without a
    price: id,material,decor,length,width,quantity.
    """
    from countersunk.takeoff.stock.offcuts import offcuts_csv, read_offcuts
    from countersunk.viewer.commands.cut_answer import VALUES_ASIDE, answer, next_offcuts
    from countersunk.viewer.commands.cut_tables import plan_blocks

    if (offcuts or keep) and not CODE.fullmatch(material):
        allowed = "small letters, digits, dots and dashes, as in the column of that name"
        raise InputError.at("--material", found=f"'{material[:40]}'", allowed=allowed, advice="such as pb18")
    kept = read_offcuts(offcuts) if offcuts else ()
    answered = answer(pieces, stock, kerf, trim, seconds, [o for o in kept if o.material == material])
    if answered.cut.valued and not answered.cut.seeks_value:
        click.echo(VALUES_ASIDE, err=True)
    with left_behind() as change:
        if keep:
            change.file(keep, offcuts_csv(next_offcuts(answered, kept, material)))
        if as_json:
            click.echo(encoded(answered.found).decode())
            return
        console = Console(markup=False, highlight=False)
        for block in plan_blocks(answered):
            console.print(block)
