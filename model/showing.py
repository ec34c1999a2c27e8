"""Showing: whether inches stand beside millimetres wherever a length is shown in words.

Who works in inches says ``lengths: inch`` in the kitchen file. It is a setting of what is shown, as a language is:
nothing is measured, judged or kept by it.
"""

from __future__ import annotations

from contextvars import ContextVar

from countersunk.model.files.inches import nearest

PART = 16
"""Inches are shown to this part of one, as a tape has it; what is judged and cut stays in millimetres."""

_inches: ContextVar[bool] = ContextVar("inches beside millimetres", default=False)


def show_lengths(unit: str) -> None:
    """From now on show lengths as a kitchen asks for: ``mm`` alone, or ``inch`` beside."""
    _inches.set(unit == "inch")


def in_inches(mm: float) -> str:
    """What stands behind a length in millimetres: empty, or the same to the nearest sixteenth of an inch.

    >>> show_lengths("inch"); in_inches(600.0)
    ' (23 5/8")'
    >>> show_lengths("mm"); in_inches(600.0)
    ''
    """
    return f" ({nearest(mm, PART)})" if _inches.get() else ""
