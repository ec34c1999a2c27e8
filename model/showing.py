"""Showing: whether inches stand beside millimetres wherever a length is shown in words.

A kitchen file with ``lengths: inch`` asks for it. It changes only what is shown, as a language does: nothing is
measured, judged or stored in inches.
"""

from __future__ import annotations

from contextvars import ContextVar

from countersunk.model.files.inches import nearest

PART = 16
"""Inches are shown to this part of one, as a tape has it; what is judged and cut stays in millimetres."""

_inches: ContextVar[bool] = ContextVar("inches beside millimetres", default=False)


def show_lengths(unit: str) -> None:
    """Show lengths from now on in ``mm`` alone, or with inches beside them for ``inch``."""
    _inches.set(unit == "inch")


def in_inches(mm: float) -> str:
    """The inches to print after a length in millimetres, to the nearest sixteenth; empty where none are shown.

    >>> show_lengths("inch"); in_inches(600.0)
    ' (23 5/8")'
    >>> show_lengths("mm"); in_inches(600.0)
    ''
    """
    return f" ({nearest(mm, PART)})" if _inches.get() else ""
