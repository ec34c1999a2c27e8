"""Orders: on which arms sink and hob stand, and in which order, before any cell is chosen."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import NamedTuple

from countersunk.model.planning.arms import SIDES, Shape, Side
from countersunk.model.planning.score import Judge


class ArmOrder(NamedTuple):
    """The arms of sink and hob, whether the sink is left of a hob on its own arm, and the dishwasher's side."""

    sink: int
    hob: int
    sink_first: bool
    side: Side


def orders(shape: Shape, judge: Judge) -> Iterator[ArmOrder]:
    """Every order of sink, dishwasher and hob in a shape."""
    arms = range(len(shape.arms))
    for sink, hob in product(arms, arms):
        for first in (True, False) if sink == hob else (True,):
            for side in SIDES if judge.sizes.dishwasher else SIDES[:1]:
                yield ArmOrder(sink, hob, first, side)
