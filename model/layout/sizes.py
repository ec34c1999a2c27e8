"""Sizes: width, depth, height and wing of a unit, as its family has them or to size."""

from __future__ import annotations

from collections.abc import Sequence

from countersunk.model.catalogue.catalogue import Family
from countersunk.model.catalogue.method import Method, heights
from countersunk.model.document.schema import Unit
from countersunk.model.errors import InputError

NARROWEST, WIDEST = 100.0, 1_500.0
"""Widths of a carcass made to size, mm: common practice, no source."""

BEHIND_DRAWER = 20.0
"""What stays free behind a drawer's box with the back, mm: common practice, no source."""

Sizes = tuple[tuple[float, ...], tuple[float, ...]]
"""Widths and wings of the units of a run, mm."""


def sizes(units: tuple[Unit, ...], families: Sequence[Family], field: str) -> Sizes:
    """Of every unit of a run. Raises InputError for a size that its family has not; ``field`` is the run's."""
    fields = [f"{field}.units[{i}]" for i in range(len(units))]
    return tuple(map(_width, units, families, fields)), tuple(map(_wing, units, families, fields))


def _width(unit: Unit, family: Family, field: str) -> float:
    to_size = is_to_size(unit, family, field)
    if unit.width is None and len(family.widths) == 1:
        return family.widths[0]
    if unit.width is None and family.width_range and family.width_range[0] == family.width_range[1]:
        return family.width_range[0]
    low, high = family.width_range or (0.0, 0.0)
    if unit.width is not None and (family.any_width or unit.width in family.widths or low <= unit.width <= high):
        return unit.width
    if unit.width is not None and to_size:
        if NARROWEST <= unit.width <= WIDEST:
            return unit.width
        low, high = NARROWEST, WIDEST
        raise InputError.at(f"{field}.width", found=f"{unit.width:g}", allowed=f"to size: {low:g} to {high:g}")
    allowed = ", ".join(f"{w:g}" for w in family.widths) or f"{low:g} to {high:g}"
    found = "nothing" if unit.width is None else f"{unit.width:g}"
    advice = "to_size: true for another" if family.kind.to_size and not family.appliances else ""
    raise InputError.at(f"{field}.width", found=found, allowed=f"for {family.code}: {allowed}", advice=advice)


def is_to_size(unit: Unit, family: Family, field: str) -> bool:
    """Whether a unit is made to size. Raises InputError for one that cannot be: an appliance's, a corner's."""
    if unit.to_size and (not family.kind.to_size or family.appliances):
        found, allowed = f"true for {family.code}", "only for a carcass without an appliance or a corner"
        raise InputError.at(f"{field}.to_size", found=found, allowed=allowed)
    return unit.to_size


def of_size(family: Family, unit: Unit, method: Method, field: str) -> Family:
    """The family of a unit, as deep and as high as it is typed. Raises InputError where it cannot be."""
    typed = {name: size for name, size in (("depth", unit.depth), ("height", unit.height)) if size is not None}
    for name, size in typed.items():
        if not is_to_size(unit, family, field):
            raise InputError.at(f"{field}.{name}", found=f"{size:g}", allowed="with to_size: true, or left out")
    if unit.depth is not None:
        _check_depth(family, unit.depth, method, field)
    if unit.height is not None:
        heights(family.openings, unit.height, f"{field}.height")
    return family.model_copy(update=typed) if typed else family


def off_grid(unit: Unit) -> str:
    """What the code of a unit says of the depth and height that were typed for it: ``.d280.h900``, or nothing."""
    typed = (("d", unit.depth), ("h", unit.height))
    return "".join(f".{mark}{size:g}" for mark, size in typed if size is not None)


def _check_depth(family: Family, depth: float, method: Method, field: str) -> None:
    """A drawer's box finds room before the back. Raises InputError."""
    if any(bay.holds in ("drawer", "pull-out", "bins") for bay in family.openings):
        least = method.drawer_depth + BEHIND_DRAWER
        if depth < least:
            allowed, advice = f"{least:g} or more before a drawer", "a method with shorter drawers"
            raise InputError.at(f"{field}.depth", found=f"{depth:g}", allowed=allowed, advice=advice)


def _wing(unit: Unit, family: Family, field: str) -> float:
    """How far a corner unit goes along the other wall; the first that the family has unless it is said."""
    if unit.wing is None or unit.wing in family.wings:
        return unit.wing or next(iter(family.wings), 0.0)
    allowed = ", ".join(f"{w:g}" for w in family.wings) or "none"
    raise InputError.at(f"{field}.wing", found=f"{unit.wing:g}", allowed=f"for {family.code}: {allowed}")
