"""Arrange: units and rows put elsewhere in a document, and rows split.

What lies over a unit knows it by its key and so moves with it; what lay over a unit that is gone goes with it. A
shaped corner stays at its end of the row. Nothing is built here: whether the new arrangement has room is found by
`model.kitchen.build`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from countersunk.model.catalogue.family import Family
from countersunk.model.document.keys import ROWS, fresh_keys
from countersunk.model.document.schema import Document, Island, Peninsula, Run
from countersunk.model.edit.edits import edited
from countersunk.model.errors import InputError
from countersunk.model.ties import least

Row = Run | Island | Peninsula
Plain = Mapping[str, Any]
"""A unit as plain fields, as they stand in a file."""

Changes = tuple[tuple[str, Any], ...]
"""Fields with their new values, as `edited` takes them."""


STARTS = 3
"""Decimals of a millimetre in where the parts of a split row start."""


def rows(document: Document) -> dict[str, Row]:
    """Every row of units by its field, such as ``runs[0]``, in the order in which the layout places them."""
    return {f"{kind}[{i}]": row for kind in ROWS for i, row in enumerate(getattr(document, kind))}


def order_changes(document: Document, field: str, units: Sequence[Plain]) -> Changes:
    """The changes after which the row at ``field`` holds these units; shaped corners stay at the row's ends."""
    fresh = fresh_keys(document, "u")
    placed = tuple(unit if "key" in unit else {**unit, "key": next(fresh)} for unit in units)
    were = rows(document)[field].units
    ends = {(were[0].key, "left"): placed[0]["key"], (were[-1].key, "right"): placed[-1]["key"]}
    corners = [(i, c.over, ends.get((c.over, c.end), c.over)) for i, c in enumerate(document.worktop.corners)]
    moved = ((f"worktop.corners[{i}].over", now) for i, was, now in corners if now != was)
    return ((f"{field}.units", placed), *moved)


def rearranged(document: Document, field: str, units: Sequence[Plain]) -> Document:
    """The row at ``field`` holds these units now; a unit without a key is new.

    Raises InputError where none is left, or for a unit that the schema refuses.
    """
    if not units:
        raise InputError.at(f"{field}.units", found="none", allowed="a unit at least", advice="take out the row")
    return _tidied(document, edited(document, dict(order_changes(document, field, units))))


def standing(row: Row) -> list[Plain]:
    """The units of a row as they stand, as plain fields."""
    return [unit.model_dump(exclude_unset=True) for unit in row.units]


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
    """Another unit in the place of one, whose key it takes over; what lies over the place stays."""
    units = standing(rows(document)[field])
    units[at] = {**unit, "key": units[at]["key"]}
    return rearranged(document, field, units)


def inserted(document: Document, field: str, at: int, unit: Plain) -> Document:
    """A new unit before the one at a place."""
    units = standing(rows(document)[field])
    return rearranged(document, field, [*units[:at], unit, *units[at:]])


def without_unit(document: Document, field: str, at: int) -> Document:
    """A row without one of its units, nor what lay over that."""
    units = standing(rows(document)[field])
    return rearranged(document, field, [*units[:at], *units[at + 1 :]])


def as_family(family: Family, former: Plain, width: float = 600.0) -> Plain:
    """A unit of a family, as much like a former one as the family comes; ``width`` (mm) where that has none."""
    wished = former.get("width", width)
    made = {key: former[key] for key in ("key", "name", "hand", "fronts", "style", "handle") if key in former}
    if family.wings:
        made["wing"] = least(family.wings, key=lambda wing: abs(wing - former.get("wing", family.wings[0])))
    if family.widths:
        return {"unit": family.code, **made, "width": least(family.widths, key=lambda w: abs(w - wished))}
    if family.width_range:
        low, high = family.width_range
        return {"unit": family.code, **made, "width": min(max(wished, low), high)}
    return {"unit": family.code, **made}


def row_changed(document: Document, field: str, fields: Plain) -> Document:
    """A row with other fields than its units and its key, such as its wall or start.

    Joins in line on an island or a peninsula follow when that is given another name.
    """
    row = rows(document)[field]
    changes: dict[str, Any] = {field: {**fields, "key": row.key, "units": tuple(standing(row))}}
    if not isinstance(row, Run) and fields["name"] != row.name:
        on_it = [i for i, join in enumerate(document.worktop.in_line) if join.run == row.name]
        changes |= {f"worktop.in_line[{i}].run": fields["name"] for i in on_it}
    return edited(document, changes)


def split(document: Document, field: str, at: int, starts: tuple[float, float]) -> Document:
    """The run at ``field`` in two, the second from the unit at place ``at`` on; every unit keeps its key.

    ``starts`` are where the first unit of either part stands then, mm along the wall; where it stands now, nothing
    moves.
    Raises InputError for an island or a peninsula, and at the row's ends, where there is nothing to split.
    """
    row = rows(document)[field]
    if not isinstance(row, Run):
        raise InputError.at(field, found=f"{row.name}, which stands free", allowed="a row along a wall")
    if not 0 < at < len(row.units):
        found = f"a split before unit {at + 1}"
        raise InputError.at(f"{field}.units", found=found, allowed=f"2 to {len(row.units)}")
    units, index = standing(row), int(field.rstrip("]").split("[")[1])
    left, right = (round(start, STARTS) for start in starts)
    first = {**row.model_dump(exclude_unset=True), "start": left, "units": tuple(units[:at])}
    second = {**first, "start": right, "units": tuple(units[at:]), "key": next(fresh_keys(document, "r"))}
    if "returns" in first:
        ends = {"left": ("left", "none"), "right": ("none", "right"), "both": ("left", "right")}
        first["returns"], second["returns"] = ends.get(row.returns, ("none", "none"))
    runs = [run.model_dump(exclude_unset=True) for run in document.runs]
    return edited(document, {"runs": (*runs[:index], first, second, *runs[index + 1 :])})


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
    return _without_joins(_tidied(document, changed), gone.wall if isinstance(gone, Run) else gone.name)


def _without_joins(document: Document, name: str) -> Document:
    """No join names a wall or an island on which no top lies any more."""
    covered = (row.wall if isinstance(row, Run) else row.name for row in rows(document).values() if _has_top(row))
    if name in covered:
        return document
    top = document.worktop
    joins = [join for join in top.joins if name not in join.corner.split("-")]
    in_line = [join for join in top.in_line if join.run != name]
    return edited(document, {"worktop.joins": _plain(joins), "worktop.in_line": _plain(in_line)})


def _has_top(row: Row) -> bool:
    return not isinstance(row, Run) or row.level == "floor"


def _tidied(before: Document, after: Document) -> Document:
    """The document without what lay over units that are gone."""
    gone = _keys(before) - _keys(after)
    cutouts = [item for item in after.cutouts if item.over not in gone]
    corners = [item for item in after.worktop.corners if item.over not in gone]
    if (len(cutouts), len(corners)) == (len(after.cutouts), len(after.worktop.corners)):
        return after
    return edited(after, {"cutouts": _plain(cutouts), "worktop.corners": _plain(corners)})


def _keys(document: Document) -> set[str]:
    return {unit.key for row in rows(document).values() for unit in row.units}


def _plain(items: Iterable[Any]) -> tuple[dict[str, Any], ...] | None:
    """As `edited` takes lists; None, which takes the field out, for an empty one."""
    made = tuple(i if isinstance(i, dict) else i.model_dump(exclude_unset=True) for i in items)
    return made or None
