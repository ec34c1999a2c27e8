"""One named specimen of each kind of kitchen, small enough to work out by hand."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import shared
from model.document import Document

DEMOS: list[Path] = sorted(shared.KITCHENS.glob("*.yaml"))

SQUARE_ROOM = (
    {"name": "A", "length": 3000.0, "corner": 90.0},
    {"name": "B", "length": 3000.0, "corner": 90.0},
    {"name": "C", "length": 3000.0, "corner": 90.0},
    {"name": "D", "length": 3000.0, "corner": 90.0},
)


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


def cornered(
    angle: float,
    female: str | None = None,
    kind: str = "mitre",
    notch: float | None = 15.0,
    stock: str = "pf38.600",
) -> Document:
    """Two walls, 3000 and 2400 long, that meet at ``angle``, with a row of base units near it on both.

    The row on A ends, and that on B begins, 20 behind the place where the fronts meet.
    """
    gap = max(600.0, 600.0 / math.tan(math.radians(angle / 2))) + 20.0
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
