"""Units of quantity. Inside everything is mm, mm², mm³, kg or a count; units of trade appear at the rim only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from countersunk.model.ties import settled

Dimension = Literal["length", "area", "volume", "mass", "count"]
UnitCode = Literal["mm", "m", "mm2", "m2", "mL", "L", "kg", "each", "pair"]


@dataclass(frozen=True)
class TradeUnit:
    """A unit of trade: ``size`` is how many of the inside unit of its dimension make one."""

    code: UnitCode
    symbol: str
    dimension: Dimension
    size: float


UNITS: dict[UnitCode, TradeUnit] = {
    unit.code: unit
    for unit in (
        TradeUnit("mm", "mm", "length", 1.0),
        TradeUnit("m", "m", "length", 1e3),
        TradeUnit("mm2", "mm²", "area", 1.0),
        TradeUnit("m2", "m²", "area", 1e6),
        TradeUnit("mL", "mL", "volume", 1e3),
        TradeUnit("L", "L", "volume", 1e6),
        TradeUnit("kg", "kg", "mass", 1.0),
        TradeUnit("each", "", "count", 1.0),
        TradeUnit("pair", "pairs", "count", 1.0),
    )
}

USUAL: dict[Dimension, UnitCode] = {"length": "m", "area": "m2", "volume": "L", "mass": "kg", "count": "each"}
"""What a dimension is shown in where no article says otherwise."""


def number(value: float) -> str:
    """A number as a person writes it: three decimals at most, two significant figures at least.

    >>> number(4.38), number(12.0), number(0.000712), number(0.0)
    ('4.38', '12', '0.00071', '0')
    """
    if 0 < abs(value) < 0.01:
        return f"{float(f'{value:.2g}'):f}".rstrip("0")
    return f"{settled(value):.3f}".rstrip("0").rstrip(".")


def amount(value: float, code: UnitCode) -> str:
    """A number with its unit, such as ``4.38 m``; a bare number for things that are counted singly."""
    symbol = "pair" if code == "pair" and value == 1 else UNITS[code].symbol
    return f"{number(value)} {symbol}".rstrip()
