"""Kinds: what a construction or an appliance is. One row answers every question asked of its kind.

A hob is a cut-out: its fuel stands in ``cutouts.yaml`` or the kitchen file. Rules ask for it with ``applies_to``.

constructions  ways to make a unit                       appliances  what is bought and stands in or between units
top_materials  what worktops are made of                 walls       what walls are made of, and what they carry

What a row makes is a function in `model.units`, marked with the row's code.
"""

from __future__ import annotations


def is_of(code: str, kind: str) -> bool:
    """Whether a code is that of a kind, or goes on after it with a dot: ``fridge.under`` is a ``fridge``."""
    return f"{code}.".startswith(f"{kind}.")
