"""Offers: the decors that can be tried on a kitchen in the view, without building it anew."""

from __future__ import annotations

from collections.abc import Mapping

from countersunk.model.catalogue.catalogue import Catalogue, Decor
from countersunk.model.kitchen import Kitchen
from countersunk.viewer.scene.materials import Finish, Wears, role_finish
from countersunk.viewer.scene3d.message import Choice, Offer

DRESSES: Mapping[str, tuple[Wears, ...]] = {"worktop": ("worktop",), "front": ("front", "plinth")}
"""What a decor of each use dresses."""


AS_PLANNED = Choice("as-planned", "As planned", {})
"""Of fronts or tops in several decors: each in its own."""


def offers(kitchen: Kitchen) -> tuple[Offer, ...]:
    """Every decor of the catalogue, for worktops and for fronts, with the one that the kitchen has now.

    What is in several decors wears each its own until one is tried on all of it.
    """
    fronts, tops = (_choices(use, kitchen.catalogue) for use in ("front", "worktop"))
    return (
        _offer("worktop", "Worktops", kitchen.top_decors or (kitchen.document.worktop.decor,), tops),
        _offer("front", "Fronts", kitchen.front_decors or (kitchen.document.fronts.decor,), fronts),
    )


def _offer(use: str, name: str, now: tuple[str, ...], choices: tuple[Choice, ...]) -> Offer:
    if len(now) > 1:
        return Offer(use, name, AS_PLANNED.code, (AS_PLANNED, *choices))
    return Offer(use, name, now[0], choices)


def _choices(use: str, catalogue: Catalogue) -> tuple[Choice, ...]:
    fitting = (decor for decor in catalogue.decors.values() if decor.use == use)
    return tuple(Choice(decor.code, decor.name, _looks(use, decor)) for decor in fitting)


def _looks(use: str, decor: Decor) -> dict[str, Finish]:
    return {role: role_finish(role, decor) for role in DRESSES[use]}
