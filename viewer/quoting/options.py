"""Options built and priced: each is the kitchen with its changes, and its difference to the kitchen as it is.

What a customer may tick together is built and priced together, so that what is ticked is what it costs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from countersunk.model.checks import check
from countersunk.model.checks.accepted import refuse_unmet
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.kitchen import Kitchen, build
from countersunk.takeoff.counting.pricing import Totals
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.report.compare import Comparison, compare
from countersunk.takeoff.report.options import Change, Option

Count = Callable[[Kitchen], Takeoff]


@dataclass(frozen=True)
class PricedOption:
    """An option, the kitchen that it makes, and what it costs more or less."""

    option: Option
    kitchen: Kitchen
    comparison: Comparison


@dataclass(frozen=True)
class Version:
    """A kitchen that can be ordered: its options, and what it comes to; None and ``why`` if it cannot be had."""

    options: tuple[Option, ...]
    totals: Totals | None
    why: str = ""

    @property
    def gross(self) -> Decimal | None:
        """Its price with tax."""
        return self.totals.gross if self.totals else None

    @property
    def net(self) -> Decimal | None:
        """Its price without tax."""
        return self.totals.net if self.totals else None

    @property
    def name(self) -> str:
        """``Rain slate with A deeper top``; as quoted where nothing is ticked."""
        return " with ".join(option.name for option in self.options) or "As quoted"


@dataclass(frozen=True)
class OfferedVersions:
    """What a customer may choose: ``options``, each shown by itself, and every version that can be ordered."""

    options: Sequence[PricedOption] = ()
    versions: Sequence[Version] = ()

    @classmethod
    def each_alone(cls, base: Takeoff, options: Sequence[PricedOption]) -> OfferedVersions:
        """Options of which one at most is had."""
        alone = [Version((option.option,), option.comparison.after.totals) for option in options]
        return cls(options, [Version((), base.totals), *alone])


NO_OPTIONS = OfferedVersions()
"""Nothing to choose."""


def priced(kitchen: Kitchen, base: Takeoff, options: Iterable[Option], count: Count) -> Iterator[PricedOption]:
    """Every option built and counted. Raises InputError that names the option for a change that cannot be made."""
    for option in options:
        changed = _changed(kitchen, (option,))
        yield PricedOption(option, changed, compare(base, count(changed)))


def versions(
    kitchen: Kitchen, base: Takeoff, alone: Sequence[PricedOption], sets: Iterable[tuple[Option, ...]], count: Count
) -> list[Version]:
    """Every set of options as a kitchen of its own with its price, or why its options cannot be had together.

    ``alone`` are those priced already, each by itself.
    """
    known = {option.option.name: option.comparison.after.totals for option in alone}
    found = []
    for options in sets:
        if len(options) < 2:
            found.append(Version(options, known[options[0].name] if options else base.totals))
        else:
            found.append(_together(kitchen, options, count))
    return found


def _together(kitchen: Kitchen, options: tuple[Option, ...], count: Count) -> Version:
    clash = _clash(change for option in options for change in option.changes)
    if clash:
        return Version(options, None, f"both change {clash}")
    try:
        made = _changed(kitchen, options)
        refuse_unmet(made, check(made))
    except InputError as error:
        return Version(options, None, str(error.problems[0]))
    return Version(options, count(made).totals)


def _clash(changes: Iterable[Change]) -> str:
    """The first field that is given two values; nothing where none is."""
    given: dict[str, object] = {}
    for change in changes:
        if given.setdefault(change.field, change.value) != change.value:
            return change.field
    return ""


def _changed(kitchen: Kitchen, options: Sequence[Option]) -> Kitchen:
    """The changes are made all at once, so that two that need each other may stand in any order."""
    where = " and ".join(f"option '{option.name}'" for option in options)
    changes = {change.field: change.value for option in options for change in option.changes}
    try:
        return build(edited(kitchen.document, changes), kitchen.catalogue)
    except InputError as error:
        raise InputError([replace(p, field=f"{where}, {p.field}") for p in error.problems], error.more) from None
    except (IndexError, KeyError, TypeError, ValueError):
        found = f"'{', '.join(changes)}'"
        raise InputError.at(where, found=found, allowed="fields that the kitchen has") from None
