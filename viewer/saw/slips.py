"""Slips: what a tape says where it was read or held wrongly, so that the page can name the likely reason.

Common practice of the trade, no source. Millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from countersunk.model.ties import settled

HOOK = 100.0
"""A tape that is held at this mark instead of at its hook."""


@dataclass(frozen=True)
class LikelySlip:
    """What the tape says by mistake, and the mistake."""

    value: float
    why: str


def slips(value: float, tolerance: float, own: Iterable[LikelySlip] = ()) -> tuple[LikelySlip, ...]:
    """The readings by mistake of a distance of ``value``: first those of its piece, then those of any tape.

    Two that cannot be told apart by ``tolerance`` are named once, by the first. One that cannot be told from the
    right reading is left out: nobody is stopped by it.
    """
    found: list[LikelySlip] = []
    for slip in (*own, *_of_any_tape(value)):
        near = [value, *(other.value for other in found)]
        if slip.value >= 0 and all(abs(slip.value - other) > 2 * tolerance for other in near):
            found.append(LikelySlip(rounded(slip.value), slip.why))
    return tuple(found)


def rounded(value: float) -> float:
    """Tenths of a millimetre, as the drawings have them."""
    return round(settled(value), 1) + 0.0


def _of_any_tape(value: float) -> Iterable[LikelySlip]:
    for turned in turned_digits(value):
        yield LikelySlip(turned, "two digits are turned")
    yield LikelySlip(value + HOOK, "the tape was held at its 100 mark")
    yield LikelySlip(value - HOOK, "100 was taken off twice, or misread")
    yield LikelySlip(value / 10, "typed in centimetres")


def turned_digits(value: float) -> list[float]:
    """``value`` with each two neighbouring digits of its whole millimetres turned; those that change nothing are
    left out.

    >>> turned_digits(1186.5)
    [1816.5, 1168.5]
    """
    whole, rest = divmod(value, 1)
    digits = str(int(whole))
    pairs = (i for i in range(len(digits) - 1) if digits[i] != digits[i + 1])
    return [int(digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]) + rest for i in pairs]
