"""The console: what every command shares, so that each ends in results on stdout or one clear sentence on stderr.

Exit 0: all well. 1: a finding says must-not. 2: the input is at fault.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import click
from rich.console import Console

from countersunk.model.catalogue.catalogue import Catalogue, load_catalogue
from countersunk.model.errors import CountersunkError, InputError
from countersunk.model.files.changeover import Changeover, changeover
from countersunk.model.kitchen import Kitchen, open_kitchen
from countersunk.model.showing import show_lengths

EXIT_FINDING = 1
EXIT_INPUT = 2


class Command(click.Command):
    """A command that ends in one clear sentence and never in a traceback."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except InputError as error:
            click.echo(error, err=True)
            ctx.exit(EXIT_INPUT)
        except CountersunkError as error:
            click.echo(f"not done: {error}", err=True)
            ctx.exit(EXIT_INPUT)
        except OSError as error:
            if error.filename is None:
                _hush()
            click.echo(f"not done: {error.filename or 'standard output'}: {error.strerror or error}", err=True)
            ctx.exit(EXIT_INPUT)


def _hush() -> None:
    """Silence a standard output that cannot be written: Python would try again as it ends."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


@contextmanager
def left_behind() -> Iterator[Changeover]:
    """What a command leaves behind, put in its place once standard output has taken all that it says."""
    with changeover() as change:
        yield change
        sys.stdout.flush()
    for path in change.kept:
        click.echo(f"kept under another name, since it was not made here or was changed since: {path}", err=True)


def _keep_catalogue(ctx: click.Context, _: click.Parameter, folder: Path | None) -> None:
    ctx.meta[CATALOGUE] = folder


CATALOGUE = "countersunk.catalogue"
"""Where a command's context keeps the folder of the firm's own catalogue."""

catalogue_option = click.option(
    "--catalogue", metavar="DIR", type=click.Path(path_type=Path), expose_value=False, callback=_keep_catalogue,
    help="Folder of your own catalogue, in the place of the one that the file names.",
)  # fmt: skip
"""For every command that builds a kitchen, through `opened`."""


def own_catalogue() -> Catalogue | None:
    """The firm's own catalogue that the command was given, if any. Raises InputError."""
    folder: Path | None = click.get_current_context().meta.get(CATALOGUE)
    return load_catalogue(folder) if folder else None


def opened(file: Path | str) -> Kitchen:
    """The kitchen of a file or demo, by the catalogue that the command was given, else by its own.

    Lengths are shown from now on as the kitchen asks for.
    """
    kitchen = open_kitchen(file, own_catalogue())
    show_lengths(kitchen.document.lengths)
    return kitchen


def example(text: str) -> str:
    """The end of a help text, kept as it is typed."""
    return f"\b\nExample:\n  {text}"


def encoded(data: Any) -> bytes:
    """JSON as a person can read it, UTF-8."""
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False).encode()


@contextmanager
def steps() -> Iterator[Any]:
    """Progress on stderr: what is being done now."""
    console = Console(stderr=True)
    with console.status("starting") as status:
        yield lambda text: status.update(text) if console.is_terminal else console.print(text)
