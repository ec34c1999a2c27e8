"""Registry: every measure by its name, and all of them taken of a kitchen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from countersunk.model.catalogue.method import Along
from countersunk.model.kitchen import Kitchen
from countersunk.takeoff.measuring.definitions import OF_WORKTOPS, Measure
from countersunk.takeoff.measuring.measures import Share
from countersunk.takeoff.measuring.slab_definitions import OF_SLABS
from countersunk.takeoff.measuring.splash_definitions import OF_SPLASHBACKS
from countersunk.takeoff.measuring.unit_definitions import OF_UNITS

MEASURES: dict[str, Measure] = {
    measure.name: measure for measure in (*OF_WORKTOPS, *OF_SLABS, *OF_SPLASHBACKS, *OF_UNITS)
}


def measured(kitchen: Kitchen) -> dict[str, tuple[Share, ...]]:
    """Every measure of ``kitchen``, each taken once, most of them of what is cut here."""
    here = kitchen.cut_here
    taken = {name: tuple(m.take(kitchen if m.of_all_tops else here)) for name, m in MEASURES.items()}
    ready = {unit.key: unit.ready.comes_with for unit in kitchen.units if unit.ready}
    if not ready:
        return taken
    return {name: tuple(_bought(shares, MEASURES[name], kitchen, ready)) for name, shares in taken.items()}


def _bought(
    shares: Iterable[Share], measure: Measure, kitchen: Kitchen, ready: Mapping[str, tuple[Along, ...]]
) -> Iterator[Share]:
    """The shares without what comes with bought carcasses, each of their others with what comes along."""
    for share in shares:
        if not (measure.of_boards and share.id in kitchen.ready_parts):
            owner = kitchen.owners.get(share.id, share.id)
            yield replace(share, comes_with=ready[owner]) if owner in ready else share
