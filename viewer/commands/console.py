"""The console: what every command shares, so that each ends in results on stdout or one clear sentence on stderr.

Exit 0: all well. 1: a finding says must-not. 2: not done, by the input or by a mistake of the program.
130: stopped from the keyboard.
"""

from __future__ import annotations

import json
import math
import os
import re
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from decimal import Decimal
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from countersunk.model.errors import CountersunkError, InputError
from countersunk.model.files import surprise
from countersunk.model.files.changeover import Changeover, changeover
from countersunk.viewer.commands.start import STOPPED

if TYPE_CHECKING:
    from countersunk.model.catalogue.catalogue import Catalogue
    from countersunk.model.kitchen import Kitchen

EXIT_FINDING = 1
EXIT_INPUT = 2


class Commands(click.Group):
    """All commands, each loaded once it is called, so that help does not wait for what they work with.

    ``homes`` says of each where it is, as ``module:function``, and in a line what it is for. Whatever nobody
    foresaw ends in one sentence and a report, and never in exit 1.
    """

    def __init__(self, *args: Any, homes: Mapping[str, tuple[str, str]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.homes = homes

    def list_commands(self, _: click.Context) -> list[str]:
        return sorted(self.homes)

    def get_command(self, _: click.Context, name: str) -> click.Command | None:
        if name not in self.homes:
            return None
        module, function = self.homes[name][0].split(":")
        command: click.Command = getattr(import_module(f"{__package__}.{module}"), function)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, self.homes[name][1]) for name in self.list_commands(ctx)])

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        for arg in args:
            if not _is_text(arg):
                found, advice = "a byte that is not UTF-8", "rename the file, or set the terminal to UTF-8"
                raise click.UsageError(
                    f"{ascii(arg)[:60]}: found {found}; allowed: UTF-8 text. Try: {advice}.", ctx
                )
        return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit):
            raise
        except (KeyboardInterrupt, click.Abort):
            ctx.exit(STOPPED)
        except Exception as error:
            click.echo(surprise.told(error), err=True)
            ctx.exit(EXIT_INPUT)


def _is_text(arg: str) -> bool:
    return "\0" not in arg and not any("\ud800" <= letter <= "\udfff" for letter in arg)


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


class Number(click.FloatRange):
    """A number in a range; not one that is none, which no bound refuses, and not one without end."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        number = float(super().convert(value, param, ctx))
        if not math.isfinite(number):
            self.fail(f"{value} is no number in the range {self._describe_range()}.", param, ctx)
        return number


class Day(click.DateTime):
    """A day in this millennium, so that days may be counted on from it."""

    FIRST, LAST = 2000, 2999

    def __init__(self) -> None:
        super().__init__(["%Y-%m-%d"])

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        day = super().convert(value, param, ctx)
        if not self.FIRST <= day.year <= self.LAST:
            self.fail(f"{value} is no day from {self.FIRST}-01-01 to {self.LAST}-12-31.", param, ctx)
        return day


class Money(click.ParamType[Decimal]):
    """An amount with at most two decimals, exactly as it was typed."""

    name = "amount"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Decimal:
        if isinstance(value, Decimal):
            return value
        if not re.fullmatch(r"-?\d{1,9}(\.\d{1,2})?", str(value)):
            self.fail(f"{value} is no amount such as 480 or 480.50.", param, ctx)
        return Decimal(value)


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
    from countersunk.model.catalogue.catalogue import load_catalogue

    folder: Path | None = click.get_current_context().meta.get(CATALOGUE)
    return load_catalogue(folder) if folder else None


def opened(file: Path | str) -> Kitchen:
    """The kitchen of a file or demo, by the catalogue that the command was given, else by its own.

    Lengths are shown from now on as the kitchen asks for.
    """
    from countersunk.model.kitchen import open_kitchen
    from countersunk.model.showing import show_lengths

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
    from rich.console import Console

    console = Console(stderr=True)
    with console.status("starting") as status:
        yield lambda text: status.update(text) if console.is_terminal else console.print(text)
