"""Wording: the words of a place, made from its values with the names that things have today. For people only."""

from __future__ import annotations

from collections.abc import Sequence

from countersunk.model.checks.finding import Stop, Where
from countersunk.model.checks.things import Sort, Thing, marks, units_by_thing
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import PlacedUnit
from countersunk.model.ties import settled


def in_words(kitchen: Kitchen, where: Where) -> str:
    """A place as people read it, such as "hob, left: tall unit A1"."""
    named = marks(kitchen)
    values: dict[str, object] = {figure.what.value: settled(figure.value) for figure in where.figures}
    values |= {
        "subject": named[where.subject],
        "side": where.side or "",
        "against": _mark(kitchen, where.against),
        "what": _what(kitchen, where.against),
        "facing": f" to {_mark(kitchen, where.against)}" if where.against else where.note,
        **_listed([named[thing] for thing in where.more]),
        "note": where.note,
    }
    return where.phrase.format_map(values)


def names_of(kitchen: Kitchen, things: tuple[Thing, ...]) -> tuple[str, ...]:
    """The names of several things."""
    named = marks(kitchen)
    return tuple(named[thing] for thing in things)


def _listed(names: Sequence[str]) -> dict[str, str]:
    """Further names as phrases ask for them."""
    if not names:
        return {"more": "", "span": "", "first": "", "then": ""}
    span = names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}"
    then = f" to {names[1]}" if len(names) > 1 else ""
    return {"more": ", ".join(names), "span": span, "first": names[0], "then": then}


def _mark(kitchen: Kitchen, against: Thing | Stop | None) -> str:
    return marks(kitchen)[against] if isinstance(against, Thing) else against or ""


def _what(kitchen: Kitchen, against: Thing | Stop | None) -> str:
    """A name with what it is, where that is a unit: nobody knows from "B4" that it is tall."""
    if isinstance(against, Thing) and against.sort is Sort.UNIT:
        unit = units_by_thing(kitchen)[against]
        return f"{_sort_of(unit)} {unit.name}"
    return _mark(kitchen, against)


def _sort_of(unit: PlacedUnit) -> str:
    """What a unit beside or above something is."""
    if any(appliance.draws for appliance in unit.family.appliances):
        return unit.family.name
    if unit.family.cooks_with:
        return "cooker"
    return "wall unit" if unit.family.level == "upper" else "tall unit"
