"""Measures of ducts: how long a straight pipe would hold the air back as much, how wide they are, what they move.

Figures are those that makers of hoods give for a smooth pipe of 6 in (150), of each range the upper end, seen:
a bend of 90° counts as 15 ft, one of 45° as 9 ft, a cap in the wall as 40 ft and one on the roof as 33 ft, and a
hose of metal as twice its length. A pipe of another diameter counts by the fifth power of the ratio, as friction
goes at the same flow (our reckoning; makers say 2.7 for 5 in, and this gives 2.5).

Friction goes by the length and the square of the flow. So at the same pressure a duct that counts as longer than
`LONGEST` moves less than the sheet says, by the root of how much longer it is (our reckoning; the fan's own curve
comes first).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import Thing, of_cutout, of_unit
from countersunk.model.document.duct import Duct
from countersunk.model.facts.plans import unit_volume
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen

FOOT = 304.8
SQUARE, SLANT = 15 * FOOT, 9 * FOOT
"""What a bend counts as, mm of pipe: one of more than 45°, and any other."""

CAPS = {"wall": 40 * FOOT, "roof": 33 * FOOT}
USUAL = 150.0
"""Diameter for which the figures are, mm."""
LONGEST = 100 * FOOT
"""How much straight smooth pipe of `USUAL` makers allow, mm (seen)."""


def equivalent_length(kitchen: Kitchen) -> Iterator[Place]:
    """How long a straight smooth pipe of 150 would hold the air of a hood or a hob back as much, mm."""
    for thing, duct, volume in _ducts(kitchen):
        yield Place(Where(Phrase.DUCT, thing), counted(duct), (thing,), volume)


def diameter(kitchen: Kitchen) -> Iterator[Place]:
    """The diameter of the duct of a hood, or of a hob that draws off by itself, mm."""
    for thing, duct, volume in _ducts(kitchen):
        yield Place(Where(Phrase.DUCT, thing), duct.diameter, (thing,), volume)


def airflow(kitchen: Kitchen) -> Iterator[Place]:
    """What a hood or a hob moves through its duct, m³/h; a duct that counts as too long holds some of it back."""
    for place, duct in _moved(kitchen):
        yield replace(place, value=moved(duct))


def rated_airflow(kitchen: Kitchen) -> Iterator[Place]:
    """What the sheet of a hood or a hob says that it draws at most, m³/h; not what its duct lets through."""
    return (place for place, _ in _moved(kitchen))


def moved(duct: Duct) -> float | None:
    """What goes through a duct of what its fan can draw, m³/h; None where no sheet was read.

    >>> from countersunk.model.document.duct import Duct
    >>> moved(Duct(length=2000.0, airflow=600.0))  # 6.6 ft and 40 for the cap
    600.0
    >>> round(moved(Duct(length=33_528.0, airflow=600.0)))  # 110 ft and 40: the root of 100 / 150
    490
    """
    return duct.airflow and float(duct.airflow * min(1.0, LONGEST / max(counted(duct), FOOT)) ** 0.5)


def counted(duct: Duct) -> float:
    """The length of straight smooth pipe of `USUAL` that a duct counts as, mm.

    >>> from countersunk.model.document.duct import Duct
    >>> round(counted(Duct(length=3000.0, bends=(90.0, 45.0), ends="roof")) / FOOT, 1)  # 9.8 + 15 + 9 + 33
    66.8
    """
    pipe = duct.length * (2.0 if duct.flexible else 1.0)
    bends = sum(SQUARE if angle > 45.0 else SLANT for angle in duct.bends)
    return float((pipe + bends + CAPS[duct.ends]) * (USUAL / duct.diameter) ** 5)


def _moved(kitchen: Kitchen) -> Iterator[tuple[Place, Duct]]:
    """Every duct of which the sheet was read, its place with what that says."""
    for thing, duct, volume in _ducts(kitchen):
        if duct.airflow:
            yield Place(Where(Phrase.DUCT, thing), duct.airflow, (thing,), volume), duct


def _ducts(kitchen: Kitchen) -> Iterator[tuple[Thing, Duct, Volume | None]]:
    """Every duct with what it belongs to."""
    document = kitchen.document
    rows = (*(run.units for run in document.runs), *(island.units for island in document.islands))
    ducts = {unit.key: unit.duct for units in rows for unit in units if unit.duct}
    yield from ((of_unit(unit), ducts[unit.key], unit_volume(unit)) for unit in kitchen.units if unit.key in ducts)
    typed = {cutout.key: cutout.duct for cutout in kitchen.document.cutouts if cutout.duct}
    yield from ((of_cutout(cutout), typed[cutout.key], None) for cutout in kitchen.cutouts if cutout.key in typed)
