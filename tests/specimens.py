"""One named specimen of each kind of kitchen, small enough to work out by hand."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from typing import Any

from countersunk import shared
from countersunk.model import kitchen
from countersunk.model.catalogue.catalogue import Family, inch_catalogue
from countersunk.model.document.schema import Document
from countersunk.model.kitchen import Kitchen
from tests.lanes import LARGE

DEMOS: list[Path] = sorted(shared.KITCHENS.glob("*.yaml"))
CORNER_DEMO: Path = shared.KITCHENS / "corner.yaml"
"""For what takes one demo: an L with a join, a sink, a hob and windows."""

FEW_DEMOS: list[Path] = [shared.KITCHENS / f"{name}.yaml" for name in ("corner", "island", "straight")]
"""For what takes long: rendering, drawing, the app."""
SOME_DEMOS: list[Path] = [p for p in DEMOS if LARGE or p.stem in ("corner", "gasworks", "prairie")]
"""What is asked of every demo: by default of these alone, so that few are built; in the large lane of all."""

INCH = inch_catalogue()


@cache
def open_kitchen(path: Path) -> Kitchen:
    """The kitchen of a demo's file, built once in a process and shared by its tests: nothing changes a kitchen."""
    return kitchen.open_kitchen(path)


def demo(name: str) -> Kitchen:
    """The demo kitchen of that name."""
    return open_kitchen(shared.KITCHENS / f"{name}.yaml")


SQUARE_ROOM = (
    {"name": "A", "length": 3000.0, "corner": 90.0},
    {"name": "B", "length": 3000.0, "corner": 90.0},
    {"name": "C", "length": 3000.0, "corner": 90.0},
    {"name": "D", "length": 3000.0, "corner": 90.0},
)


def square(size: float, **more: Any) -> dict[str, Any]:
    """A square room."""
    return oblong(size, size, **more)


def oblong(a: float, b: float, **more: Any) -> dict[str, Any]:
    """A room whose walls A and C are ``a`` long, B and D ``b``."""
    sides = zip("ABCD", (a, b, a, b), strict=True)
    return {"walls": tuple({"name": n, "length": float(d), "corner": 90.0} for n, d in sides), **more}


def document(**changes: Any) -> Document:
    """A row of three base units in the middle of wall A of a square room, with what is given changed."""
    data: dict[str, Any] = {
        "kitchen": "Specimen",
        "room": {"walls": SQUARE_ROOM},
        "runs": (
            {
                "wall": "A",
                "start": 500.0,
                "units": (
                    {"unit": "base-doors", "width": 400.0},
                    {"unit": "base-sink", "width": 600.0},
                    {"unit": "base-hob", "width": 600.0},
                ),
            },
        ),
        "worktop": {"stock": "pf38.600", "decor": "pale-oak"},
        "fronts": {"decor": "chalk"},
    }
    return Document.model_validate({**data, **changes})


def everything() -> Document:
    """A bowed wall with a boxing and a column in the way of the top, which is joined in line, has a peninsula on
    its front with a round and a clipped corner, holes of every kind, and upstands.
    """
    wall = {**SQUARE_ROOM[0], "length": 5200.0}
    bow = {"every": 500.0, "offsets": (0.0, 3.0, 6.0, 4.0, 0.0, -3.0, -5.0, -2.0, 0.0, 2.0)}
    above_units = {"wall": "A", "bottom": 870.0}
    row = (
        ("end-panel", 18), ("base-doors", 600), ("base-drawers", 500), ("base-sink", 800), ("dishwasher", 600),
        ("base-drawers", 600), ("base-hob", 600), ("base-drawers", 400),
    )  # fmt: skip
    return document(
        room={
            "walls": ({**wall, "bow": bow}, SQUARE_ROOM[1], {**wall, "name": "C"}, SQUARE_ROOM[3]),
            "obstacles": (
                {"kind": "pipe-boxing", "at": 700.0, "width": 160.0, "depth": 120.0, **above_units},
                {"kind": "column", "at": 2900.0, "width": 200.0, "depth": 240.0, **above_units},
            ),
        },
        runs=(
            {"wall": "A", "start": 150.0, "units": tuple({"unit": u, "width": float(w)} for u, w in row)},
            {"wall": "B", "start": 630.0, "units": ({"unit": "base-doors", "width": 600.0},)},
        ),
        peninsulas=(
            {
                "name": "P", "wall": "A", "along": 2300.0, "out": 620.0, "facing": "left", "stock": "pf38.900",
                "units": ({"unit": "filler", "width": 60.0}, {"unit": "base-doors", "width": 800.0}),
            },
        ),
        worktop={
            "stock": "pf38.600",
            "decor": "pale-oak",
            "in_line": ({"run": "A", "at": 2756.0},),
            "corners": (
                {"over": "P2", "end": "right", "edge": "front", "radius": 120.0},
                {"over": "P2", "end": "right", "edge": "back", "clip": 80.0},
            ),
            "upstand": {
                "stock": "upstand.100",
                "holes": (
                    {"wall": "A", "at": 1700.0, "up": 50.0, "width": 60.0, "height": 60.0, "radius": 30.0},
                    {"wall": "A", "at": 3500.0, "up": 40.0, "width": 100.0, "height": 50.0},
                ),
            },
        },
        cutouts=(
            {"template": "sink.one-bowl", "over": "A4"},
            {"template": "tap.hole", "over": "A4", "shift": 300.0},
            {"template": "socket.pop-up", "over": "A2", "shift": 60.0},
            {"template": "hob.electric-60", "over": "A7"},
        ),
    )  # fmt: skip


def cornered(
    angle: float,
    female: str | None = None,
    kind: str = "mitre",
    notch: float | None = 15.0,
    stock: str = "pf38.600",
    depth: float = 600.0,
) -> Document:
    """Two walls, 3000 and 2400 long, that meet at ``angle``, with a row of base units near it on both.

    ``depth`` is the stock's. The row on A ends, and that on B begins, 20 behind the place where the fronts meet.
    """
    gap = max(depth, depth / math.tan(math.radians(angle / 2))) + 20.0
    return document(
        room={"walls": ({"name": "A", "length": 3000.0, "corner": angle}, {"name": "B", "length": 2400.0})},
        runs=(
            {"wall": "A", "start": 3000.0 - gap - 1200.0, "units": ({"unit": "base-doors", "width": 600.0},) * 2},
            {"wall": "B", "start": gap, "units": ({"unit": "base-doors", "width": 600.0},) * 2},
        ),
        worktop={
            "stock": stock,
            "decor": "pale-oak",
            "overhang": {"front": 20.0, "ends": 10.0},
            "joins": ({"corner": "A-B", "kind": kind, "female": female, "notch": notch},),
        },
    )


def alone(family: Family, hand: str = "right", width: float | None = None, **changes: Any) -> Document:
    """A kitchen for one unit of ``family``: by itself on wall A, or in the corner of A and B with a run beside it.

    What carries no worktop itself has a base unit opposite, since a kitchen has a worktop. All is of the family's
    own catalogue.
    """
    inch = family.code in INCH.families and family is INCH.families[family.code]
    step = 457.2 if inch else 400.0
    unit = {"unit": family.code, "width": width or [*family.widths, *(family.width_range or ())][0], "hand": hand}
    runs = [{"wall": "A", "level": family.level, "start": 500.0, "units": (unit,)}]
    if family.wings:
        runs = _in_corner(family, unit, hand, step)
    if family.level == "upper" or not family.carries_top:
        runs.append({"wall": "C", "start": 500.0, "units": ({"unit": "base-doors", "width": step},)})
    top = {"stock": "pf-25.5in", "decor": "pale-oak", "overhang": {"front": 12.7}} if inch else METRIC_TOP
    square = {"stock": "sq40.650", "decor": "pale-oak"}
    worktop = square if family.construction == "diagonal-corner" and family.carries_top else top
    given = {"runs": tuple(runs), "worktop": worktop, "catalogue": "inch" if inch else "metric"}
    return document(**{**given, **changes})


METRIC_TOP = {"stock": "pf38.600", "decor": "pale-oak"}


def _in_corner(family: Family, unit: dict[str, Any], hand: str, step: float) -> list[dict[str, Any]]:
    """The unit at the end of one wall's run, and on the other wall a unit and a panel at the end of its wing."""
    floor = family.level == "floor"
    beside = {"unit": "base-doors" if floor else "wall-doors", "width": step}
    panel = {"unit": "end-panel" if floor else "wall-panel"}
    if hand == "right":
        own, other = {"wall": "A", "units": (beside, unit)}, {"wall": "B", "units": (beside, panel)}
    else:
        start = SQUARE_ROOM[0]["length"] - family.wings[0] - step - 80.0
        own, other = {"wall": "B", "units": (unit, beside)}, {"wall": "A", "start": start, "units": (panel, beside)}
    return [{"level": family.level, **own}, {"level": family.level, **other}]
