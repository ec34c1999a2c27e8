"""Handling: what a length weighs, who lifts it, and the blank that is bought for it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from model.worktops import Length

A_PERSON = 25.0
"""kg, a filter for planning from a British guide (from memory); not a safe limit."""

LONG = 2000.0
"""A top longer than this takes two people whatever it weighs (common practice, no source)."""


@dataclass(frozen=True)
class Handling:
    """Weights in kg as cut and as bought, how many people lift the blank, its length and what is left of it, mm."""

    weight: float
    blank_weight: float
    people: int
    blank: float
    spare: float


def people(count: int) -> str:
    """So many, in words."""
    return "1 person" if count == 1 else f"{count} people"


def handling(length: Length) -> Handling:
    """Weight is net area × thickness × density of the stock; the rounding of its nose is not taken off."""
    stock, part = length.run.stock, length.part
    per_area = stock.thickness * stock.density / 1e9
    blank = min(size for size in stock.lengths if size >= part.length - 1e-6)
    blank_weight = blank * stock.depth * per_area
    people = max(1, math.ceil(blank_weight / A_PERSON), 2 if blank > LONG else 1)
    return Handling(part.area * per_area, blank_weight, people, blank, blank - part.length)
