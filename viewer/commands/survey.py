"""``countersunk survey``: what became of the measurements, also of a room on which no kitchen can be built."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click
from rich.console import Console
from rich.table import Table

from countersunk.model import checks
from countersunk.model.document.schema import Document
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_file
from countersunk.model.kitchen import Kitchen, kitchen_path
from countersunk.model.survey import survey_unjudged
from countersunk.viewer.commands.console import Command, catalogue_option, encoded, example, opened
from countersunk.viewer.drawing.shapes import Sheet


@dataclass(frozen=True)
class Shown:
    """A survey of a ``kitchen`` in the three ways in which it is asked for; each is made when it is."""

    kitchen: str
    sheet: Callable[[], Sheet]
    blocks: Callable[[], Sequence[Table | str]]
    data: Callable[[], dict[str, Any]]


@click.command(cls=Command, epilog=example("countersunk survey corner --json"))
@click.argument("file")
@click.option("--json", "as_json", is_flag=True, help="Print walls and runs as JSON.")
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the survey as a drawing; made if missing.")
@catalogue_option
def survey(file: str, as_json: bool, out: Path | None) -> None:
    """Show what became of the measurements, what to measure again, and how sure each run fits.

    Where no kitchen can be built on the readings, they are shown all the same, and then why not (exit 2).
    """
    try:
        kitchen = opened(file)
    except InputError as error:
        if unbuilt := _unbuilt(file, error):
            _show(unbuilt, as_json, out)
        raise
    _show(_built(kitchen), as_json, out)


def _built(kitchen: Kitchen) -> Shown:
    from countersunk.viewer.app.surveying import survey_json, survey_tables
    from countersunk.viewer.drawing.survey_sheet import survey_sheet
    from countersunk.viewer.saw.measured import as_cut_json, as_cut_words

    return Shown(
        kitchen.document.kitchen,
        lambda: survey_sheet(kitchen),
        lambda: [*survey_tables(kitchen), *as_cut_words(kitchen)],
        lambda: {**survey_json(kitchen), "as_cut": as_cut_json(kitchen)},
    )


def _unbuilt(file: str, why: InputError) -> Shown | None:
    """The readings of a kitchen that cannot be built; None where they cannot be read, or make no room at all."""
    from countersunk.viewer.app.surveying import unbuilt_json, unbuilt_tables
    from countersunk.viewer.drawing.survey_sheet import unbuilt_survey_sheet

    try:
        document, _ = read_file(kitchen_path(file), Document)
        walls = survey_unjudged(document.room)
    except InputError:
        return None
    return Shown(
        document.kitchen,
        lambda: unbuilt_survey_sheet(document, walls),
        lambda: unbuilt_tables(document.room, walls),
        lambda: unbuilt_json(document.room, walls, why),
    )


def _show(shown: Shown, as_json: bool, out: Path | None) -> None:
    from countersunk.viewer.drawing.papers import draw_survey

    if out:
        for path in draw_survey(shown.kitchen, shown.sheet(), out):
            click.echo(path)
        return
    if as_json:
        click.echo(encoded({"caution": checks.CAUTION, **shown.data()}).decode())
        return
    console = Console()
    for block in shown.blocks():
        console.print(block, highlight=False)
    console.print(checks.CAUTION, style="italic")
