"""Options: a kitchen with some of its fields changed, listed by name in a small file of their own.

Options of one *choice* exclude each other: exactly one of them is had, or what the kitchen file says. All others
may be had together, as far as what they change can stand together.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import prod
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


class OneOf(Strict):
    """Options of which one at most is had, such as the colours of the fronts; ``name`` says what is chosen."""

    name: Annotated[str, Field(min_length=1, max_length=60)]
    options: Annotated[tuple[Option, ...], Field(min_length=1, max_length=8)]


class Options(Strict):
    """The file of options: ``choices`` between some, and ``options`` each of which may be had beside any other."""

    options: Annotated[tuple[Option, ...], Field(max_length=8)] = ()
    choices: Annotated[tuple[OneOf, ...], Field(max_length=6)] = ()

    @property
    def every(self) -> tuple[Option, ...]:
        """All of them, those of the choices first."""
        return (*(option for choice in self.choices for option in choice.options), *self.options)

    def together(self) -> Iterator[tuple[Option, ...]]:
        """Every set of options that may be ticked, from none to all, in a stated order: fewest first.

        Where there are more than `MOST` sets, options exclude each other, and each is a set of its own.
        """
        ways = [(None, *choice.options) for choice in self.choices] + [(None, option) for option in self.options]
        if prod(map(len, ways)) > MOST:
            return iter([(), *((option,) for option in self.every)])
        found = (tuple(option for option in way if option) for way in product(*ways))
        return iter(sorted(found, key=len))


MOST = 32
"""So many sets of options are priced; a customer cannot read more."""


def load_options(path: Path) -> Options:
    """Read and check a file of options. Raises InputError with file and line."""
    return read_checked(path, Options, _check)


def _check(options: Options) -> None:
    if not options.every:
        raise InputError.at("options", found="none", allowed="at least one, under options or choices")
    fields = [
        *(f"choices[{i}].options[{j}]" for i, c in enumerate(options.choices) for j, _ in enumerate(c.options)),
        *(f"options[{i}]" for i, _ in enumerate(options.options)),
    ]
    names = [option.name for option in options.every]
    for i, (name, field) in enumerate(zip(names, fields, strict=True)):
        if name in names[:i]:
            raise InputError.at(f"{field}.name", found=f"'{name}' twice", allowed="each name once")
