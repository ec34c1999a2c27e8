"""Screws: how long those may be that hold a top from below."""

from __future__ import annotations

from countersunk.model.facts.plans import heights
from countersunk.model.geometry.part import Layer
from countersunk.model.kitchen import Kitchen
from countersunk.model.tolerance import CONTACT
from countersunk.model.tops.worktops import Length

UNDER_FACE = 5.0
"""A screw from below ends this far under the decor face at least, mm (common practice, no source)."""


def longest_in(kitchen: Kitchen, length: Length) -> float | None:
    """The longest screw through a rail into a length that ends `UNDER_FACE` under its face, mm.

    None where no board lies flat under it, or where nothing is screwed down.
    """
    board = rail_under(kitchen, length)
    return None if board is None or length.run.stock.material.bedded else board + length.part.thickness - UNDER_FACE


def rail_under(kitchen: Kitchen, length: Length) -> float | None:
    """Thickness of the thinnest board of a carcass that lies flat under a length, mm; None where none does."""
    under = length.part.pose.origin[2]
    parts = (part for unit in length.stretch.units for part in kitchen.parts_of[unit.key])
    flat = (p for p in parts if p.layer is Layer.CARCASS and p.lies_flat)
    return min((p.thickness for p in flat if abs(heights(p)[1] - under) < CONTACT), default=None)
