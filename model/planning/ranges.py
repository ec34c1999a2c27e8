"""Ranges: the families of which layouts are made, and whether a catalogue has them in the sizes that are
planned."""

from __future__ import annotations

from collections.abc import Iterator

from countersunk.model.catalogue.catalogue import Catalogue, default_catalogue
from countersunk.model.errors import InputError

PLANNED = (
    "base-drawers", "base-doors", "base-sink", "base-hob", "base-oven", "base-corner", "dishwasher", "filler",
    "end-panel", "tall-larder", "tall-oven", "tall-fridge", "tall-panel", "wall-doors", "wall-l-corner",
    "wall-filler", "hood",
)  # fmt: skip
"""What layouts are made of."""

SIZES = ("height", "depth", "legs", "bottom")
"""What of a family a layout is reckoned with, besides its widths."""


def check_range(catalogue: Catalogue) -> None:
    """Raises InputError where a catalogue lacks a family, a size or a width that layouts are made of."""
    missing = list(_missing(catalogue))
    if missing:
        raise InputError.at(
            "catalogue",
            found=missing[0] + (f", and {len(missing) - 1} more" if missing[1:] else ""),
            allowed="the families of which layouts are made, in the sizes of the metric catalogue",
            advice="a units.yaml that says adds_to: metric and keeps these, with families of your own beside them",
        )


def _missing(catalogue: Catalogue) -> Iterator[str]:
    for code in PLANNED:
        usual, own = default_catalogue().families[code], catalogue.families.get(code)
        if own is None:
            yield f"no family {code}"
            continue
        differ = [size for size in SIZES if getattr(own, size) != getattr(usual, size)]
        yield from (f"{code} with another {size}, {getattr(own, size):g}" for size in differ)
        yield from (f"{code} without a width of {width:g}" for width in usual.widths if width not in own.widths)
