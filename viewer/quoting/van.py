"""Van: what goes to the site, to be ticked off by its mark, in the order in which it is loaded.

What is fitted last is loaded first (common practice, no source): appliances, then tops on edge and long strips,
units that stand, units that hang. Sheets and lengths as bought stay in the workshop, and wear is nothing to carry.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Part
from countersunk.model.kitchen import Kitchen
from countersunk.model.layout.placed import PlacedUnit
from countersunk.takeoff.counting.takeoff import Takeoff
from countersunk.takeoff.plans.cut_plans import CutPlans
from countersunk.viewer.drawing.lettering import kg, mm
from countersunk.viewer.quoting.customer import Job, head
from countersunk.viewer.quoting.workshop import packs, told

STRIPS = {
    Role.UPSTAND: "upstand", Role.SPLASHBACK: "splashback",
    Role.PANEL: "end panel", Role.PLINTH: "plinth", Role.CORNICE: "cornice",
    Role.PELMET: "pelmet", Role.CEILING_FILLER: "filler to the ceiling", Role.FILLER: "filler",
    Role.INFILL: "infill", Role.WATERFALL: "end of a top", Role.REVEAL: "piece in a reveal",
}  # fmt: skip
"""What is carried beside units, and what it is called."""

MADE_OF = ("worktops", "slabs", "slab-edges", "slab-cutouts", "slab-grooves", "slab-seams", "slab-visits")
"""Rules of lines that tops are made of, here or by others."""

IN_THE_WORKSHOP = ("boards", "wear", "site")
"""Groups of lines of which nothing is carried as it is bought."""

FITTINGS = "Fittings, sealing, screws"


def van_data(kitchen: Kitchen, takeoff: Takeoff, job: Job, reference: str) -> dict[str, Any]:
    """What goes into the van, by mark and in loading order, with sizes in mm and masses in kg."""
    found = [
        {"name": "Sink, hob, tap, appliances", "lines": list(_bought(takeoff, "appliances"))},
        {"name": "Worktops, on edge", "lines": list(_tops(kitchen, takeoff))},
        {"name": "Panels, plinths, strips", "lines": list(_strips(kitchen))},
        {"name": "Units that stand", "lines": list(_units(kitchen, hung=False))},
        {"name": "Units that hang", "lines": list(_units(kitchen, hung=True))},
        {"name": FITTINGS, "lines": list(_fittings(takeoff))},
    ]
    return {
        **head(takeoff, job, reference),
        "groups": [group for group in found if group["lines"]],
        "tools": list(takeoff.terms.van),
        "hours": _hours(takeoff),
        "cautions": list(takeoff.cautions),
    }


def _tops(kitchen: Kitchen, takeoff: Takeoff) -> Iterator[dict[str, str]]:
    for share in takeoff.masses:
        part = kitchen.parts_by_id[share.id]
        yield _line(part.mark, "worktop", _size(part), kg(share.amount))


def _strips(kitchen: Kitchen) -> Iterator[dict[str, str]]:
    for part in kitchen.parts:
        if part.role in STRIPS and part.id not in kitchen.made_to_measure:
            yield _line(part.mark, STRIPS[part.role], _size(part), _mass(kitchen, [part]))


def _units(kitchen: Kitchen, *, hung: bool) -> Iterator[dict[str, str]]:
    """Every carcass with what is fixed to it."""
    own: dict[str, list[Part]] = {}
    for part in kitchen.parts:
        if part.role not in STRIPS:
            own.setdefault(part.owner, []).append(part)
    for unit in kitchen.units:
        if unit.family.kind.is_unit and (unit.family.level == "upper") is hung:
            yield _line(unit.name, unit.family.name, _extent(unit), _mass(kitchen, own.get(unit.key, [])))


def _bought(takeoff: Takeoff, group: str) -> Iterator[dict[str, str]]:
    for line in takeoff.materials:
        if line.quantity.group == group:
            yield _line("", line.quantity.description, packs(line), "")


def _fittings(takeoff: Takeoff) -> Iterator[dict[str, str]]:
    """What comes in packs, apart from lengths and sheets that a plan cuts up."""
    cut = _codes(takeoff.cut)
    for line in takeoff.materials:
        q = line.quantity
        if q.group not in (*IN_THE_WORKSHOP, "appliances") and q.rule not in MADE_OF and q.item not in cut:
            yield _line("", q.description, packs(line), f"{told(q.net, q.unit)} used")


def _codes(plans: CutPlans) -> set[str]:
    return {plan.board.code for plan in plans.boards}


def _line(mark: str, what: str, size: str, mass: str) -> dict[str, str]:
    return {"mark": mark, "what": what, "size": size, "mass": mass}


def _size(part: Part) -> str:
    return f"{' × '.join(mm(side) for side in (part.length, part.depth, part.thickness))} mm"


def _extent(unit: PlacedUnit) -> str:
    """Wide, high and deep, as the carcass is."""
    family = unit.family
    return f"{mm(unit.width)} × {mm(family.height)} × {mm(family.depth)} mm"


def _mass(kitchen: Kitchen, parts: list[Part]) -> str:
    """The mass of boards among some parts, without fittings and glass; nothing where none of them is one."""
    boards = kitchen.catalogue.boards
    masses = [p.area * p.thickness * boards[p.material].density * 1e-9 for p in parts if p.material in boards]
    return kg(sum(masses)) if masses else ""


def _hours(takeoff: Takeoff) -> str:
    minutes = sum((line.work.minutes for line in takeoff.labour), Decimal(0))
    return f"{minutes / 60:.1f}"
