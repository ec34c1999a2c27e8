"""Corners by lot: how the rows of two walls share the corner between them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from tests.random_kitchens.lots import Lots
from tests.random_kitchens.rooms import Data, Side
from tests.random_kitchens.rows import Kit, unit

APART = 170.0
"""Tops further apart than this are not joined in a corner, mm."""

TAPE = 4.0
"""How far rows keep from a wall beside them at least: a closed survey moves its corners by what it misses, mm."""

SQUARE = (89.0, 91.0)
"""Corners that a corner unit is put in here, degrees."""

JOINED = (60.0, 150.0)
"""Corners that tops are joined in, degrees."""


@dataclass(frozen=True)
class Tops:
    """The worktop that was drawn, with what placing rows needs of it, mm."""

    kit: Kit
    stock: str
    overhang: float

    @property
    def depth(self) -> float:
        """Of the top."""
        return self.kit.catalogue.stocks[self.stock].depth

    @property
    def square(self) -> bool:
        """Whether its edges are square."""
        return self.kit.catalogue.stocks[self.stock].nose == 0

    @property
    def stand_off(self) -> float:
        """From the wall to the backs of units."""
        return self.depth - self.kit.depth() - self.overhang


@dataclass(frozen=True)
class Ends:
    """What an end of a wall leaves to rows: how far from it they keep (mm), and a unit that must stand there.

    A row that is not ``told`` leaves its start to the program; ``meets`` says that its top meets another there.
    """

    inset: float
    units: tuple[Data, ...] = ()
    told: bool = True
    meets: bool = False


def lean(angle: float | None, depth: float) -> float:
    """How far the wall beside reaches along this one, over some depth, mm."""
    sharp = angle is not None and angle < 90.0
    return depth / math.tan(math.radians(angle or 90.0)) if sharp else 0.0


def clear(angle: float, depth: float) -> float:
    """How far a row of some depth on the wall beside reaches along this one, mm."""
    return depth / math.sin(math.radians(angle)) + lean(angle, depth)


def alone(lots: Lots, angle: float | None, depth: float) -> Ends:
    """An end of a wall with nothing on the wall beside."""
    if angle is None or angle > 175.0:
        return Ends(lots.whole(20, 300))
    return Ends(lean(angle, depth) + lots.pick([TAPE, TAPE, 12.0, 40.0, 150.0, 400.0]))


def shared(lots: Lots, tops: Tops, left: Side) -> tuple[Ends, Ends]:
    """The right end of one wall and the left end of the next, where rows stand on both."""
    angle = left.after or 90.0
    if angle > 175.0:
        return alone(lots, angle, 0.0), alone(lots, angle, 0.0)
    ways = [apart]
    if JOINED[0] <= angle <= JOINED[1]:
        ways += [both_short, blind, blind]
    if SQUARE[0] <= angle <= SQUARE[1]:
        ways += [corner_unit] * 4
    hand = lots.pick(["left", "right"])
    through, beside = lots.pick(ways)(lots, tops, angle, hand)
    return (through, beside) if hand == "right" else (beside, through)


def apart(lots: Lots, tops: Tops, angle: float, hand: str) -> tuple[Ends, Ends]:  # noqa: ARG001
    """One row goes to the wall, the other keeps so far away that nothing is shared."""
    away = max(clear(angle, tops.depth), tops.depth / math.tan(math.radians(angle / 2))) + APART
    return alone(lots, angle, tops.depth), Ends(away + lots.whole(0, 300))


def both_short(lots: Lots, tops: Tops, angle: float, hand: str) -> tuple[Ends, Ends]:  # noqa: ARG001
    """Both rows stop where their fronts meet; only the tops go on."""
    inset = tops.depth * max(1.0, 1.0 / math.tan(math.radians(angle / 2)))
    return Ends(inset + lots.whole(5, 100), meets=True), Ends(inset + lots.whole(5, 100), meets=True)


def blind(lots: Lots, tops: Tops, angle: float, hand: str) -> tuple[Ends, Ends]:
    """One row goes to the wall with a blind unit, the other begins before it."""
    (family,) = tops.kit.families("floor", "blind-corner")
    inset = lean(angle, tops.depth) + lots.pick([TAPE, TAPE, 15.0, 50.0])
    beside = clear(angle, tops.depth) + lots.whole(0, 60)
    return Ends(inset, (unit(lots, family, 9e9, hand),), meets=True), Ends(beside, meets=True)


def corner_unit(lots: Lots, tops: Tops, angle: float, hand: str) -> tuple[Ends, Ends]:
    """One row ends with a corner unit, the other begins at the end of its wing or beyond."""
    kinds = ("l-corner", "diagonal-corner") if tops.square else ("l-corner",)
    family = lots.pick(tops.kit.families("floor", *kinds))
    wing = lots.pick(family.wings)
    stands = {**unit(lots, family, 9e9, hand), "wing": wing}
    slack = abs(90.0 - angle) * 40.0
    told = lots.some(0.5)
    beyond = wing + tops.stand_off + slack + (lots.whole(5, 40) if told else 0.0)
    return Ends(tops.stand_off + slack / 2, (stands,), told=False, meets=True), Ends(beyond, told=told, meets=True)
