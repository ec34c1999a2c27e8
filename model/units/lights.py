"""Lights under wall units: profiles along the rows of a run, and the driver that feeds them all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from shapely import box as rectangle

from countersunk.model.errors import InputError
from countersunk.model.geometry.identity import ONLY, PartKey, Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.layout.placing import PlacedRun, PlacedUnit

FROM_END = 20.0
"""A profile ends so far before the ends of its row, mm (common practice, no source)."""

BEHIND_FRONT = 40.0
"""From the front of the carcass to the profile, mm: light falls on the top and not in the eyes."""

DRIVER = (160.0, 45.0, 22.0)
"""Length, depth and height of a driver, mm (common practice, no source)."""

BEFORE_WALL = 30.0
"""From the back of the units to the driver, mm, so that its cable bends."""


@dataclass(frozen=True)
class Lit:
    """What shines under a run. ``rows`` are neighbours with one profile along them; ``watts`` is what they take in
    all, ``driver`` what the driver is sold for, W.
    """

    rows: tuple[tuple[PlacedUnit, ...], ...]
    length: float
    watts: float
    driver: float


def lit(run: PlacedRun) -> Lit | None:
    """What shines under a run; None for one without lights.

    Raises InputError where nothing is there to light, or no driver of the catalogue feeds it.
    """
    light = run.light
    if light is None:
        return None
    groups = [(key, tuple(units)) for key, units in groupby(run.units, _lights_from)]
    rows = tuple(units for key, units in groups if key is not None and _long(units) > 0.0)
    length = sum(map(_long, rows))
    watts = length / 1000 * light.watts
    driver = light.driver(watts)
    if not rows or driver is None:
        most = max(light.drivers) * (1 - light.spare)
        found = f"{watts:.1f} W under {length:.0f} of wall units" if rows else "lights under no wall unit"
        allowed = f"at most {most:g} W, so that a driver keeps {light.spare:.0%}" if rows else "a row of wall units"
        raise InputError.at(
            f"{run.field}.lights", found=found, allowed=allowed, advice="part the run, or leave it out"
        )
    return Lit(rows, length, watts, driver)


def lights(run: PlacedRun) -> Iterator[Part]:
    """The profiles and the driver of a run with lights."""
    light, found = run.light, lit(run)
    if light is None or found is None:
        return
    for row in found.rows:
        first = row[0]
        y = first.family.depth - BEHIND_FRONT - light.width
        yield Part(
            key=PartKey(first.key, Role.LIGHT, ONLY), called=first.name, layer=Layer.HARDWARE,
            material=light.profile, outline=rectangle(0.0, 0.0, _long(row), light.width), thickness=light.height,
            pose=first.frame.moved(FROM_END, y, first.family.base - light.height),
        )  # fmt: skip
    row = found.rows[0]
    first, (long, deep, high) = row[0], DRIVER
    x = (row[-1].right - first.x - long) / 2
    yield Part(
        key=PartKey(first.key, Role.DRIVER, ONLY), called=first.name, layer=Layer.HARDWARE,
        material=f"driver.{found.driver:g}", outline=rectangle(0.0, 0.0, long, deep), thickness=high,
        pose=first.frame.moved(x, BEFORE_WALL, first.family.base - high),
    )  # fmt: skip


def _lights_from(unit: PlacedUnit) -> tuple[float, float] | None:
    """The height and depth at which a unit is lit from, which a row has in common; None for what is not.

    An open end is not: its pelmet turns across the place of the profile.
    """
    family = unit.family
    lights_up = family.kind.is_unit and not (family.on_top or family.kind.on_brackets or family.kind.closes_row)
    return (family.base, family.depth) if lights_up else None


def _long(row: tuple[PlacedUnit, ...]) -> float:
    return row[-1].right - row[0].x - 2 * FROM_END
