"""Piece tables: what stands below a length on its sheets: edges and their work, section, facts, joins, cut-outs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate

from shapely import box as rectangle

from model.cutouts import PlacedCutout
from model.joins import BISCUIT, BOLT_CHANNEL, BOLT_POCKET, Join
from model.kitchen import Kitchen
from model.marks import DRILL, marks
from model.profile import plan_points
from model.slots import MarkKind
from model.worktops import Length
from viewer.drawing.conditions import LETTERS, by_condition, work
from viewer.drawing.handling import A_PERSON, handling
from viewer.drawing.lettering import degrees, lines_of, mm
from viewer.drawing.piece import balloon, free_corners, is_shaped, shape_words
from viewer.drawing.setout import Face, Setout, place_of, sex_of
from viewer.drawing.shapes import Line, Mark, Path, Span, Text, View
from viewer.drawing.strokes import EDGES, Stroke

LEFT, MIDDLE, RIGHT, TOP, FOOT = 13.0, 216.0, 407.0, 120.0, 43.0
"""The two columns of tables, from LEFT and from MIDDLE, and how far down they may go, mm on paper."""

SMALL = 2.3
PITCH = 3.8
TODO = 66.0
GAP = 0.5
"""Height and distance of lines in the tables, where the work stands in the legend (mm on paper), and the gap
before a group as a share of a line."""


def legend(kitchen: Kitchen, length: Length, face: Face) -> list[Mark]:
    """Letter, line, condition, extent and work of every kind of edge of the length, and the other lines."""
    joins = [j for j in kitchen.joins if length.id in (j.female, j.male)]
    title = "EDGES: every raw edge gets two coats, each dried"
    found: list[Mark] = [Text((LEFT, TOP - 3.0), title, 2.5, bold=True)]
    y = TOP - 6.5
    for condition, edges in by_condition(length.part.edges).items():
        todo = lines_of(work(condition, joins), SMALL, MIDDLE - LEFT - TODO - 4.0)
        rows = max(2, len(todo))
        centre = y - rows * PITCH / 2 + 0.5
        extent = f"{len(edges)}: {mm(sum(e.length for e in edges))}"
        found += balloon(LETTERS[condition], (LEFT + 3.0, centre), 1.0)
        found += [Line((LEFT + 7.5, centre), (LEFT + 26.5, centre), EDGES[condition])]
        found += [Text((LEFT + 29.0, y - 2.6), condition.value, SMALL, bold=True)]
        found += [Text((LEFT + 29.0, y - 2.6 - PITCH), extent, SMALL)]
        found += [Text((LEFT + TODO, y - 2.6 - i * PITCH), line, SMALL) for i, line in enumerate(todo)]
        y -= rows * PITCH + 0.6
    return [*found, *_other_lines(kitchen, length, face, y)]


def _other_lines(kitchen: Kitchen, length: Length, face: Face, y: float) -> Iterator[Mark]:
    """The lines that are no edges, in one row each."""
    kinds = {m.kind for m in marks(kitchen, length)}
    slot = Stroke.SLOT if face is Face.UNDERSIDE else Stroke.HIDDEN
    rows = [(Stroke.BLANK, "blank, squared; the datum is its corner")] if is_shaped(length) else []
    if MarkKind.STARTER in kinds:
        rows += [(Stroke.RIM, f"rim, do not cut      ø = middle of a starter hole, drill {mm(DRILL)}")]
    if MarkKind.BOLT in kinds:
        rows += [(slot, "slots from below      B = bolt, b = biscuit, middle at the joint")]
    for i, (stroke, words) in enumerate(rows):
        at = y - 2.0 - i * (PITCH + 0.4)
        yield Line((LEFT + 7.5, at + 0.8), (LEFT + 26.5, at + 0.8), stroke)
        yield Text((LEFT + 29.0, at), words, SMALL)


def facts(kitchen: Kitchen, length: Length) -> list[Mark]:
    """Everything about the length in words: size, stock, weight, joins, cut-outs."""
    joins = [j for j in kitchen.joins if length.id in (j.female, j.male)]
    groups = [("LENGTH " + length.id, _about(kitchen, length))]
    groups += [(f"JOIN {j.id}, {j.place}", _join(length, j)) for j in joins]
    groups += [(f"CUT-OUT {c.id}", _cutout(length, c)) for c in kitchen.cutouts if c.length == length.id]
    lines = [
        (text, bold)
        for title, sentences in groups
        for text, bold in [(title, True), *((line, False) for s in sentences for line in _folded(s))]
    ]
    pitch = min(PITCH, (TOP - FOOT) / (len(lines) + GAP * len(groups)))
    height = min(SMALL, pitch * 0.6)
    steps = accumulate(1.0 + (GAP if bold else 0.0) for _, bold in lines)
    return [
        Text((MIDDLE, TOP - 3.0 - (step - 1.0 - GAP) * pitch), text, height, bold=bold)
        for step, (text, bold) in zip(steps, lines, strict=True)
    ]


def _folded(sentence: str) -> list[str]:
    first, *rest = lines_of(sentence, SMALL, RIGHT - MIDDLE)
    return [first, *("  " + line for line in rest)]


def _about(kitchen: Kitchen, length: Length) -> list[str]:
    stock, lifted, part = length.run.stock, handling(length), length.part
    decor = kitchen.catalogue.decors[kitchen.document.worktop.decor].name
    edges = "front and back" if stock.both_edges else "front"
    nose = f"nose radius {mm(stock.nose)}" if stock.nose else "square"
    shaped = [f"{w.edge} {w.end} corner {shape_words(w)}" for w in free_corners(kitchen, length)]
    gap = length.left.gap + length.right.gap
    lowered = [f"Between two walls: cut {mm(gap)} shorter than they are apart, so that it can be lowered in tilted"]
    spare = f"{mm(lifted.spare)} to spare" if lifted.spare > 0.05 else "nothing to spare: check both ends first"
    return [
        f"{mm(part.length)} x {mm(stock.depth)} x {mm(stock.thickness)}; {stock.name}, decor {decor}",
        f"Factory edges: {edges}, {nose}. Decor runs along the length. {_where_datum(length)}",
        f"Blank to buy for this length alone: {mm(lifted.blank)} long, {spare}",
        f"Weight cut {lifted.weight:.1f} kg, blank {lifted.blank_weight:.1f} kg (area x thickness x "
        f"{stock.density:g} kg/m³): {_people(lifted.people)} to lift it ({A_PERSON:g} kg each to plan by, "
        "from memory; "
        "not a safe limit)",
        *(["Free corners, seen from above: " + "; ".join(shaped)] if shaped else []),
        *(lowered if gap else []),
    ]


def _people(count: int) -> str:
    return "1 person" if count == 1 else f"{count} people"


def _where_datum(length: Length) -> str:
    """Whether the datum stays on the length."""
    setout = Setout(length, Face.TOP)
    if any(abs(x) + abs(y) < 0.05 for x, y in map(setout.see, plan_points(length.part.outline.exterior))):
        return "The datum is a corner of the cut length."
    return "The datum lies in the waste: mark everything before the first cut."


def _join(length: Length, join: Join) -> list[str]:
    """The jig's settings and the hardware of a join, as this length has them."""
    sex, place = sex_of(length, join), place_of(length, join)
    other = join.male if sex == "female" else join.female
    head = f"{join.kind}: {length.id} is the {sex.upper()}, {place.upper()} seen from above; other half {other}"
    angle = (
        "Square across the whole depth" if join.kind == "in line" else f"Corner as measured {degrees(join.angle)}"
    )
    if join.kind == "mitre":
        turned = sex == "male" and abs(join.off_square) >= 0.005
        jig = f"{degrees(abs(join.off_square))} off square" if turned else "square"
        angle += f"; jig {jig} on this half; shoulder {degrees(join.shoulder_angle)}, notch {mm(join.notch)}"
    return [head, angle, f"Joint {mm(join.length)} long: {join.hardware}; set-up on sheet {join.id}"]


def _cutout(length: Length, cutout: PlacedCutout) -> list[str]:
    t = cutout.template
    x, y = Setout(length, Face.TOP).see((cutout.line.centroid.x, cutout.line.centroid.y))
    return [
        f"{t.name}: line to cut {mm(t.line[0])} x {mm(t.line[1])}, corner radius {mm(t.radius)}; middle at "
        f"{mm(abs(x))} from the datum, {mm(y)} from the front edge",
        f"Rim {mm(t.rim[0])} x {mm(t.rim[1])} covers the line: do not cut to it. The maker's own sheet goes first.",
        f"Starter holes drill {mm(DRILL)}, from the decor face, wholly inside the line; 1:1 template {cutout.id}",
    ]


def section_view(length: Length) -> View:
    """The real section across the depth at 1:5, back to the left, decor up."""
    stock, scale = length.run.stock, 5.0
    profile = length.part.section or rectangle(0.0, 0.0, stock.depth, stock.thickness)
    d, t = stock.depth, stock.thickness
    words = f"section, back left, decor up; {'nose R' + mm(stock.nose) if stock.nose else 'square edge'}"
    marks: list[Mark] = [
        Path(tuple(plan_points(profile.exterior)[:-1]), Stroke.OUTLINE, closed=True),
        Span((0.0, 0.0), (d, 0.0), -5.0 * scale, height=2.0),
        Span((d, t), (d, 0.0), 5.0 * scale, height=2.0),
        Text((0.0, t + 2.5 * scale), words, SMALL),
    ]
    return View("section", scale, (LEFT + 2.0, 26.0), (11.0, 11.0, 225.0, 42.0), tuple(marks))


def slot_sizes() -> str:
    """How large the slots are, in words."""
    (w, reach), (wide, long) = BOLT_CHANNEL, BOLT_POCKET
    return (
        f"bolt: channel {mm(w)} wide to {mm(reach)} from the joint, pocket {mm(wide)} x {mm(long)} at its end; "
        f"biscuit No. 20: {mm(BISCUIT[0])} long, {mm(BISCUIT[1])} deep at half the thickness"
    )
