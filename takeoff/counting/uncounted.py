"""Uncounted: parts of a kitchen that stand on no line, so that none is ever left out unseen."""

from __future__ import annotations

from collections.abc import Sequence

from countersunk.model.geometry.identity import Role
from countersunk.model.geometry.part import Layer, Part
from countersunk.model.kinds import is_of
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.counting.quantities import Contribution, Quantity

PLANNED = ("worktops", "offcuts", "slabs")
"""The rules of lines that are counted from a cutting plan, or of what is made to measure."""


def uncounted(kitchen: Kitchen, quantities: Sequence[Quantity]) -> list[Quantity]:
    """Parts that stand on no line of their own, by material: measured, and not ordered.

    A line counts a part if it names it and its article is the part's material or kind: a screw in a board does not
    count the board. What is bought whole is counted by its owner, what is let in by its cut-out; the customer's own
    is not ordered. A cutting plan counts all that it holds, whatever that is cut from.
    """
    items: dict[str, list[str]] = {}
    for quantity in quantities:
        for id_ in quantity.ids:
            items.setdefault(id_, []).append(quantity.item)
    held = {id_ for q in quantities if q.rule in PLANNED for id_ in q.ids} | _come_along(kitchen)
    bought = {c.key for c in kitchen.cutouts if c.own} | set(items)
    left: dict[str, list[Part]] = {}
    for part in kitchen.parts:
        counted = part.owner in bought if part.layer is Layer.APPLIANCES else _names(part, items.get(part.id, []))
        if not counted and part.id not in held:
            left.setdefault(part.material, []).append(part)
    return [_unruled(material, parts) for material, parts in left.items()]


def _come_along(kitchen: Kitchen) -> set[str]:
    """Parts that come with a carcass that is bought: its boards, and the hardware that its family says."""
    along = {Role.LEG: "legs", Role.HANDLE: "handles"}
    with_unit = {unit.key: unit.ready.comes_with for unit in kitchen.units if unit.ready}
    found = (p.id for p in kitchen.parts if along.get(p.role) in with_unit.get(p.owner, ()))
    return {*kitchen.ready_parts, *found}


def _names(part: Part, items: Sequence[str]) -> bool:
    words = (part.material, part.role.value)
    return any(is_of(item, word) for item in items for word in words)


def _unruled(material: str, parts: Sequence[Part]) -> Quantity:
    problem = f"no rule counts {', '.join(dict.fromkeys(p.role for p in parts))}"
    shares = tuple(Contribution(p.id, 1.0) for p in parts)
    return Quantity(
        material, material, "hardware", "each", float(len(parts)), 0.0, None, "", None, problem, shares, "none", "",
        problem=problem,
    )  # fmt: skip
