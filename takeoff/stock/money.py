"""Money: Decimal only. The rule, stated on papers: each line is rounded half up to cents, its tax too, and a total
is the sum of the lines as printed."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")
HUNDRED = Decimal(100)
NOTHING = Decimal("0.00")

RULE = (
    "Every line is rounded half up to cents, and so is its tax; every total is the sum of the lines as printed. "
    "All sums are reckoned with decimals."
)


def cents(value: Decimal) -> Decimal:
    """Half up to cents.

    >>> cents(Decimal("2.345")), cents(Decimal("2.3449"))
    (Decimal('2.35'), Decimal('2.34'))
    """
    return value.quantize(CENT, ROUND_HALF_UP)
