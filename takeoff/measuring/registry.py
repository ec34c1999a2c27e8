"""Registry: every measure by its name, and all of them taken of a kitchen."""

from __future__ import annotations

from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.measuring.definitions import OF_WORKTOPS, Measure
from countersunk.takeoff.measuring.measures import Share
from countersunk.takeoff.measuring.unit_definitions import OF_UNITS

MEASURES: dict[str, Measure] = {measure.name: measure for measure in (*OF_WORKTOPS, *OF_UNITS)}


def measured(kitchen: Kitchen) -> dict[str, tuple[Share, ...]]:
    """Every measure of ``kitchen``, each taken once."""
    return {name: tuple(measure.take(kitchen)) for name, measure in MEASURES.items()}
