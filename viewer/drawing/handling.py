"""Handling: what a length weighs, who lifts it, and the blank that is bought for it."""

from __future__ import annotations

from dataclasses import dataclass

from model.checks.lifting import people_for, share
from model.checks.plans import face
from model.worktops import Length


@dataclass(frozen=True)
class Handling:
    """Weights in kg as cut and as bought, how many people lift the blank and what each of
    them then should carry at most, its length and what is left of it, mm.
    """

    weight: float
    blank_weight: float
    people: int
    each: float
    blank: float
    spare: float


def people(count: int) -> str:
    """So many, in words."""
    return "1 person" if count == 1 else f"{count} people"


def handling(length: Length) -> Handling:
    """Weight is net area × thickness × density of the stock; the rounding of its nose is not taken off.

    People by `model.checks.lifting`, as findings count them.
    """
    stock, part = length.run.stock, length.part
    per_area = stock.thickness * stock.density / 1e9
    blank = min(size for size in stock.lengths if size >= part.length - 1e-6)
    blank_weight = blank * stock.depth * per_area
    lift, each = people_for(blank_weight, blank, face(length)), share(face(length))
    return Handling(part.area * per_area, blank_weight, lift, each, blank, blank - part.length)
