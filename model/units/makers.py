"""Makers: which function makes the boards of a construction, and which the body of an appliance."""

from __future__ import annotations

from collections.abc import Callable

from countersunk.model.geometry.part import Part
from countersunk.model.kinds import is_of
from countersunk.model.layout.placed import PlacedUnit

Maker = Callable[[PlacedUnit], list[Part]]

MAKERS: dict[str, Maker] = {}
"""By the code of the construction."""

BODIES: dict[str, Maker] = {}
"""By the code of the appliance, or the form that a family names; any other has a plain body."""


def body_of(form: str) -> Maker | None:
    """The function that makes the body of a form, or of the kind that it is of; None for a plain body."""
    known = [code for code in BODIES if is_of(form, code)]
    return BODIES[max(known, key=len)] if known else None


def makes(*constructions: str) -> Callable[[Maker], Maker]:
    """Mark a function as the one that makes the boards of these constructions."""
    return lambda maker: _marked(MAKERS, constructions, maker)


def looks(form: str) -> Callable[[Maker], Maker]:
    """Mark a function as the one that makes the body of an appliance."""
    return lambda maker: _marked(BODIES, (form,), maker)


def _marked(table: dict[str, Maker], codes: tuple[str, ...], maker: Maker) -> Maker:
    table.update(dict.fromkeys(codes, maker))
    return maker
