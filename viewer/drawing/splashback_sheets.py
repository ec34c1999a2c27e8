"""Splashback sheets: every splashback as one faces its wall, panes with their holes, tiles with their set-out."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon
from shapely.affinity import translate

from countersunk.model.geometry.profile import plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.tops.splashbacks import PlacedSplashback, Tile, polygons
from countersunk.viewer.drawing.lettering import kg, lines_of, mm, paragraph
from countersunk.viewer.drawing.ordinates import BESIDE, Feature, below, beside
from countersunk.viewer.drawing.paper import BLOCK, MARGIN, fitting_scale, heading, sheet
from countersunk.viewer.drawing.shapes import A3, Box, Mark, Path, Sheet, Text, View
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import Stroke
from countersunk.viewer.drawing.tracing import Drawing
from countersunk.viewer.drawing.upstand import hole_features

WINDOW: Box = (MARGIN, 100.0, A3[0] - MARGIN, 262.0)
SIDE, UNDER = 30.0, 34.0
"""Room for heights beside a splashback, and for numbers below it, mm on paper."""

HEAVY = 25.0
"""A pane heavier than this is said to need more people, kg (from memory: a British lifting filter)."""

CAUTIONS = {
    "tile": "! Cut tiles are sharp: eyes and hands protected; cut wet or draw the dust off, which holds silica.",
    "glass": "! Toughened glass is never cut or drilled on site: measure each pane again once tops and units "
    "stand. Carry it on edge, with suckers and gloves, two people or more.",
    "board": "! Saw and drill: eyes, ears and lungs protected, dust drawn off; a sawn edge is sealed.",
}
"""Common practice of the trade, no source."""

ALWAYS = (
    "! Sockets and switches are taken off and put back by licensed people, the supply shut off. Behind a hob only "
    "what the makers' sheets and local codes allow; they go before everything on these papers."
)


def splashback_sheets(kitchen: Kitchen) -> Iterator[Sheet]:
    """One for each splashback; none where there are none."""
    for number, splashback in enumerate(kitchen.splashbacks, 1):
        yield _sheet(kitchen, splashback, number)


def outlines(splashback: PlacedSplashback) -> Iterator[Path]:
    """Its pieces with their holes and the joints of its tiles, on the wall's face."""
    for tile in splashback.tiles:
        for piece in polygons(tile.shape):
            yield Path(tuple(plan_points(piece.exterior)[:-1]), Stroke.DIMENSION, closed=True)
    for part in splashback.parts:
        piece = splashback.on_wall(part)
        yield Path(tuple(plan_points(piece.exterior)[:-1]), Stroke.OUTLINE, closed=True)
        for ring in piece.interiors:
            yield Path(tuple(plan_points(ring)[:-1]), Stroke.LINE_TO_CUT, closed=True)


def _sheet(kitchen: Kitchen, splashback: PlacedSplashback, number: int) -> Sheet:
    x0, y0, x1, y1 = splashback.zone.bounds
    left, low, right, high = WINDOW
    room = (right - left - 2 * SIDE, high - low - UNDER - 4.0)
    scale = fitting_scale((x1 - x0, y1 - y0), room, (5.0, 10.0, 20.0, 25.0, 50.0))
    drawing = Drawing(scale)
    drawing.draw(*(_moved(path, x0, y0) for path in outlines(splashback)))
    drawing.draw(*_numbers(splashback, scale))
    for part in splashback.parts:
        piece = translate(splashback.on_wall(part), -x0, -y0)
        left_end, foot, right_end, head = piece.bounds
        above = (left_end, foot, right_end, head + 9.0 * scale)
        drawing.write([part.mark], 2.6, lattice(above, scale, ((left_end + right_end) / 2, head + 5.0 * scale)))
    origin = ((left + right) / 2 - (x1 - x0) / 2 / scale, low + UNDER + (room[1] - (y1 - y0) / scale) / 2)
    view = View(f"wall {splashback.wall.name}", scale, origin, WINDOW, tuple(drawing.marks))
    words = f"SPLASHBACK {number}, WALL {splashback.wall.name}: {splashback.stock.name}"
    under = (
        "As one faces the wall. Numbers run from its left end and up from the top, or the upstand, that it "
        f"stands on. Its left end is {mm(x0)} along the wall and its foot {mm(y0)} above the floor. "
        "Measure again once the tops are fixed."
    )
    marks = [*heading(words, under), *_told(splashback)]
    name = "splashback" if len(kitchen.splashbacks) == 1 else f"splashback-{number}"
    return sheet(kitchen, name, f"Splashback {number}", marks, [view])


def _moved(path: Path, x: float, y: float) -> Path:
    return Path(tuple((px - x, py - y) for px, py in path.points), path.stroke, closed=path.closed)


def _numbers(splashback: PlacedSplashback, scale: float) -> list[Mark]:
    """Ends of pieces and their holes; of tiles the first upright and level joint besides."""
    x0, y0, x1, y1 = splashback.zone.bounds
    features = [Feature((0.0, 0.0)), Feature((x1 - x0, 0.0)), Feature((x1 - x0, y1 - y0), axes="y")]
    for part in splashback.parts:
        piece = translate(splashback.on_wall(part), -x0, -y0)
        features += [Feature((float(x), float(y))) for x, y in piece.exterior.coords[:-1]]
        features += [f for ring in piece.interiors for f in hole_features(Polygon(ring))]
    features += [Feature((x, 0.0), axes="x") for x in _first_joints(splashback)]
    return [*below(features, scale), *beside(features, x1 - x0 + BESIDE * scale, scale, "right")]


def _first_joints(splashback: PlacedSplashback) -> Iterator[float]:
    """The left end of the first whole width of the lowest row, and the right end of the last."""
    x0, y0, _, _ = splashback.zone.bounds
    width = splashback.stock.size[0]
    row = [t for t in splashback.tiles if abs(t.shape.bounds[1] - y0) < 1.0 and t.size[0] > width - 0.5]
    if row:
        yield from (row[0].shape.bounds[0] - x0, row[-1].shape.bounds[2] - x0)


def _told(splashback: PlacedSplashback) -> list[Mark]:
    """What it is made of, and what can hurt, below the view and beside the title block."""
    x, y, width = MARGIN + 6.0, WINDOW[1] - 4.0, A3[0] - 2 * MARGIN - BLOCK[0] - 16.0
    found: list[Mark] = [Text((x, y), "Set out and cut" if splashback.is_tiled else "Panels", 3.0, bold=True)]
    y -= 6.0
    lines = [*(_tiled(splashback) if splashback.is_tiled else _panels(splashback))]
    for words in (*lines, CAUTIONS[splashback.stock.kind], ALWAYS):
        warns = words.startswith("!")
        stroke = Stroke.WARNING if warns else Stroke.TEXT
        found += paragraph(words, (x, y), width, 2.2, bold=warns, stroke=stroke)
        y -= len(lines_of(words, 2.2, width)) * 2.2 * 1.65 + 1.0
    return found


def _tiled(splashback: PlacedSplashback) -> Iterator[str]:
    tiles, stock = splashback.tiles, splashback.stock
    whole = sum(tile.whole for tile in tiles)
    begins = {"centre": "from the middle", "left": "from the left end", "right": "from the right end"}
    bond = "each row moved by half a tile" if splashback.wish.bond == "half" else "joints above each other"
    yield (
        f"Tiles {mm(stock.size[0])} x {mm(stock.size[1])} x {mm(stock.thickness)}, joint {mm(stock.joint)}: "
        f"set out {begins[splashback.wish.datum]}, whole tiles on the top's edge, {bond}. {whole} whole and "
        f"{len(tiles) - whole} cut. Adhesive with a notch of {stock.notch}."
    )
    cut = [tile for tile in tiles if not tile.whole]
    if cut:
        narrow, flat = (min(cut, key=lambda t: t.size[axis]) for axis in (0, 1))
        yield f"Narrowest cut {_size(narrow)}, lowest cut {_size(flat)}."
    if splashback.slivers:
        yield f"! {len(splashback.slivers)} cuts are less than a third of a tile: try another datum or another end."
    free = sum(line.length for line in splashback.free_ends)
    if free:
        yield f"Trim strip at free ends, {mm(free)} in all."


def _size(tile: Tile) -> str:
    return " x ".join(mm(size) for size in tile.size)


def _panels(splashback: PlacedSplashback) -> Iterator[str]:
    stock = splashback.stock
    for part in splashback.parts:
        weight = part.area * part.thickness * stock.density * 1e-9
        holes = len(part.outline.interiors)
        pieces = f", {holes} hole{'s' if holes > 1 else ''}" if holes else ""
        heavy = ": two people or more" if weight > HEAVY else ""
        size = " x ".join(map(mm, (part.length, part.depth, part.thickness)))
        yield f"{part.mark}: {size}{pieces}, {kg(weight)}{heavy}."
