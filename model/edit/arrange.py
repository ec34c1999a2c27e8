"""Arrange: units and rows put elsewhere in a document, and whatever names them put right with them.

Units without a name of their own are called by their places (``B3`` is the third on wall B), so that a unit that
moves is called otherwise; cut-outs and shaped corners over it follow it. What lay over a unit that is gone goes
with it. Nothing is built here: whether the new arrangement has room is found by `model.kitchen.build`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from countersunk.model.catalogue.family import Family
from countersunk.model.document.schema import Document, Island, Peninsula, Run, Unit
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError

Row = Run | Island | Peninsula
Plain = Mapping[str, Any]
"""A unit as plain fields, as they stand in a file."""

Standing = tuple[int | None, Plain]
"""A unit, and where in its row it stood before; None for one that is new."""

Places = Mapping[str, Sequence[int | None]]
"""For each row by its field: which of its former units stands where now, None for one that is new."""

ROWS = ("runs", "islands", "peninsulas")

EMPTY: Mapping[str, Sequence[Unit]] = {}


def rows(document: Document) -> dict[str, Row]:
    """Every row of units by its field, such as ``runs[0]``, in the order in which the layout places them."""
    return {f"{kind}[{i}]": row for kind in ROWS for i, row in enumerate(getattr(document, kind))}


def unit_names(document: Document, instead: Mapping[str, Sequence[Unit]] = EMPTY) -> dict[str, list[str]]:
    """What the layout calls each unit, by the field of its row; ``instead`` has other units for some rows."""
    counts: Counter[str] = Counter()
    return {field: _names(row, instead.get(field, row.units), counts) for field, row in rows(document).items()}


def _names(row: Row, units: Sequence[Unit], counts: Counter[str]) -> list[str]:
    prefix = _prefix(row)
    first = counts[prefix] + 1
    if isinstance(row, Run):
        counts[prefix] += len(units)
    return [unit.name or f"{prefix}{i}" for i, unit in enumerate(units, start=first)]


def _prefix(row: Row) -> str:
    if isinstance(row, Run):
        return row.wall if row.level == "floor" else f"{row.wall}U"
    return row.name


def rearranged(document: Document, field: str, units: Sequence[Standing]) -> Document:
    """The row at ``field`` holds these units now, each with the place where it stood before.

    Raises InputError where none is left, or for a unit that the schema refuses.
    """
    if not units:
        raise InputError.at(f"{field}.units", found="none", allowed="a unit at least", advice="take out the row")
    changed = edited(document, {f"{field}.units": tuple(unit for _, unit in units)})
    return _followed(document, changed, {field: [was for was, _ in units]})


def standing(row: Row) -> list[Standing]:
    """The units of a row as they stand, as plain fields."""
    return list(enumerate(unit.model_dump(exclude_unset=True) for unit in row.units))


def moved(document: Document, field: str, at: int, by: int) -> Document:
    """The unit at a place of a row, ``by`` places further right; it stops at the row's ends."""
    units = standing(rows(document)[field])
    units.insert(max(0, at + by), units.pop(at))
    return rearranged(document, field, units)


def swapped(document: Document, field: str, one: int, other: int) -> Document:
    """Two units of a row in each other's places."""
    units = standing(rows(document)[field])
    units[one], units[other] = units[other], units[one]
    return rearranged(document, field, units)


def replaced(document: Document, field: str, at: int, unit: Plain) -> Document:
    """Another unit in the place of one; what lies over the place stays."""
    units = standing(rows(document)[field])
    units[at] = (at, unit)
    return rearranged(document, field, units)


def inserted(document: Document, field: str, at: int, unit: Plain) -> Document:
    """A new unit before the one at a place."""
    units = standing(rows(document)[field])
    return rearranged(document, field, [*units[:at], (None, unit), *units[at:]])


def without_unit(document: Document, field: str, at: int) -> Document:
    """A row without one of its units, nor what lay over that."""
    units = standing(rows(document)[field])
    return rearranged(document, field, [*units[:at], *units[at + 1 :]])


def as_family(family: Family, former: Plain, width: float = 600.0) -> Plain:
    """A unit of a family, as much like a former one as the family comes; ``width`` (mm) where that has none."""
    wished = former.get("width", width)
    made = {key: former[key] for key in ("name", "hand") if key in former}
    if family.wings:
        made["wing"] = min(family.wings, key=lambda wing: abs(wing - former.get("wing", family.wings[0])))
    if family.widths:
        return {"unit": family.code, **made, "width": min(family.widths, key=lambda w: abs(w - wished))}
    if family.width_range:
        low, high = family.width_range
        return {"unit": family.code, **made, "width": min(max(wished, low), high)}
    return {"unit": family.code, **made}


def row_changed(document: Document, field: str, fields: Plain) -> Document:
    """A row with other fields than its units, such as its wall or start."""
    units = tuple(unit for _, unit in standing(rows(document)[field]))
    return _followed(document, edited(document, {field: {**fields, "units": units}}), {})


def with_row(document: Document, kind: str, row: Plain) -> Document:
    """One more run, island or peninsula, as plain fields; ``kind`` is the list that it joins."""
    held = tuple(r.model_dump(exclude_unset=True) for r in getattr(document, kind))
    return edited(document, {kind: (*held, row)})


def without_row(document: Document, field: str) -> Document:
    """A document without one row, its cut-outs, the joins in line that were on it."""
    kind, i = field.rstrip("]").split("[")
    gone = rows(document)[field]
    kept = [row for j, row in enumerate(getattr(document, kind)) if j != int(i)]
    if kind == "runs" and not kept:
        raise InputError.at("runs", found="none", allowed="a run at least", advice="add another run first")
    changed = edited(document, {kind: tuple(row.model_dump(exclude_unset=True) for row in kept)})
    left = _followed(document, changed, {field: []}, shifted=(kind, int(i)))
    return _without_joins(left, _prefix(gone))


def _without_joins(document: Document, name: str) -> Document:
    """No join names a wall or an island on which no top lies any more."""
    if any(_prefix(row) == name for row in rows(document).values()):
        return document
    top = document.worktop
    joins = [join for join in top.joins if name not in join.corner.split("-")]
    in_line = [join for join in top.in_line if join.run != name]
    return edited(document, {"worktop.joins": _plain(joins), "worktop.in_line": _plain(in_line)})


def _followed(before: Document, after: Document, places: Places, shifted: tuple[str, int] = ("", 0)) -> Document:
    """What names units by their old names has their new ones; what named a unit that is gone is taken out."""
    names = _renamed(before, after, places, shifted)
    cutouts = [_over(item, names) for item in before.cutouts if item.over in names or item.over not in _all(before)]
    top = before.worktop.corners
    corners = [_over(item, names) for item in top if item.over in names or item.over not in _all(before)]
    return edited(after, {"cutouts": _plain(cutouts), "worktop.corners": _plain(corners)})


def _renamed(before: Document, after: Document, places: Places, shifted: tuple[str, int]) -> dict[str, str]:
    """New names by old ones, of every unit that is still there."""
    old, new = unit_names(before), unit_names(after)
    found = {}
    for field, names in old.items():
        now = new.get(_field_after(field, *shifted), [])
        stood = places.get(field, range(len(names)))
        found.update({names[was]: name for was, name in zip(stood, now, strict=False) if was is not None})
    return found


def _field_after(field: str, kind: str, gone: int) -> str:
    """The field of a row once row ``gone`` of a kind is taken out."""
    name, i = field.rstrip("]").split("[")
    return f"{name}[{int(i) - 1}]" if name == kind and int(i) > gone else field


def _all(document: Document) -> set[str]:
    return {name for names in unit_names(document).values() for name in names}


def _over(item: Any, names: Mapping[str, str]) -> dict[str, Any]:
    plain: dict[str, Any] = item.model_dump(exclude_unset=True)
    return {**plain, "over": names.get(item.over, item.over)}


def _plain(items: Iterable[Any]) -> tuple[dict[str, Any], ...] | None:
    """As `edited` takes lists; None, which takes the field out, for an empty one."""
    made = tuple(i if isinstance(i, dict) else i.model_dump(exclude_unset=True) for i in items)
    return made or None
