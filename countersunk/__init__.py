"""Countersunk: one parametric model of a kitchen, shown in 3D, checked, cut, counted and priced.

`open_kitchen` reads a file, `build` makes a kitchen of a document; everything else reads a kitchen and changes
nothing. Millimetres, degrees and kilograms; money is `Decimal`. Bad input raises `InputError`.

>>> import countersunk
>>> kitchen = countersunk.open_kitchen("straight")
>>> sum(finding.serious for finding in countersunk.check(kitchen))
0

The parts of the house lie beside this folder in a checkout (`model`, `takeoff`, `viewer`, `shared`) and below it in
an installed package. Their names begin with ``countersunk`` in both: ``countersunk.model.kitchen``.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from countersunk.model.catalogue.catalogue import Catalogue
    from countersunk.model.checks import check
    from countersunk.model.checks.finding import Finding, Severity, Verdict
    from countersunk.model.document.schema import Document
    from countersunk.model.errors import CountersunkError, InputError
    from countersunk.model.geometry.identity import PartKey, Role
    from countersunk.model.geometry.part import Part
    from countersunk.model.kitchen import Kitchen, build, open_kitchen
    from countersunk.takeoff.counting.takeoff import Takeoff, estimate, take_off
    from countersunk.takeoff.plans.cut_plans import CutPlans
    from countersunk.takeoff.plans.cut_plans import cut_plans as plan
    from countersunk.takeoff.stock.prices import PriceBook
    from countersunk.viewer.drawing.papers import draw
    from countersunk.viewer.quoting.quote import Asked
    from countersunk.viewer.quoting.quote import quote_kitchen as quote
    from countersunk.viewer.scene.gltf import Gltf
    from countersunk.viewer.scene.scene import scene

if not (Path(__file__).parent / "model").is_dir():  # a checkout: its packages lie one folder up
    __path__.append(str(Path(__file__).parents[1]))

HOMES = {
    "open_kitchen": "model.kitchen", "build": "model.kitchen", "Kitchen": "model.kitchen",
    "Document": "model.document.schema", "Catalogue": "model.catalogue.catalogue", "Part": "model.geometry.part",
    "PartKey": "model.geometry.identity", "Role": "model.geometry.identity",
    "check": "model.checks", "Finding": "model.checks.finding", "Severity": "model.checks.finding",
    "Verdict": "model.checks.finding", "InputError": "model.errors", "CountersunkError": "model.errors",
    "take_off": "takeoff.counting.takeoff", "estimate": "takeoff.counting.takeoff",
    "Takeoff": "takeoff.counting.takeoff", "PriceBook": "takeoff.stock.prices",
    "plan": "takeoff.plans.cut_plans:cut_plans", "CutPlans": "takeoff.plans.cut_plans",
    "quote": "viewer.quoting.quote:quote_kitchen", "Asked": "viewer.quoting.quote",
    "draw": "viewer.drawing.papers", "scene": "viewer.scene.scene", "Gltf": "viewer.scene.gltf",
}  # fmt: skip
"""Where each public name is defined; loaded once it is asked for, so that a script waits only for what it uses."""

__all__ = [
    "Asked",
    "Catalogue",
    "CountersunkError",
    "CutPlans",
    "Document",
    "Finding",
    "Gltf",
    "InputError",
    "Kitchen",
    "Part",
    "PartKey",
    "PriceBook",
    "Role",
    "Severity",
    "Takeoff",
    "Verdict",
    "build",
    "check",
    "draw",
    "estimate",
    "open_kitchen",
    "plan",
    "quote",
    "scene",
    "take_off",
]


def __getattr__(name: str) -> Any:
    if name not in HOMES:
        raise AttributeError(f"module 'countersunk' has no attribute {name!r}; it has {', '.join(__all__)}")
    module, _, own = HOMES[name].partition(":")
    return getattr(import_module(f"countersunk.{module}"), own or name)


def __dir__() -> list[str]:
    return __all__
