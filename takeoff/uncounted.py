"""Uncounted: parts of a kitchen that stand on no line, so that none is ever left out unseen."""

from __future__ import annotations

from collections.abc import Sequence

from model.kitchen import Kitchen
from model.part import Layer, Part
from model.plain_cutouts import OWN
from takeoff.quantities import Contribution, Quantity


def uncounted(kitchen: Kitchen, quantities: Sequence[Quantity]) -> list[Quantity]:
    """Parts that stand on no line, by material: measured, and not ordered, so that none is ever left out unseen.

    What is bought whole is counted by its owner, what is let in by its cut-out; the customer's own is not ordered.
    """
    counted = {id_ for q in quantities for id_ in q.ids}
    names = {c.name for c in kitchen.cutouts if c.id in counted or c.template.code.startswith(OWN)}
    left: dict[str, list[Part]] = {}
    for part in kitchen.parts:
        whole = part.layer is Layer.APPLIANCES and part.owner in counted | names
        if part.id not in counted and not whole:
            left.setdefault(part.material, []).append(part)
    return [_unruled(material, parts) for material, parts in left.items()]


def _unruled(material: str, parts: Sequence[Part]) -> Quantity:
    problem = f"no rule counts {', '.join(dict.fromkeys(p.kind for p in parts))}"
    shares = tuple(Contribution(p.id, 1.0) for p in parts)
    return Quantity(
        material, material, "hardware", "each", float(len(parts)), 0.0, None, "", None, problem, shares, "none", "",
        problem=problem,
    )  # fmt: skip
