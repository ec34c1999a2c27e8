"""Columns: what the fields of each list of a document are called in a table, with their units."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import get_args

from countersunk.model.catalogue.catalogue import Catalogue, Family
from countersunk.model.document.schema import Document, Obstacle
from countersunk.viewer.app.places.grid import Cell


def same(*words: str) -> dict[str, str]:
    """Choices that are called what they are."""
    return {word: word.replace("-", " ") for word in words}


def unit_cells(catalogue: Catalogue, level: str) -> list[Cell]:
    """Of the units of a row."""
    return [
        Cell("unit", "unit", "choice", {f.code: f.name for f in families(catalogue, level)}, must=True),
        Cell("width", "width, mm"),
        Cell("to_size", "to size", "yes"),
        Cell("depth", "depth, mm"),
        Cell("height", "height, mm"),
        Cell("forward", "forward, mm"),
        Cell("hand", "hand", "choice", same("left", "right")),
        Cell("wing", "wing, mm"),
        Cell("fuel", "fuel", "choice", same("electric", "gas", "dual")),
        *([Cell("to_ceiling", "to the ceiling", "yes"), *duct_cells()] if level == "upper" else []),
        *fronts_cells(catalogue),
        Cell("name", "own name", "text"),
    ]


def fronts_cells(catalogue: Catalogue) -> list[Cell]:
    """Of the decor, style and handles of fronts, of a row or a unit, where it has its own."""
    decors = {d.code: d.name for d in catalogue.decors.values() if d.use == "front"}
    return [
        Cell("fronts", "own fronts", "choice", decors),
        Cell("style", "own style", "choice", {s.code: s.name for s in catalogue.styles.values()}),
        Cell("handle", "own handles", "choice", {h.code: h.name for h in catalogue.handles.values()}),
    ]


def top_cell(catalogue: Catalogue) -> Cell:
    """Of the decor of a row's worktop, where it has its own."""
    return Cell(
        "top",
        "own worktop decor",
        "choice",
        {d.code: d.name for d in catalogue.decors.values() if d.use == "worktop"},
    )


def families(catalogue: Catalogue, level: str) -> list[Family]:
    """What may stand in a row of a level."""
    return [family for family in catalogue.families.values() if family.level == level]


WALLS = [
    Cell("name", "wall", "text", must=True),
    Cell("length", "length, mm", must=True),
    Cell("tolerance", "±, mm"),
    Cell("corner", "corner at its right, °"),
    Cell("corner_tolerance", "±, °"),
    Cell("diagonal.legs.0", "tape: leg on it, mm"),
    Cell("diagonal.legs.1", "leg on the next, mm"),
    Cell("diagonal.length", "across, mm"),
    Cell("diagonal.external", "marks past the corner", "yes"),
    Cell("diagonal.tolerance", "± across, mm"),
    Cell("bow.every", "bow: read every, mm"),
    Cell("bow.offsets", "stands off, mm", "numbers"),
    Cell("kind", "made of", "choice", same("solid", "stud", "boarded")),
]


def opening_cells(walls: Iterable[str]) -> list[Cell]:
    """Of doors, windows and passages."""
    return [
        Cell("kind", "what", "choice", same("door", "window", "passage"), must=True, usual="window"),
        Cell("wall", "wall", "choice", same(*walls), must=True),
        Cell("at", "from the left, mm", must=True),
        Cell("width", "width, mm", must=True, usual=900.0),
        Cell("sill", "sill, mm"),
        Cell("head", "head, mm"),
        Cell("swing", "leaf", "choice", same("left", "right", "out", "none")),
        Cell("reveal", "reveal, mm"),
        Cell("top_in", "top runs in", "yes"),
        Cell("tolerance", "±, mm"),
    ]


def obstacle_cells(walls: Iterable[str]) -> list[Cell]:
    """Of what stands in the room."""
    kinds = same(*get_args(Obstacle.model_fields["kind"].annotation))
    return [
        Cell("kind", "what", "choice", kinds, must=True, usual="pipe-boxing"),
        Cell("wall", "wall", "choice", same(*walls), must=True),
        Cell("at", "from the left, mm", must=True),
        Cell("width", "width, mm", must=True, usual=150.0),
        Cell("depth", "depth, mm", must=True, usual=150.0),
        Cell("out", "off the wall, mm"),
        Cell("bottom", "from, mm up"),
        Cell("top", "to, mm up"),
        Cell("opening.from_left", "opening: left cheek, mm"),
        Cell("opening.width", "opening, mm wide"),
        Cell("opening.height", "opening, to mm up"),
        Cell("opening.depth", "opening, mm deep"),
        Cell("tolerance", "±, mm"),
    ]


def service_cells(walls: Iterable[str]) -> list[Cell]:
    """Of pipes, cables and ducts."""
    kinds = same("water", "waste", "gas", "socket", "switch", "flue", "cooker-outlet", "fan")
    return [
        Cell("kind", "what", "choice", kinds, must=True, usual="socket"),
        Cell("wall", "wall", "choice", same(*walls), must=True),
        Cell("at", "from the left, mm", must=True),
        Cell("height", "height, mm", must=True, usual=300.0),
        Cell("airflow", "a fan moves, m³/h"),
    ]


ROOF_WINDOWS = [
    Cell("at", "from the left, mm", must=True),
    Cell("width", "width, mm", must=True, usual=780.0),
    Cell("sill", "lower edge, mm up", must=True),
    Cell("head", "upper edge, mm up", must=True),
    Cell("opens", "opens", "choice", {"in": "in, about its middle", "out": "out"}),
]

DORMERS = [
    Cell("at", "from the left, mm", must=True),
    Cell("width", "width, mm", must=True),
    Cell("height", "its ceiling, mm up"),
]


def slope_cells(walls: Iterable[str]) -> list[Cell]:
    """Of sloping ceilings."""
    return [
        Cell("wall", "wall", "choice", same(*walls), must=True),
        Cell("eaves", "eaves, mm", must=True, usual=1500.0),
        Cell("run", "full height after, mm", must=True, usual=1000.0),
    ]


def ceiling_cells(walls: Iterable[str]) -> list[Cell]:
    """Of how high the ceiling was read over walls."""
    return [
        Cell("wall", "wall", "choice", same(*walls), must=True),
        Cell("at", "mm along it", must=True, usual=0.0),
        Cell("height", "ceiling is high there, mm", must=True, usual=2400.0),
    ]


DIAGONALS = [
    Cell("from", "from corner", "text", must=True),
    Cell("to", "to corner", "text", must=True),
    Cell("length", "length, mm", must=True),
    Cell("tolerance", "±, mm"),
]

MEASURED = [
    Cell("wall", "wall", "text"),
    Cell("corner", "corner", "text"),
    Cell("from", "from corner", "text"),
    Cell("to", "to corner", "text"),
    Cell("length", "length, mm"),
    Cell("angle", "angle, °"),
    Cell("pieces", "pieces, mm", "numbers"),
    Cell("legs.0", "tape: leg on its wall, mm"),
    Cell("legs.1", "leg on the next, mm"),
    Cell("external", "marks past the corner", "yes"),
    Cell("square_to", "square to wall", "text"),
    Cell("at", "from the left, mm"),
    Cell("across", "across to wall", "text"),
    Cell("out", "off the wall, mm"),
    Cell("height", "above the floor, mm"),
    Cell("tolerance", "±"),
    Cell("note", "note", "text"),
]

WITHIN = Cell("tolerance", "±, mm")


def fitted_length_cells(units: Mapping[str, str]) -> list[Cell]:
    """Of lengths from unit to unit, or to an inner corner."""
    return [
        Cell("from", "from the left of", "choice", units),
        Cell("to", "to the right of", "choice", units),
        Cell("corner", "or corner", "text"),
        Cell("length", "length, mm", must=True),
        WITHIN,
    ]


FITTED_CORNERS = [
    Cell("corner", "corner", "text", must=True),
    Cell("angle", "angle, °"),
    Cell("legs.0", "tape: leg before its wall, mm"),
    Cell("legs.1", "leg before the next, mm"),
    Cell("length", "across, mm"),
    Cell("tolerance", "±"),
]


def fitted_gap_cells(units: Mapping[str, str]) -> list[Cell]:
    """Of gaps from a row's last unit to the wall."""
    return [
        Cell("unit", "unit", "choice", units, must=True),
        Cell("end", "its", "choice", same("left", "right"), must=True, usual="right"),
        Cell("gap", "gap, mm", must=True),
        Cell("at", "at its", "choice", same("back", "front")),
        WITHIN,
    ]


def fitted_wall_cells(units: Mapping[str, str]) -> list[Cell]:
    """Of how far the wall is behind units."""
    return [
        Cell("unit", "unit", "choice", units, must=True),
        Cell("side", "at its", "choice", same("left", "middle", "right")),
        Cell("back", "wall to its back, mm"),
        Cell("front", "or to its front, mm"),
        WITHIN,
    ]


def fitted_height_cells(units: Mapping[str, str]) -> list[Cell]:
    """Of how high units stand."""
    return [
        Cell("unit", "unit", "choice", units, must=True),
        Cell("height", "above the floor, mm", must=True),
        WITHIN,
    ]


FITTED_TOLERANCE = [
    Cell("length", "length, mm"),
    Cell("angle", "corner, °"),
    Cell("offset", "to the wall, mm"),
    Cell("height", "height, mm"),
]

TOLERANCE = [
    Cell("wall", "wall, mm"),
    Cell("corner", "corner, °"),
    Cell("diagonal", "diagonal, mm"),
    Cell("position", "place and size, mm"),
    Cell("height", "height, mm"),
    Cell("offset", "bow, mm"),
]


def cutout_cells(catalogue: Catalogue, units: Mapping[str, str]) -> list[Cell]:
    """Of what is let into the top: a ready size, or plain numbers; ``units`` are named by their keys."""
    return [
        Cell("template", "ready size", "choice", {t.code: t.name for t in catalogue.templates.values()}),
        Cell("over", "over unit", "choice", units, must=True),
        Cell("shift", "to the right, mm"),
        Cell("from_front", "from front, mm"),
        Cell("from_back", "from back, mm"),
        Cell("name", "own name", "text"),
        Cell("kind", "kind", "choice", same("sink", "hob", "downdraft", "tap", "switch", "socket")),
        Cell("line.0", "cut width, mm"),
        Cell("line.1", "cut depth, mm"),
        Cell("drainer", "drainer", "choice", same("left", "right")),
        Cell("mount", "set", "choice", {"under": "under the top", "flush": "flush in the top"}),
        Cell("grooves", "grooves to drain", "yes"),
        Cell("rim.0", "rim width, mm"),
        Cell("rim.1", "rim depth, mm"),
        Cell("radius", "corner radius, mm"),
        Cell("depth", "hangs below, mm"),
        Cell("fuel", "heat", "choice", same("electric", "gas")),
        Cell("article", "bought as", "text"),
        *duct_cells(),
    ]


def duct_cells() -> list[Cell]:
    """Of the way out of what a hood, a hob or a downdraft draws off."""
    return [
        Cell("duct.length", "duct, mm long"),
        Cell("duct.diameter", "duct, mm across"),
        Cell("duct.bends", "duct bends, °, commas between", "numbers"),
        Cell(
            "duct.ends",
            "duct ends",
            "choice",
            {"wall": "in the wall", "roof": "on the roof", "room": "in the room"},
        ),
        Cell("duct.flexible", "metal hose", "yes"),
        Cell("duct.airflow", "moves, m³/h"),
    ]


JOINS = [
    Cell("corner", "corner, as A-B", "text", must=True),
    Cell(
        "kind",
        "join",
        "choice",
        {"mitre": "mason's mitre", "full-mitre": "full mitre", "butt": "butt with a strip"},
    ),
    Cell("female", "runs through: wall", "text"),
    Cell("notch", "notch, mm"),
]

IN_LINE = [Cell("run", "row", "text", must=True), Cell("at", "from its left, mm", must=True)]


def corner_cells(units: Mapping[str, str]) -> list[Cell]:
    """Of corners of free ends; ``units`` are named by their keys."""
    return [
        Cell("over", "over unit", "choice", units, must=True),
        Cell("end", "end", "choice", same("left", "right"), must=True, usual="right"),
        Cell("edge", "edge", "choice", same("front", "back", "both")),
        Cell("radius", "radius, mm"),
        Cell("clip", "clip, mm"),
        Cell("bow", "bow, mm"),
        Cell("past", "past the unit, mm"),
        Cell("post", "on a post", "yes"),
        Cell("waterfall", "down to the floor", "choice", {"mitre": "mitred", "butt": "butted under the top"}),
    ]


def hole_cells(document: Document) -> list[Cell]:
    """Of holes in an upstand."""
    return [
        Cell("wall", "wall", "choice", same(*(w.name for w in document.room.walls)), must=True),
        Cell("at", "middle from left, mm", must=True),
        Cell("up", "middle above top, mm", must=True),
        Cell("width", "width, mm", must=True),
        Cell("height", "height, mm", must=True),
        Cell("radius", "radius, mm"),
    ]


def splashback_cells(document: Document, materials: Mapping[str, str]) -> list[Cell]:
    """Of splashbacks; ``materials`` are named by their codes."""
    zones = {
        "below-wall-units": "below the wall units", "behind-hob": "behind the hob", "to-hood": "up to the hood",
        "full-height": "up to the ceiling",
    }  # fmt: skip
    return [
        Cell("wall", "wall", "choice", same(*(w.name for w in document.room.walls)), must=True),
        Cell("zone", "zone", "choice", zones, must=True),
        Cell("material", "material", "choice", materials, must=True),
        Cell("start", "from, mm along"),
        Cell("end", "to, mm along"),
        Cell("datum", "whole tiles from", "choice", same("centre", "left", "right")),
        Cell("bond", "bond", "choice", {"straight": "straight", "half": "half a tile"}),
    ]


STAGES = [
    Cell("door.width", "door: width, mm"),
    Cell("door.height", "door: height, mm"),
    Cell("door.wall", "its wall, mm"),
    Cell("door.beyond", "free beyond, mm"),
    Cell("corridor.width", "corridor: width, mm"),
    Cell("corridor.length", "its length, mm"),
    Cell("corridor.height", "its height, mm"),
    Cell("lift.width", "lift: width, mm"),
    Cell("lift.depth", "its depth, mm"),
    Cell("window.width", "window: width, mm"),
    Cell("window.height", "its height, mm"),
    Cell("hoist.width", "hoist: width, mm"),
    Cell("hoist.length", "its length, mm"),
    Cell("stairs.width", "stairs: width, mm"),
    Cell("stairs.winding", "winding", "yes"),
    Cell("turn.to", "turn to the", "choice", same("left", "right")),
    Cell("turn.angle", "by, °"),
]
