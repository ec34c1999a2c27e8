"""Measures of ducts and fans: how long a straight pipe would hold the air back as much, how wide it is, what moves.

Figures are those that makers of hoods give for a smooth pipe of 6 in (150), of each range the upper end, seen:
a bend of 90° counts as 15 ft, one of 45° as 9 ft, a cap in the wall as 40 ft and one on the roof as 33 ft, and a
hose of metal as twice its length. A pipe of another diameter counts by the fifth power of the ratio, as friction
goes at the same flow (our reckoning; makers say 2.7 for 5 in, and this gives 2.5).

Friction goes by the length and the square of the flow. So at the same pressure a duct that counts as longer than
`LONGEST` moves less than the sheet says, by the root of how much longer it is (our reckoning; the fan's own curve
comes first).

A fan in a wall or window of the kitchen takes what the hood leaves. Codes that ask twice as much of a fan as of a
hood are why `airflow` counts half of what it moves (our reckoning). A hood that ends in the room takes nothing out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from countersunk.model.checks.finding import Place, Where
from countersunk.model.checks.phrases import Phrase
from countersunk.model.checks.things import WHOLE, Thing, of_cutout, of_service, of_unit
from countersunk.model.document.duct import Duct
from countersunk.model.facts.plans import SHOWN_WIDTH, around, unit_volume
from countersunk.model.geometry.volume import Volume
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import PlacedService

FOOT = 304.8
SQUARE, SLANT = 15 * FOOT, 9 * FOOT
"""What a bend counts as, mm of pipe: one of more than 45°, and any other."""

CAPS = {"wall": 40 * FOOT, "roof": 33 * FOOT, "room": 0.0}
USUAL = 150.0
"""Diameter for which the figures are, mm."""
LONGEST = 100 * FOOT
"""How much straight smooth pipe of `USUAL` makers allow, mm (seen)."""


def equivalent_length(kitchen: Kitchen) -> Iterator[Place]:
    """How long a straight smooth pipe of 150 would hold the air of a hood or a hob back as much, mm."""
    for thing, duct, volume in _outward(kitchen):
        yield Place(Where(Phrase.DUCT, thing), counted(duct), (thing,), volume)


def diameter(kitchen: Kitchen) -> Iterator[Place]:
    """The diameter of the duct of a hood, or of a hob that draws off by itself, mm."""
    for thing, duct, volume in _outward(kitchen):
        yield Place(Where(Phrase.DUCT, thing), duct.diameter, (thing,), volume)


def airflow(kitchen: Kitchen) -> Iterator[Place]:
    """What a hood or a hob moves through its duct and half of what fans move, m³/h; a duct that counts as too long
    holds some of it back.
    """
    fans = [fan for fan in _fans(kitchen) if fan.airflow]
    for place, duct in _moved(kitchen):
        where = replace(place.where, phrase=Phrase.DUCT_AND_FANS, more=tuple(map(of_service, fans)))
        value = (moved(duct) or 0.0) + sum(fan.airflow or 0.0 for fan in fans) / 2
        yield replace(place, value=value, where=where if fans else place.where)


def fan_airflow(kitchen: Kitchen) -> Iterator[Place]:
    """What fans in walls and windows move where no hood takes air out of the house, m³/h; 0 where no fan does.

    No place where nothing is said of a fan or of a hood that ends in the room.
    """
    fans = _fans(kitchen)
    inward = [thing for thing, duct, _ in _ducts(kitchen) if duct.ends == "room"]
    if any(True for _ in _outward(kitchen)) or not (fans or inward):
        return
    where = Where(Phrase.FANS if fans else Phrase.NO_FAN, WHOLE, more=tuple(map(of_service, fans)))
    unread = [fan.name for fan in fans if not fan.airflow]
    reason = f"no airflow is given for {', '.join(unread)}" if unread else ""
    yield Place(where, None if unread else sum(fan.airflow or 0.0 for fan in fans), tuple(inward), reason=reason)


def fan_below_ceiling(kitchen: Kitchen) -> Iterator[Place]:
    """From a fan in a wall up to the ceiling over it, mm."""
    for fan in _fans(kitchen):
        x, y, z = fan.point
        plan = around(((x, y, z), (x, y, z)), 0.0, 0.0).plan.buffer(SHOWN_WIDTH)
        ceiling = kitchen.survey.ceiling_over(plan)
        segment = ((x, y, z), (x, y, ceiling))
        yield Place(Where(Phrase.NAMED, of_service(fan)), ceiling - z, (), around(segment, z, ceiling), segment)


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
    """Every duct to outside of which the sheet was read, its place with what that says."""
    for thing, duct, volume in _outward(kitchen):
        if duct.airflow:
            yield Place(Where(Phrase.DUCT, thing), duct.airflow, (thing,), volume), duct


def _fans(kitchen: Kitchen) -> list[PlacedService]:
    return [service for service in kitchen.survey.services if service.kind == "fan"]


def _outward(kitchen: Kitchen) -> Iterator[tuple[Thing, Duct, Volume | None]]:
    """Every duct that ends outside, with what it belongs to."""
    return (found for found in _ducts(kitchen) if found[1].ends != "room")


def _ducts(kitchen: Kitchen) -> Iterator[tuple[Thing, Duct, Volume | None]]:
    """Every duct with what it belongs to; its airflow is the catalogue's where none is typed."""
    document = kitchen.document
    rows = (row.units for rows in (document.runs, document.islands, document.peninsulas) for row in rows)
    ducts = {unit.key: unit.duct for units in rows for unit in units if unit.duct}
    for unit in (unit for unit in kitchen.units if unit.key in ducts):
        yield of_unit(unit), _with_airflow(ducts[unit.key], unit.family.airflow), unit_volume(unit)
    typed = {cutout.key: cutout.duct for cutout in document.cutouts if cutout.duct}
    for cutout in (cutout for cutout in kitchen.cutouts if cutout.key in typed):
        yield of_cutout(cutout), _with_airflow(typed[cutout.key], cutout.template.airflow), None


def _with_airflow(duct: Duct, usual: float | None) -> Duct:
    return duct if duct.airflow else duct.model_copy(update={"airflow": usual})
