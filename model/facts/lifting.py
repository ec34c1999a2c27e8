"""Lifting a piece of worktop: the revised NIOSH lifting equation, and how many people it takes by it.

Waters, Putz-Anderson and Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110,
rev. 2021 (seen, but for the asymmetry term, which is from memory). With the hands at H from the ankles and V above
the floor, lifted by D (cm) and turned by A (degrees):

    RWL = 23 kg · 25/H · (1 − 0.003·|V − 75|) · (0.82 + 4.5/D) · (1 − 0.0032·A) · FM · CM

It is a guide for planning and not a safe limit; it holds for two hands, sound footing and no haste, and for several
people only while each carries an equal share.
"""

from __future__ import annotations

from countersunk.model.ties import rounded_up
from countersunk.model.tolerance import CONTACT, EQUAL

LOAD_CONSTANT = 23.0
"""kg."""

H_LEAST, D_LEAST = 25.0, 25.0
"""cm: hands cannot be nearer to the body, and a lift shorter than this counts as this long."""

REACHES = {"H": 63.0, "V": 175.0, "D": 175.0, "A": 135.0}
"""Beyond these (cm, degrees) nobody should lift at all: the weight recommended is 0."""

AT_THE_END = 30.0
"""cm from the ankles to hands that hold a top by its end, close to the body (common practice, no source)."""

FROM = 75.0
"""cm above the floor at which the hands take a top that lies on trestles (common practice, no source)."""

NO_HANDLES = 0.90
"""CM: a poor grip, as on a sheet without handles."""

LONG = 2_000.0
"""A piece longer than this takes two people whatever it weighs, mm (common practice, no source)."""

SELDOM = 1.0
"""FM: no more than a lift in five minutes, for an hour at most."""


def recommended_weight(
    h: float, v: float, d: float, a: float = 0.0, *, fm: float = SELDOM, cm: float = NO_HANDLES
) -> float:
    """The recommended weight limit of one person, kg, by the equation above; lengths in cm, ``a`` in degrees.

    0 where something is out of reach.
    """
    if h > REACHES["H"] or v > REACHES["V"] or d > REACHES["D"] or a > REACHES["A"]:
        return 0.0
    near, high = H_LEAST / max(h, H_LEAST), 1 - 0.003 * abs(v - 75.0)
    far, turned = min(1.0, 0.82 + 4.5 / max(d, D_LEAST)), 1 - 0.0032 * a
    return LOAD_CONSTANT * near * high * far * turned * fm * cm


def people_for(mass: float, size: float, z: float) -> int:
    """How many people a piece of ``mass`` kg, ``size`` mm long, takes, lifted so that its face is at ``z`` mm.

    Every paper and finding counts people by this.
    """
    return max(1, rounded_up(mass / share(z), EQUAL), 2 if size > LONG + CONTACT else 1)


def share(z: float) -> float:
    """What each who lifts a top to ``z`` mm should carry, kg: the less of where they start and where they end."""
    v = z / 10.0
    return min(recommended_weight(AT_THE_END, at, abs(v - FROM)) for at in (FROM, v))
