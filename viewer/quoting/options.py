"""Options built and priced: each is the kitchen with its changes, and its difference to the kitchen as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen, build
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report.compare import Comparison, compare
from countersunk.takeoff.report.options import Option

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
        changed = _changed(kitchen, option)
        yield PricedOption(option, changed, compare(base, count(changed)))


def _changed(kitchen: Kitchen, option: Option) -> Kitchen:
    """The changes are made all at once, so that two that need each other may stand in any order."""
    where = f"option '{option.name}'"
    changes = {change.field: change.value for change in option.changes}
    try:
        return build(edited(kitchen.document, changes), kitchen.catalogue)
    except InputError as error:
        raise InputError([replace(p, field=f"{where}, {p.field}") for p in error.problems]) from None
    except (IndexError, KeyError, TypeError, ValueError):
        found = f"'{', '.join(changes)}'"
        raise InputError.at(where, found=found, allowed="fields that the kitchen has") from None
