"""Sizes: width and wing of a unit as its family has them."""

from __future__ import annotations

from collections.abc import Sequence

from countersunk.model.catalogue.catalogue import Family
from countersunk.model.document.schema import Unit
from countersunk.model.errors import InputError

Sizes = tuple[tuple[float, ...], tuple[float, ...]]
"""Widths and wings of the units of a run, mm."""


def sizes(units: tuple[Unit, ...], families: Sequence[Family], field: str) -> Sizes:
    """Of every unit of a run. Raises InputError for a size that its family has not; ``field`` is the run's."""
    fields = [f"{field}.units[{i}]" for i in range(len(units))]
    return tuple(map(_width, units, families, fields)), tuple(map(_wing, units, families, fields))


def _width(unit: Unit, family: Family, field: str) -> float:
    if unit.width is None and len(family.widths) == 1:
        return family.widths[0]
    if unit.width is None and family.width_range and family.width_range[0] == family.width_range[1]:
        return family.width_range[0]
    low, high = family.width_range or (0.0, 0.0)
    if unit.width is not None and (family.any_width or unit.width in family.widths or low <= unit.width <= high):
        return unit.width
    allowed = ", ".join(f"{w:g}" for w in family.widths) or f"{low:g} to {high:g}"
    found = "nothing" if unit.width is None else f"{unit.width:g}"
    raise InputError.at(f"{field}.width", found=found, allowed=f"for {family.code}: {allowed}")


def _wing(unit: Unit, family: Family, field: str) -> float:
    """How far a corner unit goes along the other wall; the first that the family has unless it is said."""
    if unit.wing is None or unit.wing in family.wings:
        return unit.wing or next(iter(family.wings), 0.0)
    allowed = ", ".join(f"{w:g}" for w in family.wings) or "none"
    raise InputError.at(f"{field}.wing", found=f"{unit.wing:g}", allowed=f"for {family.code}: {allowed}")
