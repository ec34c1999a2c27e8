"""The console: what every command shares, so that each ends in results on stdout or one clear sentence on stderr.

Exit 0: all well. 1: a finding says must-not. 2: the input is at fault.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import click
from rich.console import Console

from countersunk.model.errors import CountersunkError, InputError

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
            click.echo(f"not done: {error.filename or 'file'}: {error.strerror or error}", err=True)
            ctx.exit(EXIT_INPUT)


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
