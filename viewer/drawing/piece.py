"""Piece: a length of worktop from above or from below, with everything that is set out on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain, pairwise

from shapely import LineString, Polygon
from shapely import box as rectangle
from shapely.geometry import Point as Spot

from countersunk.model.document.schema import FreeCorner
from countersunk.model.facts.setting_out import marks, takes_hole_saw
from countersunk.model.geometry.part import Edge
from countersunk.model.geometry.profile import one_polygon, plan_points
from countersunk.model.kitchen import Kitchen
from countersunk.model.survey.room import spoken
from countersunk.model.ties import most
from countersunk.model.tops.cutouts import PlacedCutout
from countersunk.model.tops.edges import CUT_OUTS
from countersunk.model.tops.joins import Join
from countersunk.model.tops.scribe import SCRIBE_GAP
from countersunk.model.tops.slots import MarkKind, joint_side
from countersunk.model.tops.worktops import Length
from countersunk.viewer.drawing.behind import notches, scribe_of
from countersunk.viewer.drawing.conditions import LETTERS
from countersunk.viewer.drawing.lettering import degrees, lines_of, mm
from countersunk.viewer.drawing.ordinates import ordinates
from countersunk.viewer.drawing.setout import Face, Setout, place_of, sex_of
from countersunk.viewer.drawing.shapes import Box, Circle, Line, Mark, Ordinate, Path, Point, Text, View
from countersunk.viewer.drawing.spacing import lattice
from countersunk.viewer.drawing.strokes import EDGES, Stroke
from countersunk.viewer.drawing.tracing import Drawing, centred

BALLOON = 2.6
"""Radius of the circle round an edge's letter, mm on paper."""

ALONG = tuple(0.5 + sign * 0.02 * i for i in range(24) for sign in (1.0, -1.0))
OFF = (4.4, -4.4, 6.5, -6.5, 9.0, -9.0, 12.0, -12.0)
"""Where a letter may stand: shares of its edge, and distances from it, outwards first, mm on paper."""


def piece_view(kitchen: Kitchen, setout: Setout, scale: float, origin: Point, window: Box) -> View:
    """A face of a length; the datum lies at ``origin`` on the sheet."""
    drawing = Drawing(scale)
    cutouts = [c for c in kitchen.cutouts if c.length == setout.length.id]
    joins = [j for j in kitchen.joins if setout.length.id in (j.female, j.male)]
    sawn = [c for c in cutouts if not takes_hole_saw(c.template)]
    drawing.draw(*_blank(setout), *_behind(kitchen, setout), *edge_lines(setout), *_rims(setout, cutouts))
    drawing.draw(*_cut_marks(kitchen, setout, scale))
    numbers = ordinates(kitchen, setout, scale)
    drawing.draw(*chain.from_iterable(_inside_words(setout, c, numbers, scale) for c in sawn))
    drawing.draw(*numbers, *_datum(scale))
    _write_datum(drawing, setout)
    for edge in setout.length.part.edges:
        _letter(drawing, setout, edge)
    body = setout.see_shape(setout.length.part.outline)
    for wish in free_corners(kitchen, setout.length):
        _write_corner(drawing, setout, wish, body)
    for cutout in cutouts:
        if takes_hole_saw(cutout.template):
            _write_hole(drawing, setout, cutout, body)
    for join in joins:
        _write_join(drawing, setout, join, body)
    _write_behind(drawing, kitchen, setout, body)
    _write_name(drawing, setout, body)
    return View(f"{setout.length.id} {setout.face}", scale, origin, window, tuple(drawing.marks))


def edge_lines(setout: Setout) -> list[Path]:
    """Every edge in the stroke of its condition."""
    edges = setout.length.part.edges
    return [Path(tuple(map(setout.see, plan_points(e.path))), EDGES[e.condition]) for e in edges]


def _blank(setout: Setout) -> list[Mark]:
    """The blank, squared to the longest measure, where the length is not all of it."""
    if not is_shaped(setout.length):
        return []
    box = rectangle(*setout.length.part.outline.bounds)
    return [Path(_points(setout.see_shape(box)), Stroke.BLANK, closed=True)]


def is_shaped(length: Length) -> bool:
    """Whether the length is anything but a rectangle, by more than 1 mm²."""
    outline = Polygon(length.part.outline.exterior)
    return bool(rectangle(*outline.bounds).area - outline.area > 1.0)


def _rims(setout: Setout, cutouts: list[PlacedCutout]) -> list[Mark]:
    rims = [Path(_points(setout.see_shape(c.rim)), Stroke.RIM, closed=True) for c in cutouts]
    grooves = (one_polygon(groove.difference(c.line)) for c in cutouts for groove in c.grooved)
    return [*rims, *(Path(_points(setout.see_shape(g)), Stroke.HIDDEN, closed=True) for g in grooves)]


def _behind(kitchen: Kitchen, setout: Setout) -> list[Mark]:
    """What the length is notched round, and the face of a bowed wall behind it."""
    around = [o.plan for o, _ in notches(kitchen, setout.length)]
    plans = [setout.length.part.pose.plan_from_room(plan) for plan in around]
    found: list[Mark] = [Path(_points(setout.see_shape(plan)), Stroke.HIDDEN, closed=True) for plan in plans]
    scribe = scribe_of(kitchen, setout.length)
    return [*found, *([Path(tuple(map(setout.see, scribe.face)), Stroke.UNIT)] if scribe else [])]


def _cut_marks(kitchen: Kitchen, setout: Setout, scale: float) -> list[Mark]:
    """Starter holes, middles of round holes, and slots: whole lines from below, hidden ones from above."""
    slot = Stroke.SLOT if setout.face is Face.UNDERSIDE else Stroke.HIDDEN
    found: list[Mark] = []
    for mark in marks(kitchen, setout.length):
        shape = setout.see_shape(mark.outline)
        if mark.kind is MarkKind.STARTER:
            x0, _, x1, _ = shape.bounds
            found.append(Circle(setout.see(mark.centre), (x1 - x0) / 2, Stroke.STARTER))
        elif mark.kind is MarkKind.HOLE:
            found += _cross(setout.see(mark.centre), 3.0 * scale)
        else:
            found.append(Path(_points(shape), slot, closed=True))
    return found


def _inside_words(setout: Setout, cutout: PlacedCutout, numbers: Sequence[Ordinate], scale: float) -> list[Text]:
    """What is said inside a cut-out, where the waste is and no line of a number runs through the words."""
    t = cutout.template
    _, y0, _, y1 = bounds = setout.see_shape(cutout.line).bounds
    x0, x1 = _clear_of(numbers, bounds)
    size = f"{mm(t.line[0])} x {mm(t.line[1])}"
    last = RIM_WORDS[t.mount]
    sentences = [cutout.name, "LINE TO CUT", f"{size} R{mm(t.radius)}", last]
    height = 2.0 if (x1 - x0) / scale > 36.0 else 1.7
    words = [line for s in sentences for line in lines_of(s, height, (x1 - x0) / scale - 3.0)]
    return centred(words, height, ((x0 + x1) / 2, (y0 + y1) / 2), scale)


RIM_WORDS = {
    "inset": "dotted: rim, do not cut",
    "under": "the bowl's own line: its edge stays in sight",
    "flush": "dotted: rim, let in flush",
}
"""What is said of the rim inside a line to cut, by how it is set."""


def _clear_of(numbers: Sequence[Ordinate], box: Box) -> tuple[float, float]:
    """The widest part of a box, from and to, between the lines of what is measured beyond it, such as a tap."""
    x0, _, x1, y1 = box
    through = {n.feature[0] for n in numbers if n.axis == "x" and x0 < n.feature[0] < x1 and n.feature[1] > y1}
    return most(pairwise(sorted({x0, x1, *through})), key=lambda part: part[1] - part[0])


def _cross(at: Point, reach: float) -> list[Line]:
    x, y = at
    ends = (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach)))
    return [Line(a, b, Stroke.CENTRE) for a, b in ends]


def _datum(scale: float) -> list[Mark]:
    """The datum's mark: a circle on the corner, two of its quarters filled."""
    r = 2.0 * scale
    quarters = [Path(((0.0, 0.0), (sx * r * 0.7, 0.0), (0.0, sy * r * 0.7)), Stroke.DATUM, True, "ink")
                for sx, sy in ((1.0, 1.0), (-1.0, -1.0))]  # fmt: skip
    return [Circle((0.0, 0.0), r, Stroke.DATUM), *quarters]


def _write_datum(drawing: Drawing, setout: Setout) -> None:
    s = drawing.scale
    way = -1.0 if setout.on_paper == "left" else 1.0
    spots = [(way * dx * s, -dy * s) for dy in (6.0, 9.0, 12.0, 15.0, 20.0, 25.0) for dx in (9.0, 11.0, 7.5)]
    drawing.write(["DATUM"], 2.2, spots)


def _letter(drawing: Drawing, setout: Setout, edge: Edge) -> None:
    """The letter of an edge in a circle beside it, and a tick that points to the edge."""
    path = setout.see_shape(edge.path)
    inside = edge.condition in CUT_OUTS
    spots = list(_letter_spots(setout, path, drawing.scale, inside))
    size = (2.3 * BALLOON * drawing.scale,) * 2
    feet = {s: foot for s, foot in spots if drawing.words.is_free(LineString([foot, s]))} or dict(spots)
    spot = drawing.lines.room_for(size, feet) or drawing.words.room_for(size, feet) or spots[0][0]
    rim = LineString([spot, feet[spot]]).interpolate(BALLOON * drawing.scale)
    drawing.draw(
        Line(feet[spot], (rim.x, rim.y), Stroke.LETTER), *balloon(LETTERS[edge.condition], spot, drawing.scale)
    )
    drawing.words.add(Spot(spot).buffer(BALLOON * drawing.scale))


def balloon(letter: str, spot: Point, scale: float) -> list[Mark]:
    """A letter in a circle that hides what is below it."""
    return [Circle(spot, BALLOON * scale, Stroke.LETTER, "paper"), *centred([letter], 2.6, spot, scale, bold=True)]


def _letter_spots(setout: Setout, path: LineString, scale: float, inside: bool) -> Iterable[tuple[Point, Point]]:
    """Places for a letter with the foot of each on the edge."""
    outline = Polygon(setout.see_shape(setout.length.part.outline).exterior)
    for off in OFF:
        for share in ALONG:
            a, b = (path.interpolate(min(1.0, max(0.0, share + d)), normalized=True) for d in (-0.002, 0.002))
            foot = path.interpolate(share, normalized=True)
            length = a.distance(b) or 1.0
            nx, ny = (b.y - a.y) / length, -(b.x - a.x) / length
            if _points_in(Polygon(path) if inside else outline, foot, (nx, ny), scale) != inside:
                nx, ny = -nx, -ny
            yield (foot.x + nx * off * scale, foot.y + ny * off * scale), (foot.x, foot.y)


def _points_in(shape: Polygon, foot: Spot, normal: Point, scale: float) -> bool:
    step = 0.05 * scale
    return bool(shape.contains(Spot(foot.x + normal[0] * step, foot.y + normal[1] * step)))


def _write_join(drawing: Drawing, setout: Setout, join: Join, body: Polygon) -> None:
    """What the join is, beside it; the hand is that of the length seen from above, on both faces."""
    middle = setout.see_shape(joint_side(join, setout.length)).interpolate(0.5, normalized=True)
    words = [f"{join.id} {join.kind}", f"{sex_of(setout.length, join)}, {place_of(setout.length, join)}"]
    corner = [] if join.kind == "in line" else [f"corner {degrees(join.angle)}"]
    (x0, y0, x1, y1), s = body.bounds, drawing.scale
    spots = lattice(body.bounds, 4.0 * s, (middle.x, middle.y))
    around = lattice((x0 - 15.0 * s, y0, x1 + 15.0 * s, y1 + 8.0 * s), 3.0 * s, (middle.x, middle.y))
    waste = Polygon(body.exterior).difference(body)
    outside = [spot for spot in around if not waste.intersects(Spot(spot))]
    tries = [([*words, *corner], 2.0, spots, body), (words, 1.8, spots, body), (words, 1.8, outside, None)]
    any(drawing.write(*one) for one in tries) or drawing.write(words, 1.8, spots)


def _write_hole(drawing: Drawing, setout: Setout, cutout: PlacedCutout, body: Polygon) -> None:
    """What a round hole is, beside it."""
    x, y = setout.see((cutout.line.centroid.x, cutout.line.centroid.y))
    how = "" if setout.length.run.stock.made_by else ", hole saw"
    words = f"{cutout.name} hole ø{mm(cutout.template.line[0])}{how}"
    spots = lattice(body.bounds, 3.0 * drawing.scale, (x, y - 14.0 * drawing.scale))
    drawing.point_out(words, 2.0, spots, (x, y))


def _write_behind(drawing: Drawing, kitchen: Kitchen, setout: Setout, body: Polygon) -> None:
    """What a notch goes round, in it or before it; that the back is scribed, along it."""
    gap = mm(kitchen.allowances.notch)
    for obstacle, lost in notches(kitchen, setout.length):
        gone = setout.see_shape(lost)
        x, y = gone.centroid.x, gone.bounds[1] - 5.0 * drawing.scale
        words = [f"notch round {spoken(obstacle.kind)}", f"gap {gap}, corners R{gap}"]
        drawing.write(words, 2.0, lattice(body.bounds, 2.0 * drawing.scale, (x, y)), body)
    scribe = scribe_of(kitchen, setout.length)
    if scribe is not None and max(scribe.gap, scribe.bulge) > SCRIBE_GAP:
        x0, _, x1, y1 = body.bounds
        spots = lattice(body.bounds, 3.0 * drawing.scale, ((x0 + x1) / 2, y1))
        drawing.write([f"scribe the back: sheet {setout.length.id}-scribe"], 2.0, spots, body)


def free_corners(kitchen: Kitchen, length: Length) -> list[FreeCorner]:
    """The free ends of the length, or corners of them, that are shaped."""
    units = {u.key for u in length.stretch.units}
    at = {"left": length.left.kind, "right": length.right.kind}
    wishes = (w for w in kitchen.document.worktop.corners if shape_words(w))
    return [w for w in wishes if w.over in units and at[w.end] == "free"]


def _write_corner(drawing: Drawing, setout: Setout, wish: FreeCorner, body: Polygon) -> None:
    """The radius or clip of a free corner, inside it."""
    x0, y0, x1, y1 = setout.length.part.outline.bounds
    edges = {"front": y1, "back": y0}
    corner = setout.see((x0 if wish.end == "left" else x1, edges.get(wish.edge, (y0 + y1) / 2)))
    drawing.write([shape_words(wish)], 2.2, lattice(body.bounds, 3.0 * drawing.scale, corner), body)


def place_words(wish: FreeCorner) -> str:
    """``front right corner``, ``both right corners`` or ``right end``."""
    if wish.bow:
        return f"{wish.end} end"
    return f"both {wish.end} corners" if wish.edge == "both" else f"{wish.edge} {wish.end} corner"


def shape_words(wish: FreeCorner) -> str:
    """``R120``, ``clip 60 x 60`` or ``bowed by 80``; nothing for what is square."""
    if wish.bow:
        return f"bowed by {mm(wish.bow)}"
    if wish.radius:
        return f"R{mm(wish.radius)}"
    return f"clip {mm(wish.clip)} x {mm(wish.clip)}" if wish.clip else ""


def _write_name(drawing: Drawing, setout: Setout, body: Polygon) -> None:
    """The length's name, its face, and the way that the decor runs; above the length where it has no room."""
    s, (x0, _, x1, y1) = drawing.scale, body.bounds
    spots = lattice(body.bounds, 4.0 * s, (body.centroid.x, body.centroid.y))
    above = lattice((x0 - 20.0 * s, y1 + 5.0 * s, x1 + 20.0 * s, y1 + 14.0 * s), 2.0 * s, (x0, y1))
    name, face = setout.length.id, "decor up" if setout.face is Face.TOP else "UNDERSIDE"
    tries = [(f"{name} {face}", 4.0, spots, body), (name, 3.0, spots, body), (name, 3.0, above, None)]
    any(drawing.write([words], height, places, within) for words, height, places, within in tries)
    any(_write_decor(drawing, reach * s, places, within) for reach, places, within in (
        (17.0, spots, body), (10.0, spots, body), (10.0, above, None),
    ))  # fmt: skip


def _write_decor(drawing: Drawing, reach: float, spots: list[Point], within: Polygon | None) -> bool:
    """An arrow along the decor at the first free spot; False where there is none."""
    s = drawing.scale
    spot = drawing.lines.room_for((2 * reach, 7.0 * s), spots, within)
    if spot is not None:
        words = Text((spot[0], spot[1] + 0.9 * s), "decor runs", 1.8, "middle")
        drawing.draw(*_arrow(spot, reach * 0.9, s), words)
    return spot is not None


def _arrow(spot: Point, reach: float, s: float) -> list[Mark]:
    """A double arrow along x."""
    (x, y), w, h = spot, 2.5 * s, 0.8 * s
    tips = [((x + d * reach, y), x + d * (reach - w)) for d in (-1.0, 1.0)]
    heads = [Path((tip, (back, y + h), (back, y - h)), Stroke.TEXT, True, "ink") for tip, back in tips]
    return [Line((x - reach, y), (x + reach, y), Stroke.TEXT), *heads]


def _points(polygon: Polygon) -> tuple[Point, ...]:
    return tuple(plan_points(polygon.exterior)[:-1])
