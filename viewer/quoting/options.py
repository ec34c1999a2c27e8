"""Options built and priced: each is the kitchen with its changes, and its difference to the kitchen as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from model.document import Document
from model.errors import InputError
from model.kitchen import Kitchen, build
from takeoff.compare import Comparison, compare
from takeoff.options import Option
from takeoff.takeoff import Takeoff
from viewer.edits import edited

Count = Callable[[Kitchen], Takeoff]


@dataclass(frozen=True)
class PricedOption:
    """An option, the kitchen that it makes, and what it costs more or less."""

    option: Option
    kitchen: Kitchen
    comparison: Comparison


def priced(kitchen: Kitchen, base: Takeoff, options: Iterable[Option], count: Count) -> Iterator[PricedOption]:
    """Every option built and counted. Raises InputError that names the option for a change that cannot be made."""
    for option in options:
        changed = build(_changed(kitchen.document, option), kitchen.catalogue)
        yield PricedOption(option, changed, compare(base, count(changed)))


def _changed(document: Document, option: Option) -> Document:
    where = f"option '{option.name}'"
    for change in option.changes:
        try:
            document = edited(document, {change.field: change.value})
        except InputError as error:
            raise InputError([replace(p, field=f"{where}, {p.field}") for p in error.problems]) from None
        except (IndexError, KeyError, TypeError, ValueError):
            raise InputError.at(where, found=f"'{change.field}'", allowed="a field of the kitchen") from None
    return document
