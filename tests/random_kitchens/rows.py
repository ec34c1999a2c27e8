"""Rows by lot: units side by side that fill a stretch of wall, as a designer would put them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from countersunk.model.catalogue.catalogue import Catalogue, Family, default_catalogue, inch_catalogue
from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data

PLAIN = ("box", "drawers", "oven", "appliance", "front-sink", "boiler-housing")
ENDS = ("open-end", "knee-space")

Interval = tuple[float, float]


@dataclass(frozen=True)
class Kit:
    """A catalogue with the families that go to each place, and the sizes that placing units needs, mm."""

    name: str
    catalogue: Catalogue
    overhangs: tuple[float, ...]
    stocks: tuple[str, ...]
    wide: tuple[str, ...]

    def families(self, level: str, *constructions: str, top: bool = True) -> list[Family]:
        """Those of some constructions; on the floor those that carry a top, or do not."""
        own = (f for f in self.catalogue.families.values() if f.level == level and not f.on_tall)
        return [f for f in own if f.construction in constructions and (level == "upper" or f.carries_top == top)]

    def one(self, level: str, construction: str) -> Family | None:
        """The first family of a construction."""
        return next(iter(self.families(level, construction)), None)

    @property
    def front(self) -> float:
        """Thickness of a front."""
        return self.catalogue.unit_boards.front.thickness

    def depth(self, level: str = "floor") -> float:
        """From the back of an ordinary unit to its front."""
        return self.families(level, "box")[0].depth + self.front


@lru_cache(maxsize=2)
def kit(name: str) -> Kit:
    """The metric one, or that in inches."""
    if name == "inch":
        return Kit(name, inch_catalogue(), (12.7, 0.0, 6.35), ("pf-25.5in", "sq-26in"), ("sq-26in",))
    stocks = ("pf38.600", "pf38.616", "sq40.650", "pf38.670", "solid30.650")
    return Kit(name, default_catalogue(), (20.0, 0.0, 8.0, 22.0), stocks, ("pf38.670", "pf38.900", "sq40.650"))


@dataclass(frozen=True)
class Row:
    """A run with the place that it is to have. Without ``told`` its start is left to the program."""

    wall: str
    start: float
    units: tuple[Data, ...]
    level: str = "floor"
    told: bool = True
    extras: Data = field(default_factory=dict)

    @property
    def end(self) -> float:
        """Its right end along the wall, mm."""
        return self.start + length(self.units)

    def places(self) -> Iterator[tuple[Data, Interval]]:
        """Every unit and from where to where it stands, mm."""
        x = self.start
        for unit in self.units:
            yield unit, (x, x + unit["width"])
            x += unit["width"]

    @property
    def data(self) -> Data:
        """As it stands in a document."""
        level = {"level": self.level} if self.level != "floor" else {}
        start = {"start": self.start} if self.told else {}
        return {"wall": self.wall, **level, **start, "units": self.units, **self.extras}


def length(units: Iterable[Data]) -> float:
    """Of units side by side, mm."""
    return sum(unit["width"] for unit in units)


def smallest(family: Family) -> float:
    """Its least width, mm."""
    return min(family.widths or family.width_range or (0.0,))


def unit(lots: Lots, family: Family, room: float, hand: str | None = None) -> Data:
    """A unit of a family no wider than ``room``."""
    low, high = family.width_range or (0.0, 0.0)
    fits = [w for w in family.widths if w <= room]
    width = lots.pick(fits) if fits else low
    if not fits and high > low:
        width = lots.whole(low, min(high, room)) if min(high, room) >= low + 1 else low
    hand = hand or lots.pick(["left", "right"])
    return {"unit": family.code, "width": width, "hand": hand}


def filled(lots: Lots, kit: Kit, level: str, room: float, most: int, tall: float = 0.12) -> tuple[Data, ...]:
    """Units one by one until the room is full or there are ``most``; ``tall`` is the chance of one without top."""
    units: list[Data] = []
    for _ in range(lots.count(1, most)):
        kinds = ("filler", "panel") if lots.some(0.2) else PLAIN
        families = kit.families(level, *kinds, top=not lots.some(tall))
        fits = [f for f in families if smallest(f) <= room - length(units)]
        if fits:
            units.append(unit(lots, lots.pick(fits), room - length(units)))
    return tuple(units)


def ended(lots: Lots, kit: Kit, level: str, units: tuple[Data, ...], room: float, side: str) -> tuple[Data, ...]:
    """The units with an open end or a bar at one side where there is room, now and then."""
    fits = [f for f in kit.families(level, *ENDS) if smallest(f) <= room]
    if not units or not fits or lots.some(0.8):
        return units
    last = unit(lots, lots.pick(fits), room, side)
    return (*units, last) if side == "right" else (last, *units)


def minus(room: Sequence[Interval], taken: Iterable[Interval]) -> list[Interval]:
    """What is left of some stretches."""
    left = list(room)
    for low, high in taken:
        left = [part for a, b in left for part in ((a, min(b, low)), (max(a, high), b)) if part[1] - part[0] > 1.0]
    return left
