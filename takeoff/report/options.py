"""Options: a kitchen with some of its fields changed, listed by name in a small file of their own."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from pydantic import Field

from countersunk.model.document.schema import Strict
from countersunk.model.errors import InputError
from countersunk.model.files.strict_yaml import read_checked


class Change(Strict):
    """A field of the kitchen file, such as ``worktop.decor`` or ``runs[0].units[2].width``, and its other value."""

    field: Annotated[str, Field(pattern=r"^[a-z_]+(\[\d{1,2}\])?(\.[a-z_]+(\[\d{1,2}\])?)*$", max_length=120)]
    value: str | float | bool


class Option(Strict):
    """What the customer may choose instead. ``note`` says in plain words what it means."""

    name: Annotated[str, Field(min_length=1, max_length=60)]
    note: Annotated[str, Field(max_length=200)] = ""
    changes: Annotated[tuple[Change, ...], Field(min_length=1, max_length=40)]


class Options(Strict):
    """The file of options."""

    options: Annotated[tuple[Option, ...], Field(min_length=1, max_length=8)]


def load_options(path: Path) -> tuple[Option, ...]:
    """Read and check a file of options. Raises InputError with file and line."""
    return read_checked(path, Options, _check).options


def _check(options: Options) -> None:
    names = [option.name for option in options.options]
    for i, name in enumerate(names):
        if name in names[:i]:
            raise InputError.at(f"options[{i}].name", found=f"'{name}' twice", allowed="each name once")
